package order

import (
	"math/bits"

	"lugworth/core/sorted"
)

// Needs that share offers in too many ways to be listed are looked at one by
// one: each option then says what its need adds at least, whoever else takes
// the offer. An order is still priced by what is truly asked of each offer,
// so bounds stay true and the search goes on until every need is decided.

// loosen makes a group of each need.
func (b *builder) loosen(g *group) {
	for i := g.wants.from; i < g.wants.to; i++ {
		own := group{wants: span{i, i + 1}, loose: true}
		own.options.from = int32(len(b.options))
		w := b.wants[i]
		for _, f := range b.fits[b.of[w].from:b.of[w].to] {
			if f.pack >= 0 {
				f.cost = b.share(w, &f)
				b.one(&f)
			}
		}
		own.options.to = int32(len(b.options))
		sorted.By(b.optionsOf(&own), cheapest)
		b.groups = append(b.groups, own)
	}
}

// share is the least part a need can have in what an offer costs: its pieces
// times the least cost of a piece at any count that can be asked for. The
// shares of all needs in an offer never come to more than its cost.
func (b *builder) share(w int32, f *fit) int64 {
	if !b.pooled[f.pack] {
		return f.cost
	}
	pack, q := int(f.pack), b.pieces(w)
	sums, known := b.totals(0, pack, w)
	least := int64(Never)
	if !known {
		p := &b.market.Packs[pack]
		for _, x := range p.Prices {
			least = min(least, share(q, x.Price, int64(p.Pieces)))
		}
		return least
	}
	for _, s := range sums {
		if c := b.price(pack, s+q); c != Never {
			least = min(least, share(q, c, s+q))
		}
	}
	return least
}

// share is q · cost / of, rounded down.
func share(q, cost, of int64) int64 {
	hi, lo := bits.Mul64(uint64(q), uint64(cost))
	if hi >= uint64(of) {
		return Never
	}
	v, _ := bits.Div64(hi, lo, uint64(of))
	return int64(min(v, uint64(pastReckoning)))
}

// pool adds what the loose needs of a pick cost together to the goods of each
// seller; false where an offer has not so many pieces.
func (s *Search) pool(pick []int32) bool {
	x := &s.spare
	if x.asked == nil {
		x.asked = make([]int, len(s.market.Packs))
	}
	x.asking = x.asking[:0]
	for i, k := range pick {
		if g := &s.groups[i]; g.loose {
			p := s.packs[s.options[k].packs]
			if x.asked[p] == 0 {
				x.asking = append(x.asking, p)
			}
			x.asked[p] += s.market.Wants[s.wants[g.wants.from]].Pieces
		}
	}
	ok := true
	for _, p := range x.asking {
		pack := &s.market.Packs[p]
		if ok {
			c, _ := pack.Cost(x.asked[p])
			ok = c <= pastReckoning/s.factor[pack.Seller]
			x.goods[pack.Seller] += c
		}
		x.asked[p] = 0
	}
	return ok
}
