package job

import (
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
)

// A taken is one plan line of the set in force as the order sees it.
type taken struct {
	need order.Need
	line *plan.Line
	is   *plan.Part
	part string         // index among the option's parts, as records write it
	from *catalog.Offer // what is bought for it; nil where the line takes none
}

// buy fills the baskets of the set in force. Options of findings not decided
// are simply not in it; parts that may not be ordered are held, with reason.
func (r *Result) buy() {
	if r.Force < 0 {
		return
	}
	takes, err := r.takes()
	if err != nil {
		r.problem("order", err)
		return
	}
	r.swap(takes)
	got, err := r.fill(takes, r.extras(takes))
	if err != nil {
		r.problem("order", err)
		return
	}
	r.Buy = got
	r.laterThanPlanned(takes, got)
}

// takes lists the plan lines of the set in force, each with the offer it
// names.
func (r *Result) takes() ([]taken, error) {
	accept := r.accepted()
	if m, err := r.Model(); err == nil {
		if _, err := m.Order(accept); err != nil {
			return nil, err
		}
	}
	w := r.worlds.under(accept)
	var out []taken
	for _, id := range accept {
		i, ok := r.worlds.at[id]
		if !ok {
			continue
		}
		o := &r.Job.Options[i]
		lines := r.worlds.linesOf(id, w)
		for k := range lines {
			t := taken{need: r.need(o, lines[k], r.Options[i]), line: &lines[k], is: &o.Parts[k], part: fmt.Sprint(k)}
			if c := lines[k].Chosen; c != nil {
				t.from = c.Offer
			}
			out = append(out, t)
		}
	}
	return out, nil
}

// fill makes the baskets of what is taken.
func (r *Result) fill(takes []taken, extras []order.Extra) (order.Buy, error) {
	books := order.Books{Shelf: r.shelfFor(takes), Extras: extras}
	var needs []order.Need
	listed := map[string]bool{}
	for _, t := range takes {
		needs = append(needs, t.need)
		if k := offerKey(t.need.List, t.need.Number); t.from != nil && !listed[k] {
			listed[k] = true
			books.Offers = append(books.Offers, orderOffer(t.from))
		}
	}
	books.Terms = r.orderTerms(books.Offers)
	got, err := order.Make(needs, books)
	for i := range got.Stock {
		s := &got.Stock[i]
		s.Left = r.onShelf()[offerKey(s.List, s.Number)] - s.Pieces
	}
	return got, err
}

func offerKey(list, number string) string { return list + "\x00" + number }

// instead has a line bought from another offer.
func (t *taken) instead(o *catalog.Offer) {
	t.from, t.need.List, t.need.Number = o, o.List, o.Number
}

func (r *Result) need(o *plan.Option, l plan.Line, res OptionResult) order.Need {
	n := order.Need{Option: o.ID, Finding: o.Finding, Say: o.Parts[l.Part].Is, Pieces: l.Qty, Barred: l.Problem}
	if l.Chosen != nil {
		n.List, n.Number = l.Chosen.Offer.List, l.Chosen.Offer.Number
	}
	if res.Refused != "" {
		n.Barred = res.Refused
	}
	if n.Barred == "" && len(res.Problems) > 0 {
		n.Barred = res.Problems[0]
	}
	if n.Barred == "" {
		n.Barred = r.unasked(o.ID)
	}
	return n
}

func orderOffer(o *catalog.Offer) order.Offer {
	out := order.Offer{List: o.List, Number: o.Number, Text: o.Text, Price: o.Price, Priced: o.Priced, Pack: o.Pack, MinPacks: o.MinPacks,
		StockPacks: o.StockPacks, LeadDays: o.LeadDays, Where: o.File + ":" + fmt.Sprint(o.Line)}
	for _, b := range o.Breaks {
		out.Breaks = append(out.Breaks, order.PriceFrom{Pieces: b.Pieces, Price: b.Price})
	}
	return out
}

// orderTerms gives the terms of every supplier that is bought from.
func (r *Result) orderTerms(offers []order.Offer) []order.Terms {
	var out []order.Terms
	seen := map[string]bool{}
	for _, o := range offers {
		if seen[o.List] {
			continue
		}
		seen[o.List] = true
		t, err := r.orderTermsOf(o.List)
		if err != nil {
			r.problemOnce("terms of "+o.List, err)
			if t.Currency.Code == "" {
				continue
			}
		}
		out = append(out, t)
	}
	return out
}

// problemOnce tells of what every order of a Result comes upon again.
func (r *Result) problemOnce(where string, err error) {
	for _, p := range note(nil, where, err) {
		if !slices.Contains(r.Problems, p) {
			r.Problems = append(r.Problems, p)
		}
	}
}

// orderTermsOf puts a supplier's terms into whole minor units of its currency.
func (r *Result) orderTermsOf(list string) (order.Terms, error) {
	t := r.Books.termsOf(list)
	c, err := money.CurrencyOf(t.Currency)
	if err != nil {
		return order.Terms{}, err
	}
	out := order.Terms{List: list, Currency: c}
	round := func(d money.Decimal) money.Amount {
		a, wrong := d.Round(c, r.Policy.Rounding)
		if err == nil {
			err = wrong
		}
		return a
	}
	out.MinOrder = round(t.MinOrder)
	for _, s := range t.Carriage {
		out.Carriage = append(out.Carriage, order.Step{From: round(s.From), Cost: round(s.Fee)})
	}
	return out, err
}
