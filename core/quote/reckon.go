package quote

import (
	"fmt"

	"lugworth/core/money"
)

// Reckon returns the total of a choice from the sums of its rounded lines,
// without the lines: what Price gives as Total, for weighing many choices.
//
//	total = labor + parts + other + fee − credit + tax
//
// Errors: a negative fee, a sum too large.
func (p Policy) Reckon(labor, parts, other money.Amount) (money.Amount, error) {
	if p.Fee < 0 {
		return 0, fmt.Errorf("bench fee: %s, want no negative sum", p.Currency.Format(p.Fee))
	}
	work, err := money.Total(labor, parts, other)
	if err != nil {
		return 0, fmt.Errorf("bill total: %w", err)
	}
	fee := p.Fee - p.credit(work)
	tax, err := p.tax(Totals{Labor: labor, Parts: parts, Other: other, Fee: fee})
	if err != nil {
		return 0, err
	}
	return money.Total(work, fee, tax)
}

// credit is what of the fee comes off again: never more than the work is
// worth.
func (p Policy) credit(work money.Amount) money.Amount {
	if !p.FeeCredited {
		return 0
	}
	return min(p.Fee, work)
}

// tax is taken once on the sum of the taxed classes.
func (p Policy) tax(t Totals) (money.Amount, error) {
	var base money.Amount
	for _, c := range p.Tax.On {
		sum, err := p.taxable(c, t)
		if err != nil {
			return 0, err
		}
		if base, err = base.Plus(sum); err != nil {
			return 0, err
		}
	}
	return money.Tax(base, p.Tax.Percent, p.Rounding)
}

// taxable is the sum of a class as far as tax falls on it.
func (p Policy) taxable(c Class, t Totals) (money.Amount, error) {
	switch c {
	case Labor:
		return t.Labor, nil
	case Other:
		return t.Other, nil
	case Fee:
		return t.Fee, nil
	case Parts:
		if !p.Tax.HasShare {
			return t.Parts, nil
		}
		charge, err := money.Total(t.Labor, t.Parts, t.Other, t.Fee)
		if err != nil {
			return 0, err
		}
		over, err := p.Tax.shareOver(t.Parts, charge, p.Currency)
		if !over {
			return 0, err
		}
		return t.Parts, err
	}
	return 0, nil
}
