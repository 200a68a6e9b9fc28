package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The end of the job by touch: an amp without a ground reading is not
// released; the report prints what was done, left and tested.
func TestLeave(t *testing.T) {
	t.Parallel()
	p := Start(t, Portrait)
	p.Kept()
	p.BenchPart("leave")
	p.Sees("#leave-say", "Not released for use", "Ground from the plug to the chassis: not read")
	p.Accessible("may it leave, tall")
	p.Shot("leave")
	p.Pressed("#final-ground-passed")
	p.Sees("#leave-say", "what was read is not written down")
	p.Fill("#final-say-ground", "0.08 ohms, limit 0.3")
	p.Pressed("#final-soak-overridden")
	p.Fill("#final-say-soak", "owner leaves at noon")
	p.Touch(`#leave-old .chip`)
	p.Wait(`document.querySelector('#leave-old .chip[aria-pressed="true"]') !== null`)
	p.Accessible("some tests done, tall")
	p.Touch(`[data-act="hand-back"]`)
	p.Sees("#papers-two", "What was done, and what was left?", "Left out for a reason: soak (owner leaves at noon)", "given back")
	p.Shot("hand-back")
	Eval[bool](p, `(window.print = () => {}, true)`)
	p.Touch(`[data-act="paper-print"]`)
	p.Wait(`document.querySelector("#paper").textContent !== ""`)
	pdf := p.PDF()
	if dir := os.Getenv("LUGWORTH_SHOTS"); dir != "" {
		p.check("keep the PDF", os.WriteFile(filepath.Join(dir, "hand-back.pdf"), pdf, 0o644))
	}
	text := strings.Join(strings.Fields(pdfText(t, pdf)), " ")
	for _, want := range []string{"0.08 ohms, limit 0.3", "Not released", "Old parts", "Left as it is"} {
		if !strings.Contains(text, want) {
			t.Errorf("the print lacks %q:\n%s", want, text)
		}
	}
}
