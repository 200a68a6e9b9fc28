package order

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
)

// A Search looks for the cheapest order of a market and proves it, step by
// step; it has no clock, so whoever runs it decides when to stop. At any
// moment Answer gives the best order found and a true lower bound.
//
// Method: an order is priced by some pattern, which says for each seller
// whether anything is bought there and at which row of carriage. All patterns
// are gone through; one is closed by a bound that relaxes its thresholds with
// multipliers, or its cheapest order is found group by group, leaving out
// what a kept part order betters. The work a pattern may take grows from step
// to step, hard ones last.
type Search struct {
	market Market
	lim    Limits
	factor []int64 // by seller, in units of 10^-places
	places int
	groups []group
	rows   [][]pattRow // by seller: usable rows of carriage
	rank   []int       // sellers, most used first
	grain  int64

	why   string // why there is no order
	best  int64
	limit int64 // nothing dearer is looked for
	floor int64 // no order costs less
	pick  []int // by group
	hard  []hard
	width int // part orders a pattern may keep in this step
	begun bool

	spare scratch
}

// scratch is room that is used again and again.
type scratch struct {
	at     [][]int // by depth of the walk
	pick   []int
	goods  []int64
	slope  []float64
	beta   [2][]int64
	open   map[uint32][][]int32 // by closed sellers: options of each group that avoid them
	stages [][]label
}

// pattRow is one usable row of carriage: goods between least and most cost
// themselves and the fee, and goods below least are topped up.
type pattRow struct{ fee, least, most int64 }

// pattern is one way to open sellers: the row of each, below zero closed.
type pattern []int8

// hard is a pattern whose optimum is not known yet.
type hard struct {
	p     pattern
	bound int64
}

// unbounded is the greatest goods of a row without a dearer one after it.
const unbounded = biggest

// NewSearch sets a search up. The error tells of a market that has no
// meaning; needs that cannot be met are an Answer that is not feasible.
func NewSearch(m Market, lim Limits) (*Search, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	if len(m.Sellers) > 30 {
		return nil, fmt.Errorf("%d suppliers, 30 at most", len(m.Sellers))
	}
	s := &Search{market: m, lim: lim, best: Never, limit: Never, width: 64}
	s.scale()
	b := builder{m: &s.market, lim: lim, factor: s.factor, limited: lim.Score > 0}
	groups, err := b.groups()
	if err != nil {
		return nil, err
	}
	s.groups = groups
	for i, w := range b.why {
		if i > 0 {
			s.why += "; "
		}
		s.why += w
	}
	if s.why != "" {
		return s, nil
	}
	if err := s.fits64(); err != nil {
		return nil, err
	}
	s.setUp()
	return s, nil
}

// scale brings all factors to whole numbers of one unit.
func (s *Search) scale() {
	for _, x := range s.market.Sellers {
		s.places = max(s.places, x.Factor.Places)
	}
	for _, x := range s.market.Sellers {
		f := x.Factor
		if f == (Factor{}) {
			f.Digits = 1
		}
		for i := f.Places; i < s.places; i++ {
			f.Digits *= 10
		}
		s.factor = append(s.factor, f.Digits)
	}
}

// fits64 refuses orders whose sums would leave 64 bits.
func (s *Search) fits64() error {
	room := biggest
	for i := range s.groups {
		worst := int64(0)
		for _, o := range s.groups[i].options {
			worst = max(worst, o.base)
		}
		if room -= worst; room < 0 {
			return fmt.Errorf("the order is too large to be reckoned exactly")
		}
	}
	for i, x := range s.market.Sellers {
		for _, f := range x.Carriage {
			if f.From+f.Fee > biggest/max(1, s.factor[i]) {
				return fmt.Errorf("supplier %s: carriage is too large to be reckoned exactly", x.ID)
			}
			room -= (f.Fee + f.From) * s.factor[i]
		}
		if room -= x.MinGoods * s.factor[i]; room < 0 {
			return fmt.Errorf("the order is too large to be reckoned exactly")
		}
	}
	return nil
}

// setUp finds rows, ranks and the grain, and a first order.
func (s *Search) setUp() {
	used := make([]int, len(s.market.Sellers))
	var possible uint32
	for i := range s.groups {
		for _, o := range s.groups[i].options {
			possible |= o.mask
		}
		for m := s.groups[i].options[0].mask; m != 0; m &= m - 1 {
			used[bits.TrailingZeros32(m)]++
		}
	}
	for i := range s.market.Sellers {
		s.rows = append(s.rows, usableRows(&s.market.Sellers[i]))
		if possible>>i&1 == 1 {
			s.rank = append(s.rank, i)
		}
	}
	slices.SortStableFunc(s.rank, func(a, b int) int { return cmp.Compare(used[b], used[a]) })
	s.findGrain()
	s.first()
}

// usableRows lists the rows of carriage that goods can be priced by.
//
// Goods past the start of a later row with a higher fee are not priced by an
// earlier one; a later row with a lower fee only makes the earlier one's
// price too high, which is harmless.
func usableRows(x *Seller) []pattRow {
	if len(x.Carriage) == 0 {
		return []pattRow{{0, x.MinGoods, unbounded}}
	}
	var out []pattRow
	for k, f := range x.Carriage {
		r := pattRow{f.Fee, max(f.From, x.MinGoods), unbounded}
		if k+1 < len(x.Carriage) && r.least >= x.Carriage[k+1].From {
			continue
		}
		for _, later := range x.Carriage[k+1:] {
			if later.Fee > f.Fee {
				r.most = later.From - 1
				break
			}
		}
		out = append(out, r)
	}
	return out
}

// findGrain finds the greatest amount that every possible cost is a whole
// number of: a bound within one grain of the best order closes a pattern.
func (s *Search) findGrain() {
	g := int64(0)
	add := func(v int64) {
		for v != 0 {
			g, v = v, g%v
		}
	}
	for i := range s.groups {
		for _, o := range s.groups[i].options {
			for k, v := range o.goods {
				add(v * s.factor[k])
			}
		}
	}
	for i := range s.market.Sellers {
		for _, r := range s.rows[i] {
			add(r.fee * s.factor[i])
			add(r.least * s.factor[i])
		}
	}
	s.grain = max(g, 1)
}

// closed reports whether a bound leaves nothing to gain.
func (s *Search) closed(bound int64) bool {
	return bound > s.limit || s.best != Never && bound > s.best-s.grain
}

// price is what a pick truly costs; Never where a limit is broken.
func (s *Search) price(pick []int) int64 {
	goods, score := s.bought(pick)
	cost, parcels := int64(0), 0
	for i, g := range goods {
		if g == 0 {
			continue
		}
		parcels++
		c, _, _ := s.market.Sellers[i].Landed(g)
		if c == Never {
			return Never
		}
		cost += c * s.factor[i]
	}
	if s.lim.Parcels > 0 && parcels > s.lim.Parcels || score < s.lim.Score {
		return Never
	}
	return cost
}

// bought is the goods at each seller and the score of a pick. The goods hold
// until it is asked again.
func (s *Search) bought(pick []int) (goods []int64, score int) {
	if s.spare.goods == nil {
		s.spare.goods = make([]int64, len(s.market.Sellers))
	}
	goods = s.spare.goods
	clear(goods)
	for i, k := range pick {
		o := &s.groups[i].options[k]
		score += o.score
		for m := o.mask; m != 0; m &= m - 1 {
			x := bits.TrailingZeros32(m)
			goods[x] += o.goods[x]
		}
	}
	return goods, score
}

// offer takes a pick as the best one if it is.
func (s *Search) offer(pick []int) {
	if c := s.price(pick); c < s.best && c <= s.limit {
		s.best, s.pick = c, slices.Clone(pick)
	}
}

// first tries the cheapest options that leave each set of sellers out, for
// all sets where they are few, else opening and closing one at a time.
func (s *Search) first() {
	n := len(s.rank)
	if n <= 10 {
		for set := range uint32(1) << n {
			s.tryWithout(s.spread(set))
		}
		return
	}
	var out uint32
	for better := true; better; {
		better = false
		for i := range n {
			before := s.best
			if s.tryWithout(out ^ 1<<s.rank[i]); s.best < before {
				out, better = out^1<<s.rank[i], true
			}
		}
	}
	s.tryWithout(0)
}

// spread turns a set of ranks into a set of sellers.
func (s *Search) spread(set uint32) uint32 {
	var out uint32
	for ; set != 0; set &= set - 1 {
		out |= 1 << s.rank[bits.TrailingZeros32(set)]
	}
	return out
}

func (s *Search) tryWithout(out uint32) {
	pick := make([]int, len(s.groups))
	for i := range s.groups {
		k := firstAvoiding(s.groups[i].options, 0, out)
		if k < 0 {
			return
		}
		pick[i] = k
	}
	s.offer(pick)
}

// firstAvoiding returns the first option from k on that uses none of the
// closed sellers, below zero if there is none.
func firstAvoiding(os []option, k int, out uint32) int {
	for ; k < len(os); k++ {
		if os[k].mask&out == 0 {
			return k
		}
	}
	return -1
}
