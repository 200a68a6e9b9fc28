package job

import (
	"strconv"
	"strings"
	"sync"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/sorted"
)

// shelf remembers what the lists hold for each need, priced and cheapest
// first: needs recur at every toggle, lists and prices do not change. It is
// shared by copies of the same books.
type shelf struct {
	mu     sync.Mutex
	made   pricing
	byWant map[string][]plan.Priced
	rows   map[string]*catalog.Offer // copied rows as read, by all that was copied
}

// pricing is what a price rests on besides the list and its terms.
type pricing struct {
	markup   money.Decimal
	currency money.Currency
	rounding money.Rounding
}

// Shelf returns what the lists hold for a need, as plan.Cheapest orders it.
// The caller must not change it.
func (b *Books) Shelf(w catalog.Want) []plan.Priced {
	k := wantKey(w)
	now := pricing{b.Sheet.Markup, b.Sheet.Currency, b.Sheet.Rounding}
	b.shelf.mu.Lock()
	defer b.shelf.mu.Unlock()
	if b.shelf.byWant == nil || b.shelf.made != now {
		b.shelf.made, b.shelf.byWant = now, map[string][]plan.Priced{}
	}
	if have, ok := b.shelf.byWant[k]; ok {
		return have
	}
	found := b.index.Find(w)
	out := make([]plan.Priced, len(found))
	for i, o := range found {
		out[i] = plan.Priced{Offer: o, Cost: b.Cost(o)}
	}
	sorted.By(out, plan.Cheapest)
	b.shelf.byWant[k] = out
	return out
}

// wantKey writes every field of a need.
func wantKey(w catalog.Want) string {
	b := make([]byte, 0, 96)
	for _, k := range w.Kinds {
		b = append(b, byte(k))
	}
	for _, v := range []float64{w.ValueLow, w.ValueHigh, w.MinVolts, w.MinWatts} {
		b = strconv.AppendFloat(append(b, '|'), v, 'g', -1, 64)
	}
	for _, n := range []int{w.Sections, w.Count, int(w.Form)} {
		b = strconv.AppendInt(append(b, '|'), int64(n), 10)
	}
	b = strconv.AppendBool(append(b, '|'), w.Priced)
	return string(b) + "|" + w.Tube + "|" + w.Class + "|" + strings.Join(w.Words, "|")
}

// restored is restore with a memory: every yes may copy one more row into the
// job, and the others are as they were.
func (b *Books) restored(c Copy) (*catalog.Offer, error) {
	k := c.List + "\x00" + c.File + "\x00" + c.Line + "\x00" + c.Mapping + "\x00" + strings.Join(c.Columns, "\x00") + "\x00\x00" + strings.Join(c.Cells, "\x00")
	b.shelf.mu.Lock()
	defer b.shelf.mu.Unlock()
	if o, ok := b.shelf.rows[k]; ok {
		return o, nil
	}
	o, err := b.restore(c)
	if err != nil {
		return nil, err
	}
	if b.shelf.rows == nil || len(b.shelf.rows) >= mostCopies {
		b.shelf.rows = map[string]*catalog.Offer{}
	}
	b.shelf.rows[k] = o
	return o, nil
}

// mostCopies is how many copied rows are kept as read.
const mostCopies = 4096
