package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The papers beside the estimate print: their text can be taken out of the
// PDF, the pages are numbered.
func TestSheetsPrint(t *testing.T) {
	t.Parallel()
	p := Start(t, Landscape)
	p.Kept()
	p.Turn("papers")
	Eval[bool](p, `(window.print = () => {}, true)`) // printing to a file needs no dialog
	for _, s := range []struct {
		kind string
		want []string
	}{
		{"job-sheet", []string{"What is to be done?", "Hours", "Stored charge", "checked"}},
		{"decisions", []string{"What is done, and what is left?", "If not done:", "think about it", "They do not add up"}},
		{"labels", []string{"Old part:", "Serial"}},
	} {
		p.Touch("#paper-kind-" + s.kind)
		p.Wait(`document.querySelector("#sheet-` + s.kind + `") !== null`)
		p.Accessible("paper " + s.kind)
		p.Shot("paper-" + s.kind)
		p.Touch(`[data-act="paper-print"]`)
		p.Wait(`document.querySelector("#paper").textContent !== ""`)
		pdf := p.PDF()
		if dir := os.Getenv("LUGWORTH_SHOTS"); dir != "" {
			p.check("keep the PDF", os.WriteFile(filepath.Join(dir, s.kind+".pdf"), pdf, 0o644))
		}
		text := strings.Join(strings.Fields(pdfText(t, pdf)), " ")
		for _, want := range s.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the print lacks %q:\n%s", s.kind, want, text)
			}
		}
		Eval[bool](p, `(window.dispatchEvent(new Event("afterprint")), true)`)
		p.Wait(`document.querySelector("#paper").textContent === ""`)
	}
}
