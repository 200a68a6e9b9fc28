package order

import "lugworth/core/money"

// topUp works out which spares would make a cheaper step of carriage apply,
// or are asked for by the least order. Carriage that is not stated is not
// reckoned with.
func (b *Basket) topUp(t Terms) {
	if !b.CarriageStated && b.Short == 0 {
		return
	}
	s := t.Seller(Factor{})
	cost, row, up := s.Landed(int64(b.Goods))
	if up == 0 {
		return
	}
	b.TopUp = TopUp{Amount: money.Amount(up), Saves: b.Total - money.Amount(cost)}
	if row >= 0 {
		b.TopUp.Carriage = money.Amount(s.Carriage[row].Fee)
	}
}

// Least is what the basket costs with its top-up, as the search counts it: in
// the supplier's currency, carriage not stated counted as nothing.
func (b *Basket) Least() money.Amount { return b.Total - b.TopUp.Saves }

// extra is how many packs of a part are bought as spares.
func (m *maker) extra(k key) int {
	n := 0
	for _, e := range m.books.Extras {
		if e.List == k.list && e.Number == k.number {
			n += e.Packs
		}
	}
	return n
}

// spare finds the part of a basket whose further packs make the top-up for
// the least money; of equals, the first by number.
func (m *maker) spare(b *Basket) *Spare {
	var best *Spare
	for i := range b.Lines {
		l := &b.Lines[i]
		o, _ := m.offers(key{b.Supplier, l.Number})
		p, err := o.Counted(0, b.Currency, m.rounding(b.Supplier))
		if err != nil {
			continue
		}
		if s, ok := p.spare(l, int64(b.TopUp.Amount)); ok && (best == nil || s.Amount < best.Amount) {
			best = &s
		}
	}
	return best
}

// spare is the fewest further packs of a line that add so much to the goods.
func (p *Pack) spare(l *Line, add int64) (Spare, bool) {
	most := l.Packs + mostSpares
	if p.Stock >= 0 {
		most = min(most, p.Stock)
	}
	for y := l.Packs + 1; y <= most; y++ {
		if more := int64(y)*p.priceOf(y) - int64(l.Amount); more >= add {
			return Spare{Number: l.Number, Text: l.Text, Packs: y - l.Packs, Pieces: (y - l.Packs) * p.Pieces, Amount: money.Amount(more)}, true
		}
	}
	return Spare{}, false
}

// mostSpares is how many further packs of one part are looked at.
const mostSpares = 1000

// priceOf is the price of a pack where that many are bought.
func (p *Pack) priceOf(packs int) int64 {
	price := p.Prices[0].Price
	for _, b := range p.Prices[1:] {
		if packs >= b.From {
			price = b.Price
		}
	}
	return price
}
