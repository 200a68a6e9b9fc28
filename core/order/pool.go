package order

import (
	"cmp"
	"slices"
)

// A way serves the first needs of a group.
type way struct {
	base   int64
	mask   uint32
	score  int32
	parent int32 // the way it goes on from
	pack   int32 // the offer its last need takes
	row    int32 // of the goods and pieces asked
}

// rooms is room for ways, used again and again.
type rooms struct {
	stages [][]way
	goods  [2][]int64 // by row and seller
	asked  [2][]int32 // by row and shared offer
	shared []int32    // offers that several needs of the group may take
	last   []int32    // the last of those needs
}

// tooMany is how many ways to serve one group are listed; beyond, its needs
// are looked at one by one.
const tooMany = 600

// enumerate lists the options of a group, need by need. An offer's cost is
// added once the last need that could take it is past; until then two ways
// compare only where one asks no more of any shared offer. It reports false
// where there are too many.
func (b *builder) enumerate(g *group) bool {
	wants := b.wantsOf(g)
	b.shareOf(wants)
	r := &b.room
	sellers, shared := len(b.factor), len(r.shared)
	for len(r.stages) < len(wants) {
		r.stages = append(r.stages, nil)
	}
	from := []way{{parent: -1}}
	r.goods[0] = append(r.goods[0][:0], make([]int64, sellers)...)
	r.asked[0] = append(r.asked[0][:0], make([]int32, shared)...)
	for at, w := range wants {
		to := r.stages[at][:0]
		r.goods[1], r.asked[1] = r.goods[1][:0], r.asked[1][:0]
		for i := range from {
			for _, f := range b.fits[b.of[w].from:b.of[w].to] {
				if f.pack >= 0 {
					to = b.take(to, &from[i], int32(i), w, &f)
				}
			}
			if len(to) > 4*b.ways {
				return false
			}
		}
		to = b.settle(to, int32(at))
		to = b.thin(to, at+1 == len(wants))
		if r.stages[at] = to; len(to) > b.ways {
			return false
		}
		r.goods[0], r.goods[1] = r.goods[1], r.goods[0]
		r.asked[0], r.asked[1] = r.asked[1], r.asked[0]
		from = to
	}
	for i := range from {
		b.keep(len(wants), int32(i))
	}
	return true
}

// shareOf lists the shared offers of a group with their last needs.
func (b *builder) shareOf(wants []int32) {
	r := &b.room
	r.shared, r.last = r.shared[:0], r.last[:0]
	for at, w := range wants {
		for _, f := range b.fits[b.of[w].from:b.of[w].to] {
			if f.pack < 0 || !b.pooled[f.pack] {
				continue
			}
			if k := slices.Index(r.shared, f.pack); k >= 0 {
				r.last[k] = int32(at)
			} else {
				r.shared, r.last = append(r.shared, f.pack), append(r.last, int32(at))
			}
		}
	}
}

// take serves one more need.
func (b *builder) take(to []way, from *way, parent, w int32, f *fit) []way {
	r := &b.room
	sellers, shared := len(b.factor), len(r.shared)
	x := *from
	x.parent, x.pack, x.row = parent, f.pack, int32(len(to))
	x.score = b.counted(x.score + f.score)
	r.goods[1] = append(r.goods[1], r.goods[0][int(from.row)*sellers:(int(from.row)+1)*sellers]...)
	r.asked[1] = append(r.asked[1], r.asked[0][int(from.row)*shared:(int(from.row)+1)*shared]...)
	if b.pooled[f.pack] {
		k := slices.Index(r.shared, f.pack)
		r.asked[1][int(x.row)*shared+k] += int32(b.pieces(w))
	} else {
		b.buy(&x, int(f.pack), f.cost)
	}
	return append(to, x)
}

// buy adds goods to a way.
func (b *builder) buy(x *way, pack int, cost int64) {
	if cost == 0 {
		return
	}
	s := b.market.Packs[pack].Seller
	b.room.goods[1][int(x.row)*len(b.factor)+s] += cost
	x.base += cost * b.factor[s]
	x.mask |= 1 << s
}

// settle buys the shared offers that no later need can take.
func (b *builder) settle(ways []way, at int32) []way {
	r := &b.room
	kept := ways[:0]
	for _, x := range ways {
		asked := r.asked[1][int(x.row)*len(r.shared):][:len(r.shared)]
		ok := true
		for k, p := range r.shared {
			if r.last[k] != at || asked[k] == 0 {
				continue
			}
			cost := b.price(int(p), int64(asked[k]))
			if cost > pastReckoning/max(1, b.factor[b.market.Packs[p].Seller]) {
				b.huge = b.huge || cost != Never
				ok = false
				break
			}
			b.buy(&x, int(p), cost)
			asked[k] = 0
		}
		if ok {
			kept = append(kept, x)
		}
	}
	return kept
}

// near is how many kept ways that ask otherwise one is held against.
const near = 100

// thin drops a way that a kept one betters: its goods are no more, its score
// no less, and it asks no more of any shared offer, whose cost never falls
// with the pieces asked. At the end all kept ways are looked at, so that only
// options no other betters are left.
func (b *builder) thin(ways []way, end bool) []way {
	slices.SortFunc(ways, func(x, y way) int {
		if x.base != y.base {
			return cmp.Compare(x.base, y.base)
		}
		return cmp.Or(cmp.Compare(y.score, x.score), cmp.Compare(b.asks(&x), b.asks(&y)), cmp.Compare(x.row, y.row))
	})
	kept := ways[:0]
next:
	for _, x := range ways {
		n := len(kept)
		for k := range n {
			if !end && k == near && n > 2*near {
				break
			}
			if b.betters(&kept[k], &x) {
				continue next
			}
		}
		if !end && n > 2*near {
			for k := n - near; k < n; k++ {
				if b.betters(&kept[k], &x) {
					continue next
				}
			}
		}
		kept = append(kept, x)
	}
	return kept
}

// asks is the pieces a way asks of shared offers, in all.
func (b *builder) asks(x *way) int32 {
	sum, n := int32(0), len(b.room.shared)
	for _, a := range b.room.asked[1][int(x.row)*n:][:n] {
		sum += a
	}
	return sum
}

func (b *builder) betters(a, x *way) bool {
	if a.mask&^x.mask != 0 || a.score < x.score {
		return false
	}
	n, sellers := len(b.room.shared), len(b.factor)
	by, asks := b.room.asked[1][int(a.row)*n:][:n], b.room.asked[1][int(x.row)*n:][:n]
	for i, v := range by {
		if v > asks[i] {
			return false
		}
	}
	own, goods := b.room.goods[1][int(a.row)*sellers:][:sellers], b.room.goods[1][int(x.row)*sellers:][:sellers]
	for i, v := range own {
		if v > goods[i] {
			return false
		}
	}
	return true
}

// keep writes a full way down as an option.
func (b *builder) keep(needs int, at int32) {
	r := &b.room
	x := &r.stages[needs-1][at]
	o := option{base: x.base, mask: x.mask, score: x.score, first: int32(len(b.parts)), packs: int32(len(b.packs))}
	for s, g := range r.goods[0][int(x.row)*len(b.factor):][:len(b.factor)] {
		if g > 0 {
			b.parts = append(b.parts, part{int32(s), g})
		}
	}
	o.past = int32(len(b.parts))
	b.packs = append(b.packs, make([]int32, needs)...)
	own := b.packs[o.packs:]
	for k := needs - 1; k >= 0; k-- {
		x := &r.stages[k][at]
		own[k], at = x.pack, x.parent
	}
	b.options = append(b.options, o)
}
