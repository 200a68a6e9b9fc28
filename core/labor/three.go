package labor

import (
	"fmt"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// ReadThree reads three hours written with a decimal point: "0.5", "0.7",
// "1.5". They must not be negative and must not fall.
func ReadThree(low, mode, high string) (Three, error) {
	var t Three
	for _, c := range []struct {
		name, text string
		into       *money.Decimal
	}{{"low", low, &t.Low}, {"most likely", mode, &t.Mode}, {"high", high, &t.High}} {
		d, err := money.ReadDecimal(c.text, money.Point)
		if err != nil {
			return Three{}, fmt.Errorf("hours, %s: %w", c.name, err)
		}
		*c.into = d
	}
	return t, t.Check()
}

// Check says what is wrong with the hours, or nil.
func (t Three) Check() error {
	if t.Low.Sign() < 0 {
		return fmt.Errorf("hours %v / %v / %v: the low is negative", t.Low, t.Mode, t.High)
	}
	if t.Low.Cmp(t.Mode) > 0 || t.Mode.Cmp(t.High) > 0 {
		return fmt.Errorf("hours %v / %v / %v: want low ≤ most likely ≤ high", t.Low, t.Mode, t.High)
	}
	return nil
}

// sixfold returns low + 4·mode + high, exactly: six times the expected hours.
func (t Three) sixfold() (money.Decimal, error) {
	mode, err := t.Mode.Mul(money.Whole(4))
	if err != nil {
		return money.Decimal{}, err
	}
	sum, err := t.Low.Add(mode)
	if err != nil {
		return money.Decimal{}, err
	}
	return sum.Add(t.High)
}

// Expected returns te = (low + 4·mode + high)/6, in hours.
func (t Three) Expected() unit.Hours {
	return unit.Hours((t.Low.Float() + 4*t.Mode.Float() + t.High.Float()) / 6)
}

// Deviation returns sd = (high − low)/6, in hours.
func (t Three) Deviation() unit.Hours {
	return unit.Hours((t.High.Float() - t.Low.Float()) / 6)
}

// Cost returns te × rate, rounded once:
//
//	round(rate · (low + 4·mode + high) / 6)
func (t Three) Cost(r Rate) (money.Amount, error) {
	six, err := t.sixfold()
	if err != nil {
		return 0, fmt.Errorf("hours %v / %v / %v: %w", t.Low, t.Mode, t.High, err)
	}
	cost, err := six.Mul(r.Hour)
	if err != nil {
		return 0, fmt.Errorf("hours %v / %v / %v at %v: %w", t.Low, t.Mode, t.High, r.Hour, err)
	}
	return cost.RoundOver(6, r.Currency, r.Rounding)
}

// times are the hours of so many times the same.
func (t Three) times(n int) (Three, error) {
	if n == 1 {
		return t, nil
	}
	var err error
	for _, d := range []*money.Decimal{&t.Low, &t.Mode, &t.High} {
		if *d, err = d.Mul(money.Whole(int64(n))); err != nil {
			return t, err
		}
	}
	return t, nil
}
