package view

import (
	"lugworth/core/job"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// supplierSheet answers for one line of a basket why it is bought there, what
// every other offer that passes would do to the whole order, and which offers
// nearly pass.
func supplierSheet(m app.Model) keyed.Node {
	d, err := seekOf(m)
	if d == nil || err != nil {
		return part.Sheet("supplier-sheet", "Why this supplier?", "dialog-close", "", part.Note("There is no order to look at."))
	}
	wants := d.s.Opened()
	if len(wants) == 0 {
		return part.Sheet("supplier-sheet", "Why this supplier?", "dialog-close", "", part.Note("The work takes none of this from there: it is spares, or it lies on the shelf."))
	}
	var body []keyed.Item
	for _, w := range wants {
		body = append(body, keyed.El("section", keyed.Class("stack"),
			keyed.El("h3", keyed.Text(d.wantSays(w)+", for "+d.wantFor(w))),
			d.whyHere(w), d.rivals(w), d.nearly(w)))
	}
	return part.Sheet("supplier-sheet", "Why this supplier?", "dialog-close", "", body...)
}

// whyHere says why the cheapest order buys it where it does, and where that is
// when the order in force buys it elsewhere.
func (d *buyingDesk) whyHere(w int) keyed.Item {
	if d.s.Wants[w].Named {
		return part.Note("The technician named this offer: no other is looked at. Take the name away on Plan and every offer that passes counts.")
	}
	a := d.s.Best()
	if !a.Feasible {
		return part.Note(d.proof(a))
	}
	say := "The cheapest order buys it here. Why:"
	if d.s.Offers[d.s.Forced[w]].Offer != d.s.Offers[a.Plan[w]].Offer {
		say = "The cheapest order buys " + d.offerName(a.Plan[w]) + " in its place. Why:"
	}
	return keyed.Several(keyed.El("p", keyed.Text(say)),
		keyed.El("ul", keyed.Class("remarks"), keyed.Map(d.whys(a, w), func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) })))
}

var rivalCols = []part.Col{{Say: "Offer", Wide: true}, {Say: "On the whole order", Num: true}, {Say: "Take it"}}

// rivals lists the offers that pass, and what each does to the whole order.
// Its lines stay where they are while the figures come.
func (d *buyingDesk) rivals(w int) keyed.Item {
	k := d.s.Ranking(w)
	if k == nil {
		return part.Note("What other offers would do is told once the cheapest order is known.")
	}
	var rows []keyed.Node
	for i, v := range k.Rows {
		if i < app.MostRanked || v.Chosen || v.Planned || v.Pack == d.s.Forced[w] {
			rows = append(rows, d.rival(w, k.Places, v))
		}
	}
	left := len(k.Rows) - len(rows)
	return keyed.Several(part.Table("Offers that pass", rivalCols, keyed.Nodes(rows...), keyed.Item{}),
		keyed.If(left > 0, keyed.El("p", keyed.Class("soft small"), keyed.Text(count(left, "further offer")+" pass and are dearer by themselves."))))
}

func (d *buyingDesk) rival(w, places int, v job.Ranked) keyed.Node {
	o := d.s.Offers[v.Pack]
	lead := o.Offer.LeadDays
	if o.Shelf {
		lead = 0
	}
	return part.TR("rival-"+itoa(w)+"-"+itoa(v.Pack), rivalCols,
		keyed.El("div", keyed.Class("basket-what"), keyed.El("b", keyed.Class("whole"), keyed.Text(d.offerName(v.Pack))),
			keyed.El("span", keyed.Text(o.Offer.Text)), keyed.El("span", keyed.Class("soft small"), keyed.Text(pieceSays(o.Offer)+" a piece · lead "+leadSays(lead)))),
		keyed.Text(d.rivalSays(v, places)), d.rivalPress(w, v))
}

// rivalSays is what an offer does to the whole order: "+0.35".
func (d *buyingDesk) rivalSays(v job.Ranked, places int) string {
	switch {
	case v.Chosen:
		return "in the cheapest"
	case !v.Known:
		return "…"
	case v.Fails != "":
		return "no order"
	case !v.Exact:
		return d.more(d.minor(v.Delta, places)) + " or more"
	}
	return d.more(d.minor(v.Delta, places))
}

// rivalPress buys the need from that offer, all else as it is.
func (d *buyingDesk) rivalPress(w int, v job.Ranked) keyed.Item {
	if d.s.Forced[w] == v.Pack {
		return keyed.El("span", keyed.Class("soft small"), keyed.Text("as ordered"))
	}
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("order-take", itoa(w), itoa(v.Pack)), keyed.Text("Take it"))
}

// whys are the reasons why an order buys a need where it does.
func (d *buyingDesk) whys(a order.Answer, w int) []string {
	var out []string
	for _, s := range d.s.Why(a, w) {
		out = append(out, capital(s)+".")
	}
	return out
}

func (d *buyingDesk) whyCell(a order.Answer, w int) keyed.Item {
	return keyed.El("ul", keyed.Class("remarks small"), keyed.Map(d.whys(a, w), func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) }))
}

var nearCols = []part.Col{{Say: "Offer", Wide: true}, {Say: "What misses"}, {Say: "May it be named?"}}

// nearly lists the offers that miss by one number. One that would hurt
// somebody is told and can never be taken; of the others the technician may
// name one on Plan.
func (d *buyingDesk) nearly(w int) keyed.Item {
	misses, known := d.s.Near(w)
	if !known || len(misses) == 0 {
		return keyed.Item{}
	}
	more := len(misses) - mostMisses
	if more > 0 {
		misses = misses[:mostMisses]
	}
	option := d.s.Wants[w].Lines[0].Option
	return keyed.Several(part.Table("Offers that miss by one number", nearCols, keyed.Each(misses, func(x plan.Miss) keyed.Node { return nearRow(w, option, x) }), keyed.Item{}),
		keyed.If(more > 0, keyed.El("p", keyed.Class("soft small"), keyed.Text(count(more, "further offer")+" miss by one number too; Plan lists them."))))
}

// mostMisses is how many offers that nearly pass are shown.
const mostMisses = 12

func nearRow(w int, option string, x plan.Miss) keyed.Node {
	o := x.Offer
	may := keyed.El("span", keyed.Class("soft small"), keyed.Text("never"))
	if !x.Safety {
		may = keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("order-plan", option), keyed.Text("On Plan"))
	}
	return part.TR("near-"+itoa(w)+"-"+slug(o.List+"-"+o.Number), nearCols,
		keyed.El("div", keyed.Class("basket-what"), keyed.El("b", keyed.Class("whole"), keyed.Text(o.List+" "+o.Number)), keyed.El("span", keyed.Class("small"), keyed.Text(o.Text))),
		keyed.Text(x.Say), may)
}
