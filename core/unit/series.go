package unit

import (
	"fmt"
	"math"
	"strconv"
)

// Series is a set of preferred values: 3, 6, 12, 24, 48, 96 or 192 a decade.
type Series int

const (
	E3   Series = 3
	E6   Series = 6
	E12  Series = 12
	E24  Series = 24
	E48  Series = 48
	E96  Series = 96
	E192 Series = 192
)

// e24 is a table because eight of its values are not what the formula gives:
// 2.7 3.0 3.3 3.6 3.9 4.3 4.7 8.2. E12, E6 and E3 are every second, fourth
// and eighth of it.
//
// Source: IEC 60063, from memory.
var e24 = [24]float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
	3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1}

// String returns "E24".
func (s Series) String() string { return "E" + strconv.Itoa(int(s)) }

// Value returns the i-th preferred number of the decade from 1 to 10, counted
// from 0.
//
//	E48, E96, E192: round(10^(i/n), 2), but 9.20 in E192 where it gives 9.19
//
// Source: IEC 60063, from memory; values computed.
func (s Series) Value(i int) float64 {
	if i < 0 || i >= int(s) || !s.known() {
		return 0
	}
	if s <= E24 {
		return e24[i*24/int(s)]
	}
	if s == E192 && i == 185 {
		return 9.20
	}
	return math.Round(100*math.Pow(10, float64(i)/float64(s))) / 100
}

func (s Series) known() bool {
	switch s {
	case E3, E6, E12, E24, E48, E96, E192:
		return true
	}
	return false
}

// Nearest returns the value of the series nearest to v by ratio, so that 14
// and 7 times off count alike. A vintage value is never replaced by it
// silently; the caller shows both.
//
// Errors: v not above zero or not finite; a series that does not exist.
func (s Series) Nearest(v float64) (float64, error) {
	if !(v > 0) || !finite(v) || !s.known() {
		return 0, fmt.Errorf("nearest %s value to %g: want a finite value above 0", s, v)
	}
	decade := math.Floor(math.Log10(v))
	lead := v / math.Pow(10, decade)
	best, gap := 10.0, math.Abs(math.Log(10/lead))
	for i := range int(s) {
		if g := math.Abs(math.Log(s.Value(i) / lead)); g < gap {
			best, gap = s.Value(i), g
		}
	}
	return scaled(best, int(decade)), nil
}

// scaled returns x·10^n without the last-place error of a negative power.
func scaled(x float64, n int) float64 {
	if n < 0 {
		return x / math.Pow(10, float64(-n))
	}
	return x * math.Pow(10, float64(n))
}

// Has reports whether v is a value of the series, to one part in 10,000.
func (s Series) Has(v float64) bool {
	n, err := s.Nearest(v)
	return err == nil && math.Abs(n/v-1) < 1e-4
}

// SeriesOf returns the coarsest series that holds v; ok is false if none does.
func SeriesOf(v float64) (s Series, ok bool) {
	for _, s := range [...]Series{E3, E6, E12, E24, E48, E96, E192} {
		if s.Has(v) {
			return s, true
		}
	}
	return 0, false
}
