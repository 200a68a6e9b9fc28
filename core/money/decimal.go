package money

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// maxScale is the largest number of decimals a Decimal holds.
const maxScale = 18

// Decimal is an exact decimal number of up to 18 figures, coef / 10^scale,
// without trailing zeros, so that equal numbers are equal values. The zero
// value is 0. A result that does not fit is an error, never cut off.
type Decimal struct {
	coef  int64
	scale uint8
}

// One is the number 1.
var One = Decimal{1, 0}

// NewDecimal returns coef / 10^scale.
func NewDecimal(coef int64, scale int) (Decimal, error) {
	if scale < 0 || scale > maxScale {
		return Decimal{}, fmt.Errorf("decimal with %d decimals: want 0 to %d", scale, maxScale)
	}
	return trim(coef, uint8(scale)), nil
}

// MustDecimal is for constants in our own code: it panics on a bad text.
func MustDecimal(text string) Decimal {
	d, err := ReadDecimal(text, Point)
	if err != nil {
		panic("money: " + err.Error())
	}
	return d
}

// Of returns the amount in major units of c.
func Of(a Amount, c Currency) Decimal { return trim(int64(a), uint8(c.Exponent)) }

// Whole returns n.
func Whole(n int64) Decimal { return Decimal{n, 0} }

func trim(coef int64, scale uint8) Decimal {
	if coef == 0 {
		return Decimal{}
	}
	for scale > 0 && coef%10 == 0 {
		coef /= 10
		scale--
	}
	return Decimal{coef, scale}
}

// Percent returns 1 + d/100: the factor of a mark-up or tax of d percent.
func Percent(d Decimal) (Decimal, error) {
	hundredth, err := d.Mul(Decimal{1, 2})
	if err != nil {
		return Decimal{}, err
	}
	return One.Add(hundredth)
}

// Add returns d + e.
func (d Decimal) Add(e Decimal) (Decimal, error) {
	scale := max(d.scale, e.scale)
	x, okx := raise(d, scale)
	y, oky := raise(e, scale)
	sum, err := Amount(x).Plus(Amount(y))
	if !okx || !oky || err != nil {
		return Decimal{}, fmt.Errorf("%s + %s: %w", d, e, ErrOverflow)
	}
	return trim(int64(sum), scale), nil
}

// raise returns the coefficient of d at a larger scale.
func raise(d Decimal, scale uint8) (int64, bool) {
	v, err := MulDiv(d.coef, pow10(scale-d.scale), 1, Down)
	return v, err == nil
}

// Neg returns -d.
func (d Decimal) Neg() (Decimal, error) {
	if d.coef == math.MinInt64 {
		return Decimal{}, fmt.Errorf("-(%s): %w", d, ErrOverflow)
	}
	return Decimal{-d.coef, d.scale}, nil
}

// Sub returns d - e.
func (d Decimal) Sub(e Decimal) (Decimal, error) {
	n, err := e.Neg()
	if err != nil {
		return Decimal{}, err
	}
	return d.Add(n)
}

// Mul returns d · e, exact. Trailing zeros are dropped before the check.
func (d Decimal) Mul(e Decimal) (Decimal, error) {
	hi, lo := bits.Mul64(magnitude(d.coef), magnitude(e.coef))
	scale := int(d.scale) + int(e.scale)
	for scale > 0 {
		qhi, qlo, rem := div128by10(hi, lo)
		if rem != 0 {
			break
		}
		hi, lo, scale = qhi, qlo, scale-1
	}
	v, ok := signed(lo, (d.coef < 0) != (e.coef < 0))
	if hi != 0 || !ok || scale > maxScale {
		return Decimal{}, fmt.Errorf("%s × %s: %w", d, e, ErrOverflow)
	}
	return trim(v, uint8(scale)), nil
}

func div128by10(hi, lo uint64) (qhi, qlo, rem uint64) {
	qhi, rem = hi/10, hi%10
	qlo, rem = bits.Div64(rem, lo, 10)
	return qhi, qlo, rem
}

// Cmp returns -1, 0 or 1 as d is less than, equal to or more than e.
func (d Decimal) Cmp(e Decimal) int {
	if s := d.Sign() - e.Sign(); s != 0 || d.coef == 0 {
		return sign(s)
	}
	dhi, dlo := bits.Mul64(magnitude(d.coef), uint64(pow10(e.scale)))
	ehi, elo := bits.Mul64(magnitude(e.coef), uint64(pow10(d.scale)))
	switch {
	case dhi == ehi && dlo == elo:
		return 0
	case dhi > ehi || dhi == ehi && dlo > elo:
		return d.Sign()
	}
	return -d.Sign()
}

// Sign returns -1, 0 or 1.
func (d Decimal) Sign() int {
	switch {
	case d.coef < 0:
		return -1
	case d.coef > 0:
		return 1
	}
	return 0
}

func sign(n int) int { return Whole(int64(n)).Sign() }

// IsZero reports whether d is 0.
func (d Decimal) IsZero() bool { return d.coef == 0 }

// String is canonical: "0.86", "-3.5", "12"; no trailing zeros.
func (d Decimal) String() string {
	if d.scale == 0 {
		return strconv.FormatInt(d.coef, 10)
	}
	return Currency{Exponent: int(d.scale)}.Format(Amount(d.coef))
}

// Float returns the nearest float64, for drawing and ratios only.
func (d Decimal) Float() float64 {
	return float64(d.coef) / float64(pow10(d.scale))
}

// MarshalText writes the canonical form, a string in JSON.
func (d Decimal) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the canonical form.
func (d *Decimal) UnmarshalText(text []byte) error {
	v, err := ReadDecimal(strings.TrimSpace(string(text)), Point)
	if err != nil {
		return err
	}
	*d = v
	return nil
}
