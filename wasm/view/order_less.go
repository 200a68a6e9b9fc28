package view

import (
	"fmt"
	"math"

	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// orderLess is the card that says whether the order can be had for less, how
// sure that is, and what would be bought where.
func orderLess(m app.Model) []keyed.Node {
	d, err := seekOf(m)
	if err != nil {
		return []keyed.Node{keyed.Row("section", "less", keyed.Class("card"), keyed.El("h2", keyed.Text("Can it be had for less?")), part.Note("Not looked for: "+err.Error()+"."))}
	}
	if d == nil || len(d.s.Wants) == 0 {
		return nil
	}
	a := d.s.Best()
	return []keyed.Node{keyed.Row("section", "less", keyed.Class("card order-less"), keyed.Live("data-proof", proofState(d.s, a)),
		keyed.El("h2", keyed.Text("Can it be had for less?")),
		keyed.El("div", keyed.Class("order-less-two"),
			keyed.El("div", keyed.Class("stack"), d.answer(a), keyed.El("div", keyed.Class("order-ledger"), d.ledger(a)), d.spares(a), d.lessPresses(a)),
			keyed.El("div", keyed.Class("stack"), d.limits(), d.assumed())),
		d.moves(a, "less", "What the cheapest order buys elsewhere than planned"))}
}

// proofState is how far the proof is, for whoever waits for it.
func proofState(s *app.Seek, a order.Answer) string {
	switch {
	case a.Proven && a.Feasible:
		return "proven"
	case a.Proven:
		return "none"
	case s.Looking():
		return "looking"
	}
	return "open"
}

// answer is the short answer, and how sure it is.
func (d *buyingDesk) answer(a order.Answer) keyed.Item {
	return keyed.El("div", keyed.Class("order-answer"), keyed.Attr("role", "status"),
		keyed.El("p", keyed.Class("lead"), keyed.El("b", keyed.Text(d.short(a)))),
		keyed.El("p", keyed.Class("order-proof"), keyed.Text(d.proof(a))))
}

func (d *buyingDesk) short(a order.Answer) string {
	if !a.Feasible {
		if a.Proven {
			return "No order meets it."
		}
		return "Looking for an order that meets it."
	}
	now, best := d.minor(d.s.Force.Cost, d.s.Force.Places), d.minor(a.Cost, a.Places)
	limited := ""
	if d.s.Limits != (order.Limits{}) {
		limited = " within the limits"
	}
	switch {
	case best < now:
		return "Yes: " + d.c.Format(best) + limited + ", " + d.c.Format(now-best) + " less."
	case best > now && limited != "":
		return "Within the limits it costs " + d.c.Format(best-now) + " more: " + d.c.Format(best) + "."
	case limited != "":
		return "No, the limits cost nothing."
	case d.s.Planned.Cost > d.s.Force.Cost:
		return "No: it is ordered the cheapest way, " + d.c.Format(d.minor(d.s.Planned.Cost, a.Places)-now) + " less than planned."
	}
	return "No."
}

// proof says what is proven of an answer: "proven: no order costs less", or
// how far off the bound is.
func (d *buyingDesk) proof(a order.Answer) string {
	switch {
	case !a.Feasible && a.Proven:
		return d.whyNone(a)
	case !a.Feasible:
		return "None found yet."
	case a.Proven:
		say := "Proven: no order costs less"
		if d.s.Limits != (order.Limits{}) {
			say += " within the limits"
		}
		return say + d.exceptCarriage(a) + "."
	case d.s.Looking():
		return withinSays(a) + ", still looking: no order costs less than " + d.sum(a.Lower, a) + "."
	}
	return withinSays(a) + ", not proven: no order costs less than " + d.sum(a.Lower, a) + "."
}

// withinSays is the gap between the best order and its bound: "Within 0.4 %".
func withinSays(a order.Answer) string {
	if a.Cost <= 0 {
		return "Nearly the least"
	}
	return fmt.Sprintf("Within %.1f %%", math.Ceil(1000*float64(a.Cost-a.Lower)/float64(a.Cost))/10)
}

// exceptCarriage is what the proof leaves out.
func (d *buyingDesk) exceptCarriage(a order.Answer) string {
	if b := d.bill(a); len(b.unstated) > 0 {
		return ", carriage of " + joined(" and ", b.unstated...) + " left out, which is not stated"
	}
	return ""
}

// A column of the ledger.
type ledgerColumn struct {
	say string
	a   order.Answer
}

// ledger sets the order as planned beside the one in force, where that is
// another, and the cheapest.
func (d *buyingDesk) ledger(a order.Answer) keyed.Item {
	columns := []ledgerColumn{{"As planned", d.s.Planned}}
	if d.swapped() {
		columns = append(columns, ledgerColumn{"As ordered", d.s.Force})
	}
	best := ledgerColumn{"Cheapest", a}
	if d.s.Limits != (order.Limits{}) {
		best.say = "Within the limits"
	}
	columns = append(columns, best)
	cols := []part.Col{{Say: "In " + d.c.Code}}
	for _, x := range columns {
		cols = append(cols, part.Col{Say: x.say, Num: true})
	}
	cells := func(say string, f func(order.Answer) string) []keyed.Item {
		out := []keyed.Item{keyed.Text(say)}
		for _, x := range columns {
			out = append(out, keyed.Text(orNone(x.a, f)))
		}
		return out
	}
	row := func(id, say string, f func(order.Answer) string) keyed.Node {
		return part.TR("less-"+id+"-"+itoa(len(columns)), cols, cells(say, f)...)
	}
	figure := func(f func(orderBill) money.Amount) func(order.Answer) string {
		return func(a order.Answer) string { return d.c.Format(f(d.bill(a))) }
	}
	return part.Table("What the order costs the shop at its door", cols, keyed.Nodes(
		row("parcels", "Parcels", func(a order.Answer) string { return itoa(a.Parcels) }),
		row("day", "All there by", d.daySays),
		row("goods", "Goods", figure(func(b orderBill) money.Amount { return b.goods })),
		row("spares", "Spares, to fill an order up", figure(func(b orderBill) money.Amount { return b.spares })),
		row("carriage", "Carriage", d.carriage)),
		part.Sum(cols, cells("Total", func(a order.Answer) string { return d.sum(a.Cost, a) })...))
}

func orNone(a order.Answer, f func(order.Answer) string) string {
	if !a.Feasible {
		return "–"
	}
	return f(a)
}

func (d *buyingDesk) carriage(a order.Answer) string {
	b := d.bill(a)
	if len(b.unstated) > 0 {
		return d.c.Format(b.carriage) + " and what " + joined(", ", b.unstated...) + " asks"
	}
	return d.c.Format(b.carriage)
}

// swapped reports whether the order in force differs from the plan.
func (d *buyingDesk) swapped() bool {
	b := d.m.Open.Result.Job.Buying
	return len(b.Swaps)+len(b.Spares) > 0
}

// isForce reports whether an answer is the order in force.
func (d *buyingDesk) isForce(a order.Answer) bool {
	for w, p := range a.Plan {
		if d.s.Offers[p].Offer != d.s.Offers[d.s.Forced[w]].Offer {
			return false
		}
	}
	return a.Feasible
}

func (d *buyingDesk) lessPresses(a order.Answer) keyed.Item {
	same := d.isForce(a)
	kind := "main"
	if same {
		kind = ""
	}
	return part.Presses(
		part.Press(kind, "Order this way", "order-this", "", keyed.Flag("disabled", same || !a.Feasible)),
		part.Press("", "Order as planned", "order-planned", "", keyed.Flag("disabled", !d.swapped())))
}

var moveCols = []part.Col{{Say: "For"}, {Say: "As planned"}, {Say: "This way"}, {Say: "Why", Wide: true}}

// moves are the needs that an order buys elsewhere than planned.
func (d *buyingDesk) moves(a order.Answer, in, caption string) keyed.Item {
	var rows []keyed.Node
	for w, p := range a.Plan {
		if from := d.s.PlannedPack(w); d.s.Offers[from].Offer != d.s.Offers[p].Offer || d.s.Offers[p].Shelf {
			rows = append(rows, part.TR(in+"-move-"+slug(d.s.Market.Wants[w].ID), moveCols, d.wantCell(w), d.offerCell(from), d.offerCell(p), d.whyCell(a, w)))
		}
	}
	if len(rows) == 0 {
		return keyed.El("p", keyed.Class("soft"), keyed.Text("Every part is bought where the plan names it."))
	}
	return part.Table(caption, moveCols, keyed.Nodes(rows...), keyed.Item{})
}

func (d *buyingDesk) wantCell(w int) keyed.Item {
	return keyed.El("div", keyed.Class("basket-what"), keyed.El("span", keyed.Text(d.wantSays(w))), keyed.El("span", keyed.Class("soft small"), keyed.Text(d.wantFor(w))))
}

func (d *buyingDesk) offerCell(pack int) keyed.Item {
	o := d.s.Offers[pack].Offer
	return keyed.El("div", keyed.Class("basket-what"), keyed.El("b", keyed.Class("whole"), keyed.Text(d.offerName(pack))),
		keyed.El("span", keyed.Class("soft small"), keyed.Text(pieceSays(o)+" a piece")))
}

// assumed is what the books leave open and what is taken in its place, and
// where nothing is chosen because the technician named the offer.
func (d *buyingDesk) assumed() keyed.Item {
	all := d.s.Assumed
	if n := d.named(); n > 0 {
		all = append([]string{itoa(n) + " of " + count(len(d.s.Wants), "part") + " named by the technician: no other offer is looked at for those"}, all...)
	}
	if len(all) == 0 {
		return keyed.Item{}
	}
	return keyed.El("div", keyed.El("h3", keyed.Text("What this takes for granted")),
		keyed.El("ul", keyed.Class("remarks small"), keyed.Map(all, func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) })))
}

// named counts the needs whose offer the technician named.
func (d *buyingDesk) named() int {
	n := 0
	for _, w := range d.s.Wants {
		if w.Named {
			n++
		}
	}
	return n
}
