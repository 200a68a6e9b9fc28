package order

import (
	"fmt"

	"lugworth/core/money"
)

// line fills one line of a basket from the pooled needs of a part.
//
//	packs = ⌈(needed − from stock) / pack⌉, at least the supplier's least
//	amount = packs × round(piece price × pack)
func line(p pooled, o Offer, c money.Currency, r money.Rounding) (Line, error) {
	needed := p.pieces()
	toBuy := needed - p.from
	packs := max((toBuy+o.Pack-1)/o.Pack, o.MinPacks)
	l := Line{Number: o.Number, Text: o.Text, Uses: p.uses(), Needed: needed, FromStock: p.from,
		Pack: o.Pack, Packs: packs, Pieces: packs * o.Pack, PiecePrice: o.Price, LeadDays: o.LeadDays, Where: o.Where}
	l.Spare = l.Pieces - toBuy
	if err := l.price(c, r); err != nil {
		return Line{}, err
	}
	l.note(o, toBuy)
	return l, nil
}

func (l *Line) price(c money.Currency, r money.Rounding) error {
	pack, err := l.PiecePrice.Mul(money.Whole(int64(l.Pack)))
	if err != nil {
		return err
	}
	if l.PackPrice, err = pack.Round(c, r); err != nil {
		return err
	}
	l.Amount, err = l.PackPrice.Times(int64(l.Packs))
	return err
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
