package job

import (
	"cmp"
	"slices"

	"lugworth/core/labor"
	"lugworth/core/plan"
)

// An arrival is what one part of an option waits for.
type arrival struct {
	list, part string
	lead       int  // days until it is sent; −1 not stated
	shelf      bool // it lies on the shop's shelf
}

// arrivals are what the parts of an option wait for, in the order of its
// parts: by the offer each plan line names.
func (r *Result) arrivals(o *plan.Option, accept []string) []arrival {
	var out []arrival
	for _, l := range r.worlds.linesOf(o.ID, r.worlds.under(accept)) {
		if l.Chosen == nil {
			out = append(out, arrival{part: o.ID + ", " + o.Parts[l.Part].Is + ": no offer is chosen", lead: -1})
			continue
		}
		c := l.Chosen.Offer
		out = append(out, arrival{list: c.List, part: c.List + " " + c.Number, lead: c.LeadDays})
	}
	return out
}

// waits turns the shares of steps into words. Steps of one name are one wait.
func (s *scheduler) waits(got labor.Ready) {
	at := map[string]int{}
	for i, x := range s.steps {
		if x.Bench {
			s.d.Bench.Days += got.Days[i]
			s.d.Bench.Share = max(s.d.Bench.Share, got.Held[i])
			continue
		}
		low, high := s.days(i)
		k, seen := at[x.Name]
		if !seen {
			k = len(s.d.Waits)
			at[x.Name] = k
			s.d.Waits = append(s.d.Waits, Wait{Say: x.Name})
		}
		w := &s.d.Waits[k]
		w.Low, w.High, w.Days, w.Share = w.Low+low, w.High+high, w.Days+got.Days[i], max(w.Share, got.Held[i])
	}
	s.d.Bench.Say = "work at the bench"
	slices.SortStableFunc(s.d.Waits, func(a, b Wait) int {
		return cmp.Or(cmp.Compare(b.Days, a.Days), cmp.Compare(b.Share, a.Share))
	})
}

// days is how long a step takes by itself, in days, a part of one counted
// whole.
func (s *scheduler) days(i int) (low, high int) {
	x := s.spans[i]
	if x.Days {
		return int(x.Low), int(x.High)
	}
	return int(x.Low+23) / 24, int(x.High+23) / 24
}
