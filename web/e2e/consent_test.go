package e2e

import (
	"strings"
	"testing"
)

// The owner's answer is taken down on the call, with what is read back; it
// cannot be undone; what is added later is not agreed, is not ordered, and
// stands on a change order.
func TestOwnersAnswer(t *testing.T) {
	t.Parallel()
	p := Start(t, Landscape)
	p.Kept()
	p.Turn("call")
	p.Sees("#consent", "Nothing is agreed yet")
	p.Touch(`[data-act="consent-open"]`)
	p.Sees("#consent-dialog", "Read this back", "Nothing beyond it is done or charged")
	p.Touch(`#form-consent [type="submit"]`)
	p.Sees("#form-consent .bench-ask:not([hidden])", "Still wanted", "read back")
	p.Accessible("an answer that lacks something")
	p.Fill("#consent-who", "Wilda Marrow")
	p.Fill("#consent-called", "555 0101")
	p.Fill("#consent-received", "R. Tamm")
	p.Touch("#consent-readback")
	p.Wait(`document.querySelector("#consent-readback").checked`)
	p.Shot("consent")
	p.Touch(`#form-consent [type="submit"]`)
	p.Wait(`document.querySelector("#consent-dialog") === null`)
	p.Sees("#consent", "All of it is agreed")
	p.Wait(`document.querySelector('.head [data-act="undo"]').disabled`)
	p.Accessible("an answer on record")
	before := Eval[string](p, `document.querySelector(".foot-total").textContent`)
	p.Pressed(p.find(`.call-yes[data-act="accept"][aria-pressed="false"]:not([disabled])`, "Yes"))
	p.Wait(`document.querySelector(".foot-total").textContent !== ` + quoteJS(before))
	p.Sees("#consent", "Not agreed")
	p.Shot("consent-more")
	p.Touch(`[data-act="change-order"]`)
	p.Sees("#papers-two", "What changed since it was agreed?", "Difference", "Not agreed")
	p.Accessible("a change order")
	p.Shot("change-order")
	p.Kept()
	p.Reload()
	p.Turn("call")
	p.Sees("#consent", "Not agreed")
}

func quoteJS(s string) string { return "`" + strings.ReplaceAll(s, "`", "\\`") + "`" }
