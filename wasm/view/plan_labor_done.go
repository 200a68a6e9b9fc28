package view

import (
	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// doneRow takes down what the work of the choice in force took, and puts it
// among the shop's finished work.
func doneRow(m app.Model) keyed.Node {
	r := m.Open.Result
	done := map[string]job.Finished{}
	for _, f := range r.Finished() {
		done[f.Option] = f
	}
	var chosen []*plan.Option
	for _, o := range r.Options {
		if o.Accepted {
			chosen = append(chosen, o.Option)
		}
	}
	return keyed.Row("section", "labor-done", keyed.Class("card"), keyed.El("h2", keyed.Text("What did it take?")),
		part.Note("Hours at the bench, set-ups left out. Work that became another than was estimated is marked so: it teaches nothing of the estimate."),
		keyed.El("div", keyed.Class("ledger"), keyed.Each(chosen, func(o *plan.Option) keyed.Node { return doneLine(m, o, done[o.ID]) })),
		pastPresses(m))
}

func doneLine(m app.Model, o *plan.Option, f job.Finished) keyed.Node {
	off := m.ReadOnly() != ""
	id := o.ID
	hours := part.Field{ID: "done-" + slug(id), Label: "Hours " + id + " took", Unit: "h", Number: true, Act: "set", For: id, K: job.KindDone + "/hours",
		Value: m.Draft("set", id, job.KindDone+"/hours", f.Actual), Problem: f.Problem, Off: off}
	scope := "same"
	if f.Changed {
		scope = job.ScopeChanged
	}
	kind := part.Field{ID: "scope-" + slug(id), Label: "Work of " + id, Act: "set", For: id, K: job.KindDone + "/scope", Value: scope, Off: off || f.Actual == "",
		Options: []keyed.Option{{Value: "same", Say: "as estimated"}, {Value: job.ScopeChanged, Say: "became another"}}}
	te := labor.Three{Low: o.Low, Mode: o.Mode, High: o.High}.Expected()
	return keyed.Row("div", "done-line-"+slug(id), keyed.Class("done-line"),
		keyed.El("p", keyed.El("b", keyed.Text(id)), keyed.Text(" "+o.Say), keyed.El("span", keyed.Class("soft small"), keyed.Text(" estimated "+hoursText(te, 2)+" h"))),
		keyed.El("div", keyed.Class("bare"), hours.Item()), keyed.El("div", keyed.Class("bare"), kind.Item()))
}

// pastPresses adds the job to the finished work, asked about first.
func pastPresses(m app.Model) keyed.Item {
	r := m.Open.Result
	n := 0
	for _, f := range r.Finished() {
		if !f.Changed && f.Problem == "" {
			n++
		}
	}
	off := keyed.Flag("disabled", m.ReadOnly() != "")
	switch {
	case r.InPast():
		return keyed.El("div", keyed.Class("line"), keyed.El("p", keyed.Class("grow"), keyed.Text("This job stands among the shop's finished work (past.csv) and is learned from.")),
			part.Press("", "Take it out again", "past-out", "", off))
	case n == 0:
		return part.Note("Once hours are entered, the job can be added to the shop's finished work (past.csv): ten jobs make the hours and dates calibrated.")
	case m.Screen.Desk.AddPast:
		return keyed.El("div", keyed.Class("line"), keyed.El("p", keyed.Class("grow"), keyed.Text("Add "+count(n, "task")+" of job "+r.Job.Number+" to the shop's finished work? Hours and dates of every job will learn from it.")),
			part.Press("main", "Add", "past-add", "", off), part.Press("", "Not now", "past-no", ""))
	}
	return part.Presses(part.Press("", "Add to the shop's finished work", "past-ask", "", off))
}
