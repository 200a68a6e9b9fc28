package job

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
	"lugworth/core/order"
)

// Money is an amount of an answer in the shop's currency, rounded to its
// minor unit for display.
func (o *Ordering) Money(v int64, places int) money.Sum {
	unit := int64(1)
	for range places {
		unit *= 10
	}
	half := unit / 2
	if v < 0 {
		half = -half
	}
	return money.Sum{Amount: money.Amount((v + half) / unit), Currency: o.result.Policy.Currency}
}

// Why says why an answer buys a need where it does, in sentences with their
// figures, the weightiest last. Amounts are in the shop's currency, a whole
// order's difference is that of moving this need alone.
func (o *Ordering) Why(a order.Answer, want int) []string {
	if !a.Feasible || want < 0 || want >= len(a.Plan) {
		return nil
	}
	w := reasons{o: o, a: a, want: want, pack: a.Plan[want]}
	if w.only() {
		return w.say
	}
	w.alone()
	w.shared()
	w.parcel()
	w.step()
	w.planned()
	return w.say
}

// reasons gathers the sentences of one need.
type reasons struct {
	o    *Ordering
	a    order.Answer
	want int
	pack int
	say  []string
}

func (w *reasons) add(format string, args ...any) {
	w.say = append(w.say, fmt.Sprintf(format, args...))
}

func (w *reasons) money(v int64) string { return w.o.Money(v, w.a.Places).String() }

// only tells of a need that nothing else serves.
func (w *reasons) only() bool {
	switch {
	case w.o.Wants[w.want].Named:
		w.add("the technician named it: nothing else was looked at")
	case len(w.o.Market.Wants[w.want].Fits) == 1:
		w.add("nothing else in the lists passes as well")
	default:
		return false
	}
	if w.o.Offers[w.pack].Shelf {
		w.add("it lies on the shop's own shelf")
	}
	w.step()
	return true
}

// cost is what the need costs in an offer alone, carriage aside, with the
// supplier's factor; Never where it has not the pieces.
func (w *reasons) cost(pack int) int64 {
	p := &w.o.Market.Packs[pack]
	c, _ := p.Cost(w.o.Market.Wants[w.want].Pieces)
	if c == order.Never {
		return c
	}
	return c * w.o.Market.Sellers[p.Seller].Factor.Times(w.a.Places)
}

// alone compares prices carriage aside: with the cheapest of the others where
// this is the cheapest, else with the cheapest.
func (w *reasons) alone() {
	if w.o.Offers[w.pack].Shelf {
		w.add("it lies on the shop's own shelf and costs this order nothing")
		return
	}
	own, best, at := w.cost(w.pack), int64(order.Never), -1
	for _, f := range w.o.Market.Wants[w.want].Fits {
		if c := w.cost(f.Pack); f.Pack != w.pack && c < best {
			best, at = c, f.Pack
		}
	}
	if at < 0 {
		w.add("no other offer has the pieces")
		return
	}
	n := int64(w.o.Market.Wants[w.want].Pieces)
	switch name := w.o.Market.Packs[at].ID; {
	case own == best:
		w.add("costs the same as %s, carriage aside", name)
	case own < best:
		w.add("cheaper by %s a piece than %s, the next cheapest, carriage aside", w.money((best-own)/n), name)
	default:
		w.add("dearer by %s a piece than %s, the cheapest, carriage aside", w.money((own-best)/n), name)
	}
}

// others lists the needs of the answer that some test takes, by the findings
// they are for.
func (w *reasons) others(take func(pack int) bool) []string {
	var out []string
	for i, p := range w.a.Plan {
		if i == w.want || !take(p) {
			continue
		}
		for _, l := range w.o.Wants[i].Lines {
			name := l.Finding
			if name == "" {
				name = l.Option
			}
			if !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// shared tells of a break that is reached together, or by buying more.
func (w *reasons) shared() {
	p := &w.o.Market.Packs[w.pack]
	row := 0
	for i, b := range p.Prices {
		if w.a.Packs[w.pack] >= b.From {
			row = i
		}
	}
	if row == 0 {
		return
	}
	_, alone := p.Cost(w.o.Market.Wants[w.want].Pieces)
	from := p.Prices[row].From * p.Pieces
	if with := w.others(func(q int) bool { return q == w.pack }); len(with) > 0 && alone < p.Prices[row].From {
		w.add("shares the break at %d pieces with %s", from, and(with))
		return
	}
	w.add("reaches the break at %d pieces", from)
}

// parcel tells who else is served by the same parcel.
func (w *reasons) parcel() {
	s := w.o.Market.Packs[w.pack].Seller
	if w.o.Offers[w.pack].Shelf {
		return
	}
	if with := w.others(func(q int) bool { return w.o.Market.Packs[q].Seller == s }); len(with) > 0 {
		w.add("same parcel as %s", and(with))
	}
}

// step tells where the need's goods bring carriage down.
func (w *reasons) step() {
	s := w.o.Market.Packs[w.pack].Seller
	x := &w.o.Market.Sellers[s]
	for _, b := range w.a.Baskets {
		if b.Seller != s || b.Row < 1 || b.TopUp > 0 {
			continue
		}
		without, _, err := w.o.Market.Without(w.a.Plan, w.want)
		if err != nil || without[s] >= x.Carriage[b.Row].From {
			return
		}
		c := w.o.Sellers[s].Terms.Currency
		w.add("fills the order to %s to %s %s: from %s on carriage is %s instead of %s", x.ID, c.Format(money.Amount(b.Goods)), c.Code,
			c.Format(money.Amount(x.Carriage[b.Row].From)), c.Format(money.Amount(x.Carriage[b.Row].Fee)), c.Format(money.Amount(x.Carriage[b.Row-1].Fee)))
	}
}

// planned says what buying it as planned would add to the order.
func (w *reasons) planned() {
	p := w.o.planned[w.want]
	if p == w.pack {
		return
	}
	other := slices.Clone(w.a.Plan)
	other[w.want] = p
	cost, _, err := w.o.Market.Price(other)
	if err != nil {
		w.add("%s, as planned, has not the pieces", w.o.Market.Packs[p].ID)
		return
	}
	switch d := cost - w.a.Cost; {
	case d > 0:
		w.add("%s, as planned, would add %s to the order if all else stayed", w.o.Market.Packs[p].ID, w.money(d))
	case d == 0:
		w.add("%s, as planned, would cost the order the same", w.o.Market.Packs[p].ID)
	default:
		w.add("%s, as planned, would save %s if all else stayed: a limit on the order keeps it out, or the order is not proven", w.o.Market.Packs[p].ID, w.money(-d))
	}
}

// and joins names: "A1, A3 and A4".
func and(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}
