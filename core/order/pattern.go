package order

import (
	"cmp"
	"slices"
)

// Step works once over all that is open, each pattern within the width of
// this step, and doubles the width thrice. It reports whether the best order
// is proven.
func (s *Search) Step() bool {
	if s.why != "" || s.Proven() && s.begun {
		return true
	}
	if !s.begun {
		s.begun = true
		s.walk()
	}
	slices.SortStableFunc(s.hard, func(a, b hard) int { return cmp.Compare(a.bound, b.bound) })
	open := s.hard
	s.hard = nil
	for _, h := range open {
		if s.closed(h.bound) {
			continue
		}
		w := newWork(s, h.p)
		if bound := max(h.bound, w.bound()); !s.closed(bound) {
			if left := w.label(s.width); left != Never && !s.closed(left) {
				s.hard = append(s.hard, hard{h.p, max(bound, left)})
			}
		}
	}
	s.width *= 8
	return s.Proven()
}

// Proven reports whether nothing cheaper than the best order is possible.
func (s *Search) Proven() bool {
	if !s.begun {
		return s.why != ""
	}
	for _, h := range s.hard {
		if !s.closed(max(h.bound, s.floor)) {
			return false
		}
	}
	return true
}

// lower is a true lower bound on the cost of any order.
func (s *Search) lower() int64 {
	low := s.best
	if !s.begun {
		low = 0
		for i := range s.groups {
			low += s.groups[i].options[0].base
		}
	}
	for _, h := range s.hard {
		low = min(low, max(h.bound, s.floor))
	}
	return low
}

// walk goes through all patterns, most used seller first, and keeps those a
// bound does not close.
func (s *Search) walk() {
	at := make([]int, len(s.groups)) // first option of each group that avoids the closed sellers
	p := make(pattern, len(s.market.Sellers))
	for i := range p {
		p[i] = -1
	}
	s.descend(0, p, at, 0, 0, 0)
}

func (s *Search) descend(depth int, p pattern, at []int, out uint32, fees int64, open int) {
	sum := fees
	for i, k := range at {
		sum += s.groups[i].options[k].base
	}
	if s.closed(sum) {
		return
	}
	if depth == len(s.rank) {
		s.leaf(p, at, sum)
		return
	}
	x := s.rank[depth]
	if s.lim.Parcels == 0 || open < s.lim.Parcels {
		for k, r := range s.rows[x] {
			p[x] = int8(k)
			s.descend(depth+1, p, at, out, fees+r.fee*s.factor[x], open+1)
		}
	}
	p[x] = -1
	out |= 1 << x
	next := s.level(depth)
	for i, k := range at {
		if next[i] = firstAvoiding(s.groups[i].options, k, out); next[i] < 0 {
			return
		}
	}
	s.descend(depth+1, p, next, out, fees, open)
}

// level is the room of one depth of the walk.
func (s *Search) level(depth int) []int {
	for len(s.spare.at) <= depth {
		s.spare.at = append(s.spare.at, make([]int, len(s.groups)))
	}
	return s.spare.at[depth]
}

// leaf closes one pattern or keeps it as hard.
func (s *Search) leaf(p pattern, at []int, sum int64) {
	goods, score := s.bought(at)
	meets := score >= s.lim.Score
	for x, k := range p {
		if k < 0 {
			continue
		}
		r := s.rows[x][k]
		if goods[x] < r.least || goods[x] > r.most {
			meets = false
		}
	}
	if meets { // the cheapest order of the pattern, priced as it is or better
		s.offer(at)
		return
	}
	w := newWork(s, p)
	if bound := w.bound(); !s.closed(bound) {
		s.hard = append(s.hard, hard{slices.Clone(p), max(sum, bound)})
	}
}
