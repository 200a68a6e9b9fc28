package tube

import (
	"strconv"
	"strings"

	"lugworth/core/limit"
)

// A Point is one published operating point or characteristics row of a card:
// the rows "point N NAME". Names in use: class, plate volts, screen volts,
// grid volts, cathode ohms, plate current, screen current, max plate
// current, max screen current, load ohms, power, distortion, gm, rp, mu,
// mu g1g2, mu triode, tubes, plate supply, screen supply, screen series
// ohms, screen tap.
//
// Voltages are to the cathode. Where "tubes" is 2 the currents are of both
// tubes together, as the sheet prints them. Figures of one point may differ
// in source and mark.
type Point struct {
	N       int
	Figures []Value // Quantity without "point N "
}

// Points returns the published points of the card in the order of their
// numbers' first appearance.
func (c Card) Points() []Point {
	var points []Point
	at := map[int]int{}
	for _, v := range c.Values {
		n, name, ok := pointName(v.Quantity)
		if !ok {
			continue
		}
		i, known := at[n]
		if !known {
			i = len(points)
			at[n] = i
			points = append(points, Point{N: n})
		}
		v.Quantity = name
		points[i].Figures = append(points[i].Figures, v)
	}
	return points
}

// pointName splits "point 3 plate volts".
func pointName(quantity string) (int, string, bool) {
	f := strings.Fields(strings.ToLower(quantity))
	if len(f) < 3 || f[0] != "point" {
		return 0, "", false
	}
	n, err := strconv.Atoi(f[1])
	return n, strings.Join(f[2:], " "), err == nil && n > 0
}

// Figure returns a number of the point in SI base amounts; false where the
// sheet does not print it.
func (p Point) Figure(name string) (float64, bool) {
	for _, v := range p.Figures {
		if v.Quantity == name {
			return v.Amount, v.Number
		}
	}
	return 0, false
}

// Each returns a current of the point for one tube.
func (p Point) Each(current string) (float64, bool) {
	amps, ok := p.Figure(current)
	if n, several := p.Figure("tubes"); several && n > 0 {
		amps /= n
	}
	return amps, ok
}

// Mark returns the least trusted mark among the named figures, or among all
// where none are named. A figure that is not there counts for nothing.
func (p Point) Mark(names ...string) limit.Mark {
	least := limit.User
	found := false
	for _, v := range p.Figures {
		if len(names) > 0 && !oneOf(v.Quantity, names...) {
			continue
		}
		found = true
		least = min(least, v.Mark)
	}
	if !found {
		return limit.Memory
	}
	return least
}

// HeaterNominal returns the heater voltage the type wants: the middle of its
// limits, or the plain "heater volts" row.
func (c Card) HeaterNominal() (float64, bool) {
	for _, l := range c.LimitsOf(limit.HeaterVolts) {
		if l.HasLow && l.HasHigh {
			return (l.Low + l.High) / 2, true
		}
	}
	v, ok := c.Value(string(limit.HeaterVolts))
	return v.Amount, ok && v.Number
}
