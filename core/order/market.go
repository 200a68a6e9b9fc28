package order

import (
	"errors"
	"fmt"
	"math"
)

// A Market is everything an order may be made of: who sells what in which
// packs, and what is wanted. Amounts are whole minor units of one home
// currency before the supplier's factor.
type Market struct {
	Sellers []Seller
	Packs   []Pack
	Wants   []Want
}

// A Seller is one supplier: the least goods it sends, its carriage, and what
// a minor unit of its prices costs the shop.
type Seller struct {
	ID       string
	MinGoods int64
	Carriage []Fee // rising From; empty = nothing is charged
	Factor   Factor
}

// A Fee is what carriage costs from these goods on.
type Fee struct{ From, Fee int64 }

// A Factor is an exact decimal: exchange rate times one plus the tax that is
// not reclaimed. The zero Factor is one.
type Factor struct {
	Digits int64 // 12 for 1.2 with one place
	Places int
}

// A Pack is one offer of a seller. Needs that take the same one pool their
// pieces.
type Pack struct {
	ID     string
	Seller int
	Pieces int // in a pack
	Least  int // packs on a line
	Stock  int // packs there are; below zero = not stated
	Days   int // lead; below zero = not stated, which is in time for no limit
	Prices []Break
}

// A Break says what a pack costs from so many packs on; it holds for all of
// them.
type Break struct {
	From  int
	Price int64
}

// A Want is pieces of one part, all of one offer.
type Want struct {
	ID     string
	Pieces int
	Fits   []Fit
}

// A Fit is an offer that may serve, and how original it is.
type Fit struct {
	Pack  int
	Score int
}

// Limits bound an order. The zero Limits bound nothing.
type Limits struct {
	Parcels int // at most; 0 = any
	Days    int // longest lead; 0 with HasDays unset = any
	HasDays bool
	Score   int // at least, in all
}

// Never is the cost of what cannot be had.
const Never = math.MaxInt64

// Cost returns what q pieces cost before the factor, and how many packs:
//
//	least y · price(y) over whole y with pieces·y ≥ q, least ≤ y ≤ stock
//
// Within one price row the fewest packs are cheapest, so only the fewest that
// serve and the starts of dearer rows need be tried.
func (p *Pack) Cost(q int) (cost int64, packs int) {
	cost = Never
	if q <= 0 {
		return 0, 0
	}
	fewest := max((q+p.Pieces-1)/p.Pieces, p.Least, 1)
	for i, b := range p.Prices {
		y := max(fewest, b.From)
		if p.Stock >= 0 && y > p.Stock || i+1 < len(p.Prices) && y >= p.Prices[i+1].From {
			continue
		}
		if b.Price > 0 && int64(y) > pastReckoning*64/b.Price { // not in 64 bits: as good as not had
			continue
		}
		if c := int64(y) * b.Price; c < cost {
			cost, packs = c, y
		}
	}
	return cost, packs
}

// Landed returns what goods cost before the factor with carriage, the row of
// carriage that applies (-1 where there is none) and the top-up:
//
//	least over rows k of x + fee k, x = max(goods, from k, least goods), x < from k+1
func (s *Seller) Landed(goods int64) (cost int64, row int, topUp int64) {
	if goods <= 0 {
		return 0, -1, 0
	}
	if len(s.Carriage) == 0 {
		x := max(goods, s.MinGoods)
		return x, -1, x - goods
	}
	cost, row = Never, -1
	for k, f := range s.Carriage {
		x := max(goods, f.From, s.MinGoods)
		if k+1 < len(s.Carriage) && x >= s.Carriage[k+1].From {
			continue
		}
		if c := x + f.Fee; c < cost {
			cost, row, topUp = c, k, x-goods
		}
	}
	return cost, row, topUp
}

// What no order of parts comes near; past it sums would leave 64 bits.
const (
	mostMoney  = int64(1e12)
	mostPieces = 10_000_000
	mostPacks  = 10_000_000
	mostFactor = int64(1e13)
	mostPlaces = 9
	mostScore  = 100_000
)

// check tells of everything in a market that has no meaning.
func (m *Market) check() error {
	c := checker{m: m}
	places := 0
	for i := range m.Sellers {
		places = max(places, min(m.Sellers[i].Factor.Places, mostPlaces))
	}
	for i := range m.Sellers {
		c.seller(&m.Sellers[i], places)
	}
	for i := range m.Packs {
		c.pack(&m.Packs[i])
	}
	pieces := 0
	for i := range m.Wants {
		c.want(&m.Wants[i])
		pieces += min(max(m.Wants[i].Pieces, 0), mostPieces)
	}
	if pieces > math.MaxInt32 {
		c.say("%d pieces in all: too many to be meant", pieces)
	}
	return errors.Join(c.bad...)
}

type checker struct {
	m   *Market
	bad []error
}

func (c *checker) say(format string, args ...any) { c.bad = append(c.bad, fmt.Errorf(format, args...)) }

func (c *checker) seller(s *Seller, places int) {
	f := s.Factor
	if f != (Factor{}) && f.Digits <= 0 || f.Places < 0 || f.Places > mostPlaces || s.MinGoods < 0 || s.MinGoods > mostMoney {
		c.say("supplier %s: factor and least goods must be above zero, the factor of %d places at most", s.ID, mostPlaces)
	}
	for k := max(f.Places, 0); k < places && f.Digits <= mostFactor; k++ {
		f.Digits *= 10
	}
	if f.Digits > mostFactor {
		c.say("supplier %s: the factor is too long to be reckoned exactly", s.ID)
	}
	for k, f := range s.Carriage {
		if f.Fee > mostMoney || f.From > mostMoney {
			c.say("supplier %s: carriage row %d: too large to be meant", s.ID, k+1)
		}
		if f.Fee < 0 || f.From < 0 || k > 0 && f.From <= s.Carriage[k-1].From {
			c.say("supplier %s: carriage row %d: rows must rise and cost nothing below zero", s.ID, k+1)
		}
	}
}

func (c *checker) pack(p *Pack) {
	if p.Seller < 0 || p.Seller >= len(c.m.Sellers) {
		c.say("offer %s: there is no such supplier", p.ID)
	}
	if p.Pieces > mostPieces || p.Least > mostPacks {
		c.say("offer %s: packs of %d pieces, at least %d packs: too large to be meant", p.ID, p.Pieces, p.Least)
	}
	if p.Pieces < 1 || p.Least < 0 {
		c.say("offer %s: packs of %d pieces, at least %d packs", p.ID, p.Pieces, p.Least)
	}
	if len(p.Prices) == 0 {
		c.say("offer %s has no price", p.ID)
	}
	for k, b := range p.Prices {
		if b.Price > mostMoney || b.From > mostPacks {
			c.say("offer %s: price row %d: too large to be meant", p.ID, k+1)
		}
		if b.Price < 0 || b.From < 0 || k > 0 && b.From <= p.Prices[k-1].From {
			c.say("offer %s: price row %d: rows must rise and cost nothing below zero", p.ID, k+1)
		}
	}
}

func (c *checker) want(w *Want) {
	if w.Pieces < 1 || w.Pieces > mostPieces {
		c.say("need %s: %d pieces", w.ID, w.Pieces)
	}
	for _, f := range w.Fits {
		if f.Score < 0 || f.Score > mostScore {
			c.say("need %s: score %d", w.ID, f.Score)
		}
		if f.Pack < 0 || f.Pack >= len(c.m.Packs) {
			c.say("need %s: there is no such offer", w.ID)
		}
	}
}
