package job

import (
	"fmt"
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
	c, have := on.from[off]
	if !have {
		after := r.standing(on)
		c = compared{stage: plan.Compare(r.standing(off), after), parts: plan.Compare(r.parts(off), r.parts(on)), least: r.least(on, after)}
		if on.from == nil {
			on.from = map[*world]compared{}
		}
		on.from[off] = c
	}
	return Change{Effect: c.stage.Harm(kept(c.parts, r.worlds.fitted(chosen))), After: r.standing(on), Least: c.least}
}

// compared is what differs between two states of the amp, parts of all places
// among it.
type compared struct {
	stage, parts plan.Effect
	least        []LeastOhms
}

// parts judges the parts of a world as they would stand, once.
func (r *Result) parts(w *world) []rating.Judgment {
	if w.parts == nil {
		w.parts = r.desk.Parts(w.model)
	}
	return w.parts
}

// kept is what an effect does to parts that a choice leaves where they stand.
func kept(e plan.Effect, gone map[string]bool) plan.Effect {
	leave := func(js []rating.Judgment) []rating.Judgment {
		var out []rating.Judgment
		for _, j := range js {
			if !gone[j.Subject] {
				out = append(out, j)
			}
		}
		return out
	}
	return plan.Effect{Worsens: leave(e.Worsens), Breaks: leave(e.Breaks), Blurs: leave(e.Blurs)}
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
	if o.Chance > 0 {
		res.Refused = fmt.Sprintf("it may be found, with a chance of %d %%: priced apart, chosen once it is found", o.Chance)
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
