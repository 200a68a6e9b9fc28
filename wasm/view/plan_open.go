package view

import (
	"strconv"

	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// planOpen is the way that is open: what stands against it, its parts, what
// it does to the amp, its hours.
func planOpen(m app.Model) []keyed.Node {
	o := m.OpenOption()
	if o == nil {
		return nil
	}
	id := slug(o.Option.ID)
	out := []keyed.Node{planHead(m, o)}
	if ways := siblings(m, o); len(ways) > 1 {
		out = append(out, keyed.Row("section", "ways-"+slug(o.Option.Finding), keyed.Class("card"), waysTable(m, ways), insights(m, o)))
	}
	for i := range o.Lines {
		out = append(out, planPart(m, o, i))
	}
	if len(o.Beside.After)+len(o.Apart.After) > 0 {
		out = append(out, keyed.Row("section", "does-"+id, keyed.Class("card"), doesToAmp(m, o)))
	}
	return append(out, keyed.Row("section", "work-"+id, keyed.Class("card"), wayLabor(m, o)))
}

func siblings(m app.Model, o *job.OptionResult) []*job.OptionResult {
	r := m.Open.Result
	var out []*job.OptionResult
	for i := range r.Options {
		if r.Options[i].Option.Finding == o.Option.Finding {
			out = append(out, &r.Options[i])
		}
	}
	return out
}

func planHead(m app.Model, o *job.OptionResult) keyed.Node {
	p := o.Option
	return keyed.Row("div", "open-"+slug(p.ID), keyed.Class("plan-head"),
		keyed.El("div", keyed.Class("line"),
			keyed.El("h2", keyed.Class("grow"), keyed.Text(p.ID+" "+p.Say)), takePress(m, o)),
		keyed.If(o.Refused != "", part.Caution("Never offered to the owner", o.Refused)),
		keyed.If(p.Tap != "", keyed.El("p", keyed.Text("Moves the amp to the "+p.Tap+" V tap."))),
		keyed.If(p.Consequence != "", keyed.El("p", keyed.Class("soft"), keyed.Text(p.Consequence))),
		keyed.If(len(p.Needs) > 0, keyed.El("p", keyed.Class("soft"), keyed.Text("Needs "+joined(", ", p.Needs...)+" as well."))),
		keyed.If(len(o.Problems) > 0, keyed.El("ul", keyed.Class("plan-problems"), keyed.Map(distinct(o.Problems), func(s string) keyed.Item {
			return keyed.El("li", keyed.Text(s))
		}))),
		planReason(m, o))
}

func distinct(all []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range all {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// takePress turns the way over in the choice in force.
func takePress(m app.Model, o *job.OptionResult) keyed.Item {
	switch {
	case o.Accepted:
		return part.Press("", "Leave it out of "+forceName(m), "accept", o.Option.ID)
	case o.Refused != "":
		return keyed.Item{}
	}
	return part.Press("main", "Take it into "+forceName(m), "accept", o.Option.ID)
}

func forceName(m app.Model) string {
	if r := m.Open.Result; r.Force >= 0 {
		return r.Sets[r.Force].Name
	}
	return "a choice"
}

// planReason asks why the technician wants a part below reserve, or a change
// that takes a limit further over.
func planReason(m app.Model, o *job.OptionResult) keyed.Item {
	below := o.Beside.NeedsReason()
	for _, l := range o.Lines {
		below = below || l.Chosen != nil && l.Chosen.Kind == rating.BelowReserve
	}
	reason := m.Open.Job.Reasons[o.Option.ID]
	if !below && !o.Apart.NeedsReason() && reason == "" {
		return keyed.Item{}
	}
	f := part.Field{ID: "reason-" + slug(o.Option.ID), Label: "Why this all the same?", Act: "reason", For: o.Option.ID, Lines: 2,
		Value: m.Draft("reason", o.Option.ID, "", reason), Hint: "Goes on record with the option; without it nothing is ordered. For example: the peak was read at switch-on and is lower"}
	if below && reason == "" {
		f.Problem = "needs your reason before it can be ordered"
	}
	return f.Item()
}

// planPart is one part of a way: what its place must bear, the picture of the
// margin that decides, and everything the lists hold for it.
func planPart(m app.Model, o *job.OptionResult, i int) keyed.Node {
	l, p := &o.Lines[i], &o.Option.Parts[i]
	all := l.Candidates()
	key := slug(o.Option.ID) + "-" + itoa(i)
	heading := itoa(p.Qty) + " × " + p.Is
	if len(p.For) > 0 {
		heading += " into " + joined(", ", p.For...)
	}
	if p.Made.Is() {
		heading += ", made of " + madeWords(p.Made)
	}
	if p.Across > 0 {
		heading += ", one across each piece of " + o.Option.Parts[p.Across-1].Is
	}
	j, rated := chosenDecides(l, all)
	return part.CardRow("part-"+key, "", heading,
		bears(m, key, j, rated),
		candidateTable(m, o, i, all),
		several(m, o, i),
		keyed.If(rated || len(p.For) > 0, trialForm(m, o, i)))
}

// bears says what the place must bear, why, and what the shop wants on top.
func bears(m app.Model, key string, j rating.Judgment, rated bool) keyed.Item {
	if !rated {
		return part.Note("Nothing the amp asks of this part is rated: the cheapest that answers the description is named.")
	}
	if !j.HasFigure {
		return part.Note("What it must bear is not known: " + j.Reason() + ".")
	}
	w := m.Screen.Whys
	facts := []keyed.Item{part.Fact("Must bear, "+string(j.Quantity), part.Why(w.Put("bears/"+key, j.Bears), figure(j, j.Worst))),
		part.Fact("Decided by", keyed.Text(scenario(j)))}
	if j.Wanted > 0 {
		facts = append(facts, part.Fact("Wanted rating, reserve "+percentOf(j.Reserve), part.Why(w.Put("wanted/"+key, j.Why()), figure(j, j.Wanted))))
	}
	if c := j.Contributors(); len(c) > 0 {
		facts = append(facts, part.Fact("Rests on", keyed.El("span", keyed.Class("rests"), keyed.Text(joined("; ", c...)))))
	}
	return keyed.El("div", keyed.Class("bears"), part.Facts(facts...), part.Picture(strip(j)))
}

// figure prints an amount of a judgment's unit; a heater's few volts with one
// figure more.
func figure(j rating.Judgment, v float64) string {
	if j.Unit == unit.Volt && j.Limit.HasLow {
		return unit.FormatAmount(v, j.Unit, 2)
	}
	return unit.FormatAmount(v, j.Unit, -1)
}

// scenario is where a judgment was taken: "no load, top of the range, 127 V".
func scenario(j rating.Judgment) string {
	if j.Mains == 0 {
		return j.Scenario
	}
	return j.Scenario + ", " + strconv.FormatFloat(float64(j.Mains), 'f', -1, 64) + " V mains"
}

// trialForm asks about a part that is in no list.
func trialForm(m app.Model, o *job.OptionResult, i int) keyed.Item {
	form := "trial-" + o.Option.ID
	id := "trial-" + slug(o.Option.ID) + "-" + itoa(i)
	return keyed.El("form", keyed.Class("trial"), keyed.Do("trial", o.Option.ID, itoa(i)),
		part.Field{ID: id, Label: "Would another one do?", Value: m.Draft("draft", form, itoa(i), ""), Act: "draft", For: form, K: itoa(i), Name: "text",
			Hint: "As it is marked, for example: " + trialExample(o.Option.Parts[i])}.Item(),
		keyed.El("button", keyed.Attr("type", "submit"), keyed.Class("press"), keyed.Text("Judge it")))
}

func trialExample(p plan.Part) string {
	if len(p.Want.Kinds) > 0 && p.Want.Kinds[0].IsCapacitor() {
		return p.Is + " 450V"
	}
	return p.Is
}

// doesToAmp lists the limits of the amp that the way moves: beside the other
// work of the choice in force, and by itself on the amp as found, where that
// says more.
func doesToAmp(m app.Model, o *job.OptionResult) keyed.Item {
	id := slug(o.Option.ID)
	alone := changeLines(m, "alone-"+id, o.Apart)
	if m.Open.Result.Force < 0 {
		return keyed.Several(keyed.El("h3", keyed.Text("What it does to the amp")), alone)
	}
	return keyed.Several(
		keyed.El("h3", keyed.Text("What it does to the amp, beside the other work of "+forceName(m))), changeLines(m, "beside-"+id, o.Beside),
		keyed.El("h3", keyed.Text("And alone, on the amp as found")), alone)
}

// changeLines are the verdicts a way moves, and the least resistance that
// keeps them.
func changeLines(m app.Model, in string, c job.Change) keyed.Item {
	var rows []keyed.Item
	add := func(say, key string, js []rating.Judgment) {
		if len(js) == 0 {
			return
		}
		rows = append(rows, keyed.El("p", keyed.Class("judged-head"), keyed.Text(say)), keyed.El("ul", keyed.Class("list"), keyed.Each(js, func(j rating.Judgment) keyed.Node {
			return judgedLine(m, in+"-"+key, j)
		})))
	}
	add("Brings inside its limit:", "cures", c.Cures)
	add("Takes further over a limit already exceeded as found:", "worsens", c.Worsens)
	add("Takes over a limit that was kept:", "breaks", c.Breaks)
	if len(rows) == 0 {
		rows = append(rows, keyed.El("p", keyed.Class("soft"), keyed.Text("It moves no verdict.")))
	}
	for _, l := range c.Least {
		rows = append(rows, keyed.El("p", keyed.Text(l.Subject+" "+string(l.Quantity)+" holds while the fitted resistor reads at least "+
			strconv.FormatFloat(l.Up(), 'f', -1, 64)+" Ω (rounded up).")))
	}
	return keyed.Several(rows...)
}

// judgedLine is one judgment as a line: verdict, figure, the number that decides.
func judgedLine(m app.Model, in string, j rating.Judgment) keyed.Node {
	key := in + "-" + judgmentKey(j)
	return keyed.Row("li", key, keyed.Class("judged"),
		keyed.El("span", keyed.Class("ref"), keyed.Text(j.Subject)),
		keyed.El("span", keyed.Class("judged-what"), keyed.Text(string(j.Quantity)+", "+scenario(j))),
		part.Why(m.Screen.Whys.Put(key, j.Why()), band(j)),
		part.Verdict(kind(j.Kind), ""),
		keyed.El("span", keyed.Class("judged-why"), keyed.Text(j.Reason())))
}

// band is the figure of a judgment from its low to its high end.
func band(j rating.Judgment) string {
	if !j.HasFigure {
		return "no figure"
	}
	d := -1
	if j.Unit == unit.Volt && j.Limit.HasLow {
		d = 2
	}
	return unit.FormatInterval(j.Interval, j.Unit, d)
}

func judgmentKey(j rating.Judgment) string {
	return slug(j.Subject + "-" + string(j.Quantity) + "-" + j.Scenario + "-" + j.Limit.System.String() + "-" + strconv.FormatFloat(j.Limit.High, 'g', -1, 64) + "-" + strconv.FormatFloat(float64(j.Mains), 'g', -1, 64))
}
