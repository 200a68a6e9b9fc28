package view

import (
	"fmt"
	"strings"

	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Order draws the baskets of the choice in force, what is held back and why,
// and what the order leaves of the parts bill.
func Order(m app.Model) []keyed.Node {
	r := m.Open.Result
	ask := "What do I order, and where?"
	if r.Force < 0 {
		return []keyed.Node{keyed.Row("section", "order", part.Question(ask, ""), noChoice("The order is what a choice needs."))}
	}
	out := []keyed.Node{keyed.Row("section", "order", part.Question(ask, orderUnder(m)), agreedNote(m), orderAll(m), orderEmpty(m))}
	out = append(out, orderLess(m)...)
	if held := heldBack(r); held.Key != "" {
		out = append(out, held)
	}
	for _, b := range r.Buy.Baskets {
		if len(b.Lines) > 0 {
			out = append(out, basket(m, b))
		}
	}
	if len(r.Buy.Stock) > 0 {
		out = append(out, fromShelf(r))
	}
	if w, any := waitingRow(m); any {
		out = append(out, w)
	}
	out = append(out, orderFront(m)...)
	if app.Parcels(r.Buy) > 0 {
		out = append(out, orderCost(m))
	}
	return append(out, orderProblems(r)...)
}

func orderUnder(m app.Model) string {
	b := m.Open.Result.Buy
	return joined(" · ", "For "+forceName(m), parcelSays(app.Parcels(b)), heldSays(len(b.Held)))
}

func parcelSays(n int) string {
	switch n {
	case 0:
		return "nothing to buy"
	case 1:
		return "one supplier"
	}
	return itoa(n) + " suppliers"
}

func heldSays(n int) string {
	if n == 0 {
		return ""
	}
	return count(n, "part") + " held back"
}

func orderAll(m app.Model) keyed.Item {
	if app.Parcels(m.Open.Result.Buy) < 2 {
		return keyed.Item{}
	}
	return part.Presses(part.Press("", "All order files", "order-file", ""))
}

func orderEmpty(m app.Model) keyed.Item {
	b := m.Open.Result.Buy
	if app.Parcels(b) > 0 || len(b.Held) > 0 || len(b.Stock) > 0 {
		return keyed.Item{}
	}
	return part.Empty("This choice needs no parts", "An order is filled from the parts of the options that are taken. Those of "+forceName(m)+" have none.", "", part.Press("", "To Plan", "posture", "plan"))
}

var basketCols = []part.Col{{Say: "Part"}, {Say: "What", Wide: true}, {Say: "Packs", Num: true}, {Say: "Pieces", Num: true}, {Say: "A pack", Num: true}, {Say: "Amount", Num: true}, {Say: "Lead", Num: true}, {Say: "Ask"}}

// basket is the order to one supplier, in that supplier's money.
func basket(m app.Model, b order.Basket) keyed.Node {
	id := "basket-" + slug(b.Supplier)
	return keyed.Row("section", id, keyed.Class("card basket"),
		keyed.El("div", keyed.Class("line"), keyed.El("h2", keyed.Class("grow"), keyed.Text("Order to "+b.Supplier)),
			part.Press("main", "Order file for "+b.Supplier, "order-file", b.Supplier), part.Press("", "Sent to "+b.Supplier, "placed", b.Supplier)),
		noteWhen(placedNote(m, b) != "", placedNote(m, b)),
		part.Table("Lines in "+b.Currency.Code+", from the price list "+listDate(m, b.Supplier), basketCols,
			keyed.Each(b.Lines, func(l order.Line) keyed.Node { return basketLine(id, b, l) }),
			keyed.Several(basketSum(b, "Goods", b.Currency.Format(b.Goods)), basketSum(b, "Carriage", carriageSays(b)), basketSum(b, "Total", b.Currency.Format(b.Total)))),
		basketNotes(b), topUp(b))
}

func listDate(m app.Model, supplier string) string {
	for _, l := range m.PriceLists() {
		if l.Name == supplier && l.Read != nil {
			return strings.TrimPrefix(l.Read.File, "lists/")
		}
	}
	return "as the job carries it"
}

func basketLine(id string, b order.Basket, l order.Line) keyed.Node {
	return part.TR(id+"-"+slug(l.Number), basketCols,
		keyed.El("b", keyed.Class("whole"), keyed.Text(l.Number)),
		keyed.El("div", keyed.Class("basket-what"), keyed.El("span", keyed.Text(l.Text)),
			keyed.El("span", keyed.Class("soft small"), keyed.Text(joined(" · ", usesSay(l), packSays(l), joined(", ", l.Notes...))))),
		keyed.Text(itoa(l.Packs)), keyed.Text(itoa(l.Pieces)), keyed.Text(b.Currency.Format(l.PackPrice)), keyed.Text(b.Currency.Format(l.Amount)), keyed.Text(leadSays(l.LeadDays)), whyHere(b, l))
}

// whyHere asks why a line is bought from its supplier.
func whyHere(b order.Basket, l order.Line) keyed.Item {
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("order-line", b.Supplier, l.Number),
		keyed.Attr("aria-label", "Why here? "+b.Supplier+" "+l.Number), keyed.Text("Why here?"))
}

func packSays(l order.Line) string {
	if l.Pack == 1 {
		return ""
	}
	return itoa(l.Pack) + " to a pack"
}

// usesSay names what each piece is for: "4 for A3 T3, 2 for 7/new".
func usesSay(l order.Line) string {
	var w []string
	for _, u := range l.Uses {
		w = append(w, fmt.Sprintf("%d for %s", u.Pieces, useName(u)))
	}
	return joined(", ", w...)
}

// useName is the option, and the finding before it where the option's own name
// does not begin with that.
func useName(u order.Use) string {
	if strings.HasPrefix(u.Option, u.Finding+"/") {
		return u.Option
	}
	return joined(" ", u.Finding, u.Option)
}

func carriageSays(b order.Basket) string {
	if !b.CarriageStated {
		return "not stated"
	}
	return b.Currency.Format(b.Carriage)
}

func basketSum(b order.Basket, say, figure string) keyed.Item {
	return part.Sum(basketCols, keyed.Text(say), keyed.Item{}, keyed.Item{}, keyed.Item{}, keyed.Item{}, keyed.Text(figure), keyed.Item{}, keyed.Item{})
}

func basketNotes(b order.Basket) keyed.Item {
	if len(b.Notes) == 0 {
		return keyed.Item{}
	}
	return keyed.El("ul", keyed.Class("plan-problems"), keyed.Map(b.Notes, func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) }))
}

// heldBack are the parts that are not ordered, each with its reason and the
// way to it.
func heldBack(r *job.Result) keyed.Node {
	if len(r.Buy.Held) == 0 {
		return keyed.Node{}
	}
	cols := []part.Col{{Say: "For"}, {Say: "What", Wide: true}, {Say: "Pieces", Num: true}, {Say: "Why not", Wide: true}, {Say: "See"}}
	seen := map[string]int{}
	return keyed.Row("section", "held", keyed.Class("card"), keyed.El("h2", keyed.Text("Held back, not ordered")),
		part.Table("Parts that are not ordered, and why", cols, keyed.Each(r.Buy.Held, func(h order.Held) keyed.Node {
			id := "held-" + slug(h.Need.Option+"-"+h.Need.Number+"-"+h.Need.Say)
			if seen[id]++; seen[id] > 1 {
				id += "." + itoa(seen[id])
			}
			return part.TR(id, cols, keyed.Text(h.Need.Finding+" "+h.Need.Option), keyed.Text(joined(" ", h.Need.List, h.Need.Number, h.Need.Say)), keyed.Text(itoa(h.Need.Pieces)),
				keyed.Text(h.Reason), keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("order-plan", h.Need.Option), keyed.Text("Open "+h.Need.Option)))
		}), keyed.Item{}))
}

func fromShelf(r *job.Result) keyed.Node {
	cols := []part.Col{{Say: "Part"}, {Say: "Taken", Num: true}, {Say: "Left on the shelf", Num: true}, {Say: "For", Wide: true}}
	return keyed.Row("section", "shelf", keyed.Class("card"), keyed.El("h2", keyed.Text("From the shop's shelf")),
		part.Table("Taken from stock first", cols, keyed.Each(r.Buy.Stock, func(s order.StockLine) keyed.Node {
			return part.TR("shelf-"+slug(s.List+"-"+s.Number), cols, keyed.Text(s.List+" "+s.Number), keyed.Text(itoa(s.Pieces)), keyed.Text(itoa(s.Left)), keyed.Text(usesSay(order.Line{Uses: s.Uses})))
		}), keyed.Item{}))
}

// orderCost sets the parts bill beside what the order costs the shop. It
// stands on Order alone.
func orderCost(m app.Model) keyed.Node {
	r := m.Open.Result
	s, err := r.Spend()
	if err != nil {
		return keyed.Row("section", "spend", keyed.Class("card"), keyed.El("h2", keyed.Text("What it leaves")), part.Note(err.Error()))
	}
	c := r.Policy.Currency
	left := "What is left for the shop"
	if s.Left < 0 {
		left = "What the shop lays out"
	}
	fact := func(say string, a money.Amount) keyed.Item {
		return part.Fact(say, part.Money(c.Format(a), c.Code))
	}
	return keyed.Row("section", "spend", keyed.Class("card narrow"), keyed.El("h2", keyed.Text("What the order leaves of the parts bill")),
		part.Facts(fact("The owner pays for parts", s.Owner), fact("Pieces ordered and used, at the door", s.Used), fact("Spare pieces, to stock", s.Spare), fact("Carriage", s.Carriage),
			fact("The order costs", s.Order), part.Fact(left, part.Why(m.Screen.Whys.Put("spend", s.Why), c.Format(s.Left)+" "+c.Code))),
		keyed.If(len(s.NoCarriage) > 0, part.Note("No carriage stated by "+joined(", ", s.NoCarriage...)+": the order may cost more.")),
		exposure(m),
		part.Note("The shop's own figures: they stand on no paper for the owner."))
}

// orderProblems are what stands in the way of the whole order.
func orderProblems(r *job.Result) []keyed.Node {
	var say []string
	for _, p := range r.Problems {
		if p.File == "order" || len(p.File) > 9 && p.File[:9] == "terms of " {
			say = append(say, p.Error())
		}
	}
	if len(say) == 0 {
		return nil
	}
	return []keyed.Node{keyed.Row("section", "order-problems", keyed.Class("card"), keyed.El("h2", keyed.Text("What stands in the way")),
		keyed.El("ul", keyed.Class("plan-problems"), keyed.Map(distinct(say), func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) })))}
}
