package money

// Mark is the decimal mark a price list uses. The zero value is Either:
// nothing is declared, so "1,234" is a question.
type Mark uint8

const (
	Either Mark = iota
	Point
	Comma
)

// Decimal is an exact decimal number. The zero value is 0.
type Decimal struct {
	coef  int64
	scale uint8
}

// One is the number 1.
var One = Decimal{1, 0}

// ReadDecimal reads a number with the declared decimal mark. The error is a
// unit.Problem (code unit.AmbiguousText for "1,234" under Either).
func ReadDecimal(text string, mark Mark) (Decimal, error) { return Decimal{}, nil }

// NewDecimal returns coef / 10^scale.
func NewDecimal(coef int64, scale int) (Decimal, error) { return Decimal{}, nil }

// MustDecimal is for constants in our own code: it panics on a bad text.
func MustDecimal(text string) Decimal { return Decimal{} }

// Of returns the amount in major units of c.
func Of(a Amount, c Currency) Decimal { return Decimal{} }

// Whole returns n.
func Whole(n int64) Decimal { return Decimal{n, 0} }

// Percent returns 1 + d/100: the factor of a mark-up or tax of d percent.
func Percent(d Decimal) (Decimal, error) { return d, nil }

func (d Decimal) Add(e Decimal) (Decimal, error) { return d, nil }
func (d Decimal) Sub(e Decimal) (Decimal, error) { return d, nil }
func (d Decimal) Mul(e Decimal) (Decimal, error) { return d, nil }
func (d Decimal) Cmp(e Decimal) int              { return 0 }
func (d Decimal) Sign() int                      { return 0 }
func (d Decimal) IsZero() bool                   { return d.coef == 0 }

// String is canonical: "0.86", "-3.5", "12"; no trailing zeros.
func (d Decimal) String() string { return "" }

// Round rounds d major units to minor units of c.
func (d Decimal) Round(c Currency, r Rounding) (Amount, error) { return 0, nil }

// RoundOver rounds d/n major units to minor units of c, rounding once.
func (d Decimal) RoundOver(n int64, c Currency, r Rounding) (Amount, error) { return 0, nil }

// Float returns the nearest float64, for drawing and ratios only.
func (d Decimal) Float() float64 { return 0 }

// MarshalText and UnmarshalText use the canonical form.
func (d Decimal) MarshalText() ([]byte, error)     { return []byte(d.String()), nil }
func (d *Decimal) UnmarshalText(text []byte) error { return nil }

// Landed is the shop's cost of one piece in home major units, not rounded:
// price * rate * (1 + unrecovered/100).
func Landed(price, rate, unrecovered Decimal) (Decimal, error) { return price, nil }

// Selling is the owner's price of one piece: round(landed * (1 + markup/100)).
func Selling(landed, markup Decimal, c Currency, r Rounding) (Amount, error) { return 0, nil }
