package app

import "lugworth/core/order"

// A Rival is another offer that passes for a need, and what taking it does to
// the whole order under the limits asked for.
type Rival struct {
	Want, Pack int
	More       int64 // than the cheapest order, 10^-Places of a minor unit
	Known      bool
	Never      bool // no order under the limits takes it
}

// rivals are the offers set against the one of a basket line.
type rivals struct {
	list, number string
	wants        []int
	all          []Rival
	at           int // the one that is worked on
	search       *order.Search
	steps        int
}

// oppose opens the needs that are bought by one line of a basket.
func (s *Seek) oppose(list, number string) {
	r := &s.rivals
	if r.list == list && r.number == number {
		return
	}
	*r = rivals{list: list, number: number}
	for w, p := range s.Forced {
		if o := s.Offers[p].Offer; list == "" || o.List != list || o.Number != number {
			continue
		}
		r.wants = append(r.wants, w)
		for _, f := range s.Market.Wants[w].Fits {
			r.all = append(r.all, Rival{Want: w, Pack: f.Pack})
		}
	}
}

// Opened are the needs bought by the line that is open, and every offer that
// passes for them, each with what it would do.
func (s *Seek) Opened() (wants []int, all []Rival) { return s.rivals.wants, s.rivals.all }

// step works on the next rival that nothing is known of.
func (r *rivals) step(s *Seek) bool {
	if r.at >= len(r.all) {
		return false
	}
	v, best := &r.all[r.at], s.Best()
	if !best.Feasible {
		v.Known, v.Never = true, true
		r.at++
		return true
	}
	if best.Plan[v.Want] == v.Pack {
		v.Known = true
		r.at++
		return true
	}
	if r.search == nil {
		search, err := s.search.Only(v.Want, v.Pack)
		if err != nil {
			v.Known, v.Never = true, true
			r.at++
			return true
		}
		r.search, r.steps = search, 0
	}
	if r.steps++; !r.search.Step() && r.steps < patient {
		return true
	}
	a := r.search.Answer()
	v.Known, v.Never, v.More = true, !a.Feasible, a.Cost-best.Cost
	r.search, r.at = nil, r.at+1
	return true
}
