package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/tube"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// ratingsLeaf is how the amp stands against its limits, as found and under
// the choice in force.
func ratingsLeaf(m app.Model) []keyed.Node {
	rows, found := standing(m)
	groups := groupRatings(rows)
	shown := groups
	if m.Screen.Desk.Doubt {
		shown = nil
		for _, g := range groups {
			if g.worst.Kind != rating.Within {
				shown = append(shown, g)
			}
		}
	}
	under := "The amp as found."
	if !found {
		under = "The amp with " + forceName(m) + " done."
	}
	out := []keyed.Node{keyed.Row("section", "ratings", part.Question("Does it stay inside its limits?", under+" Every figure opens the readings it comes from."),
		keyed.El("div", keyed.Class("line"), ratingState(m, found), ratingDoubt(m, groups)), ratingsEmpty(groups, shown), keyed.If(slices.ContainsFunc(shown, asksLive), cautionWords("live-readings")))}
	if len(shown) > 0 {
		out = append(out, keyed.Row("div", "rating-cards", keyed.Class("rating-cards"), keyed.Each(shown, func(g ratingGroup) keyed.Node { return ratingCard(m, g) })))
	}
	if notes := shadowNotes(m); len(notes) > 0 {
		out = append(out, keyed.Row("section", "shadows", keyed.Class("card"), keyed.El("h2", keyed.Text("Your card hides a built-in one")), keyed.Map(notes, func(s string) keyed.Item { return part.Note(s) })))
	}
	return out
}

// asksLive reports whether a card sends somebody to a live node.
func asksLive(g ratingGroup) bool {
	return g.worst.Kind != rating.Within && strings.Contains(g.worst.Reason()+" "+g.worst.ToSettle, "read the ")
}

// standing is the list of judgments that is looked at.
func standing(m app.Model) (rows []rating.Judgment, found bool) {
	r := m.Open.Result
	if r.Force < 0 || m.Screen.Desk.State == "found" {
		return r.Found, true
	}
	return r.Standing, false
}

func ratingState(m app.Model, found bool) keyed.Item {
	if m.Open.Result.Force < 0 {
		return keyed.Item{}
	}
	now := "force"
	if found {
		now = "found"
	}
	return part.Chips("State of the amp", "plan-state", "", now, part.Chip{Value: "found", Say: "As found"}, part.Chip{Value: "force", Say: "With " + forceName(m)})
}

func ratingDoubt(m app.Model, groups []ratingGroup) keyed.Item {
	n := 0
	for _, g := range groups {
		if g.worst.Kind != rating.Within {
			n++
		}
	}
	now := "all"
	if m.Screen.Desk.Doubt {
		now = "doubt"
	}
	return part.Chips("Which ratings", "plan-doubt", "", now, part.Chip{Value: "all", Say: "All " + itoa(len(groups))}, part.Chip{Value: "doubt", Say: itoa(n) + " not within"})
}

func ratingsEmpty(all, shown []ratingGroup) keyed.Item {
	switch {
	case len(all) == 0:
		return part.Empty("Nothing to judge yet", "Ratings need three things: the positions of the amp with their tubes, readings of its chart, and the owner's mains range. Enter them on Bench.",
			"plates 318 V at 117.0 V mains", part.Press("main", "To Bench", "posture", "bench"))
	case len(shown) == 0:
		return part.Note("Every rating is within.")
	}
	return keyed.Item{}
}

// A ratingGroup is one quantity of one position against one limit, at every
// mains it is shown at.
type ratingGroup struct {
	key   string
	rows  []rating.Judgment
	worst rating.Judgment
}

func groupRatings(rows []rating.Judgment) []ratingGroup {
	var out []ratingGroup
	at := map[string]int{}
	for _, j := range rows {
		k := slug(j.Subject + "-" + string(j.Quantity) + "-" + j.Limit.String())
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, ratingGroup{key: k, worst: j})
		}
		g := &out[i]
		g.rows = append(g.rows, j)
		if rating.Less(j.Kind, g.worst.Kind) || j.Kind == g.worst.Kind && nearer(j, g.worst) {
			g.worst = j
		}
	}
	return out
}

func nearer(a, b rating.Judgment) bool {
	x, okx := a.Margin()
	y, oky := b.Margin()
	return okx && (!oky || x < y)
}

func ratingCard(m app.Model, g ratingGroup) keyed.Node {
	j := g.worst
	what := j.Subject + " " + string(j.Quantity)
	if p, ok := m.Open.Job.Amp.Find(j.Subject); ok && p.Type != "" {
		what = j.Subject + " " + p.Type + ", " + string(j.Quantity)
	}
	cols := []part.Col{{Say: "At"}, {Say: "Low to high", Num: true}, {Say: "Verdict"}}
	return keyed.Row("section", "rated-"+g.key, keyed.Class("card"), keyed.El("h2", keyed.Text(what)),
		keyed.El("p", keyed.Class("soft small"), keyed.Text(limitOf(j))),
		part.Verdict(kind(j.Kind), ""),
		keyed.El("p", keyed.Text(j.Reason())),
		throughCircuit(what, j),
		keyed.If(j.HasFigure && j.HasLimit, part.Picture(strip(j))),
		part.Table(what+": where it was judged", cols, keyed.Each(g.rows, func(j rating.Judgment) keyed.Node {
			key := "row-" + g.key + "-" + slug(j.Scenario)
			return part.TR(key, cols, keyed.Text(scenario(j)), part.Why(m.Screen.Whys.Put(key, j.Why()), band(j)), part.Verdict(kind(j.Kind), ""))
		}), keyed.Item{}))
}

// shadowNotes says, for each tube of the amp, what a built-in card would
// state that the user's card in force leaves out or states otherwise.
func shadowNotes(m app.Model) []string {
	cards := m.Open.Books.Cards
	var out []string
	seen := map[string]bool{}
	for _, p := range m.Open.Job.Amp.Positions {
		hidden, ok := cards.Shadowed(p.Type)
		if p.Type == "" || !ok || seen[hidden.Type] || !isTube(p) {
			continue
		}
		seen[hidden.Type] = true
		mine, _ := cards.Find(p.Type)
		out = append(out, shadowSays(mine, hidden))
	}
	return out
}

func isTube(p amp.Position) bool { return p.Type != "" }

func shadowSays(mine, hidden tube.Card) string {
	var lacks, other []string
	for _, l := range hidden.Limits {
		own := mine.LimitsOf(l.Quantity)
		switch {
		case len(own) == 0:
			lacks = append(lacks, limitWords(l))
		case own[0].High != l.High || own[0].Low != l.Low:
			other = append(other, limitWords(l))
		}
	}
	s := mine.Type + ": your card is in force, whole. A built-in card exists and is not used."
	if len(lacks) > 0 {
		s += " It would also state " + strings.Join(lacks, "; ") + "."
	}
	if len(other) > 0 {
		s += " It would say otherwise: " + strings.Join(other, "; ") + "."
	}
	return s
}

func limitWords(l limit.Limit) string {
	return string(l.Quantity) + rangeOf(l) + " (" + joined(", ", l.System.String(), l.Mark.String(), l.Source) + ")"
}
