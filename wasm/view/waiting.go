package view

import (
	"lugworth/core/order"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// waitingRow lists what was ordered and has not all come, late ones first.
func waitingRow(m app.Model) (keyed.Node, bool) {
	all := m.Open.Result.Waiting()
	if len(all) == 0 {
		return keyed.Node{}, false
	}
	open := 0
	rows := make([]keyed.Node, len(all))
	for i, d := range all {
		if d.Status != order.Here {
			open++
		}
		rows[i] = dueRow(m, d)
	}
	say := "All of it is here."
	if open > 0 {
		say = count(open, "line") + " still to come. The days are the lead a list stated, counted from the order: a supplier's word."
	}
	return keyed.Row("section", "waiting", keyed.Class("card stack"), keyed.El("h2", keyed.Text("What has been ordered, and what has come?")), part.Note(say),
		keyed.El("ul", keyed.Class("checks"), keyed.Nodes(rows...))), true
}

func dueRow(m app.Model, d order.Due) keyed.Node {
	id := slug(d.Key)
	came := part.Field{ID: "came-" + id, Label: "Pieces here of " + d.Number, Value: m.Draft("came", d.Key, "", itoa(d.Came)), Number: true, Act: "came", For: d.Key, Off: m.ReadOnly() != ""}
	all := keyed.Item{}
	if d.Status != order.Here {
		all = part.Press("", "All here", "all-came", d.Key, keyed.Attr("value", itoa(d.Ordered)))
	}
	return keyed.Row("li", "due-"+id, keyed.Class("check"),
		keyed.El("div", keyed.El("b", keyed.Text(joined(" ", d.Supplier, d.Number, d.Text))),
			keyed.El("p", keyed.LiveClass(dueClass(d)), keyed.Text(dueSays(d)))),
		keyed.El("div", keyed.Class("line"), came.Item(), all))
}

func dueClass(d order.Due) string {
	if d.Status == order.Late {
		return "small due-late"
	}
	return "small soft"
}

// dueSays is how a line stands: "late by 3 days, 6 of 10 here, order K-1".
func dueSays(d order.Due) string {
	say := string(d.Status)
	switch {
	case d.Status == order.Late:
		say += " by " + count(d.Overdue, "day")
	case d.Status == order.Here:
	case d.Day == "":
		say += ", lead not stated"
	default:
		say += ", due " + d.Day
	}
	return joined(", ", say, itoa(d.Came)+" of "+itoa(d.Ordered)+" here", "order "+d.Order, d.Say)
}

// placedNote says beside a basket what of it was sent already.
func placedNote(m app.Model, b order.Basket) string {
	sent := 0
	for _, l := range b.Lines {
		if m.Open.Result.OnOrder(b.Supplier, l.Number) >= l.Pieces {
			sent++
		}
	}
	switch {
	case sent == 0:
		return ""
	case sent == len(b.Lines):
		return "All of this was sent to " + b.Supplier + " already: see what has come."
	}
	return itoa(sent) + " of " + itoa(len(b.Lines)) + " lines were sent to " + b.Supplier + " already: take them out of the file before you send it again."
}

// agreedNote says over the baskets what the owner has not agreed to.
func agreedNote(m app.Model) keyed.Item {
	r := m.Open.Result
	if a := r.Authority(); !a.Covers() {
		return keyed.El("p", keyed.Class("agreed agreed-not"), keyed.Text(a.Say(r.Policy.Currency)))
	}
	return keyed.Item{}
}
