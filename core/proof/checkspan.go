package proof

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A span holds a number: it is not below lo and not above hi. Every operation
// rounds outward, so that what it returns holds the true result.
type span struct{ lo, hi float64 }

func out(lo, hi float64) span {
	return span{math.Nextafter(lo, math.Inf(-1)), math.Nextafter(hi, math.Inf(1))}
}

func exact(v float64) span { return span{v, v} }

func (a span) plus(b span) span  { return out(a.lo+b.lo, a.hi+b.hi) }
func (a span) minus(b span) span { return out(a.lo-b.hi, a.hi-b.lo) }
func (a span) neg() span         { return span{-a.hi, -a.lo} }

func (a span) times(b span) span {
	p, q, r, s := a.lo*b.lo, a.lo*b.hi, a.hi*b.lo, a.hi*b.hi
	return out(min(p, q, r, s), max(p, q, r, s))
}

// over divides; a divisor that may be zero leaves nothing known.
func (a span) over(b span) span {
	if b.lo <= 0 && b.hi >= 0 {
		return span{math.Inf(-1), math.Inf(1)}
	}
	return a.times(out(1/b.hi, 1/b.lo))
}

func (a span) abs() span {
	if a.lo < 0 && a.hi > 0 {
		return span{0, max(-a.lo, a.hi)}
	}
	return span{min(math.Abs(a.lo), math.Abs(a.hi)), max(math.Abs(a.lo), math.Abs(a.hi))}
}

// root is the square root of what is not below zero.
func (a span) root() span {
	if a.lo < 0 {
		return span{math.Inf(-1), math.Inf(1)}
	}
	return out(math.Sqrt(a.lo), math.Sqrt(a.hi))
}

// halves is a to the power n/2, n above zero.
func (a span) halves(n int) span {
	r := exact(1)
	for ; n >= 2; n -= 2 {
		r = r.times(a)
	}
	if n == 1 {
		r = r.times(a.root())
	}
	return r
}

func least(a, b span) span    { return span{min(a.lo, b.lo), min(a.hi, b.hi)} }
func greatest(a, b span) span { return span{max(a.lo, b.lo), max(a.hi, b.hi)} }

func (a span) known() bool { return !math.IsInf(a.lo, 0) && !math.IsInf(a.hi, 0) && a.lo <= a.hi }
func (a span) mid() float64 {
	return a.lo + (a.hi-a.lo)/2
}

func (a span) String() string {
	if strconv.FormatFloat(a.lo, 'g', 12, 64) == strconv.FormatFloat(a.hi, 'g', 12, 64) {
		return strconv.FormatFloat(a.lo, 'g', 12, 64)
	}
	return strconv.FormatFloat(a.lo, 'g', 17, 64) + " to " + strconv.FormatFloat(a.hi, 'g', 17, 64)
}

// number reads a decimal text, which is all a certificate may hold: no sign
// but a minus, no exponent, no zeros before the first figure.
func number(text string) (s span, half float64, err error) {
	digits := strings.TrimPrefix(text, "-")
	whole, part, dot := strings.Cut(digits, ".")
	if whole == "" || strings.Trim(whole+part, "0123456789") != "" || dot && part == "" || len(whole) > 1 && whole[0] == '0' || len(text) > 40 {
		return s, 0, fmt.Errorf("%q is not a decimal number", text)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return s, 0, err
	}
	return out(v, v), 0.5 * math.Pow10(-len(part)), nil
}

// states reports whether a stated text is the number got, to half of one in
// its last place; a few widths of what was got are allowed for the floats of
// whoever stated it.
func states(text string, got span) error { return near(text, got, 8) }

func near(text string, got span, widths float64) error {
	s, half, err := number(text)
	if err != nil {
		return err
	}
	room := half*(1+1e-9) + widths*(got.hi-got.lo)
	if !got.known() || s.hi < got.lo-room || s.lo > got.hi+room {
		return fmt.Errorf("read %s, got %s", text, got)
	}
	return nil
}
