package order

import (
	"cmp"
	"slices"

	"lugworth/core/sorted"
)

// favor puts the options in the order of their cost less a toll on score, in
// a list of this search's own. The toll is the one at which the cheapest
// options just score enough, no seller being closed; it is where the patterns
// are bounded from.
func (s *Search) favor() {
	low, high := int64(0), int64(1)
	most := s.mostToll()
	if s.tollAt(0) {
		return
	}
	for ; !s.tollAt(high); low, high = high, min(4*high, most) {
		if high == most {
			break
		}
	}
	for high-low > max(1, high>>10) {
		if mid := low + (high-low)/2; s.tollAt(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	s.toll = high
	own := *s.reduction
	own.options = slices.Clone(s.options)
	for i := range own.groups {
		sorted.By(own.optionsOf(&own.groups[i]), func(a, b option) int {
			return cmp.Or(cmp.Compare(s.tolled(&a), s.tolled(&b)), cmp.Compare(a.base, b.base))
		})
	}
	s.reduction = &own
	s.pick = s.pick[:0] // it told of options by their places
	s.best = Never
	s.first()
}

// tolled is what an option costs, in units of 1/one, less the toll.
func (s *Search) tolled(o *option) int64 { return o.base*s.one - s.toll*int64(o.score) }

// tollAt reports whether the cheapest options under a toll score enough.
func (s *Search) tollAt(toll int64) bool {
	s.toll = toll
	score := 0
	for i := range s.groups {
		g := &s.groups[i]
		low := g.options.from
		for k := low + 1; k < g.options.to; k++ {
			if s.tolled(&s.options[k]) < s.tolled(&s.options[low]) {
				low = k
			}
		}
		score += int(s.options[low].score)
	}
	return score >= s.lim.Score
}

// mostToll keeps sums inside 64 bits.
func (s *Search) mostToll() int64 { return (int64(1) << 60) / (s.top + 1) }
