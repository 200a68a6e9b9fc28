package circuit

import (
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/tube"
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

// chooser finds the pins a set of readings allows.
type chooser struct {
	net    *Net
	j      *joints
	ts     []target
	values Values
	halves []half
	taken  map[int]bool // targets already matched to
	pins   []pin
}

// node returns the best bench reading of a node: -1 where there is none.
func (c *chooser) node(name string) int {
	best := -1
	for i := range c.ts {
		t := &c.ts[i]
		if t.kind == readNode && t.bench && t.why == "" && t.node == name && (best < 0 || t.err < c.ts[best].err) {
			best = i
		}
	}
	return best
}

// volts returns a node's volts and their error, as read.
func (c *chooser) volts(name string) (v, err float64, ok bool) {
	if name == chassisNode {
		return 0, 0, true
	}
	i := c.node(name)
	if i < 0 {
		return 0, 0, false
	}
	return c.ts[i].amount, c.ts[i].err, true
}

func (c *chooser) known(name string) bool { _, _, ok := c.volts(name); return ok }

// drop is the current a reading tells by the drop over a chain of parts.
type drop struct {
	target int
	err    float64 // relative
	amps   float64
}

// over finds the current out of a node by the drop to the next known node.
func (c *chooser) over(node string) (drop, bool) {
	i := c.node(node)
	if i < 0 {
		return drop{}, false
	}
	ch, ok := c.j.follow(node, c.known)
	if !ok {
		return drop{}, false
	}
	end, endErr, _ := c.volts(ch.end)
	ohms, ohmsErr := 0.0, 0.0
	for _, p := range ch.parts {
		k, ok := c.ohms(p)
		if !ok {
			return drop{}, false
		}
		ohms += c.values[k]
		ohmsErr += c.halves[k].width
	}
	across := math.Abs(c.ts[i].amount - end)
	if across == 0 || ohms == 0 {
		return drop{}, false
	}
	return drop{target: i, err: (c.ts[i].err+endErr)/across + ohmsErr/ohms, amps: across / ohms}, true
}

// ohms is the knob of a part's ohms.
func (c *chooser) ohms(part int) (int, bool) {
	ref := c.j.parts[part].Ref
	if k, ok := c.net.Knob(ref, Ohms); ok {
		return k, true
	}
	return c.net.Knob(ref, Copper)
}

// current is the reading that tells a tube's current best.
func (c *chooser) current(p *amp.Position, leads ...string) (drop, bool) {
	best, found := drop{err: math.Inf(1)}, false
	take := func(d drop, ok bool) {
		if ok && d.err < best.err {
			best, found = d, true
		}
	}
	for i := range c.ts {
		t := &c.ts[i]
		if t.kind == readCurrent && t.bench && t.why == "" && t.ref == p.Ref && isOneOf(t.lead, leads...) && t.amount > 0 {
			take(drop{target: i, err: t.err / t.amount, amps: t.amount}, true)
		}
	}
	for _, lead := range leads {
		if n, ok := p.Node(lead); ok && c.own(c.j.root(n), lead) {
			take(c.over(c.j.root(n)))
		}
	}
	return best, found
}

// own reports whether nothing but electrodes of one kind pull at a node: only
// then does a drop tell their current.
func (c *chooser) own(node, lead string) bool {
	for _, p := range c.j.pull[node] {
		if p.electrode != lead || !isOneOf(c.j.parts[p.part].Kind, tubeKinds...) {
			return false
		}
	}
	return node != chassisNode
}

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

// lawPoints tells whether a type's law rests on one published point only.
func lawPoints(laws Laws, typ string) (tube.Law, bool) {
	if laws == nil {
		return tube.Law{}, false
	}
	l, _, ok := laws(typ)
	return l, ok
}
