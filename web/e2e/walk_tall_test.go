package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// The tablet held upright: the demo through the five postures, its estimate on
// paper, then a new job by touch as far as the first questions a reading asks.
func TestWalkPortrait(t *testing.T) {
	t.Parallel()
	p := Start(t, Portrait)
	p.Kept()
	p.everyPosture("portrait")
	p.yesAndNo()
	p.paper()
	p.Touch(`[data-act="jobs"]`)
	p.Touch(`#jobs-dialog [data-act="job-new"]`)
	p.WaitText(".main", "Five steps to a first verdict")
	p.firstFinding()
	p.firstReadings()
	p.putDown()
	p.BenchPart("readings")
	p.Sees("#main-bench", "318 V", "3180 V")
}

// yesAndNo turns one option of the demo over and back: the sum follows.
func (p *Page) yesAndNo() {
	p.t.Helper()
	p.Turn("call")
	before := p.Text(".foot-total")
	button := p.find(`.call-yes[data-act="accept"][aria-pressed="false"]:not([disabled])`, "Yes")
	p.Pressed(button)
	p.Wait(fmt.Sprintf(`document.querySelector(".foot-total").textContent !== %q`, before))
	p.Touch(`.head [data-act="undo"]`)
	p.Wait(fmt.Sprintf(`document.querySelector(".foot-total").textContent === %q`, before))
}

// paper prints the estimate and reads it back from the PDF.
func (p *Page) paper() {
	p.t.Helper()
	total := Eval[string](p, `document.querySelector(".foot-total .why").textContent`)
	p.Turn("papers")
	Eval[bool](p, `(window.print = () => {}, true)`) // printing to a file needs no dialog
	p.Touch(`[data-act="estimate-print"]`)
	p.Wait(`document.querySelector("#paper").textContent !== ""`)
	text := strings.Join(strings.Fields(pdfText(p.t, p.PDF())), " ")
	for _, want := range []string{total, "at most", "Stored charge", "trained"} {
		if !strings.Contains(text, want) {
			p.t.Errorf("the printed estimate lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "What is agreed, in writing?") {
		p.t.Error("the page is printed with the paper")
	}
}

func (p *Page) firstFinding() {
	p.t.Helper()
	p.BenchPart("findings")
	p.Touch(`[data-act="finding-new"]`)
	p.Wait(`document.activeElement?.id === "finding-seen-F1"`)
	p.Fill("#finding-seen-F1", "hums, filter can warm")
	p.Pressed(`[id="set-finding/pile-F1-must"]`)
	p.Sees("#finding-F1 .bench-finding-head", "hums, filter can warm", "must, observed")
	p.Accessible("a new finding, tall")
}

// firstReadings enters one without its mains, which is refused in plain words,
// and one with a digit too many, which is asked about.
func (p *Page) firstReadings() {
	p.t.Helper()
	p.BenchPart("readings")
	p.Sees("#triage", "Load on the output", "Mains lead")
	p.Triage("load")
	p.Shot("walk-tall-triage")
	p.Accessible("checks before power, tall")
	p.passOver("speaker comes tomorrow")
	p.Fill("#reading-at", "V3:plate")
	p.Type("#reading-value", "318")
	p.Key(kb.Enter)
	p.Sees(".bench-ask:not([hidden])", "The mains at that moment is not entered")
	p.Shot("walk-tall-no-mains")
	p.Accessible("a reading without its mains, tall")
	p.Fill("#reading-mains", "117.0")
	p.Touch(`#reading-form [type="submit"]`)
	p.WaitText(`[data-act="bench-part"][data-id="readings"]`, "1 reading")
	p.Fill("#reading-at", "V4:plate")
	p.Type("#reading-value", "3180")
	p.Key(kb.Enter)
	p.Sees(".bench-ask:not([hidden])", "318")
	p.Shot("walk-tall-asks")
	p.Accessible("an unlikely reading, tall")
	p.Touch(`[data-act="reading-anyway"]`)
	p.WaitText(`[data-act="bench-part"][data-id="readings"]`, "2 readings")
}
