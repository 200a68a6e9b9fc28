package e2e

import "testing"

func TestOrderExactly(t *testing.T) {
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}} {
		t.Run(size.name, func(t *testing.T) {
			p := givenOrder(t, size.Size)
			p.Turn("order")
			p.Wait(`document.querySelector("#less")?.dataset.proof === "proven"`)
			p.Wait(`document.querySelector("#front")?.dataset.more === "false"`)
			p.Shot("order-" + size.name)
			p.Accessible("order " + size.name)
			p.Touch(`[data-act="order-point"]`)
			p.Wait(`document.querySelector("#point-open") !== null`)
			Eval[bool](p, `(document.querySelector("#front").scrollIntoView(), true)`)
			p.Shot("order-front-" + size.name)
			p.Touch(`[data-act="order-front"][value="originality"]`)
			p.Wait(`document.querySelector("#front")?.dataset.more === "false"`)
			p.Shot("order-score-" + size.name)
			p.Accessible("order score " + size.name)
			p.Touch(`[data-act="order-line"]`)
			p.Wait(`document.querySelector("#supplier-sheet:modal") !== null`)
			p.Shot("order-sheet-" + size.name)
			p.Accessible("order sheet " + size.name)
		})
	}
}

func givenOrder(t *testing.T, size Size) *Page {
	return given(t, size, "orders/marten.txtar")
}
