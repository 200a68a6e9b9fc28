package order

import (
	"cmp"
	"errors"
	"fmt"
	"math/bits"

	"lugworth/core/sorted"
)

// A Search looks for the cheapest order of a market and proves it, step by
// step; it has no clock, so whoever runs it decides when to stop. At any
// moment Answer gives the best order found and a true lower bound.
//
// Method: an order is priced by some pattern, which says for each seller
// whether anything is bought there and at which row of carriage. All patterns
// are gone through; one is closed by a bound that relaxes its thresholds with
// multipliers (Lagrangean relaxation: A. M. Geoffrion, Mathematical
// Programming Studies 2, 1974), or is parted group by group, the part with
// the lowest bound first.
type Search struct {
	*reduction
	lim   Limits
	rows  [][]pattRow // by seller: usable rows of carriage
	rank  []int       // sellers, most used first
	grain int64
	one   int64 // a multiplier of one
	top   int64 // the most all groups could score
	toll  int64 // on a point of score while patterns are gone through, in units of 1/one
	loose bool  // some options cost at least what they say

	best  int64
	limit int64   // nothing dearer is looked for
	floor int64   // no order costs less
	pick  []int32 // by group

	walk   walk
	queue  queue
	work   work
	spare  scratch
	effort int // options looked at in this step
	begun  bool
}

// scratch is room that is used again and again.
type scratch struct {
	goods  []int64 // by seller
	asked  []int   // by offer
	asking []int32 // offers asked for
	picked []int32
}

// effortStep is how many options a step looks at: about a millisecond.
const effortStep = 250_000

var errTooLarge = errors.New("the order is too large to be reckoned exactly")

// mostSellers is how many suppliers a market may have.
const mostSellers = 30

// NewSearch sets a search up. The error tells of a market that has no
// meaning; needs that cannot be met are an Answer that is not feasible.
func NewSearch(m Market, lim Limits) (*Search, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	if len(m.Sellers) > mostSellers {
		return nil, fmt.Errorf("%d suppliers, %d at most", len(m.Sellers), mostSellers)
	}
	return newSearch(reduce(&m, lim, tooMany), lim)
}

func newSearch(r *reduction, lim Limits) (*Search, error) {
	s := &Search{reduction: r, lim: lim, best: Never, limit: Never}
	if s.why != "" && s.huge {
		return nil, errors.New(s.why)
	}
	if s.why != "" {
		return s, nil
	}
	s.setUp()
	s.first()
	if err := s.fits64(); err != nil {
		return nil, err
	}
	s.findGrain()
	if lim.Score > 0 {
		s.favor()
	}
	s.walk.begin(s)
	return s, nil
}

// Step does a small amount of work, about a millisecond's. It reports whether
// the best order is proven.
func (s *Search) Step() bool {
	if s.why != "" {
		return true
	}
	s.begun = true
	for s.effort = 0; s.effort < effortStep; {
		if s.walk.on(s) {
			continue
		}
		if s.Proven() {
			return true
		}
		s.workOn(s.queue.pop())
	}
	return s.Proven()
}

// Proven reports whether nothing cheaper than the best order is possible.
func (s *Search) Proven() bool {
	return s.why != "" || s.closed(s.open())
}

// open is the least any order not yet looked at can cost; Never where all
// were.
func (s *Search) open() int64 {
	low := min(s.walk.least(), s.queue.least())
	if low == Never {
		return low
	}
	return max(low, s.floor)
}

// lower is a true lower bound on the cost of any order.
func (s *Search) lower() int64 { return min(s.best, s.open()) }

// closed reports whether a bound leaves nothing to gain: every possible cost
// is a whole number of grains, so a bound within one grain of the best order
// closes a pattern.
func (s *Search) closed(bound int64) bool {
	return bound == Never || bound > s.limit || s.best != Never && bound > s.best-s.grain
}

// setUp finds rows and ranks.
func (s *Search) setUp() {
	n := len(s.market.Sellers)
	used := make([]int, n)
	var possible uint32
	for i := range s.groups {
		g := &s.groups[i]
		s.loose = s.loose || g.loose
		top := int32(0)
		for _, o := range s.optionsOf(g) {
			possible |= o.mask
			top = max(top, o.score)
		}
		s.top += int64(top)
		for m := s.optionsOf(g)[0].mask; m != 0; m &= m - 1 {
			used[bits.TrailingZeros32(m)]++
		}
	}
	s.rows = make([][]pattRow, n)
	for i := range s.market.Sellers {
		if possible>>i&1 == 1 {
			s.rows[i] = usableRows(&s.market.Sellers[i])
			s.rank = append(s.rank, i)
		}
	}
	sorted.By(s.rank, func(a, b int) int { return cmp.Compare(used[b], used[a]) })
	s.spare.goods = make([]int64, n)
	s.spare.picked = make([]int32, len(s.groups))
}

// fits64 refuses orders whose sums would leave 64 bits. Options dearer than
// the best order so far can be in no better one.
func (s *Search) fits64() error {
	const room = int64(1) << 56
	sum := int64(0)
	add := func(v, factor int64) bool {
		if v > room/max(1, factor) {
			return false
		}
		sum += v * factor
		return sum <= room
	}
	for i := range s.groups {
		worst := int64(0)
		for _, o := range s.optionsOf(&s.groups[i]) {
			if o.base <= s.best {
				worst = max(worst, o.base)
			}
		}
		if !add(worst, 1) {
			return errTooLarge
		}
	}
	for i := range s.market.Sellers {
		for _, r := range s.rows[i] {
			if !add(r.fee, s.factor[i]) || !add(r.least, s.factor[i]) {
				return errTooLarge
			}
		}
	}
	switch {
	case sum <= room>>8:
		s.one = 1 << 10
	case sum <= room>>4:
		s.one = 1 << 6
	default:
		s.one = 1 << 2
	}
	return nil
}

// findGrain finds the greatest amount that every possible cost is a whole
// number of.
func (s *Search) findGrain() {
	g := int64(0)
	add := func(v int64) {
		for v != 0 {
			g, v = v, g%v
		}
	}
	for i := 0; i < len(s.parts) && g != 1; i++ {
		p := s.parts[i]
		add(p.goods * s.factor[p.seller])
	}
	for i := range s.rows {
		for _, r := range s.rows[i] {
			add(r.fee * s.factor[i])
			add(r.least * s.factor[i])
		}
	}
	if s.grain = max(g, 1); s.loose {
		s.grain = 1
	}
}
