package view

import (
	"lugworth/core/job"
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
	return keyed.Row("section", "labor-done", keyed.Class("card"), keyed.El("h2", keyed.Text("What did it take?")),
		part.Note("Hours at the bench, set-ups left out. Work that became another than was estimated is marked so: it teaches nothing of the estimate."),
		keyed.El("div", keyed.Class("ledger"), keyed.Each(r.Accepted(), func(id string) keyed.Node { return doneLine(m, id, done[id]) })),
		pastPresses(m))
}

func doneLine(m app.Model, id string, f job.Finished) keyed.Node {
	off := m.ReadOnly() != ""
	hours := part.Field{ID: "done-" + slug(id), Label: "Hours " + id + " took", Unit: "h", Number: true, Act: "set", For: id, K: job.KindDone + "/hours",
		Value: m.Draft("set", id, job.KindDone+"/hours", f.Actual), Hint: "1.4", Problem: f.Problem, Off: off}
	scope := "same"
	if f.Changed {
		scope = job.ScopeChanged
	}
	kind := part.Field{ID: "scope-" + slug(id), Label: "Work of " + id, Act: "set", For: id, K: job.KindDone + "/scope", Value: scope, Off: off || f.Actual == "",
		Options: []keyed.Option{{Value: "same", Say: "as estimated"}, {Value: job.ScopeChanged, Say: "became another"}}}
	return keyed.Row("div", "done-line-"+slug(id), keyed.Class("ledger-line"), hours.Item(), kind.Item())
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
