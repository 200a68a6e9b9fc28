package job

import (
	"fmt"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/why"
)

// A Spend sets what the owner pays for parts beside what the order costs the
// shop, in the shop's currency. It is the shop's own affair and belongs on no
// paper for the owner.
//
//	Owner − Order = Left
//	Order = Used + Spare + Carriage
//
// What came from the shelf costs the order nothing and is not in it.
type Spend struct {
	Owner      money.Amount // parts as billed
	Used       money.Amount // landed cost of the ordered pieces that go into the amp
	Spare      money.Amount // landed cost of the ordered pieces that go to stock
	Carriage   money.Amount // as far as it is stated
	Order      money.Amount
	Left       money.Amount
	NoCarriage []string // suppliers that state no carriage: the order may cost more
	Why        *why.Node
}

var ruleSpend = &why.Rule{
	Name: "left of the parts", Says: "What the owner pays for parts, less what the order costs at the door; tax the shop cannot reclaim falls on carriage as on goods.",
	Formula: "parts billed − Σ (goods + carriage) · rate · (1 + tax not reclaimed)", Source: "the shop's own policy",
}

// Spend works out what the order of the set in force leaves of the parts
// bill.
//
// Errors: no set is in force, it cannot be priced, a sum too large.
func (r *Result) Spend() (Spend, error) {
	if r.Force < 0 {
		return Spend{}, fmt.Errorf("no choice is in force: pick one first")
	}
	set := r.Sets[r.Force]
	if set.Err != "" {
		return Spend{}, fmt.Errorf("choice %s cannot be priced: %s", set.Name, set.Err)
	}
	s := Spend{Owner: set.Bill.Parts}
	from := []*why.Node{why.Given("parts billed", r.sum(s.Owner), "choice "+set.Name)}
	for _, b := range r.Buy.Baskets {
		n, err := r.spend(&s, b)
		if err != nil {
			return Spend{}, fmt.Errorf("order to %s: %w", b.Supplier, err)
		}
		from = append(from, n)
	}
	var err error
	if s.Order, err = money.Total(s.Used, s.Spare, s.Carriage); err != nil {
		return Spend{}, err
	}
	s.Left = s.Owner - s.Order
	s.Why = why.Found(ruleSpend, "left of the parts bill", r.sum(s.Left), from...)
	return s, nil
}

func (r *Result) sum(a money.Amount) money.Sum {
	return money.Sum{Amount: a, Currency: r.Policy.Currency}
}

// spend adds one basket. Goods and carriage are rounded once each; the spare
// pieces are what is left of the goods, so that the lines add up.
func (r *Result) spend(s *Spend, b order.Basket) (*why.Node, error) {
	t := r.Books.termsOf(b.Supplier)
	goods, err := r.landed(money.Of(b.Goods, b.Currency), t)
	if err != nil {
		return nil, err
	}
	carriage, err := r.landed(money.Of(b.Carriage, b.Currency), t)
	if err != nil {
		return nil, err
	}
	used, err := r.used(b, t)
	if err != nil {
		return nil, err
	}
	s.Used, s.Spare, s.Carriage = s.Used+used, s.Spare+goods-used, s.Carriage+carriage
	if !b.CarriageStated {
		s.NoCarriage = append(s.NoCarriage, b.Supplier)
	}
	return why.Given("order to "+b.Supplier+", "+b.Currency.Format(b.Total)+" "+b.Currency.Code, r.sum(goods+carriage), "terms of "+b.Supplier), nil
}

func (r *Result) landed(d money.Decimal, t catalog.Terms) (money.Amount, error) {
	tax := t.TaxNotReclaimed
	if t.TaxInPrice {
		tax = money.Decimal{}
	}
	home, err := money.Landed(d, t.Rate, tax)
	if err != nil {
		return 0, err
	}
	return home.Round(r.Policy.Currency, r.Policy.Rounding)
}

// used is the landed cost of the ordered pieces that the work takes.
func (r *Result) used(b order.Basket, t catalog.Terms) (money.Amount, error) {
	var sum money.Decimal
	for _, l := range b.Lines {
		pieces, err := l.PiecePrice.Mul(money.Whole(int64(l.Needed - l.FromStock)))
		if err != nil {
			return 0, err
		}
		if sum, err = sum.Add(pieces); err != nil {
			return 0, err
		}
	}
	return r.landed(sum, t)
}
