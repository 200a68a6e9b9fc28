package order

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// An Answer is the best order found so far and what is proven of it.
type Answer struct {
	Feasible bool
	Why      string // why there is no order, or none is known yet
	Proven   bool
	Places   int   // Cost and Lower are counts of 10^-Places of a minor unit
	Cost     int64 // of the order
	Lower    int64 // no order costs less
	Parcels  int   // sellers that are paid for goods
	Days     int   // longest lead; below zero where one is not stated
	Score    int
	Plan     []int // by need: the offer it takes
	Packs    []int // by offer
	Baskets  []Priced
}

// A Priced is what is bought at one seller.
type Priced struct {
	Seller int
	Goods  int64 // minor units before the factor
	Row    int   // of carriage, -1 where nothing is charged
	TopUp  int64 // spares that make a cheaper row apply; money spent, shown as such
	Landed int64 // with carriage and factor, 10^-Places
}

// Answer returns what is known now.
func (s *Search) Answer() Answer {
	a := Answer{Places: s.places, Proven: s.Proven()}
	switch {
	case s.why != "":
		a.Why = s.why
		return a
	case s.best > s.limit || s.best == Never:
		a.Why, a.Lower = s.unmet(a.Proven), 0
		if low := s.open(); low != Never && !a.Proven {
			a.Lower = low
		}
		return a
	}
	a.Feasible, a.Cost, a.Lower = true, s.best, s.best
	if !a.Proven {
		a.Lower = s.lower()
	}
	s.fill(&a)
	return a
}

// fill writes out the picks.
func (s *Search) fill(a *Answer) {
	a.Plan = make([]int, len(s.market.Wants))
	a.Packs = make([]int, len(s.market.Packs))
	pieces := make([]int, len(s.market.Packs))
	goods := make([]int64, len(s.market.Sellers))
	var used uint32
	for i, k := range s.pick {
		g := &s.groups[i]
		packs := s.packsOf(g, &s.options[k])
		for j, w := range s.wantsOf(g) {
			p := int(packs[j])
			a.Plan[w] = p
			a.Score += bestScore(s.market.Wants[w].Fits, p)
			pieces[p] += s.market.Wants[w].Pieces
		}
	}
	for p, q := range pieces {
		if q == 0 {
			continue
		}
		x := &s.market.Packs[p]
		cost, packs := x.Cost(q)
		a.Packs[p] = packs
		goods[x.Seller] += cost
		used |= 1 << x.Seller
		if x.Days < 0 || a.Days < 0 {
			a.Days = -1
		} else {
			a.Days = max(a.Days, x.Days)
		}
	}
	for ; used != 0; used &= used - 1 {
		x := bits.TrailingZeros32(used)
		b := Priced{Seller: x, Goods: goods[x]}
		b.Landed, b.Row, b.TopUp = s.market.Sellers[x].Landed(goods[x])
		b.Landed *= s.factor[x]
		a.Baskets = append(a.Baskets, b)
		if b.Goods > 0 {
			a.Parcels++
		}
	}
}

// unmet says why no order is known: what was asked for.
func (s *Search) unmet(proven bool) string {
	var asked []string
	add := func(is bool, format string, args ...any) {
		if is {
			asked = append(asked, fmt.Sprintf(format, args...))
		}
	}
	add(s.lim.Parcels > 0, "at most %d parcels", s.lim.Parcels)
	add(s.lim.HasDays, "arrival in %d days", s.lim.Days)
	add(s.lim.Score > 0, "a score of at least %d (%d is the most there is)", s.lim.Score, s.mostScore())
	add(s.limit < Never, "a cost of at most %s", Exact(s.limit, s.places))
	if len(asked) == 0 {
		return "the needs cannot all be served together: their offers run out of stock" + s.unsure()
	}
	if !proven {
		return "no order found yet with " + strings.Join(asked, ", ")
	}
	return "there is no order with " + strings.Join(asked, ", ") + s.unsure()
}

// unsure tells of offers that were left out.
func (s *Search) unsure() string {
	if s.huge {
		return "; offers that cost more than can be reckoned exactly were left out"
	}
	return ""
}

// mostScore is the most the needs could score with offers that come in time.
func (s *Search) mostScore() int {
	sum := 0
	for i := range s.market.Wants {
		w, best := &s.market.Wants[i], 0
		for _, f := range w.Fits {
			p := &s.market.Packs[f.Pack]
			if c, _ := p.Cost(w.Pieces); c != Never && !s.reduction.lim.late(p) {
				best = max(best, f.Score)
			}
		}
		sum += best
	}
	return sum
}

// bestScore is the score of a need in an offer, the best where it is listed
// more than once.
func bestScore(fits []Fit, pack int) int {
	best, found := 0, false
	for _, f := range fits {
		if f.Pack == pack && (!found || f.Score > best) {
			best, found = f.Score, true
		}
	}
	return best
}

// Exact writes an amount of 10^-places minor units as an exact decimal of a
// minor unit: 125 of one place is "12.5".
func Exact(v int64, places int) string {
	neg := v < 0
	if neg {
		v = -v
	}
	d := strconv.FormatInt(v, 10)
	if places > 0 {
		d = strings.Repeat("0", max(0, places+1-len(d))) + d
		whole, part := d[:len(d)-places], strings.TrimRight(d[len(d)-places:], "0")
		d = whole
		if part != "" {
			d += "." + part
		}
	}
	if neg {
		d = "-" + d
	}
	return d
}
