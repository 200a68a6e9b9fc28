package order

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"lugworth/core/money"
)

// Make pools the needs, uses the shelf first and fills one basket for each
// supplier.
//
// A need is held back, never dropped, when nobody has decided it, when its
// verdict may not be ordered, when its list has no such number, has it twice,
// without a price or in packs of nothing, or when the shop's own part is not
// on the shelf in full.
//
// Books.Offers need hold only the offers that the needs name.
//
// Errors: a need of no pieces, two terms under one name, a shelf below zero,
// terms missing for a supplier, a sum too large.
func Make(needs []Need, books Books) (Buy, error) {
	if err := check(needs, books); err != nil {
		return Buy{}, err
	}
	b := maker{books: books}
	for _, n := range needs {
		b.take(n)
	}
	b.draw()
	return b.finish()
}

// key names one part of one list.
type key struct{ list, number string }

// byKey is the one order of parts everywhere: list, then number.
func byKey(a, b key) int {
	return cmp.Or(cmp.Compare(a.list, b.list), cmp.Compare(a.number, b.number))
}

// pooled is every need of one part.
type pooled struct {
	key   key
	needs []Need
	from  int // pieces from the shelf
}

func (p pooled) pieces() int {
	sum := 0
	for _, n := range p.needs {
		sum += n.Pieces
	}
	return sum
}

func (p pooled) uses() []Use {
	var uses []Use
	for _, n := range p.needs {
		uses = append(uses, Use{n.Option, n.Finding, n.Pieces})
	}
	return uses
}

type maker struct {
	books Books
	pools []pooled
	buy   Buy
}

// take pools one need or holds it back.
func (m *maker) take(n Need) {
	if reason := m.reason(n); reason != "" {
		m.buy.Held = append(m.buy.Held, Held{n, reason})
		return
	}
	k := key{n.List, n.Number}
	at, found := slices.BinarySearchFunc(m.pools, k, func(p pooled, k key) int { return byKey(p.key, k) })
	if !found {
		m.pools = slices.Insert(m.pools, at, pooled{key: k})
	}
	m.pools[at].needs = append(m.pools[at].needs, n)
}

// reason says why a need is held back, or "".
func (m *maker) reason(n Need) string {
	switch {
	case n.Undecided:
		return "not decided"
	case n.Barred != "":
		return n.Barred
	case n.List == ShopStock:
		return ""
	}
	o, found := m.offers(key{n.List, n.Number})
	switch {
	case found == 0:
		return fmt.Sprintf("list %s has no part %q", n.List, n.Number)
	case found > 1:
		return fmt.Sprintf("list %s has part %q on %d lines; which one is not known", n.List, n.Number, found)
	case !o.Priced:
		return fmt.Sprintf("list %s has no price for %q", n.List, n.Number)
	case o.Pack < 1:
		return fmt.Sprintf("%s: %q comes in packs of %d, want 1 or more", o.Where, n.Number, o.Pack)
	}
	return ""
}

// offers returns the first offer of that part and how many there are.
func (m *maker) offers(k key) (first Offer, found int) {
	for _, o := range m.books.Offers {
		if o.List != k.list || o.Number != k.number {
			continue
		}
		if found == 0 {
			first = o
		}
		found++
	}
	return first, found
}

// draw uses the shelf, part by part. The shop's own parts come from nowhere
// else, so a need the shelf cannot fill in full is held back.
func (m *maker) draw() {
	shelf := m.shelf()
	var kept []pooled
	for _, p := range m.pools {
		held := shelf[p.key]
		if p.key.list == ShopStock {
			p.needs = m.fill(p.needs, held)
		}
		p.from = min(p.pieces(), held)
		if p.from > 0 {
			m.buy.Stock = append(m.buy.Stock, StockLine{List: p.key.list, Number: p.key.number,
				Pieces: p.from, Left: held - p.from, Uses: p.uses()})
		}
		if p.key.list != ShopStock {
			kept = append(kept, p)
		}
	}
	m.pools = kept
}

func (m *maker) shelf() map[key]int {
	held := map[key]int{}
	for _, h := range m.books.Shelf {
		held[key{h.List, h.Number}] += h.Pieces
	}
	return held
}

// fill keeps the needs that the shelf can meet in full, first come first
// served, and holds the others back.
func (m *maker) fill(needs []Need, held int) []Need {
	var kept []Need
	for _, n := range needs {
		if n.Pieces > held {
			m.buy.Held = append(m.buy.Held, Held{n, fmt.Sprintf("%d on the shelf, %d needed", held, n.Pieces)})
			continue
		}
		held -= n.Pieces
		kept = append(kept, n)
	}
	return kept
}

// finish turns the pools into baskets.
func (m *maker) finish() (Buy, error) {
	for _, p := range m.pools {
		if p.pieces() == p.from {
			continue
		}
		o, _ := m.offers(p.key)
		basket, err := m.basket(p.key.list)
		if err != nil {
			return Buy{}, err
		}
		l, err := line(p, o, m.extra(p.key), basket.Currency, m.rounding(p.key.list))
		if err != nil {
			return Buy{}, fmt.Errorf("order to %s: part %s: %w", p.key.list, p.key.number, err)
		}
		basket.Lines = append(basket.Lines, l)
	}
	for i := range m.buy.Baskets {
		t, _ := m.terms(m.buy.Baskets[i].Supplier)
		b := &m.buy.Baskets[i]
		if err := b.finish(t); err != nil {
			return Buy{}, fmt.Errorf("order to %s: %w", t.List, err)
		}
		if b.TopUp.Amount > 0 {
			b.TopUp.Spare = m.spare(b)
		}
	}
	return m.buy, nil
}

// basket returns the supplier's basket. Pools come in order of their lists,
// so it is the last one or a new one.
func (m *maker) basket(list string) (*Basket, error) {
	if last := len(m.buy.Baskets) - 1; last >= 0 && m.buy.Baskets[last].Supplier == list {
		return &m.buy.Baskets[last], nil
	}
	t, found := m.terms(list)
	if !found {
		return nil, fmt.Errorf("order to %s: no terms for that supplier; its currency is not known", list)
	}
	m.buy.Baskets = append(m.buy.Baskets, Basket{Supplier: list, Currency: t.Currency})
	return &m.buy.Baskets[len(m.buy.Baskets)-1], nil
}

func (m *maker) terms(list string) (Terms, bool) {
	at := slices.IndexFunc(m.books.Terms, func(t Terms) bool { return t.List == list })
	if at < 0 {
		return Terms{}, false
	}
	return m.books.Terms[at], true
}

func (m *maker) rounding(list string) money.Rounding {
	t, _ := m.terms(list)
	return t.Rounding
}

func check(needs []Need, books Books) error {
	var problems []error
	for _, n := range needs {
		if n.Pieces < 1 {
			problems = append(problems, fmt.Errorf("need %s of %s: %d pieces, want 1 or more", n.Number, n.Option, n.Pieces))
		}
	}
	known := map[string]bool{}
	for _, t := range books.Terms {
		if known[t.List] {
			problems = append(problems, fmt.Errorf("terms of %s are given twice", t.List))
		}
		known[t.List] = true
	}
	for _, e := range books.Extras {
		if e.Packs < 1 || e.Packs > mostPacks {
			problems = append(problems, fmt.Errorf("spares of %s %s: %d packs, want 1 or more", e.List, e.Number, e.Packs))
		}
	}
	for _, h := range books.Shelf {
		if h.Pieces < 0 {
			problems = append(problems, fmt.Errorf("shelf: %d pieces of %s %s", h.Pieces, h.List, h.Number))
		}
	}
	return errors.Join(problems...)
}
