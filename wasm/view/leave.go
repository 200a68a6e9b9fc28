package view

import (
	"slices"
	"strings"

	"lugworth/core/bench"
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// benchLeaveView is the end of the job: tests, old parts, the final chart, and
// whether the amp may leave.
func benchLeaveView(m app.Model) []keyed.Node {
	r := m.Open.Result
	rel := r.Release()
	nodes := []keyed.Node{
		keyed.Row("div", "leave-head", part.Question("May it leave?", "")),
		keyed.Row("section", "leave-say", keyed.Class("card stack"), keyed.Attr("aria-label", "Release"),
			keyed.El("p", keyed.Class(releaseClass(rel)), keyed.Text(rel.Say())),
			part.Note("Mains wiring and its tests are for those permitted to do them where you work; the limits are those of the code that holds there. Figures here are an aid to a trained person."),
			part.Presses(part.Press("main", "Hand-back report", "hand-back", ""), part.Press("", "Read the final chart", "final-chart", ""))),
		keyed.Row("section", "leave-tests", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Tests before it leaves")), finalChecks(m)),
	}
	if parts := r.OldParts(); len(parts) > 0 {
		nodes = append(nodes, oldPartRows(m, parts))
	}
	return nodes
}

func releaseClass(r bench.Release) string {
	if r.Free {
		return "agreed"
	}
	return "agreed agreed-not"
}

func finalChecks(m app.Model) keyed.Item {
	by := map[string]bench.Answer{}
	for _, a := range m.Open.Job.Finals {
		by[a.ID] = a
	}
	chart := m.Open.Result.Leaving().Chart
	rows := make([]keyed.Node, 0, len(bench.Finals))
	for _, c := range bench.Finals {
		if c.ID == "chart" && chart && by[c.ID].Result != bench.Failed {
			rows = append(rows, keyed.Row("li", "final-chart-done", keyed.Class("check"), keyed.El("div", keyed.El("b", keyed.Text(c.Ask)), keyed.El("p", keyed.Class("soft small"), keyed.Text("Readings marked final are there.")))))
			continue
		}
		rows = append(rows, keyed.Row("li", "final-"+c.ID, keyed.Class("check"),
			keyed.El("div", keyed.El("b", keyed.Text(c.Ask)), keyed.El("p", keyed.Class("soft small"), keyed.Text(c.How))),
			finalChips(c, by[c.ID]), finalSay(m, c, by[c.ID])))
	}
	return keyed.El("ul", keyed.Class("checks"), keyed.Nodes(rows...))
}

func finalChips(c bench.Check, a bench.Answer) keyed.Item {
	var chips []keyed.Item
	for _, r := range []struct {
		result bench.Result
		say    string
	}{{bench.Passed, "Passed"}, {bench.Failed, "Failed"}, {bench.Overridden, "Left out"}} {
		if bench.Hard(c.ID) && r.result == bench.Overridden {
			continue
		}
		chips = append(chips, pressOnce("final-"+c.ID+"-"+string(r.result), "final", c.ID, string(r.result), r.say, a.Result == r.result))
	}
	return group(c.Ask, "chips", chips...)
}

// finalSay takes what was read, or why the test is left out.
func finalSay(m app.Model, c bench.Check, a bench.Answer) keyed.Item {
	if a.Result == "" {
		return keyed.Item{}
	}
	label := "What was read, and the limit it was held against"
	if a.Result == bench.Overridden {
		label = "Why it is left out"
	}
	return field(m, c.ID, "final/say", label, a.Say).Item()
}

func oldPartRows(m app.Model, parts []job.OldPart) keyed.Node {
	rows := make([]keyed.Node, len(parts))
	for i, p := range parts {
		var chips []keyed.Item
		for _, place := range bench.Places {
			chips = append(chips, pressOnce("old-"+slug(p.Option)+"-"+slug(place), "old-part", p.Option, place, placeSays(place), p.Place == place))
		}
		rows[i] = keyed.Row("li", "old-"+slug(p.Option), keyed.Class("check"), keyed.El("div", keyed.El("b", keyed.Text(joined(" ", p.Finding, p.Seen))), keyed.El("p", keyed.Class("soft small"), keyed.Text("Meant: "+orWords(app.MeantPlace(p), "not stated")))), group("Where the old part of "+p.Finding+" is", "chips", chips...))
	}
	return keyed.Row("section", "leave-old", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Where are the old parts?")),
		keyed.If(meantLeft(parts), part.Presses(part.Press("", "All as they were meant", "old-parts-meant", ""))), keyed.El("ul", keyed.Class("checks"), keyed.Nodes(rows...)))
}

// placeSays is a place in as few words as a finger needs.
func placeSays(place string) string {
	say, _, _ := strings.Cut(place, ", ")
	return strings.TrimSuffix(say, " by the work")
}

// meantLeft reports whether a part without a place is meant to go to one.
func meantLeft(parts []job.OldPart) bool {
	return slices.ContainsFunc(parts, func(p job.OldPart) bool { return p.Place == "" && app.MeantPlace(p) != "" })
}
