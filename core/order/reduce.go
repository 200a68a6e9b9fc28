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
