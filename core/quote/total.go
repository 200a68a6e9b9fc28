package quote

import (
	"fmt"

	"lugworth/core/money"
	"lugworth/core/why"
)

// finish adds the classes up and sets the totals that stand beside the sum.
func (b *Bill) finish(p Policy) error {
	var from []*why.Node
	for _, l := range b.Lines {
		from = append(from, l.Why)
	}
	t, err := b.classes()
	if err != nil {
		return err
	}
	if err := t.beside(p); err != nil {
		return err
	}
	b.Totals = t
	b.Notes = append(b.Notes, estimateNote(p.Tax))
	b.Why = why.Found(totalRule, "total", b.sum(t.Total), from...)
	return nil
}

// beside sets the totals that stand beside the sum.
func (t *Totals) beside(p Policy) (err error) {
	if t.Allowance, err = money.Tax(t.Labor, p.Allowance, p.Rounding); err != nil {
		return fmt.Errorf("allowance for finds: %w", err)
	}
	if t.WithAllowance, err = t.Total.Plus(t.Allowance); err != nil {
		return fmt.Errorf("total with allowance: %w", err)
	}
	if t.Deposit, err = money.Tax(t.Total, p.Deposit, p.Rounding); err != nil {
		return fmt.Errorf("deposit: %w", err)
	}
	t.Payable, t.Estimate, t.Balance = t.Total, t.Total, t.Total-t.Deposit
	if p.Tax.Outside {
		t.Estimate = t.Total - t.Tax
	}
	return nil
}

// classes sums the printed lines, class by class.
func (b *Bill) classes() (Totals, error) {
	var t Totals
	for _, c := range []struct {
		class Class
		into  *money.Amount
	}{{Labor, &t.Labor}, {Parts, &t.Parts}, {Other, &t.Other}, {Fee, &t.Fee}, {Tax, &t.Tax}} {
		sum, err := b.of(c.class)
		if err != nil {
			return Totals{}, err
		}
		*c.into = sum
	}
	total, err := money.Total(t.Labor, t.Parts, t.Other, t.Fee, t.Tax)
	if err != nil {
		return Totals{}, fmt.Errorf("bill total: %w", err)
	}
	t.Total = total
	return t, nil
}

func estimateNote(r TaxRule) string {
	switch {
	case len(r.On) == 0:
		return "the estimate total is the amount payable"
	case r.Outside:
		return "tax is outside the estimate total" + sourceNote(r)
	default:
		return "tax is inside the estimate total" + sourceNote(r)
	}
}
