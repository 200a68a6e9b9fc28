package view

import (
	"slices"
	"strings"

	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Plan draws the desk: what may be fitted, how the amp stands, how long the
// work takes, and the books it all rests on. One leaf is open at a time.
func Plan(m app.Model) []keyed.Node {
	nodes := []keyed.Node{keyed.Row("div", "plan-leaves", keyed.Class("leaves"), planLeaves(m))}
	if i := m.Screen.Desk.Import; i != nil {
		nodes = append(nodes, importing(i))
	}
	switch m.Screen.Desk.Leaf {
	case app.LeafRatings:
		return append(nodes, ratingsLeaf(m)...)
	case app.LeafCircuit:
		return append(nodes, circuitLeaf(m)...)
	case app.LeafLabor:
		return append(nodes, laborLeaf(m)...)
	case app.LeafBooks:
		return append(nodes, booksLeaf(m)...)
	}
	return append(nodes, partsLeaf(m)...)
}

func planLeaves(m app.Model) keyed.Item {
	open := m.Screen.Desk.Leaf
	if open == "" {
		open = app.LeafParts
	}
	return part.Chips("Leaves of the plan", "plan-leaf", "", open,
		part.Chip{Value: app.LeafParts, Say: "Parts"}, part.Chip{Value: app.LeafRatings, Say: "Ratings"}, part.Chip{Value: app.LeafCircuit, Say: "Circuit"},
		part.Chip{Value: app.LeafLabor, Say: "Hours"}, part.Chip{Value: app.LeafBooks, Say: "Shop books"})
}

// partsLeaf is the list of findings with their ways, and the way that is
// open beside it.
func partsLeaf(m app.Model) []keyed.Node {
	r := m.Open.Result
	if len(r.Options) == 0 {
		return []keyed.Node{keyed.Row("section", "plan", part.Question("What may I fit here?", ""), planEmpty(r))}
	}
	open := m.OpenOption().Option.ID
	return []keyed.Node{keyed.Row("section", "plan", part.Question("What may I fit here?", planUnder(r)),
		keyed.El("div", keyed.Class("two plan-two"),
			keyed.El("div", keyed.Class("two-list plan-list"), keyed.Each(r.Findings, func(f job.FindingResult) keyed.Node { return planFinding(m, f, open) })),
			keyed.El("div", keyed.Class("two-open"), keyed.Nodes(planOpen(m)...))))}
}

func planUnder(r *job.Result) string {
	if !r.Job.Mains.Declared() {
		return "The owner's mains range is not declared: nothing can be judged. Enter it on Bench."
	}
	return "Judged at " + volts(r.Job.Mains.High) + " V, the top of the owner's range of " + volts(r.Job.Mains.Low) + " to " + volts(r.Job.Mains.High) + " V."
}

func planEmpty(r *job.Result) keyed.Item {
	if len(r.Findings) == 0 {
		return part.Empty("Nothing is found yet", "The plan starts from findings: what was seen or measured, and where. Enter one on Bench.",
			"can 20/20/20 µF: 4 mA leakage at 300 V, hum", part.Press("main", "To Bench", "posture", "bench"))
	}
	return part.Empty("No finding has a task", "A task says what is done about a finding, with its hours and its parts. Attach one from the shop's library to a finding on Bench.",
		"three new electrolytics under the chassis, the can left in place unwired", part.Press("main", "To Bench", "posture", "bench"))
}

func planFinding(m app.Model, f job.FindingResult, open string) keyed.Node {
	r := m.Open.Result
	return keyed.Row("div", "plan-f-"+slug(f.Finding.ID), keyed.Class("plan-finding"),
		keyed.El("h2", keyed.Class("plan-seen"), keyed.El("span", keyed.Class("ref"), keyed.Text(f.Finding.ID)),
			keyed.El("span", keyed.Text(joined(" · ", string(f.Finding.Seen), string(f.Finding.Pile))))),
		keyed.If(len(f.Options) == 0, keyed.El("p", keyed.Class("soft small"), keyed.Text("no task attached"))),
		keyed.If(len(f.Options) > 0, keyed.El("ul", keyed.Class("list"), keyed.Each(f.Options, func(i int) keyed.Node { return planWay(m, &r.Options[i], open) }))))
}

// planWay is one way in the list: what it is, whether it is taken, and the
// verdict of what it would fit.
func planWay(m app.Model, o *job.OptionResult, open string) keyed.Node {
	of := listedWay{option: o.Option, open: open == o.Option.ID, taken: o.Accepted, refused: o.Refused != ""}
	of.kind, of.rated = wayKind(o)
	if len(o.Problems) > 0 {
		of.problem = o.Problems[0]
	}
	return keep(m, "listed-"+o.Option.ID, of, func() keyed.Node { return newPlanWay(of) })
}

// listedWay is all that a way in the list is drawn from.
type listedWay struct {
	option                      *plan.Option
	open, taken, refused, rated bool
	kind                        rating.Verdict
	problem                     string
}

func newPlanWay(w listedWay) keyed.Node {
	id, taken := w.option.ID, ""
	if w.taken {
		taken = " · taken"
	}
	return keyed.Row("li", "way-"+slug(id),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("item"), keyed.Do("plan-open", id), keyed.Live("aria-current", pressedWord(w.open)),
			keyed.El("span", keyed.Class("ref"), keyed.Text(id)),
			keyed.El("span", keyed.Class("item-say"), keyed.El("span", keyed.Text(w.option.Say)), keyed.El("b", keyed.Class("taken"), keyed.Text(taken))),
			wayVerdict(w)))
}

// wayVerdict is the mark of a way in the list, or the words that stand where
// nothing is rated.
func wayVerdict(w listedWay) keyed.Item {
	problem := keyed.If(w.problem != "", keyed.El("span", keyed.Class("plan-problem"), keyed.Text(w.problem)))
	switch {
	case w.refused:
		return part.Verdict(kind(rating.OverWorsened), "never offered")
	case !w.rated:
		return problem
	}
	return keyed.Several(part.Verdict(kind(w.kind), ""), problem)
}

// wayKind is the least favorable verdict of the parts a way would fit, and of
// what it does to limits of the amp.
func wayKind(o *job.OptionResult) (rating.Verdict, bool) {
	worst, any := rating.Within, false
	take := func(k rating.Verdict) {
		any = true
		if rating.Less(k, worst) {
			worst = k
		}
	}
	for _, l := range o.Lines {
		switch {
		case l.Unrated():
			take(rating.NotEnoughData)
		case l.Chosen != nil && l.Chosen.Judged:
			take(l.Chosen.Kind)
		}
	}
	for _, j := range slices.Concat(o.Beside.Worsens, o.Beside.Breaks, o.Beside.Blurs) {
		take(j.Kind)
	}
	return worst, any
}

// limitOf says a limit with its rating system, its mark and its source.
func limitOf(j rating.Judgment) string {
	if !j.HasLimit {
		return "no limit is known"
	}
	return joined(", ", "limit"+rangeOf(j.Limit), j.Limit.System.String(), j.Limit.Mark.String()+": "+j.Limit.Source)
}

// rangeOf is the range of a limit with the signs of print.
func rangeOf(l limit.Limit) string {
	return strings.NewReplacer("<=", "≤", ">=", "≥").Replace(l.Range())
}

// percentOf is a margin: "11.0 %", "−3.0 %".
func percentOf(f float64) string {
	if f < 0 {
		return "−" + unit.FormatAmount(-100*f, unit.Percent, 1)
	}
	return unit.FormatAmount(100*f, unit.Percent, 1)
}

// chosenDecides is the judgment that decides for a part of an option: of the
// part chosen, else of the one nearest to passing.
func chosenDecides(l *plan.Line, all []plan.Candidate) (rating.Judgment, bool) {
	if l.Chosen != nil {
		return l.Chosen.Decides()
	}
	for _, c := range all {
		if j, ok := c.Decides(); ok {
			return j, ok
		}
	}
	return rating.Judgment{}, false
}
