package unit

import (
	"math"
	"strconv"
	"strings"
)

// A prefix row serves amounts of at least from.
type prefix struct {
	from, factor float64
	symbol       string
	decimals     int // usual number of decimals; few means four figures
}

const few = -1

// slack lets a figure that is a hair below its decimal value, as sums of
// floats are, print as that value.
const slack = 1e-10

var prefixes = [...][]prefix{
	None:    {{0, 1, "", few}},
	Volt:    {{1e4, 1e3, "kV", 2}, {0.1, 1, "V", 1}, {0, 1e-3, "mV", 1}},
	Ampere:  {{1, 1, "A", 2}, {1e-3, 1e-3, "mA", 1}, {0, 1e-6, "µA", 1}},
	Ohm:     {{1e6, 1e6, "MΩ", few}, {1e3, 1e3, "kΩ", few}, {0, 1, "Ω", few}},
	Farad:   {{1e-6, 1e-6, "µF", few}, {1e-9, 1e-9, "nF", few}, {0, 1e-12, "pF", few}},
	Watt:    {{1, 1, "W", 1}, {0.1, 1, "W", 2}, {0, 1e-3, "mW", 1}},
	Henry:   {{1, 1, "H", few}, {1e-3, 1e-3, "mH", few}, {0, 1e-6, "µH", few}},
	Hertz:   {{1e6, 1e6, "MHz", few}, {1e3, 1e3, "kHz", few}, {0, 1, "Hz", few}},
	Hour:    {{0, 1, "h", 1}},
	Day:     {{0, 1, "days", few}},
	Percent: {{0, 1, "%", 1}},
	Siemens: {{1, 1, "S", few}, {1e-3, 1e-3, "mS", few}, {0, 1e-6, "µS", few}},
	Piece:   {{0, 1, "pieces", few}},
}

// FormatAmount prints v, in SI base units, with the prefix the trade uses and
// that many decimals after it: FormatAmount(0.0338, Ampere, 1) is "33.8 mA".
// decimals below zero means the usual number for the unit. Halves go away
// from zero.
func FormatAmount(v float64, u Unit, decimals int) string { return format(v, u, decimals, 4, nearest) }

// FormatDown prints as FormatAmount does but rounds toward minus infinity:
// for a maximum to dial.
func FormatDown(v float64, u Unit, decimals int) string { return format(v, u, decimals, 4, floor) }

// FormatUp prints as FormatAmount does but rounds toward plus infinity: for a
// least value.
func FormatUp(v float64, u Unit, decimals int) string { return format(v, u, decimals, 4, ceil) }

// Short prints v as a part is marked, with no more than six figures and no
// trailing zeros: "450 V", "0.5 W", "2 A".
func Short(v float64, u Unit) string { return format(v, u, few-1, 6, nearest) }

// FormatInterval prints the two ends with one prefix: "11.3–11.7 W"; a single
// figure where they print alike.
func FormatInterval(iv Interval, u Unit, decimals int) string {
	high := format(iv.High, u, decimals, 4, nearest)
	p := prefixFor(math.Max(math.Abs(iv.Low), math.Abs(iv.High)), u, decimals, 4)
	low, top := p.number(iv.Low, decimals, 4, nearest), p.number(iv.High, decimals, 4, nearest)
	if low == top || u > Piece || !finite(iv.Low) || !finite(iv.High) {
		return high
	}
	return join(low+"–"+top, p.symbol)
}

func format(v float64, u Unit, decimals, figures int, round func(float64) float64) string {
	if !finite(v) || int(u) >= len(prefixes) {
		return "not a finite number"
	}
	p := prefixFor(math.Abs(v), u, decimals, figures)
	return join(p.number(v, decimals, figures, round), p.symbol)
}

func join(number, symbol string) string {
	switch {
	case symbol == "":
		return number
	case number == "1" && len(symbol) > 3: // 1 day, 1 piece
		symbol = symbol[:len(symbol)-1]
	}
	return number + " " + symbol
}

// prefixFor picks the row for a size, looking at the figure as printed, so
// that 999.97 Ω prints as 1 kΩ and reads back alike.
func prefixFor(size float64, u Unit, decimals, figures int) prefix {
	rows := prefixes[None]
	if int(u) < len(prefixes) {
		rows = prefixes[u]
	}
	i := len(rows) - 1
	for i > 0 && size*(1+slack) >= rows[i-1].from {
		i--
	}
	for {
		p := rows[i]
		step := math.Pow10(p.places(size/p.factor, decimals, figures))
		printed := nearest(size/p.factor*step) / step * p.factor * (1 + slack)
		switch {
		case printed == 0:
			return base(rows)
		case i == 0 || printed < rows[i-1].from:
			return p
		}
		i--
	}
}

// base is the row without a prefix, in which zero is printed.
func base(rows []prefix) prefix {
	for _, p := range rows {
		if p.factor == 1 {
			return p
		}
	}
	return rows[len(rows)-1] // farads: zero is 0 pF
}

// places returns how many decimals x gets; never fewer than none.
func (p prefix) places(x float64, decimals, figures int) int {
	if decimals >= 0 {
		return min(decimals, 12)
	}
	if p.decimals != few && decimals == few {
		return p.decimals
	}
	if x == 0 {
		return 0
	}
	return max(0, min(12, figures-1-int(math.Floor(math.Log10(math.Abs(x))+slack))))
}

func (p prefix) number(v float64, decimals, figures int, round func(float64) float64) string {
	x := v / p.factor
	n := p.places(x, decimals, figures)
	step := math.Pow10(n)
	if r := round(x*step) / step; finite(r) {
		x = r
	}
	if x == 0 {
		x = 0 // no minus before a zero
	}
	if math.Abs(x) >= 1e15 {
		return strconv.FormatFloat(x, 'g', figures, 64)
	}
	text := strconv.FormatFloat(x, 'f', n, 64)
	trims := decimals < few || decimals == few && p.decimals == few
	if trims && strings.IndexByte(text, '.') >= 0 {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

func nearest(x float64) float64 {
	if x < 0 {
		return -nearest(-x)
	}
	return math.Floor(x + hair(x) + 0.5)
}

func floor(x float64) float64 { return math.Floor(x + hair(x)) }
func ceil(x float64) float64  { return math.Ceil(x - hair(x)) }

// hair is the slack at x, never enough to move a whole number.
func hair(x float64) float64 { return min(math.Abs(x)*slack, 1e-6) }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
