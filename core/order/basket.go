package order

import (
	"fmt"

	"lugworth/core/money"
)

// line fills one line of a basket from the pooled needs of a part.
//
//	packs = those that serve (needed − from stock) for the least money, at least the supplier's least
//	amount = packs × round(piece price × pack)
func line(p pooled, o Offer, extra int, c money.Currency, r money.Rounding) (Line, error) {
	needed := p.pieces()
	toBuy := needed - p.from
	packs, err := o.packs(toBuy, c, r)
	if err != nil {
		return Line{}, err
	}
	l := Line{Number: o.Number, Text: o.Text, Uses: p.uses(), Needed: needed, FromStock: p.from, Extra: extra,
		Pack: o.Pack, Packs: packs + extra, Pieces: (packs + extra) * o.Pack, LeadDays: o.LeadDays, Where: o.Where}
	l.Spare = l.Pieces - toBuy
	row := o.at(l.Pieces)
	l.PiecePrice = row.Price
	if err := l.price(c, r); err != nil {
		return Line{}, err
	}
	l.note(o, toBuy)
	if row.Pieces > 1 {
		l.noteBreak(o, row, toBuy, c, r)
	}
	return l, nil
}

// packs is how many packs serve so many pieces for the least money. A stock
// that is too small is no reason to order less; the line says so.
func (o Offer) packs(pieces int, c money.Currency, r money.Rounding) (int, error) {
	fewest := max((pieces+o.Pack-1)/o.Pack, o.MinPacks)
	if len(o.Breaks) == 0 {
		return fewest, nil
	}
	p, err := o.Counted(0, c, r)
	if err != nil {
		return 0, err
	}
	cost, packs := p.Cost(pieces)
	if cost == Never {
		p.Stock = -1
		_, packs = p.Cost(pieces)
	}
	return packs, nil
}

func (l *Line) price(c money.Currency, r money.Rounding) (err error) {
	if l.PackPrice, err = packPrice(l.PiecePrice, l.Pack, c, r); err != nil {
		return err
	}
	l.Amount, err = l.PackPrice.Times(int64(l.Packs))
	return err
}

// noteBreak says which break holds, and where it is reached by buying more
// than is needed, what the fewest packs would come to.
func (l *Line) noteBreak(o Offer, row PriceFrom, toBuy int, c money.Currency, r money.Rounding) {
	say := fmt.Sprintf("%s a piece from %d on", row.Price, row.Pieces)
	fewest := max((toBuy+o.Pack-1)/o.Pack, o.MinPacks)
	if fewest < l.Packs-l.Extra {
		if pack, err := packPrice(o.at(fewest*o.Pack).Price, o.Pack, c, r); err == nil {
			if whole, err := pack.Times(int64(fewest)); err == nil {
				say += fmt.Sprintf(": %d pieces come to %s, %d would come to %s", l.Pieces, c.Format(l.Amount), fewest*o.Pack, c.Format(whole))
			}
		}
	}
	l.Notes = append(l.Notes, say)
}

func (l *Line) note(o Offer, toBuy int) {
	say := func(format string, args ...any) { l.Notes = append(l.Notes, fmt.Sprintf(format, args...)) }
	if l.FromStock > 0 {
		say("%d from stock", l.FromStock)
	}
	if l.Spare > 0 {
		verb := "go"
		if l.Spare == 1 {
			verb = "goes"
		}
		say("%d of %d used, %d %s to stock", toBuy, l.Pieces, l.Spare, verb)
	}
	if l.Extra > 0 {
		say("%d of the %d packs are spares that bring carriage down or reach the least order", l.Extra, l.Packs)
	}
	if o.MinPacks > 1 && l.Packs == o.MinPacks {
		say("the supplier sells at least %d packs", o.MinPacks)
	}
	if o.StockPacks >= 0 && l.Packs > o.StockPacks {
		say("the supplier states %d in stock, %d ordered", o.StockPacks, l.Packs)
	}
	if l.LeadDays < 0 {
		say("lead time not stated")
	}
}

// finish adds the basket up and says what its terms make of it.
func (b *Basket) finish(t Terms) error {
	for _, l := range b.Lines {
		sum, err := b.Goods.Plus(l.Amount)
		if err != nil {
			return err
		}
		b.Goods = sum
	}
	b.carriage(t)
	if b.Goods < t.MinOrder {
		b.Short = t.MinOrder - b.Goods
		b.Notes = append(b.Notes, fmt.Sprintf("below the least order of %s by %s: the supplier may refuse it",
			b.Currency.Format(t.MinOrder), b.Currency.Format(b.Short)))
	}
	total, err := b.Goods.Plus(b.Carriage)
	b.Total = total
	if err == nil {
		b.topUp(t)
	}
	return err
}

// carriage takes the last step the goods reach. Goods below the first step
// have no stated carriage, which is said and never read as free.
func (b *Basket) carriage(t Terms) {
	for _, s := range t.Carriage {
		if b.Goods >= s.From {
			b.Carriage, b.CarriageStated = s.Cost, true
		}
	}
	if !b.CarriageStated {
		b.Notes = append(b.Notes, "carriage not stated")
	}
	for _, s := range t.Carriage {
		if b.Goods < s.From && s.Cost < b.Carriage {
			b.Notes = append(b.Notes, fmt.Sprintf("%s more in goods brings carriage down to %s",
				b.Currency.Format(s.From-b.Goods), b.Currency.Format(s.Cost)))
			return
		}
	}
}
