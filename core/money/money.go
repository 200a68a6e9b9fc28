// Package money reckons in whole minor units and exact decimals. Every result
// is checked for overflow; nothing is rounded except where a function says so.
//
//	ReadDecimal("4,20", Comma)                      -> 4.2
//	Landed(4.20, 0.86, 0)                           -> 3.612
//	Selling(3.612, 20, GBP, HalfUp)                 -> 4.33
//	ReadDecimal("1,234", Either)                    -> a question, not a number
package money

import (
	"errors"
	"fmt"
	"math"
)

// Amount is money in whole minor units: cents, pence, yen, fils.
type Amount int64

// Rounding says what becomes of a part of a minor unit.
type Rounding uint8

const (
	HalfUp   Rounding = iota // ties away from zero; the usual way
	HalfEven                 // ties to the even neighbor
	Down                     // toward zero
)

// String names the rounding as printed beside a tax line.
func (r Rounding) String() string {
	switch r {
	case HalfUp:
		return "half up"
	case HalfEven:
		return "half even"
	case Down:
		return "down"
	}
	return "unknown rounding"
}

// ErrOverflow is wrapped by every error about a sum too large to hold.
var ErrOverflow = errors.New("amount too large")

// Sum is an amount with its currency.
type Sum struct {
	Amount   Amount
	Currency Currency
}

// String prints "471.57 USD".
func (s Sum) String() string { return s.Currency.Format(s.Amount) + " " + s.Currency.Code }

// Plus returns a + b.
func (a Amount) Plus(b Amount) (Amount, error) {
	c := a + b
	if (c > a) != (b > 0) && b != 0 {
		return 0, fmt.Errorf("add %d and %d: %w", a, b, ErrOverflow)
	}
	return c, nil
}

// Minus returns a - b.
func (a Amount) Minus(b Amount) (Amount, error) {
	c := a - b
	if (c < a) != (b > 0) && b != 0 {
		return 0, fmt.Errorf("take %d from %d: %w", b, a, ErrOverflow)
	}
	return c, nil
}

// Times returns n pieces at a each.
func (a Amount) Times(n int64) (Amount, error) {
	v, err := MulDiv(int64(a), n, 1, Down)
	return Amount(v), err
}

// Total adds amounts from left to right.
func Total(amounts ...Amount) (Amount, error) {
	var sum Amount
	var err error
	for _, a := range amounts {
		if sum, err = sum.Plus(a); err != nil {
			return 0, err
		}
	}
	return sum, nil
}

// Tax returns percent of the amount, multiplied once and rounded once.
//
//	tax = round(a · percent/100)
//
// Errors: overflow, more than 16 decimals in percent.
func Tax(a Amount, percent Decimal, r Rounding) (Amount, error) {
	if percent.scale > 16 {
		return 0, fmt.Errorf("tax of %s %%: more than 16 decimals", percent)
	}
	v, err := MulDiv(int64(a), percent.coef, 100*pow10(percent.scale), r)
	return Amount(v), err
}

// TaxInside returns the tax held in a gross amount. It takes the net first,
// so that net + tax is always the gross; percent of the gross would be wrong.
//
//	tax = gross - round(gross / (1 + percent/100))
//
// Errors: overflow, a negative rate.
func TaxInside(gross Amount, percent Decimal, r Rounding) (Amount, error) {
	if percent.Sign() < 0 || percent.scale > 15 {
		return 0, fmt.Errorf("tax inside at %s %%: want a rate of 0 or more with at most 15 decimals", percent)
	}
	h := 100 * pow10(percent.scale)
	if percent.coef > math.MaxInt64-h {
		return 0, fmt.Errorf("tax inside at %s %%: %w", percent, ErrOverflow)
	}
	net, err := MulDiv(int64(gross), h, h+percent.coef, r)
	return gross - Amount(net), err
}
