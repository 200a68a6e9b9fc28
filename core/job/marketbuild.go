package job

import (
	"fmt"

	"lugworth/core/order"
)

// marketBuilder turns plan lines into the market of an Ordering.
type marketBuilder struct {
	o     *Ordering
	trade *trade
	left  map[string]int // pieces on the shelf that no line has taken
	local []int          // place in the trade → pack of the market + 1
	shelf map[int]int    // the same of shelves
	wants map[string]int // by what may serve
}

func (b *marketBuilder) build() error {
	met := b.shelfFirst()
	for i := range b.o.takes {
		t := &b.o.takes[i]
		if !b.held(t) && met[i] < t.need.Pieces {
			b.line(i, t.need.Pieces-met[i], met[i] > 0)
		}
	}
	b.stock()
	return b.sellers()
}

// held reports whether a line is not ordered.
func (b *marketBuilder) held(t *taken) bool {
	if t.from == nil {
		return true
	}
	for _, h := range b.o.Held {
		if h.Need == t.need {
			return true
		}
	}
	return false
}

// shelfFirst gives lines the pieces of their own offer that lie on the shelf,
// in the order of the lines: nothing is cheaper than what is there already.
func (b *marketBuilder) shelfFirst() map[int]int {
	met := map[int]int{}
	for i := range b.o.takes {
		t := &b.o.takes[i]
		k := offerKey(t.need.List, t.need.Number)
		if n := min(b.left[k], t.need.Pieces); n > 0 && !b.held(t) {
			met[i], b.left[k] = n, b.left[k]-n
		}
	}
	return met
}

// line adds a plan line. A line partly met from the shelf is completed with
// the same part.
func (b *marketBuilder) line(i, pieces int, begun bool) {
	t := &b.o.takes[i]
	f := b.trade.fitting(b.o.result, t)
	if begun && len(f.fits) > 1 {
		f = &fitting{fits: f.fits[:1], least: f.least}
		f.name()
	} else if len(b.left) > 0 {
		f = b.shelved(f, pieces)
	}
	b.want(i, pieces, f)
}

// shelved adds the shelf wherever it holds enough of an offer.
func (b *marketBuilder) shelved(f *fitting, pieces int) *fitting {
	out := &fitting{least: f.least, key: f.key}
	for _, x := range f.fits {
		out.fits = append(out.fits, x)
		if o := b.trade.offers[x.Pack].offer; b.left[offerKey(o.List, o.Number)] >= pieces {
			out.fits = append(out.fits, order.Fit{Pack: -1 - x.Pack, Score: x.Score})
			out.key += fmt.Sprint(" ", x.Pack)
			out.least = 0 // the shelf is scarce: never put lines together on it
		}
	}
	return out
}

// want adds the line to the need that names the same offers with the same
// scores, else makes a need of it. Lines are not put together where a stated
// stock may not hold for both.
func (b *marketBuilder) want(i, pieces int, f *fitting) {
	o, t := b.o, &b.o.takes[i]
	w, known := b.wants[f.key]
	if known && (f.least < 0 || o.Market.Wants[w].Pieces+pieces <= f.least) {
		b.score(&o.Market.Wants[w], f)
	} else {
		w = len(o.Market.Wants)
		b.wants[f.key] = w
		o.Market.Wants = append(o.Market.Wants, order.Want{ID: t.need.Option + " " + t.part, Fits: b.fits(f)})
		o.Wants = append(o.Wants, Wanted{Named: t.line.Chosen.Named})
		o.planned = append(o.planned, o.Market.Wants[w].Fits[0].Pack)
	}
	o.Market.Wants[w].Pieces += pieces
	o.Wants[w].takes = append(o.Wants[w].takes, i)
	o.Wants[w].Lines = append(o.Wants[w].Lines, Served{Option: t.need.Option, Finding: t.need.Finding, Part: t.part, Say: t.need.Say, Pieces: pieces})
}

// score adds the scores of a further line to a need.
func (b *marketBuilder) score(w *order.Want, f *fitting) {
	for k := range w.Fits {
		w.Fits[k].Score += f.fits[k].Score
	}
}

// fits numbers the offers of a line as the market does.
func (b *marketBuilder) fits(f *fitting) []order.Fit {
	out := make([]order.Fit, len(f.fits))
	for k, x := range f.fits {
		out[k] = order.Fit{Pack: b.pack(x.Pack), Score: x.Score}
	}
	return out
}

// pack returns the market's number of a place in the trade. Its seller comes
// later.
func (b *marketBuilder) pack(place int) int {
	if place < 0 {
		return b.shelfPack(-1 - place)
	}
	for len(b.local) <= place {
		b.local = append(b.local, make([]int, len(b.trade.offers)-len(b.local))...)
	}
	if b.local[place] == 0 {
		x := &b.trade.offers[place]
		b.local[place] = b.add(x.pack, Sold{Offer: x.offer}) + 1
	}
	return b.local[place] - 1
}

// shelfPack is the shop's own pieces of an offer: no price, no lead.
func (b *marketBuilder) shelfPack(place int) int {
	at, ok := b.shelf[place]
	if !ok {
		x := &b.trade.offers[place]
		at = b.add(order.Pack{ID: order.ShopStock + " " + x.pack.ID, Pieces: 1, Stock: b.left[offerKey(x.offer.List, x.offer.Number)], Prices: []order.Break{{From: 1}}},
			Sold{Offer: x.offer, Shelf: true})
		b.shelf[place] = at
	}
	return at
}

func (b *marketBuilder) add(p order.Pack, s Sold) int {
	b.o.Market.Packs, b.o.Offers = append(b.o.Market.Packs, p), append(b.o.Offers, s)
	return len(b.o.Offers) - 1
}

// stock lifts the stated stock of an offer that is all a need may take and
// does not reach: the plan orders it all the same, and that is said.
func (b *marketBuilder) stock() {
	m := &b.o.Market
	asked := make([]int, len(m.Packs))
	for _, w := range m.Wants {
		if len(w.Fits) == 1 || !b.served(w) {
			asked[w.Fits[0].Pack] += w.Pieces
		}
	}
	for p, n := range asked {
		if x := &m.Packs[p]; x.Stock >= 0 && n > x.Stock*x.Pieces {
			b.o.Assumed = append(b.o.Assumed, fmt.Sprintf("%s: the supplier states %d in stock, %d pieces are needed and nothing else serves: ordered all the same", x.ID, x.Stock*x.Pieces, n))
			x.Stock = -1
		}
	}
}

// served reports whether some offer alone has the pieces of a need.
func (b *marketBuilder) served(w order.Want) bool {
	for _, f := range w.Fits {
		if p := &b.o.Market.Packs[f.Pack]; p.Stock < 0 || p.Stock*p.Pieces >= w.Pieces {
			return true
		}
	}
	return false
}
