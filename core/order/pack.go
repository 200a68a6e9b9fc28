package order

import (
	"fmt"

	"lugworth/core/money"
)

// A PriceFrom is the price of a piece from so many pieces on. It holds for
// all of them.
type PriceFrom struct {
	Pieces int
	Price  money.Decimal
}

// Counted puts an offer in the form the search counts in: prices of a whole
// pack, rounded once to minor units of the supplier's currency, from so many
// packs on. A break inside a pack holds from the first pack that reaches it.
//
// Errors: a price with too many figures, packs of nothing.
func (o Offer) Counted(seller int, c money.Currency, r money.Rounding) (Pack, error) {
	p := Pack{ID: o.List + " " + o.Number, Seller: seller, Pieces: o.Pack, Least: o.MinPacks, Stock: o.StockPacks, Days: o.LeadDays}
	if o.Pack < 1 {
		return p, fmt.Errorf("%s: %q comes in packs of %d, want 1 or more", o.Where, o.Number, o.Pack)
	}
	for _, row := range o.rows() {
		price, err := packPrice(row.Price, o.Pack, c, r)
		if err != nil {
			return p, fmt.Errorf("%s: price of %q: %w", o.Where, o.Number, err)
		}
		from := max(1, (row.Pieces+o.Pack-1)/o.Pack)
		if n := len(p.Prices); n > 0 && p.Prices[n-1].From == from {
			p.Prices = p.Prices[:n-1]
		}
		p.Prices = append(p.Prices, Break{From: from, Price: int64(price)})
	}
	return p, nil
}

// rows are the prices of an offer, the first one for any number of pieces.
func (o Offer) rows() []PriceFrom {
	return append([]PriceFrom{{0, o.Price}}, o.Breaks...)
}

// at is the price of a piece where that many are ordered, and the row's start.
func (o Offer) at(pieces int) PriceFrom {
	rows := o.rows()
	best := rows[0]
	for _, r := range rows[1:] {
		if (r.Pieces+o.Pack-1)/o.Pack*o.Pack <= pieces {
			best = r
		}
	}
	return best
}

// packPrice is price of a piece × pack, rounded once.
func packPrice(piece money.Decimal, pack int, c money.Currency, r money.Rounding) (money.Amount, error) {
	p, err := piece.Mul(money.Whole(int64(pack)))
	if err != nil {
		return 0, err
	}
	return p.Round(c, r)
}

// Seller puts terms in the form the search counts in. Carriage that is not
// stated is counted as nothing; whoever shows the result says so.
func (t Terms) Seller(f Factor) Seller {
	s := Seller{ID: t.List, MinGoods: int64(t.MinOrder), Factor: f}
	for _, step := range t.Carriage {
		s.Carriage = append(s.Carriage, Fee{int64(step.From), int64(step.Cost)})
	}
	return s
}
