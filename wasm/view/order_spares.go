package view

import (
	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// topUp proposes spares that bring carriage down or reach the least order.
func topUp(b order.Basket) keyed.Item {
	switch {
	case b.TopUp.Amount == 0:
		return keyed.Item{}
	case b.TopUp.Spare == nil:
		return part.Note(topUpSays(b))
	}
	return keyed.El("div", keyed.Class("line"), keyed.El("p", keyed.Class("note grow"), keyed.Text(topUpSays(b))),
		part.Press("", "Add these spares", "order-spares", b.Supplier))
}

// topUpSays is what spares would do to a basket, and which do it for the least
// money.
func topUpSays(b order.Basket) string {
	t, f := b.TopUp, b.Currency.Format
	say := "Spares for " + f(t.Amount) + " more bring carriage to " + f(t.Carriage)
	if b.Short > 0 {
		say = "The least order asks for spares of " + f(t.Amount)
	}
	if t.Spare == nil {
		return say + "; nothing in this basket comes in packs that do it."
	}
	say += ": " + count(t.Spare.Packs, "pack") + " of " + t.Spare.Number + " " + t.Spare.Text + " for " + f(t.Spare.Amount)
	if saved := app.Saved(t); saved > 0 {
		say += ", and the order costs " + f(saved) + " less"
	}
	return say + ". They go to the shelf."
}

// spares names the spares that an answer counts with, supplier by supplier.
func (d *buyingDesk) spares(a order.Answer) keyed.Item {
	counted := false
	for _, b := range a.Baskets {
		counted = counted || b.TopUp > 0
	}
	if !counted {
		return keyed.Item{}
	}
	buy, err := d.m.Open.Result.BuyOf(d.s.Ordering, a)
	if err != nil {
		return part.Note("Which spares fill the order up cannot be told: " + err.Error() + ".")
	}
	var notes []keyed.Item
	for _, b := range buy.Baskets {
		if b.TopUp.Amount > 0 {
			notes = append(notes, part.Note("Order to "+b.Supplier+", in "+b.Currency.Code+": "+lowerFirst(topUpSays(b))))
		}
	}
	return keyed.Several(notes...)
}
