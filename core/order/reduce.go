package order

import (
	"fmt"
	"slices"
)

// A reduction is a market brought down to what its search needs: groups of
// needs with the options no other betters. It serves every search with the
// same arrival limit.
type reduction struct {
	market *Market
	factor []int64 // by seller, in units of 10^-places
	places int
	lim    Limits // Days as they were asked; Score up to which it counts

	groups  []group
	options []option // of all groups
	parts   []part   // goods of all options
	packs   []int32  // of all options: offers by need of the group
	wants   []int32  // of all groups
	why     string   // why there is no order
	huge    bool     // offers past reckoning were left out
}

// serves reports whether the reduction holds under other limits.
func (r *reduction) serves(lim Limits) bool {
	return r.lim.HasDays == lim.HasDays && (!lim.HasDays || r.lim.Days == lim.Days) && lim.Score <= r.lim.Score
}

// fit is one offer a need may take, with what it costs there alone; below
// zero is the pack of one that is left out.
type fit struct {
	pack, score int32
	cost        int64
}

// span is a part of a longer list.
type span struct{ from, to int32 }

// builder reduces a market.
type builder struct {
	*reduction
	fits   []fit
	of     []span  // by need: its fits
	users  []int32 // needs of all offers
	by     []span  // by offer: its users
	pooled []bool  // by offer: what its users ask does not simply add up
	sums   [4][]int64
	room   rooms
	ways   int
}

// mostSums is how many totals of pieces are looked at; offers with more are
// kept as they are.
const mostSums = 512

// pastReckoning is a cost that no sum is sure to hold.
const pastReckoning = int64(1) << 54

// reduce brings a market down to groups with at most so many ways to be
// served; needs that have more are looked at one by one.
func reduce(m *Market, lim Limits, ways int) *reduction {
	r := &reduction{market: m, lim: lim}
	r.scale()
	b := &builder{reduction: r, ways: ways}
	b.usable()
	if r.why != "" {
		return r
	}
	b.count()
	b.keepCheapest()
	if b.anyPooled() {
		b.dropDearer()
		b.dropBeaten()
		b.count()
		b.keepCheapest()
	}
	b.group()
	return r
}

// scale brings all factors to whole numbers of one unit.
func (r *reduction) scale() {
	for _, x := range r.market.Sellers {
		r.places = max(r.places, x.Factor.Places)
	}
	r.factor = make([]int64, len(r.market.Sellers))
	for i, x := range r.market.Sellers {
		f := x.Factor
		if f == (Factor{}) {
			f.Digits = 1
		}
		for k := f.Places; k < r.places; k++ {
			f.Digits *= 10
		}
		r.factor[i] = f.Digits
	}
}

// late reports whether an offer comes too late; a lead that is not stated is
// never in time.
func (l Limits) late(p *Pack) bool { return l.HasDays && (p.Days < 0 || p.Days > l.Days) }

// usable lists the offers that can serve a need alone and in time, and tells
// of needs that have none.
func (b *builder) usable() {
	n := 0
	for i := range b.market.Wants {
		n += len(b.market.Wants[i].Fits)
	}
	b.fits = make([]fit, 0, n)
	b.of = make([]span, len(b.market.Wants))
	seen := make([]int32, len(b.market.Packs)) // by offer: its place in the fits, plus one
	for i := range b.market.Wants {
		w := &b.market.Wants[i]
		from := len(b.fits)
		late, huge := 0, false
		for _, f := range w.Fits {
			p := &b.market.Packs[f.Pack]
			c, _ := p.Cost(w.Pieces)
			switch have := int(seen[f.Pack]) - 1; {
			case have >= from:
				b.fits[have].score = max(b.fits[have].score, int32(f.Score))
			case c == Never:
			case b.lim.late(p):
				late++
			case c > pastReckoning/max(1, b.factor[p.Seller]):
				huge = true
			default:
				b.fits = append(b.fits, fit{int32(f.Pack), int32(f.Score), c})
				seen[f.Pack] = int32(len(b.fits))
			}
		}
		b.of[i] = span{int32(from), int32(len(b.fits))}
		b.huge = b.huge || huge
		if from == len(b.fits) {
			b.tell(b.unserved(w, late, huge))
		}
	}
}

// unserved says why nothing serves a need.
func (b *builder) unserved(w *Want, late int, huge bool) string {
	switch {
	case len(w.Fits) == 0:
		return fmt.Sprintf("need %s: no offer fits", w.ID)
	case late > 0 && b.unstated(w):
		return fmt.Sprintf("need %s: no offer is stated to arrive in %d days", w.ID, b.lim.Days)
	case late > 0:
		return fmt.Sprintf("need %s: no offer arrives in %d days", w.ID, b.lim.Days)
	case huge:
		return fmt.Sprintf("need %s: its offers cost more than can be reckoned exactly", w.ID)
	}
	return fmt.Sprintf("need %s: no offer has %d pieces", w.ID, w.Pieces)
}

// unstated reports whether an offer for a need states no lead.
func (b *builder) unstated(w *Want) bool {
	return slices.ContainsFunc(w.Fits, func(f Fit) bool { return b.market.Packs[f.Pack].Days < 0 })
}

func (r *reduction) tell(why string) {
	if r.why != "" {
		r.why += "; "
	}
	r.why += why
}

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
