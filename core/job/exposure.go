package job

import (
	"fmt"
	"maps"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/sorted"
)

// An Exposure is what the order and the owner's total come to if one currency
// moves, the parts and suppliers being what they are:
//
//	rate · (1 ± percent/100), other rates unmoved
//	4.20 EUR · 0.86 = 3.61 GBP; · 0.817 = 3.43; · 0.903 = 3.79
//
// The owner's price is fixed once agreed; until then it moves as shown.
type Exposure struct {
	Currency string
	Rate     money.Decimal
	Date     string   // the day the rate is of, "" where terms.csv does not say
	Lists    []string // suppliers of the choice in force that trade in it
	Percent  money.Decimal
	Order    Moved // what the order costs the shop, with carriage as far as it is stated
	Owner    Moved // what the owner pays in all
}

// Moved is an amount of the shop's currency now, and with the rate moved.
type Moved struct{ Now, Less, More money.Amount }

// Exposure works out, for every foreign currency the choice in force is
// bought in, what a move of so many percent does, by the code of the
// currency. Lists of one currency with rates of their own are taken apart.
//
// Errors: no set is in force, it cannot be priced, a sum too large, a percent
// below zero or past 100.
func (r *Result) Exposure(percent money.Decimal) ([]Exposure, error) {
	if percent.Sign() < 0 || percent.Cmp(money.Whole(100)) > 0 {
		return nil, fmt.Errorf("a move of %s %% is not one from 0 to 100", percent)
	}
	spend, err := r.Spend()
	if err != nil {
		return nil, err
	}
	out := r.foreign()
	for i := range out {
		e := &out[i]
		e.Percent = percent
		e.Order.Now, e.Owner.Now = spend.Order, r.Sets[r.Force].Bill.Total
		down, err := percent.Neg()
		if err != nil {
			return nil, err
		}
		if e.Order.Less, e.Owner.Less, err = r.moved(e, down); err != nil {
			return nil, err
		}
		if e.Order.More, e.Owner.More, err = r.moved(e, percent); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// foreign lists the currencies and rates of what is bought and billed.
func (r *Result) foreign() []Exposure {
	var out []Exposure
	for _, list := range r.dealt() {
		t := r.Books.termsOf(list)
		if t.Currency == r.Policy.Currency.Code {
			continue
		}
		at := slices.IndexFunc(out, func(e Exposure) bool {
			return e.Currency == t.Currency && e.Rate.Cmp(t.Rate) == 0 && e.Date == t.RateDate
		})
		if at < 0 {
			out = append(out, Exposure{Currency: t.Currency, Rate: t.Rate, Date: t.RateDate})
			at = len(out) - 1
		}
		out[at].Lists = append(out[at].Lists, list)
	}
	sorted.By(out, func(a, b Exposure) int {
		if a.Currency < b.Currency {
			return -1
		}
		return 1
	})
	return out
}

// dealt names the suppliers that are bought from or whose prices are billed.
func (r *Result) dealt() []string {
	var offers []Sold
	takes, _ := r.takes()
	for _, t := range takes {
		if t.from != nil {
			offers = append(offers, Sold{Offer: t.from})
		}
	}
	for _, b := range r.Buy.Baskets {
		offers = append(offers, Sold{Offer: &catalog.Offer{List: b.Supplier}})
	}
	return listsOf(offers)
}

// moved prices order and choice at a rate that moved.
func (r *Result) moved(e *Exposure, percent money.Decimal) (order, owner money.Amount, err error) {
	factor, err := money.Percent(percent)
	if err != nil {
		return 0, 0, err
	}
	rate, err := e.Rate.Mul(factor)
	if err != nil {
		return 0, 0, err
	}
	books, then := *r.Books, *r
	books.terms = maps.Clone(r.Books.terms)
	for _, list := range e.Lists {
		t := books.termsOf(list)
		t.Rate = rate
		books.terms[list] = t
	}
	then.Books = &books
	spend, err := then.Spend()
	if err != nil {
		return 0, 0, err
	}
	owner, err = then.total(r)
	return spend.Order, owner, err
}

// total is the bill of the choice in force with the parts of was at the
// prices of these books.
func (r *Result) total(was *Result) (money.Amount, error) {
	takes, err := was.takes()
	if err != nil {
		return 0, err
	}
	offers := map[string]*catalog.Offer{}
	for _, t := range takes {
		if t.from != nil {
			offers[offerKey(t.from.List, t.from.Number)] = t.from
		}
	}
	m, err := was.Model()
	if err != nil {
		return 0, err
	}
	accept, err := m.Order(was.accepted())
	if err != nil {
		return 0, err
	}
	in, err := was.input(accept)
	if err != nil {
		return 0, err
	}
	for i := range in.Parts {
		p := &in.Parts[i]
		if o := offers[offerKey(p.List, p.Number)]; o != nil {
			c := r.Books.Cost(o)
			if c.Err != nil {
				return 0, c.Err
			}
			p.Selling = c.Selling
		}
	}
	bill, err := quote.Price(in)
	return bill.Total, err
}
