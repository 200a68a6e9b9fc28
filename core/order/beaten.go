package order

// What is left out of a market before it is searched. At one seller an offer
// betters another for a need when moving the need there never makes the goods
// dearer: the cost of a seller never falls with its goods, so an order with
// the other offer can be no cheaper.

// keepCheapest leaves each need, of the offers that do not pool, the cheapest
// at every seller; where score counts, also dearer ones that score more.
func (b *builder) keepCheapest() {
	for _, s := range b.of {
		fits := b.fits[s.from:s.to]
		if b.lim.Score == 0 {
			b.keepOne(fits)
			continue
		}
		for i := range fits {
			if f := &fits[i]; f.pack >= 0 && !b.pooled[f.pack] && b.cheaper(fits, i) {
				f.pack = -1
			}
		}
	}
}

// keepOne leaves a need the cheapest offer at every seller.
func (b *builder) keepOne(fits []fit) {
	var best [mostSellers]*fit
	for i := range fits {
		f := &fits[i]
		if f.pack < 0 || b.pooled[f.pack] {
			continue
		}
		have := &best[b.market.Packs[f.pack].Seller]
		switch {
		case *have == nil:
			*have = f
		case f.cost < (*have).cost:
			(*have).pack = -1
			*have = f
		default:
			f.pack = -1
		}
	}
}

// cheaper reports whether another fit of the same seller costs no more.
func (b *builder) cheaper(fits []fit, i int) bool {
	f := &fits[i]
	seller := b.market.Packs[f.pack].Seller
	for k := range fits {
		o := &fits[k]
		if k == i || o.pack < 0 || b.market.Packs[o.pack].Seller != seller || b.pooled[o.pack] || !b.noLess(o, f) {
			continue
		}
		if o.cost < f.cost || o.cost == f.cost && (k < i || !b.noLess(f, o)) {
			return true
		}
	}
	return false
}

// noLess reports whether a fit scores no less, where score counts.
func (b *builder) noLess(a, than *fit) bool {
	return b.lim.Score == 0 || min(int(a.score), b.lim.Score) >= min(int(than.score), b.lim.Score)
}

// dropDearer leaves out, for one need, an offer that costs it at its best no
// less than another of the seller at its worst, whatever else is bought of
// both.
func (b *builder) dropDearer() {
	for w, s := range b.of {
		fits := b.fits[s.from:s.to]
		least, most := b.sums[2][:0], b.sums[3][:0]
		for i := range fits {
			l, m := int64(0), int64(Never)
			if fits[i].pack >= 0 {
				l, m = b.extra(int32(w), &fits[i])
			}
			least, most = append(least, l), append(most, m)
		}
		b.sums[2], b.sums[3] = least, most
		for i := range fits {
			for k := range fits {
				if i != k && fits[i].pack >= 0 && fits[k].pack >= 0 && most[k] <= least[i] &&
					b.market.Packs[fits[i].pack].Seller == b.market.Packs[fits[k].pack].Seller && b.noLess(&fits[k], &fits[i]) {
					fits[i].pack = -1
				}
			}
		}
	}
}

// extra is the least and the most that a need adds to what an offer costs,
// whoever else takes it.
func (b *builder) extra(w int32, f *fit) (least, most int64) {
	pack := int(f.pack)
	if !b.pooled[pack] {
		return f.cost, f.cost
	}
	sums, known := b.totals(0, pack, w)
	if !known {
		return 0, Never
	}
	least, most = Never, 0
	for _, s := range sums {
		without, with := b.price(pack, s), b.price(pack, s+b.pieces(w))
		if with == Never {
			most = Never
			continue
		}
		least, most = min(least, with-without), max(most, with-without)
	}
	return least, most
}

// totals lists what the users of an offer but one could ask of it, in the
// rooms from at on; none are known where they are too many.
func (b *builder) totals(at, pack int, but int32) (sums []int64, known bool) {
	sums, other := append(b.sums[at][:0], 0), b.sums[at+1]
	for _, w := range b.usersOf(pack) {
		if w == but {
			continue
		}
		if sums, other = withMore(other[:0], sums, b.pieces(w)), sums; len(sums) > mostSums {
			return nil, false
		}
	}
	b.sums[at], b.sums[at+1] = sums, other
	return sums, true
}

// dropBeaten leaves out an offer all of whose users another one of the seller
// serves as well, no dearer for any of them together:
//
//	C_h(a + b) ≤ C_h(a) + C_f(b)
//
// Left out one at a time, by offers still kept.
func (b *builder) dropBeaten() {
	b.count()
	for w, s := range b.of {
		for i := s.from; i < s.to; i++ {
			f := b.fits[i].pack
			if f < 0 || !b.pooled[f] || b.usersOf(int(f))[0] != int32(w) {
				continue
			}
			for k := s.from; k < s.to; k++ {
				if h := b.fits[k].pack; h >= 0 && h != f && b.beats(int(h), int(f)) {
					b.remove(int(f))
					break
				}
			}
		}
	}
}

func (b *builder) remove(pack int) {
	for _, w := range b.usersOf(pack) {
		b.at(w, pack).pack = -1
	}
}

// at is the fit of a need in an offer, nil if there is none.
func (b *builder) at(w int32, pack int) *fit {
	for i := b.of[w].from; i < b.of[w].to; i++ {
		if b.fits[i].pack == int32(pack) {
			return &b.fits[i]
		}
	}
	return nil
}

func (b *builder) beats(h, f int) bool {
	if b.market.Packs[h].Seller != b.market.Packs[f].Seller {
		return false
	}
	for _, w := range b.usersOf(f) {
		if x := b.at(w, h); x == nil || !b.noLess(x, b.at(w, f)) {
			return false
		}
	}
	own, known := b.totals(0, h, -1)
	if !known {
		return false
	}
	moved, known := b.totals(2, f, -1)
	if !known || len(own)*len(moved) > 1<<14 {
		return false
	}
	top := own[len(own)-1]
	for _, m := range moved[1:] {
		apart := b.price(f, m)
		if apart == Never {
			continue
		}
		for _, o := range own {
			if o+m > top {
				break
			}
			if at := b.price(h, o); at != Never && b.price(h, o+m) > at+apart {
				return false
			}
		}
	}
	return true
}
