package e2e

import "testing"

// The owner says "under 460, by the 20th" on the telephone: one press gives
// the best there is, with its date test, what comes next and what a little
// more would buy; another takes it. Then "what is the least I can touch?".
// On both ways of holding the tablet, with nothing one would stumble over.
func TestBestOnTheTelephone(t *testing.T) {
	t.Parallel()
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run(size.name, func(t *testing.T) {
			p := given(t, size.Size, "jobs/tern.txtar")
			p.Turn("call")
			p.Sees("#call-best", "432.37", "Raise the ceiling by 6.37, or accept day 35, and T7 comes too.", "Date test: the longest lead", "Next best: 435.35", "Proven")
			p.Sees("#way-T9", "−21.02", "from the present choice", "+111.02 on its own")
			p.Shot("best-tern-" + size.name)
			p.Accessible("the best, " + size.name)
			p.Fill("#best-ceiling", "460")
			p.Touch("#best-find")
			p.Sees("#call-best", "Best under 460.00", "456.37", "Raise the ceiling by 68.37")
			p.Shot("best-tern-said-" + size.name)
			p.Accessible("the best as it is said, " + size.name)
			p.Touch("#best-take")
			p.Sees("#call-best", "This is the choice in force.")
			p.Sees(".foot-total", "456.37")
			p.Touch("#best-record")
			p.Sees("#call-best", "432.37")
			p.Sees("#call-least", "324.47", "First of all: T1", "T6 may come to 3.08 less")
			Eval[bool](p, `(document.querySelector("#call-least").scrollIntoView(), true)`)
			p.Shot("best-tern-least-" + size.name)
			p.Touch("#least-a")
			p.Sees(".foot-total", "324.47")
		})
		t.Run("drover, "+size.name, func(t *testing.T) {
			p := given(t, size.Size, "jobs/drover.txtar")
			p.Turn("call")
			p.Sees("#call-least", "543.11", "471.57", "1 used up")
			p.Sees("#call-best", "With no limit:")
			p.Shot("best-drover-" + size.name)
			Eval[bool](p, `(document.querySelector("#call-least").scrollIntoView(), true)`)
			p.Shot("best-drover-least-" + size.name)
			p.Accessible("the least, " + size.name)
			p.dark()
			p.Shot("best-drover-dark-" + size.name)
			p.Accessible("the least, dark " + size.name)
		})
	}
}
