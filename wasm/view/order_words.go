package view

import (
	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/wasm/app"
)

// A buyingDesk is what the views of the cheapest order draw from.
type buyingDesk struct {
	m app.Model
	s *app.Seek
	c money.Currency
}

// seekOf is the search of the job in hand; nil, and perhaps a reason, where
// there is none.
func seekOf(m app.Model) (*buyingDesk, error) {
	s, err := m.Seek()
	if s == nil || err != nil {
		return nil, err
	}
	return &buyingDesk{m, s, m.Open.Result.Policy.Currency}, nil
}

// minor rounds a figure of an answer to minor units of the shop's currency.
func (d *buyingDesk) minor(v int64, places int) money.Amount { return d.s.Money(v, places).Amount }

// sum prints what an answer's figure comes to.
func (d *buyingDesk) sum(v int64, a order.Answer) string { return d.c.Format(d.minor(v, a.Places)) }

// more prints a difference with its sign.
func (d *buyingDesk) more(v money.Amount) string {
	switch {
	case v > 0:
		return "+" + d.c.Format(v)
	case v < 0:
		return "−" + d.c.Format(-v)
	}
	return "±0"
}

// An orderBill is what an order comes to in the shop's currency. Total is rounded
// once; goods are what is left of it, so that the lines add up.
type orderBill struct {
	goods, spares, carriage, total money.Amount
	unstated                       []string // suppliers that state no carriage
}

func (d *buyingDesk) bill(a order.Answer) orderBill {
	b := orderBill{total: d.minor(a.Cost, a.Places)}
	for _, k := range a.Baskets {
		x := d.s.Market.Sellers[k.Seller]
		f := x.Factor.Times(a.Places)
		b.spares += d.minor(k.TopUp*f, a.Places)
		if k.Row >= 0 {
			b.carriage += d.minor(x.Carriage[k.Row].Fee*f, a.Places)
		}
		if d.s.Sellers[k.Seller].NoCarriage {
			b.unstated = append(b.unstated, x.ID)
		}
	}
	b.goods = b.total - b.spares - b.carriage
	return b
}

// dayOf is the latest stated day of an order, and whether a lead in it is not
// stated.
func (d *buyingDesk) dayOf(a order.Answer) (day int, open bool) {
	for p, n := range a.Packs {
		if n == 0 {
			continue
		}
		if x := d.s.Market.Packs[p].Days; x >= job.LeadUnstated {
			open = true
		} else {
			day = max(day, x)
		}
	}
	return day, open
}

func (d *buyingDesk) daySays(a order.Answer) string {
	day, open := d.dayOf(a)
	switch {
	case open && day == 0:
		return "not stated"
	case open:
		return "day " + itoa(day) + " or later"
	}
	return "day " + itoa(day)
}

func parcelCount(n int) string { return count(n, "parcel") }

// sender names a supplier.
func sender(list string) string {
	if list == order.ShopStock {
		return "the shelf"
	}
	return list
}

// offerName is an offer by supplier and number.
func (d *buyingDesk) offerName(pack int) string {
	o := d.s.Offers[pack]
	if o.Shelf {
		return "the shelf: " + o.Offer.List + " " + o.Offer.Number
	}
	return o.Offer.List + " " + o.Offer.Number
}

// pieceSays is the list price of a piece, with the places its currency has
// or, where the list is finer, those of the list.
func pieceSays(o *catalog.Offer) string {
	c, err := money.CurrencyOf(o.Currency)
	if err != nil {
		return o.Price.String() + " " + o.Currency
	}
	a, err := o.Price.Round(c, money.HalfUp)
	if err != nil || money.Of(a, c).Cmp(o.Price) != 0 {
		return o.Price.String() + " " + o.Currency
	}
	return c.Format(a) + " " + o.Currency
}

// wantSays names a need: how many of what, for which options.
func (d *buyingDesk) wantSays(w int) string {
	x := d.s.Wants[w]
	return itoa(d.s.Market.Wants[w].Pieces) + " × " + x.Lines[0].Say
}

func (d *buyingDesk) wantFor(w int) string {
	var ids []string
	for _, l := range d.s.Wants[w].Lines {
		ids = append(ids, l.Option)
	}
	return joined(", ", distinct(ids)...)
}
