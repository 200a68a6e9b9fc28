package order

import "slices"

// count lists the users of each offer and finds which offers pool.
func (b *builder) count() {
	if b.by == nil {
		b.by = make([]span, len(b.market.Packs))
		b.pooled = make([]bool, len(b.market.Packs))
		b.users = make([]int32, len(b.fits))
	}
	clear(b.by)
	for i := range b.fits {
		if p := b.fits[i].pack; p >= 0 {
			b.by[p].to++
		}
	}
	at := int32(0)
	for p := range b.by {
		n := b.by[p].to
		b.by[p] = span{at, at}
		at += n
	}
	for w, s := range b.of {
		for _, f := range b.fits[s.from:s.to] {
			if f.pack >= 0 {
				b.users[b.by[f.pack].to] = int32(w)
				b.by[f.pack].to++
			}
		}
	}
	for p := range b.by {
		b.pooled[p] = len(b.usersOf(p)) > 1 && !b.additive(p)
	}
}

func (b *builder) usersOf(pack int) []int32 { return b.users[b.by[pack].from:b.by[pack].to] }

func (b *builder) anyPooled() bool { return slices.Contains(b.pooled, true) }

// pieces is how many a need wants.
func (b *builder) pieces(want int32) int64 { return int64(b.market.Wants[want].Pieces) }

// price is what so many pieces of an offer cost.
func (b *builder) price(pack int, pieces int64) int64 {
	c, _ := b.market.Packs[pack].Cost(int(pieces))
	return c
}

// additive reports whether the users of an offer pay the same together as
// apart, whoever of them takes it.
func (b *builder) additive(pack int) bool {
	total := int64(0)
	for _, w := range b.usersOf(pack) {
		total += b.pieces(w)
	}
	if b.market.Packs[pack].straight(total) {
		return true
	}
	sums := append(b.sums[0][:0], 0)
	other := b.sums[1]
	for _, w := range b.usersOf(pack) {
		q := b.pieces(w)
		alone := b.price(pack, q)
		for _, s := range sums {
			if both := b.price(pack, s+q); both == Never || both != b.price(pack, s)+alone {
				b.sums[0], b.sums[1] = sums, other
				return false
			}
		}
		sums, other = withMore(other[:0], sums, q), sums
		if len(sums) > mostSums {
			b.sums[0], b.sums[1] = sums, other
			return false
		}
	}
	b.sums[0], b.sums[1] = sums, other
	return true
}

// straight reports whether every count of pieces up to a total costs the
// count times the price of one.
func (p *Pack) straight(total int64) bool {
	if p.Pieces != 1 || p.Least > 1 || p.Prices[0].From > 1 || p.Stock >= 0 && int64(p.Stock) < total {
		return false
	}
	one := p.Prices[0].Price
	for _, b := range p.Prices[1:] {
		if int64(b.From) <= total && b.Price != one {
			return false
		}
		if int64(b.From) > total && int64(b.From)*b.Price < total*one {
			return false
		}
	}
	return true
}

// withMore adds to rising totals the same totals with q more.
func withMore(out, sums []int64, q int64) []int64 {
	i := 0
	for _, s := range sums {
		for i < len(sums) && sums[i]+q < s {
			out = append(out, sums[i]+q)
			i++
		}
		if i < len(sums) && sums[i]+q == s {
			i++
		}
		out = append(out, s)
	}
	for ; i < len(sums); i++ {
		out = append(out, sums[i]+q)
	}
	return out
}
