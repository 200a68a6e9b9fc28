package job

import (
	"lugworth/core/order"
	"lugworth/core/plan"
)

// Near lists the offers that miss a need by exactly one test, with the figure
// that misses. Under an arrival limit a late offer is one of them. Of a need
// that serves several lines it is what misses the first of them.
func (o *Ordering) Near(lim order.Limits, want int) []plan.Miss {
	ask := plan.Asked{Pieces: o.Market.Wants[want].Pieces, Days: lim.Days, HasDays: lim.HasDays}
	return o.takes[o.Wants[want].takes[0]].line.Near(ask)
}

// NearTo lists the same for a part of an option, under the set in force and
// this option: where nothing passes, this is what nearly does. It is nil
// where the job has no such part.
func (r *Result) NearTo(option string, part int) []plan.Miss {
	i, ok := r.worlds.at[option]
	if !ok || part < 0 || part >= len(r.Options[i].Lines) {
		return nil
	}
	l := &r.Options[i].Lines[part]
	return l.Near(plan.Asked{Pieces: l.Qty})
}
