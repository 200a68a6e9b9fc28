package circuit

import (
	"math"

	"lugworth/core/amp"
)

// A charge is one thing that may be wrong with one part. A drift has a number
// x: the knob is exp(x) times what it should be (a pot's setting, x beyond
// it); a leak has the logarithm of its ohms.
type charge struct {
	ref      string
	property Property
	fault    FaultKind
	knob     int
	low, top float64 // of x
	start    float64
}

// free reports whether a charge has a number to find.
func (c *charge) free() bool { return c.fault == 0 || c.fault == Leak }

// starts are the numbers a search begins at: a leak may be anything from a
// trace to nearly a short.
func (c *charge) starts() []float64 {
	if c.fault == Leak {
		return []float64{c.start, c.start - 4.6}
	}
	return []float64{c.start}
}

func (c *charge) moved(v, x float64) float64 {
	if c.property == Turn {
		return min(max(v+x, 0), 1)
	}
	return v * math.Exp(x)
}

// reach of a drift, in logarithms either way: how far parts go before they
// are as good as open or shorted.
var drifts = map[Property][2]float64{
	Ohms: {-3, 4}, Copper: {-2, 3}, Volts: {-0.7, 0.5}, Perveance: {-4, 1.2}, Share: {-1.5, 1.5}, Conduct: {-4, 1.5}, Turn: {-1, 1},
}

// charges lists what may be wrong, in the order of the sheet.
func (d *detective) charges() []charge {
	var out []charge
	for i, k := range d.net.Knobs {
		if r, ok := drifts[k.Property]; ok && d.from[i] > 0 {
			out = append(out, charge{ref: k.Ref, property: k.Property, knob: i, low: r[0], top: r[1]})
		}
	}
	for i := range d.q.Sheet {
		p := &d.q.Sheet[i]
		if len(p.Nodes) == 0 {
			continue
		}
		for _, f := range failsAs(p) {
			c := charge{ref: p.Ref, fault: f, knob: -1}
			if f == Leak {
				c.low, c.top, c.start = math.Log(1e2), math.Log(1e9), math.Log(1e6)
			}
			out = append(out, c)
		}
	}
	return out
}

// failsAs lists how a part fails.
func failsAs(p *amp.Position) []FaultKind {
	switch {
	case isOneOf(p.Kind, tubeKinds...):
		return []FaultKind{Pulled}
	case isOneOf(p.Kind, capacitorKinds...):
		return []FaultKind{Leak, Short}
	case isOneOf(p.Kind, "resistor", "choke"):
		return []FaultKind{Open, Short}
	case isOneOf(p.Kind, rectifierKinds...):
		return []FaultKind{Open, Short}
	}
	return nil
}
