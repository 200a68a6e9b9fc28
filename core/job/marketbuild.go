package job

import (
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
)

// marketBuilder turns plan lines into the market of an Ordering.
type marketBuilder struct {
	o      *Ordering
	left   map[string]int // pieces on the shelf that no line has taken
	seller map[string]int
	wants  map[string]int // by what may serve
	fits   []order.Fit    // of the line at hand
	stood  originals
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
	b.fits = []order.Fit{{Pack: b.pack(t.from, false), Score: b.stood.score(t.is, t.from)}}
	if !begun {
		for _, f := range t.line.Fits() {
			if b.o.result.lead(f.Offer) {
				b.fit(t, f, pieces)
			}
		}
	}
	b.want(i, pieces)
}

// fit adds an offer to the line, and the shelf where it holds enough of it.
func (b *marketBuilder) fit(t *taken, f plan.Priced, pieces int) {
	score := b.stood.score(t.is, f.Offer)
	if b.left[offerKey(f.Offer.List, f.Offer.Number)] >= pieces {
		b.fits = append(b.fits, order.Fit{Pack: b.pack(f.Offer, true), Score: score})
	}
	b.fits = append(b.fits, order.Fit{Pack: b.pack(f.Offer, false), Score: score})
}

// want adds the line to the need that names the same offers with the same
// scores, else makes a need of it. Lines are not put together where a stated
// stock may not hold for both.
func (b *marketBuilder) want(i, pieces int) {
	o, t := b.o, &b.o.takes[i]
	k := fmt.Sprint(b.fits)
	w, known := b.wants[k]
	if !known || b.scarce(o.Market.Wants[w].Pieces+pieces) {
		w = len(o.Market.Wants)
		b.wants[k] = w
		o.Market.Wants = append(o.Market.Wants, order.Want{ID: t.need.Option + " " + t.part, Fits: b.fits})
		o.Wants = append(o.Wants, Wanted{Named: t.line.Chosen.Named})
		o.planned = append(o.planned, b.fits[0].Pack)
	} else {
		for f := range o.Market.Wants[w].Fits {
			o.Market.Wants[w].Fits[f].Score += b.fits[f].Score
		}
	}
	o.Market.Wants[w].Pieces += pieces
	o.Wants[w].takes = append(o.Wants[w].takes, i)
	o.Wants[w].Lines = append(o.Wants[w].Lines, Served{Option: t.need.Option, Finding: t.need.Finding, Part: t.part, Say: t.need.Say, Pieces: pieces})
}

// scarce reports whether some offer of the line at hand has fewer pieces.
func (b *marketBuilder) scarce(pieces int) bool {
	for _, f := range b.fits {
		if p := &b.o.Market.Packs[f.Pack]; p.Stock >= 0 && p.Stock*p.Pieces < pieces {
			return true
		}
	}
	return false
}

// pack returns an offer's place in the market. Prices come with the sellers.
func (b *marketBuilder) pack(offer *catalog.Offer, shelf bool) int {
	k := offerKey(offer.List, offer.Number)
	p := order.Pack{ID: offer.List + " " + offer.Number, Pieces: offer.Pack, Least: offer.MinPacks, Stock: offer.StockPacks, Days: offer.LeadDays}
	if p.Days < 0 {
		p.Days = LeadUnstated
	}
	if shelf {
		p = order.Pack{ID: order.ShopStock + " " + p.ID, Pieces: 1, Stock: b.left[k], Prices: []order.Break{{From: 1}}}
		k = order.ShopStock + "\x00" + k
	}
	if at, ok := b.o.sold[k]; ok {
		return at
	}
	at := len(b.o.Market.Packs)
	b.o.sold[k] = at
	b.o.Market.Packs = append(b.o.Market.Packs, p)
	b.o.Offers = append(b.o.Offers, Sold{Offer: offer, Shelf: shelf})
	return at
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

// sellers adds the suppliers, by name after the shelf, and prices their
// packs.
func (b *marketBuilder) sellers() error {
	o := b.o
	for _, s := range o.Offers {
		if s.Shelf {
			b.add(Sender{List: order.ShopStock}, order.Seller{ID: order.ShopStock})
			break
		}
	}
	for _, list := range listsOf(o.Offers) {
		if err := b.supplier(list); err != nil {
			return err
		}
	}
	for p := range o.Offers {
		if err := b.price(p); err != nil {
			return err
		}
	}
	b.assume()
	return nil
}

func (b *marketBuilder) add(s Sender, x order.Seller) {
	b.seller[s.List] = len(b.o.Sellers)
	b.o.Sellers = append(b.o.Sellers, s)
	b.o.Market.Sellers = append(b.o.Market.Sellers, x)
}

func (b *marketBuilder) supplier(list string) error {
	r := b.o.result
	t, err := r.orderTermsOf(list)
	if err != nil {
		return fmt.Errorf("terms of %s: %w", list, err)
	}
	f, exact, err := r.factor(r.Books.termsOf(list), t.Currency)
	if err != nil {
		return fmt.Errorf("terms of %s: %w", list, err)
	}
	if !exact {
		b.o.Assumed = append(b.o.Assumed, "rate and tax of "+list+" are taken to six places")
	}
	s := Sender{List: list, Terms: t, NoCarriage: len(t.Carriage) == 0}
	if s.NoCarriage {
		b.o.Assumed = append(b.o.Assumed, "carriage not stated by "+list+": the bound holds without it")
	}
	b.add(s, t.Seller(f))
	return nil
}

func (b *marketBuilder) price(p int) error {
	s, x := b.o.Offers[p], &b.o.Market.Packs[p]
	if s.Shelf {
		x.Seller = b.seller[order.ShopStock]
		return nil
	}
	x.Seller = b.seller[s.Offer.List]
	counted, err := orderOffer(s.Offer).Counted(x.Seller, b.o.Sellers[x.Seller].Terms.Currency, b.o.Sellers[x.Seller].Terms.Rounding)
	x.Prices = counted.Prices
	return err
}

// assume says, supplier by supplier, which rows leave stock or lead open.
func (b *marketBuilder) assume() {
	for i, s := range b.o.Sellers {
		stock, lead := 0, 0
		for p, x := range b.o.Offers {
			if b.o.Market.Packs[p].Seller != i || x.Shelf {
				continue
			}
			if x.Offer.StockPacks < 0 {
				stock++
			}
			if x.Offer.LeadDays < 0 {
				lead++
			}
		}
		if stock > 0 {
			b.o.Assumed = append(b.o.Assumed, fmt.Sprintf("stock not stated by %s for %d of the offers: taken as enough", s.List, stock))
		}
		if lead > 0 {
			b.o.Assumed = append(b.o.Assumed, fmt.Sprintf("lead time not stated by %s for %d of the offers: never in time where a day is asked for", s.List, lead))
		}
	}
}

// mostPlaces is how many decimals of a factor are counted with.
const mostPlaces = 6

// factor is what a minor unit of a supplier's prices costs the shop in minor
// units of its own currency: rate · (1 + tax not reclaimed / 100). exact is
// false where it was rounded to the places that are counted with.
func (r *Result) factor(t catalog.Terms, c money.Currency) (f order.Factor, exact bool, err error) {
	d := t.Rate
	if !t.TaxInPrice {
		tax, err := money.Percent(t.TaxNotReclaimed)
		if err != nil {
			return f, false, err
		}
		if d, err = d.Mul(tax); err != nil {
			return f, false, err
		}
	}
	whole, part, _ := strings.Cut(d.String(), ".")
	digits, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil {
		return f, false, fmt.Errorf("rate and tax come to %s: %w", d, money.ErrOverflow)
	}
	f = order.Factor{Digits: digits, Places: len(part) + c.Exponent - r.Policy.Currency.Exponent}
	for ; f.Places < 0; f.Places++ {
		f.Digits *= 10
	}
	exact, next := true, int64(0)
	for ; f.Places > mostPlaces; f.Places-- {
		next = f.Digits % 10
		exact = exact && next == 0
		f.Digits /= 10
	}
	f.Digits += next / 5 // half up
	return f, exact, nil
}
