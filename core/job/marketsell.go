package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/order"
)

// sellers adds the suppliers, by name after the shelf.
func (b *marketBuilder) sellers() error {
	o, at := b.o, map[string]int{}
	add := func(s Sender, x order.Seller) {
		at[s.List] = len(o.Sellers)
		o.Sellers, o.Market.Sellers = append(o.Sellers, s), append(o.Market.Sellers, x)
	}
	if slices.ContainsFunc(o.Offers, func(s Sold) bool { return s.Shelf }) {
		add(Sender{List: order.ShopStock}, order.Seller{ID: order.ShopStock})
	}
	for _, list := range listsOf(o.Offers) {
		s := b.trade.sender(o.result, list)
		if s.err != nil {
			return fmt.Errorf("terms of %s: %w", list, s.err)
		}
		o.Assumed = append(o.Assumed, s.told...)
		add(s.Sender, s.Seller)
	}
	open := make([]open, len(o.Sellers))
	for p, s := range o.Offers {
		if s.Shelf {
			continue
		}
		x := &b.trade.offers[b.trade.at[s.Offer]]
		if x.err != nil {
			return x.err
		}
		o.Market.Packs[p].Seller = at[s.Offer.List]
		open[at[s.Offer.List]].count(s.Offer)
	}
	for i, s := range o.Sellers {
		o.Assumed = append(o.Assumed, open[i].say(s.List)...)
	}
	return nil
}

// open counts offers of one supplier that leave something open.
type open struct{ stock, lead int }

func (n *open) count(o *catalog.Offer) {
	if o.StockPacks < 0 {
		n.stock++
	}
	if o.LeadDays < 0 {
		n.lead++
	}
}

func (n open) say(list string) (out []string) {
	if n.stock > 0 {
		out = append(out, fmt.Sprintf("stock not stated by %s for %d of the offers: taken as enough", list, n.stock))
	}
	if n.lead > 0 {
		out = append(out, fmt.Sprintf("lead time not stated by %s for %d of the offers: never in time where a day is asked for", list, n.lead))
	}
	return out
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
