package view

import (
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// orderFront is the choice between what the order costs and something else,
// as a picture and as a list of the same orders to press.
func orderFront(m app.Model) []keyed.Node {
	d, err := seekOf(m)
	if d == nil || err != nil || len(d.s.Wants) == 0 {
		return nil
	}
	original := m.Screen.Buying.Original
	points, more := d.s.Points(original)
	return []keyed.Node{keyed.Row("section", "front", keyed.Class("card"), keyed.Live("data-more", pressedWord(more)),
		keyed.El("h2", keyed.Text("What would another order cost?")),
		part.Chips("What cost is set against", "order-front", "", frontName(original), part.Chip{Value: "parcels", Say: "Parcels and days"}, part.Chip{Value: "originality", Say: "Originality"}),
		keyed.El("div", keyed.Class("order-front"),
			part.Picture(d.picture(points, original)),
			keyed.El("div", keyed.Class("stack"),
				keyed.El("p", keyed.Class("soft small"), keyed.Attr("role", "status"), keyed.Text(frontSays(len(points), more))),
				keyed.If(original, part.Note("Originality is "+lowerFirst(job.RuleOriginal.Says)+" Points: "+job.RuleOriginal.Formula+" ("+job.RuleOriginal.Source+").")),
				keyed.El("ul", keyed.Class("list order-points"), keyed.Each(points, func(p app.Point) keyed.Node { return d.pointLine(p, original) })))),
		keyed.Nodes(d.pointOpen()...))}
}

func frontName(original bool) string {
	if original {
		return "originality"
	}
	return "parcels"
}

func frontSays(n int, more bool) string {
	if more {
		return count(n, "order") + " so far; further ones are looked for."
	}
	if n == 1 {
		return "One order: none is better in anything."
	}
	return count(n, "order") + ": each is the cheapest of its kind."
}

// looked is the key of the order that is looked at: the one pressed, else the
// one in force.
func (d *buyingDesk) looked(p app.Point) bool {
	if key := d.m.Screen.Buying.Point; key != "" {
		return p.Key() == key
	}
	return d.isForce(p.Answer)
}

// picture draws the points of either choice.
func (d *buyingDesk) picture(points []app.Point, original bool) string {
	format := func(v int64) string { return d.c.Format(money.Amount(v)) }
	if original {
		s := draw.Scores{Format: format}
		for _, p := range points {
			s.Points = append(s.Points, draw.Score{Name: p.Name, Score: p.Score, Cost: int64(d.minor(p.Cost, p.Places)), Proven: p.Proven, Shown: d.looked(p)})
		}
		sortScores(s.Points)
		return draw.ScoreStair(s)
	}
	f := draw.Parcels{Format: format, Planned: d.tag("planned", d.s.Planned)}
	for _, p := range points {
		t := d.tag(p.Name, p.Answer)
		t.Shown = d.looked(p)
		f.Points = append(f.Points, t)
	}
	return draw.ParcelTags(f)
}

func (d *buyingDesk) tag(name string, a order.Answer) draw.Parcel {
	days := a.Days
	if days >= job.LeadUnstated {
		days = -1
	}
	return draw.Parcel{Name: name, Parcels: a.Parcels, Days: days, Cost: int64(d.minor(a.Cost, a.Places)), Proven: a.Proven}
}

func sortScores(s []draw.Score) {
	for i := range s {
		for k := i; k > 0 && s[k].Score > s[k-1].Score; k-- {
			s[k], s[k-1] = s[k-1], s[k]
		}
	}
}

// pointLine is one order of the list.
func (d *buyingDesk) pointLine(p app.Point, original bool) keyed.Node {
	say := joined(" · ", parcelCount(p.Parcels), d.daySays(p.Answer))
	if original {
		say = joined(" · ", "originality "+itoa(p.Score), parcelCount(p.Parcels))
	}
	proof := "proven" + d.exceptCarriage(p.Answer)
	if !p.Proven {
		proof = withinSays(p.Answer)
	}
	if d.isForce(p.Answer) {
		proof = joined(", ", proof, "as ordered now")
	}
	return keyed.Row("li", "point-"+slug(p.Key()),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("order-point", p.Key()), keyed.Live("aria-pressed", pressedWord(d.m.Screen.Buying.Point == p.Key())),
			keyed.El("span", keyed.Class("ref"), keyed.Text(p.Name)),
			keyed.El("span", keyed.Class("item-say"), keyed.El("span", keyed.Text(say)), keyed.El("span", keyed.Class("soft small order-point-proof"), keyed.Text(proof))),
			keyed.El("b", keyed.Class("amount"), keyed.Text(d.sum(p.Cost, p.Answer)))))
}

// pointOpen is the order that was pressed: what comes from where, and the
// press that takes it.
func (d *buyingDesk) pointOpen() []keyed.Node {
	p, ok := d.s.Point(d.m.Screen.Buying.Point)
	if !ok {
		return nil
	}
	says := "costs what the order in force does"
	if more := d.minor(p.Cost, p.Places) - d.minor(d.s.Force.Cost, d.s.Force.Places); more > 0 {
		says = d.c.Format(more) + " more than the order in force"
	} else if more < 0 {
		says = d.c.Format(-more) + " less than the order in force"
	}
	return []keyed.Node{keyed.Row("div", "point-open", keyed.Class("order-point"),
		keyed.El("div", keyed.Class("line"),
			keyed.El("h3", keyed.Class("grow"), keyed.Text("Order "+p.Name+": "+d.sum(p.Cost, p.Answer)+", "+says)),
			part.Press("main", "Order this way", "order-this", p.Key(), keyed.Flag("disabled", d.isForce(p.Answer)))),
		keyed.El("ul", keyed.Class("remarks"), keyed.Map(p.Baskets, func(b order.Priced) keyed.Item { return keyed.El("li", keyed.Text(d.parcelLine(p.Answer, b))) })),
		d.spares(p.Answer),
		d.moves(p.Answer, "point", "What order "+p.Name+" buys elsewhere than planned"))}
}

// parcelLine is one parcel of an order in words.
func (d *buyingDesk) parcelLine(a order.Answer, b order.Priced) string {
	x := d.s.Market.Sellers[b.Seller]
	lines := 0
	for p, n := range a.Packs {
		if n > 0 && d.s.Market.Packs[p].Seller == b.Seller {
			lines++
		}
	}
	say := sender(x.ID) + ": " + count(lines, "line") + ", " + d.sum(b.Landed, a) + " at the door"
	if d.s.Sellers[b.Seller].NoCarriage {
		say += ", carriage not stated"
	} else if b.Row >= 0 {
		say += ", carriage " + d.sum(x.Carriage[b.Row].Fee*x.Factor.Times(a.Places), a)
	}
	if b.TopUp > 0 {
		say += ", of which " + d.sum(b.TopUp*x.Factor.Times(a.Places), a) + " are spares"
	}
	return say
}
