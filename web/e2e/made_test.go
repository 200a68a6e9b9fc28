package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A filter of which each part is made of two in series: asked for, taken, its
// leakage stated, and taken back, by hand alone.
func TestMadeOfSeveral(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../../testdata/jobs/drover.txtar")
	if err != nil {
		t.Fatal(err)
	}
	row := "K-1002,Axial electrolytic,22uF,500,5.20,1,30,2\n"
	text := strings.Replace(string(data), row, row+"K-1047,Axial electrolytic 20%,47uF,350,1.60,1,30,2\nK-1220,Metal oxide 1W 5%,220K,,0.16,1,99,4\n", 1)
	path := filepath.Join(tempDir(t), "drover.txtar")
	if text == string(data) || os.WriteFile(path, []byte(text), 0o600) != nil {
		t.Fatal("the list was not written")
	}
	for _, size := range []Size{Landscape, Portrait} {
		p := Start(t, size)
		p.WaitText(".status", "Saved")
		p.Tap(`[data-act="jobs"]`)
		p.Give(`#jobs-dialog [data-act="open-file"]`, path)
		p.WaitText(".job", "Drover")
		Eval[bool](p, `(document.querySelector("dialog [data-act=dialog-close]")?.click(), true)`)
		p.Wait(`document.querySelector("dialog") === null`)
		p.Turn("plan")
		p.Touch(`[data-act="plan-open"][data-id="T2b"]`)
		p.Touch(`[data-act="several"][data-id="T2b"]`)
		p.WaitText("#several-T2b-0", "6 × K K-1047 in series, K K-1220")
		p.Accessible("ways to make it")
		Eval[bool](p, `(document.querySelector("#several-T2b-0").scrollIntoView(), true)`)
		p.Shot("ways-to-make-" + fmt.Sprint(size.Width))
		p.Touch(`[data-act="make"][data-id="T2b"]`)
		p.WaitText("#several-T2b-0", "The other piece then")
		p.Accessible("made of two")
		p.Type("#leak-T2b-0", "0.1 mA")
		p.Leave()
		p.Wait(`!document.querySelector("#several-T2b-0").textContent.includes("is not stated")`)
		Eval[bool](p, `(document.querySelector("#several-T2b-0").scrollIntoView(), true)`)
		p.Shot("made-of-two-" + fmt.Sprint(size.Width))
		p.TapText("#several-T2b-0 button", "One piece again")
		p.WaitText("#several-T2b-0", "Make it from two")
		p.quit()
	}
}
