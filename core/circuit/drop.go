package circuit

import (
	"math"

	"lugworth/core/amp"
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
