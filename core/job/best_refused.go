package job

import (
	"lugworth/core/shop"
)

// refusedChoice says why a choice may not be put to the owner, "" if it may:
// an option of it takes a figure of the amp over its limit, judged beside the
// others as the options of the choice in force are. Unless the choice is
// whole, it is what changes the circuit, and the answer holds whatever parts
// are taken beside.
func (r *Result) refusedChoice(accept []string, whole bool) string {
	own := r.worlds.under(accept)
	beside := accept
	for _, id := range accept {
		off, on := r.worlds.pair(accept, own, id)
		if off == on {
			continue
		}
		if !whole {
			beside = r.everyOption()
		}
		if e := r.change(off, on, beside); !e.Offered() {
			for _, j := range append(e.Breaks, e.Worsens...) {
				return id + ": " + j.Subject + " " + string(j.Quantity) + ": " + j.Reason()
			}
		}
	}
	return ""
}

// aheadOfJudging solves one state of the amp that refusedChoice will compare,
// a part of it at a time, and reports whether there was one.
func (r *Result) aheadOfJudging(accept []string) bool {
	if r.tier == nil {
		return false
	}
	own := r.worlds.under(accept)
	for _, id := range accept {
		off, on := r.worlds.pair(accept, own, id)
		if off != on && (r.solve(off) || r.solve(on)) {
			return true
		}
	}
	return false
}

func (r *Result) everyOption() []string {
	out := make([]string, len(r.Job.Options))
	for i := range r.Job.Options {
		out[i] = r.Job.Options[i].ID
	}
	return out
}

// Simulated reports whether the best choice and the least to touch judge a
// date by playing the work through, the day kept in eight of ten draws: where
// the shop asks for that and states what it takes. Else they go by the longest
// lead, all choices alike.
func (r *Result) Simulated() bool {
	s := &r.Books.Sheet
	return s.DateTest == shop.P80 && s.Has("bench_hours") && s.Has("open_days") && s.Has("carriage_days") && s.Has("answer_days")
}
