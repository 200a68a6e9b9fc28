package job

import (
	"slices"

	"lugworth/core/limit"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/stress"
)

// weighOptions judges every option twice: on the amp as found with nothing
// else done, and beside the set in force.
func (r *Result) weighOptions() {
	force := r.accepted()
	w := r.worlds
	r.Standing = r.Found
	if r.Force >= 0 {
		r.Standing = r.Sets[r.Force].Standing
	}
	found, own := w.under(nil), w.under(force)
	r.Options = make([]OptionResult, len(r.Job.Options))
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		res := &r.Options[i]
		res.Option, res.Accepted = o, slices.Contains(force, o.ID)
		a := r.apart(i, found)
		res.Alone, res.Apart = a.lines, a.apart
		off, on := w.pair(force, own, o.ID)
		res.Lines = w.linesOf(o.ID, on)
		if off != on {
			res.Beside = r.change(off, on, w.with(force, o.ID))
		}
		r.refuse(res)
	}
}

// apart weighs an option on the amp as found with nothing else done, once.
func (r *Result) apart(i int, found *world) *alone {
	a := &r.alone[i]
	if !a.known {
		id := r.Job.Options[i].ID
		bare, on := r.worlds.pair(nil, found, id)
		*a = alone{lines: r.worlds.linesOf(id, on), apart: r.change(bare, on, []string{id}), known: true}
	}
	return a
}

// change compares the amp without and with an option, other choices held:
// the stage, and the parts that stay in place under the whole choice.
func (r *Result) change(off, on *world, chosen []string) Change {
	if off == on {
		return Change{}
	}
	after, gone := r.standing(on), r.worlds.fitted(chosen)
	e := plan.Compare(r.standing(off), after)
	e = e.Harm(plan.Compare(r.kept(off, gone), r.kept(on, gone)))
	return Change{Effect: e, After: after, Least: r.least(on, after)}
}

// kept judges the parts of a world that a choice leaves where they stand.
func (r *Result) kept(w *world, gone map[string]bool) []rating.Judgment {
	if w.parts == nil {
		w.parts = r.desk.Parts(w.model)
	}
	out := make([]rating.Judgment, 0, len(w.parts))
	for _, j := range w.parts {
		if !gone[j.Subject] {
			out = append(out, j)
		}
	}
	return out
}

// standing judges a world once.
func (r *Result) standing(w *world) []rating.Judgment {
	if w.standing == nil {
		w.standing = r.desk.Standing(w.model, false)
	}
	return w.standing
}

// least finds the least resistance that keeps each dissipation verdict.
func (r *Result) least(w *world, after []rating.Judgment) []LeastOhms {
	var out []LeastOhms
	for _, j := range after {
		if j.Quantity != limit.PlateWatts || !j.HasLimit || j.Kind != rating.Within || j.Scenario != stress.Top {
			continue
		}
		t, ok := r.Job.Amp.Find(j.Subject)
		if !ok {
			continue
		}
		if ohms, ok := w.model.LeastOhms(t, j.Quantity, j.Mains, j.Limit.High); ok {
			f, _ := w.model.Factor(t)
			out = append(out, LeastOhms{Subject: j.Subject, Quantity: j.Quantity, Ohms: ohms, Factor: f})
		}
	}
	return out
}

// refuse says why an option may not be put to the owner, and what stands in
// the way of ordering it.
func (r *Result) refuse(res *OptionResult) {
	o := res.Option
	e := res.Beside.Effect
	if !e.Offered() {
		for _, j := range append(e.Breaks, e.Worsens...) {
			res.Refused = j.Subject + " " + string(j.Quantity) + ": " + j.Reason()
			break
		}
	}
	if e.NeedsReason() && r.Job.Reasons[o.ID] == "" {
		res.Problems = append(res.Problems, e.Says()+": needs a recorded reason")
	}
	if err := r.unclear(o); err != nil {
		res.Problems = append(res.Problems, err.Error())
	}
	for _, l := range res.Lines {
		if l.Problem != "" {
			res.Problems = append(res.Problems, l.Problem)
		}
	}
}
