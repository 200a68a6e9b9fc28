package e2e

import (
	"fmt"

	"lugworth/core/bench"
)

// Triage does the checks before the first power, all but those named.
func (p *Page) Triage(but ...string) {
	p.t.Helper()
	left := map[string]bool{}
	for _, id := range but {
		left[id] = true
	}
	for _, c := range bench.Checks {
		if !left[c.ID] {
			p.Pressed(fmt.Sprintf("#check-%s-passed", c.ID))
		}
	}
}

// passOver powers the amp without the checks that are open, for a reason.
func (p *Page) passOver(reason string) {
	p.t.Helper()
	p.Touch("#triage summary")
	p.Fill("#power-anyway-reason", reason)
	p.Touch(`#form-power-anyway [type="submit"]`)
	p.Wait(`document.querySelector("#triage") === null`)
}

// putDown parks the job and takes it up again after the page was lost: the
// card stands before everything until someone has measured.
func (p *Page) putDown() {
	p.t.Helper()
	p.Touch(`[data-act="park"]`)
	p.Wait(`document.querySelector("#park-dialog") !== null`)
	p.Fill("#park-lifted", "C4 at the plate of V3")
	p.Fill("#park-next", "read R12")
	p.Accessible("putting the work down")
	p.Shot("park")
	p.Touch(`#form-park [type="submit"]`)
	p.Wait(`document.querySelector("#park-dialog") === null`)
	p.Kept()
	p.Reload()
	p.Sees("#resume-dialog", "Treat them as charged", "C4 at the plate of V3", "read R12")
	p.Accessible("taking the work up")
	p.Shot("resume")
	p.Touch("#resume-later")
	p.Wait(`document.querySelector("#resume-dialog") === null`)
	p.Reload()
	p.Touch("#resume-measured")
	p.Wait(`document.querySelector("#resume-dialog") === null`)
	p.Kept()
}
