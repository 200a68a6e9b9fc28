package view

import (
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// mostPoints is how many choices the list shows; the rest is told of.
const mostPoints = 8

// leastRow answers what an owner asks who wants the amp left alone: all the
// choices of which none touches less for as little by the same day.
func leastRow(m app.Model) keyed.Node {
	w := m.Weigh()
	head := keyed.El("h2", keyed.Text("What is the least I can touch?"))
	l, wrong := w.Least()
	switch {
	case wrong != "":
		return keyed.Row("section", "call-least", keyed.Class("card stack call-least"), head, part.Note(sentence(wrong)))
	case len(l.Points) == 0:
		say := "Nothing that does the musts fits the ceiling and the date with every part inside its rating."
		if w.Fronting() {
			say = "Looking."
		}
		return keyed.Row("section", "call-least", keyed.Class("card stack call-least"), head, part.Note(say))
	}
	shown := l.Points[:min(len(l.Points), mostPoints)]
	rest := ""
	if n := len(l.Points) - len(shown); n > 0 {
		rest = count(n, "more choice") + " trade one against another; narrow the ceiling or the date."
	}
	var rows []keyed.Item
	for i, p := range shown {
		rows = append(rows, leastPoint(m, i, p, common(shown)))
	}
	return keyed.Row("section", "call-least", keyed.Class("card stack call-least"), head,
		part.Note("The musts done, every way of which none is better in all: fewer parts lost, fewer changes to the look, more that can be undone, less money, sooner."),
		keyed.El("div", keyed.Class("call-least-two"),
			keyed.El("div", keyed.Class("stack"), part.Picture(draw.TouchRows(touches(m, shown))),
				keyed.El("p", keyed.Class("soft small"), keyed.Text("Full block: used up, or cannot be undone. Half: handed back, looks modern, leaves a mark. Empty: out of use in its place, close to as made, by solder or plug."))),
			keyed.El("ul", keyed.Class("list call-points"), keyed.Several(rows...))),
		keyed.If(rest != "", part.Note(rest)),
		keyed.If(!l.Proven && !w.Fronting(), part.Note("Not all were looked at: there may be others.")),
		leverNotes(m, w))
}

// common are the options that all the choices take.
func common(points []decision.Point) []string {
	all := slices.Clone(points[0].Accept)
	for _, p := range points[1:] {
		all = slices.DeleteFunc(all, func(id string) bool { return !slices.Contains(p.Accept, id) })
	}
	return all
}

// pointName is the letter of a line.
func pointName(i int) string { return string(rune('a' + i)) }

func leastPoint(m app.Model, i int, p decision.Point, all []string) keyed.Item {
	r := m.Open.Result
	matter, look, undo := job.TouchWords(p.Touch)
	own := slices.DeleteFunc(slices.Clone(p.Accept), func(id string) bool { return slices.Contains(all, id) })
	id := strings.Join(p.Accept, " ")
	say := strings.Join(own, " ")
	if len(own) == 0 {
		say = strings.Join(p.Accept, " ")
	}
	press := part.Press("", "Take "+pointName(i), "take-least", id, keyed.ID("least-"+pointName(i)))
	if sameChoice(r.Accepted(), p.Accept) {
		press = keyed.El("span", keyed.Class("soft"), keyed.Text("in force"))
	}
	unstated := ""
	if u := r.Unstated(p.Accept); len(u) > 0 {
		unstated = "Not all is stated for " + strings.Join(u, ", ") + ": counted as the worst."
	}
	return keyed.El("li", keyed.Class("line"), keyed.El("div", keyed.Class("grow"),
		keyed.El("p", keyed.El("b", keyed.Text(pointName(i)+"  "+say)), keyed.El("span", keyed.Text("  "+r.Policy.Currency.Format(p.Total)+", "+dayWords(p.Standing)))),
		keyed.El("p", keyed.Class("soft"), keyed.Text(joined("; ", matter, look, undo))),
		keyed.If(unstated != "", keyed.El("p", keyed.Class("soft"), keyed.Text(unstated)))), press)
}

func touches(m app.Model, points []decision.Point) draw.Touches {
	c := m.Open.Result.Policy.Currency
	t := draw.Touches{Format: func(v int64) string { return c.Format(money.Amount(v)) }}
	for i, p := range points {
		x := draw.Touched{Name: pointName(i), Cost: int64(p.Total), Day: p.Day(), Shown: sameChoice(m.Open.Result.Accepted(), p.Accept)}
		x.Matter, x.Look, x.Undo = job.TouchCounts(p.Touch)
		if x.Day == decision.UnknownDay {
			x.Day = -1
		}
		t.Rows = append(t.Rows, x)
	}
	return t
}

// leverNotes say what a free action that can be undone spares elsewhere.
func leverNotes(m app.Model, w *app.Weigh) keyed.Item {
	c := m.Open.Result.Policy.Currency
	var items []keyed.Item
	for _, l := range w.Levers() {
		say := ""
		for _, o := range m.Open.Job.Options {
			if o.ID == l.Option {
				say = l.Option + ", " + o.Say
			}
		}
		items = append(items, keyed.El("h3", keyed.Text("First of all: "+say)),
			keyed.El("p", keyed.Text("It touches nothing, can be undone at any time and adds "+c.Format(l.Adds)+".")))
		if len(l.Lifts) > 0 {
			items = append(items, keyed.El("p", keyed.Text("By itself: "+liftWords(l.Lifts)+".")))
		}
		if len(l.Parts) > 0 {
			items = append(items, keyed.El("p", keyed.Text("Of the parts asked about: "+liftWords(l.Parts)+".")))
		}
		for _, x := range l.Cheaper {
			reason := ""
			if x.NeedsReason {
				reason = ", with the technician's recorded reason: it leaves less in hand than this shop wants"
			}
			items = append(items, keyed.El("p", keyed.Text("With it "+x.Option+" may come to "+c.Format(x.Saves)+" less ("+x.To+" in place of "+x.From+")"+reason+".")))
		}
	}
	return keyed.Several(items...)
}

func liftWords(lifts []job.Lift) string {
	var out []string
	for _, l := range lifts {
		out = append(out, l.Subject+" "+l.Quantity+": “"+l.From.String()+"” becomes “"+l.To.String()+"”")
	}
	return strings.Join(out, "; ")
}
