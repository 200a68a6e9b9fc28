// Package money reckons in whole minor units and exact decimals. Every sum is
// checked for overflow; nothing is rounded except where a function says so.
package money

// Amount is money in whole minor units: cents, pence, yen, fils.
type Amount int64

// Currency is an ISO 4217 code and its number of decimals.
type Currency struct {
	Code     string
	Exponent int
}

// Rounding says what becomes of a part of a minor unit.
type Rounding uint8

const (
	HalfUp   Rounding = iota // ties away from zero
	HalfEven                 // ties to the even neighbor
	Down                     // toward zero
)

// CurrencyOf finds a currency by its code.
func CurrencyOf(code string) (Currency, error) { return Currency{code, 2}, nil }

// Format prints the amount in major units: "471.57".
func (c Currency) Format(a Amount) string { return "" }

// Read reads "471.57". More decimals than the currency has are an error.
func (c Currency) Read(text string) (Amount, error) { return 0, nil }

// Sum is an amount with its currency: "471.57 USD".
type Sum struct {
	Amount   Amount
	Currency Currency
}

func (s Sum) String() string { return s.Currency.Format(s.Amount) + " " + s.Currency.Code }

func (a Amount) Plus(b Amount) (Amount, error)  { return a + b, nil }
func (a Amount) Minus(b Amount) (Amount, error) { return a - b, nil }
func (a Amount) Times(n int64) (Amount, error)  { return a * Amount(n), nil }

// Total adds amounts.
func Total(amounts ...Amount) (Amount, error) { return 0, nil }

// MulDiv returns a*b/d, rounded once.
func MulDiv(a, b, d int64, r Rounding) (int64, error) { return 0, nil }

// Tax returns percent of the amount, rounded once.
func Tax(a Amount, percent Decimal, r Rounding) (Amount, error) { return 0, nil }

// TaxInside returns the tax in a gross amount: gross - round(gross/(1+percent/100)).
func TaxInside(gross Amount, percent Decimal, r Rounding) (Amount, error) { return 0, nil }

// Allocate splits total by weights; the parts add up to total.
func Allocate(total Amount, weights []int64) ([]Amount, error) { return nil, nil }
