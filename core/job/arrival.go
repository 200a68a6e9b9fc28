package job

import (
	"cmp"
	"strconv"

	"lugworth/core/catalog"
	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/sorted"
)

// An arrival is what one part of an option waits for.
type arrival struct {
	list, part string
	lead       int  // days until it is sent; −1 not stated
	shelf      bool // it lies on the shop's shelf
}

// arrivals are what the parts of an option wait for, in the order of its
// parts: by the offer each plan line names, or the one the order takes in its
// place, and not at all for what lies on the shelf.
func (s *scheduler) arrivals(o *plan.Option, accept []string) []arrival {
	r := s.r
	lines := r.worlds.linesOf(o.ID, r.worlds.under(accept))
	var out []arrival
	for i := range lines {
		c := r.bought(&lines[i])
		if c == nil {
			out = append(out, arrival{part: o.ID + ", " + o.Parts[i].Is + ": no offer is chosen", lead: -1})
			continue
		}
		k := offerKey(c.List, c.Number)
		if s.shelf[k] >= lines[i].Qty && lines[i].Qty > 0 {
			s.shelf[k] -= lines[i].Qty
			out = append(out, arrival{shelf: true})
			continue
		}
		out = append(out, arrival{list: c.List, part: c.List + " " + c.Number, lead: c.LeadDays})
	}
	return out
}

// bought is the offer a line is bought from: its own, or that of a swap that
// still passes; nil where it takes none.
func (r *Result) bought(l *plan.Line) *catalog.Offer {
	if l.Chosen == nil {
		return nil
	}
	for _, x := range r.Job.Buying.Swaps {
		if x.Option != l.Option || cmp.Or(x.Part, "0") != strconv.Itoa(l.Part) {
			continue
		}
		if o, why := l.Instead(x.List, x.Number); why == "" && o.Offer != nil {
			return o.Offer
		}
	}
	return l.Chosen.Offer
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
	sorted.By(s.d.Waits, func(a, b Wait) int {
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
