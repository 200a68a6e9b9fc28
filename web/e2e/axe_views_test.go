package e2e

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Nobody who reads by ear, needs a large target or holds the tablet upright
// stumbles: each posture's main view, of the demo, of a whole job and of an
// empty one, the dialogs, and the dark colors.
func TestNobodyStumbles(t *testing.T) {
	t.Parallel()
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run("demo and new, "+size.name, func(t *testing.T) {
			p := Start(t, size.Size)
			p.Kept()
			p.everyPosture("demo " + size.name)
			p.Touch(`[data-act="jobs"]`)
			p.Wait(`document.querySelector("dialog:modal") !== null`)
			p.Accessible("jobs " + size.name)
			p.Touch(`#jobs-dialog [data-act="job-new"]`)
			p.WaitText(".main", "Five steps to a first verdict")
			p.everyPosture("new " + size.name)
		})
		t.Run("drover, "+size.name, func(t *testing.T) {
			p := given(t, size.Size, "jobs/drover.txtar")
			p.everyPosture("drover " + size.name)
			p.openWhy()
			p.Accessible("why " + size.name)
			p.TapText("#why-sheet button", "Close")
			p.dark()
			p.everyPosture("dark " + size.name)
			p.openWhy()
			p.Accessible("why, dark " + size.name)
		})
	}
}

// everyPosture looks at the main view of each.
func (p *Page) everyPosture(state string) {
	p.t.Helper()
	for _, posture := range []string{"plan", "call", "order", "papers", "bench"} {
		p.Turn(posture)
		p.Shot("axe-" + state + "-" + posture)
		p.Accessible(state + ", " + posture)
	}
}

// openWhy opens the reason of the total.
func (p *Page) openWhy() {
	p.t.Helper()
	p.Turn("call")
	p.Touch(`.foot-total [data-act="why"]`)
	p.Wait(`document.querySelector("#why-sheet:modal") !== null`)
}

// dark has the browser ask for dark colors.
func (p *Page) dark() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
	p.check("ask for dark colors", err)
	p.Wait(`matchMedia("(prefers-color-scheme: dark)").matches`)
}
