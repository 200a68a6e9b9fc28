package circuit

import (
	"math"
	"slices"

	"lugworth/core/amp"
)

// A pin matches the circuit to one reading: the knobs that move, together, by
// one number until the circuit reads what the meter read.
type pin struct {
	target int
	moves  []move
	limit  float64 // how far the number may go before the reading contradicts the sheet
	tubes  []string
	err    float64 // of the current it tells, relative; tubes only
	screen bool
}

// A move says how a knob follows a pin's number x: times exp(by x), or plus
// by x.
type move struct {
	knob int
	by   float64
	add  bool
}

func (m move) apply(v Values, x float64) {
	if m.add {
		v[m.knob] += m.by * x
		return
	}
	v[m.knob] *= math.Exp(m.by * x)
}

// delta is the change of the knob for a small change of x, at values v.
func (m move) delta(v Values, dx float64) float64 {
	if m.add {
		return m.by * dx
	}
	return v[m.knob] * m.by * dx
}

// How far a tube may be from its type, and any other number from its own, in
// half widths of the spread table, before the reading contradicts the sheet.
const (
	leastCurrent, mostCurrent = 0.4, 2.5
	mostWidths                = 3.0
)

// A current known no better than this tells nothing that the type does not.
const tellsNothing = 0.3

// tubes pins the current of every tube that was read, and how it parts
// between plate and screen where that was read too.
func (c *chooser) tubes(property Property) {
	for i := range c.j.parts {
		p := &c.j.parts[i]
		if _, ok := c.net.Knob(p.Ref, property); !ok || !isOneOf(p.Kind, tubeKinds...) {
			continue
		}
		if d, ok := c.current(p, "cathode", "plate"); ok && d.err < tellsNothing {
			c.tube(p, d, property, false)
		}
	}
	for i := range c.j.parts {
		p := &c.j.parts[i]
		if _, ok := c.net.Knob(p.Ref, Share); !ok || isOneOf(p.Kind, "triode") {
			continue
		}
		if d, ok := c.current(p, "screen"); ok && d.err < tellsNothing {
			c.tube(p, d, Share, true)
		}
	}
}

// tube adds a tube to the pin of its reading: tubes on one resistor move
// together.
func (c *chooser) tube(p *amp.Position, d drop, property Property, screen bool) {
	k, _ := c.net.Knob(p.Ref, property)
	m := move{knob: k, by: 1, add: property == Shift}
	if i := slices.IndexFunc(c.pins, func(o pin) bool { return o.target == d.target }); i >= 0 {
		if c.pins[i].screen == screen {
			c.pins[i].moves = append(c.pins[i].moves, m)
			c.pins[i].tubes = append(c.pins[i].tubes, p.Ref)
		}
		return
	}
	if c.taken[d.target] {
		return
	}
	limit := math.Log(mostCurrent)
	if m.add {
		limit = mostShift(p)
	}
	c.taken[d.target] = true
	c.pins = append(c.pins, pin{target: d.target, moves: []move{m}, limit: limit, tubes: []string{p.Ref}, err: d.err, screen: screen})
}

// mostShift is how many grid volts a tube may be from its type.
func mostShift(p *amp.Position) float64 {
	if isOutput(p) || p.Kind == "pentode" {
		return 8
	}
	return 1.5
}

// parts pins ohms that nobody measured where both their ends were read and
// the drop tells more than the marking.
func (c *chooser) parts() {
	for i := range c.j.parts {
		p := &c.j.parts[i]
		k, ok := c.ohms(i)
		if !ok || !isOneOf(p.Kind, "resistor", "choke") || c.values[k] <= 0 {
			continue
		}
		a, b, ok := c.j.leads(p)
		if !ok {
			continue
		}
		va, ea, oka := c.volts(a)
		vb, eb, okb := c.volts(b)
		if !oka || !okb || va == vb {
			continue
		}
		t := c.free(a, b)
		if err := (ea + eb) / math.Abs(va-vb); t >= 0 && err < c.halves[k].width/c.values[k] {
			c.taken[t] = true
			c.pins = append(c.pins, pin{target: t, moves: []move{{knob: k, by: 1}}, limit: mostWidths * c.halves[k].width / c.values[k]})
		}
	}
}

// free is a node's reading that nothing was matched to yet: of two, the lower
// one, which lies further from the supply.
func (c *chooser) free(nodes ...string) int {
	best := -1
	for _, n := range nodes {
		i := c.node(n)
		if i >= 0 && !c.taken[i] && (best < 0 || math.Abs(c.ts[i].amount) < math.Abs(c.ts[best].amount)) {
			best = i
		}
	}
	return best
}
