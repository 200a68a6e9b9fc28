package order

import "slices"

// Again returns a search of the same market under other limits. Where they
// bound arrival alike the reduction serves again.
func (s *Search) Again(lim Limits) (*Search, error) {
	if s.serves(lim) {
		return newSearch(s.reduction, lim)
	}
	return NewSearch(*s.market, lim)
}

// Only returns a search of the same market and limits in which a need takes
// this offer: what insisting on it does to the whole order is the difference
// of the two costs. The offer must be one that fits the need.
func (s *Search) Only(want, pack int) (*Search, error) {
	m := *s.market
	m.Wants = slices.Clone(m.Wants)
	w := &m.Wants[want]
	w.Fits = slices.DeleteFunc(slices.Clone(w.Fits), func(f Fit) bool { return f.Pack != pack })
	only, err := NewSearch(m, s.lim)
	if err == nil {
		only.floor = s.lower()
	}
	return only, err
}

// AtMost looks for nothing dearer than this (10^-Places of a minor unit): the
// search ends sooner, and finds no order where the cheapest one is dearer. It
// counts only before the first step.
func (s *Search) AtMost(cost int64) {
	if !s.begun {
		s.limit = cost
	}
}

// atLeast tells the search what no order can cost less than.
func (s *Search) atLeast(cost int64) { s.floor = cost }
