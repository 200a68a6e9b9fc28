package view

import (
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// quotesBroken are the open quotes that a new list no longer bears out, the
// dearest first, each part with the reason.
func quotesBroken(m app.Model, c *app.Coming) keyed.Node {
	id := "broken-" + slug(c.Name)
	if len(c.Breaks) == 0 {
		say := "No open quote rests on what changed"
		if c.Quotes > 0 {
			say += ": " + count(c.Quotes, "quote") + " looked at"
		}
		return keyed.Row("section", id, keyed.Class("card"), keyed.El("p", keyed.Text(say+".")), untold(c))
	}
	return keyed.Row("section", id, keyed.Class("card"),
		keyed.El("h2", keyed.Text("It breaks "+count(len(c.Breaks), "open quote"))),
		keyed.El("p", keyed.Class("soft"), keyed.Text("Amounts are what the owner pays, before tax: as quoted, and by the new list with today's rate and mark-up. Quotes that are frozen stay as they are until you write a new one.")),
		keyed.Each(c.Breaks, func(b job.Broken) keyed.Node { return brokenQuote(id, b) }), untold(c))
}

func untold(c *app.Coming) keyed.Item {
	return keyed.Map(c.Untold, func(s string) keyed.Item {
		return keyed.El("p", keyed.Class("plan-problem"), keyed.Text("Not looked at: "+s))
	})
}

func brokenQuote(id string, b job.Broken) keyed.Node {
	cur := b.Quote.Bill.Currency
	cols := []part.Col{{Say: "Part"}, {Say: "What changed", Wide: true}, {Say: "Pieces", Num: true}, {Say: "Quoted each", Num: true}, {Say: "Now each", Num: true}, {Say: "Difference", Num: true}}
	key := id + "-" + slug(b.Quote.Job)
	return keyed.Row("div", key, part.Table(brokenTitle(b), cols, keyed.Each(b.Lines, func(l job.BrokenLine) keyed.Node {
		now, by := "no price", "–"
		if l.HasIs {
			now, by = cur.Format(l.Is), movedBy(cur, l.By)
		}
		return part.TR(key+"-"+slug(l.Option+"-"+l.Number), cols,
			keyed.El("div", keyed.El("b", keyed.Text(l.Number)), keyed.El("div", keyed.Class("soft small"), keyed.Text(joined(" · ", l.Option, l.Say)))),
			keyed.El("span", keyed.Class("small"), keyed.Text(joined("; ", l.Why...))), keyed.Text(itoa(l.Pieces)), keyed.Text(cur.Format(l.Was)), keyed.Text(now), keyed.Text(by))
	}), part.Sum(cols, keyed.Text("Together"), keyed.El("span", keyed.Class("small"), keyed.Text(orNot(!b.NoSum, "without parts that have no price now", ""))), keyed.Text(""), keyed.Text(""), keyed.Text(""), keyed.El("span", keyed.Text(movedBy(cur, b.By)+" "+cur.Code)))))
}

func brokenTitle(b job.Broken) string {
	q := b.Quote
	if q.Estimate == "" {
		return joined(" ", q.Job, q.Title) + ", as its choice is priced today"
	}
	return joined(" ", q.Job, q.Title) + ", estimate " + q.Estimate + " of " + q.Date
}

func movedBy(c money.Currency, a money.Amount) string {
	switch {
	case a > 0:
		return "+" + c.Format(a)
	case a < 0:
		return "−" + c.Format(-a)
	}
	return c.Format(a)
}
