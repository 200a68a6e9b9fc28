package app

import (
	"lugworth/core/job"
	"lugworth/core/plan"
)

// rivals are the offers set against the one of a basket line that is open.
type rivals struct {
	list, number string
	wants        []int
	ranks        []*job.Ranking // of wants; made once the cheapest order is known
	near         [][]plan.Miss  // of wants; as many as are known
}

// oppose opens the needs that are bought by one line of a basket.
func (s *Seek) oppose(list, number string) {
	r := &s.rivals
	if r.list == list && r.number == number {
		return
	}
	*r = rivals{list: list, number: number}
	for w, p := range s.Forced {
		if o := s.Offers[p].Offer; list != "" && o.List == list && o.Number == number {
			r.wants = append(r.wants, w)
		}
	}
}

// Opened are the needs bought by the line that is open.
func (s *Seek) Opened() []int { return s.rivals.wants }

// Ranking says what each offer that passes for an opened need would do to the
// whole order under the limits asked for; nil before that can be told.
func (s *Seek) Ranking(want int) *job.Ranking {
	r := &s.rivals
	if s.Looking() {
		return nil
	}
	if r.ranks == nil {
		best := s.Best()
		for _, w := range r.wants {
			r.ranks = append(r.ranks, s.Rank(s.Limits, best, w))
		}
	}
	for i, w := range r.wants {
		if w == want {
			return r.ranks[i]
		}
	}
	return nil
}

// Near are the offers that miss an opened need by one test; known is false
// before they are looked for.
func (s *Seek) Near(want int) (misses []plan.Miss, known bool) {
	for i, w := range s.rivals.wants {
		if w == want && i < len(s.rivals.near) {
			return s.rivals.near[i], true
		}
	}
	return nil, false
}

// step looks for what nearly passes, then works on the next offer that
// nothing is known of.
func (r *rivals) step(s *Seek) bool {
	if n := len(r.near); n < len(r.wants) {
		r.near = append(r.near, s.Ordering.Near(s.Limits, r.wants[n]))
		return true
	}
	for _, w := range r.wants {
		if k := s.Ranking(w); k != nil && !ranked(k) {
			k.Step()
			return true
		}
	}
	return false
}

// rests reports whether all is known.
func (r *rivals) rests(s *Seek) bool {
	if len(r.near) < len(r.wants) {
		return false
	}
	for _, w := range r.wants {
		if k := s.Ranking(w); k != nil && !ranked(k) {
			return false
		}
	}
	return true
}

// MostRanked is how many offers of a need are held against the whole order,
// those that are cheapest by themselves first.
const MostRanked = 24

func ranked(k *job.Ranking) bool {
	for _, row := range k.Rows[:min(len(k.Rows), MostRanked)] {
		if !row.Known {
			return false
		}
	}
	return true
}
