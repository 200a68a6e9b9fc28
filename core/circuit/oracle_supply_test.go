//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"sort"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// opDeck is the direct-current deck: every reservoir node a source of the
// volts given, rectifiers and windings left out.
func opDeck(d *drawing, mean func(node string) float64) *deck {
	k, s := newDeck(d), supplyOf(d)
	for i := range d.parts {
		p := &d.parts[i]
		if !rectifying(p) && p.Kind != "winding" && !s.swings(d, p) {
			k.part(p)
		}
	}
	for _, n := range ordered(s.held) {
		k.line("Vh%s %s 0 %.12g", k.node(n), k.node(n), mean(n))
	}
	k.leak()
	k.line(".options reltol=1e-8 vntol=1e-11 abstol=1e-15 gmin=1e-15 itl1=1000")
	return k
}

// swings reports a part that stands on a node that swings with the mains.
func (s supply) swings(d *drawing, p *amp.Position) bool {
	for _, n := range p.Nodes {
		if s.swing[d.at(n.Name)] {
			return true
		}
	}
	return false
}

func ordered(set map[string]bool) []string {
	out := make([]string, 0, len(set))
	for n := range set {
		out = append(out, n)
	}
	sort.Strings(out)
	return out
}

// hertz is the mains frequency of the drawing.
func (d *drawing) hertz() float64 { return number(d.mainsRow(), "hz", unit.Hertz, 60) }

// liveDeck is the whole amp in time: the mains as a sine, the transformer
// winding by winding, every rectifier by its own law. Initial volts of the
// nodes that hold still are the means given.
func liveDeck(d *drawing) *deck {
	k, s := newDeck(d), supplyOf(d)
	k.primary()
	rectifier := map[string]bool{}
	for i := range d.parts {
		if p := &d.parts[i]; rectifying(p) {
			a, b := d.ends(p)
			rectifier[a], rectifier[b] = true, true
		}
	}
	for i := range d.parts {
		switch p := &d.parts[i]; {
		case rectifying(p):
			k.rectifier(p)
		case p.Kind == "winding":
			if d.feeds(p, rectifier) {
				k.winding(p)
			}
		default:
			k.part(p)
		}
	}
	for _, n := range ordered(s.swing) { // a bridge leaves its winding floating between pulses
		k.line("R%s %s 0 1e9", k.aid(), k.node(n))
	}
	k.leak()
	return k
}

// primary writes the mains, the ohms before the core and the heaters' load
// on it.
func (k *deck) primary() {
	m := k.d.mainsRow()
	nominal := m.Spec.Value()
	k.line("Vmains m0 0 SIN(0 %.12g %g)", k.d.mains*math.Sqrt2, k.d.hertz())
	k.line("Rprim m0 m1 %.9g", max(number(m, "rs", unit.Ohm, 0), 1e-3))
	if w := number(m, "heater", unit.Watt, 0); w > 0 {
		k.line("Rheat m1 0 %.9g", nominal*nominal/w)
	}
}

// winding writes the sections of a winding: a is the dotted end.
func (k *deck) winding(p *amp.Position) {
	turns := p.Spec.Value() / k.d.mainsRow().Spec.Value()
	copper := number(p, "dcr", unit.Ohm, 0)
	a, b := k.d.lead(p, "a"), k.d.lead(p, "b")
	if ct := k.d.lead(p, "ct"); ct != "" {
		k.section(a, ct, turns/2, copper/2)
		k.section(ct, b, turns/2, copper/2)
		return
	}
	k.section(a, b, turns, copper)
}

// section writes one coil: its volts from the core, its current back on the
// core, its copper.
func (k *deck) section(high, low string, turns, copper float64) {
	e, m, id := k.aid(), k.aid(), k.aid()
	k.line("E%s %s %s m1 0 %.12g", id, e, k.node(low), turns)
	k.line("Vw%s %s %s 0", id, e, m)
	k.line("R%s %s %s %.9g", id, m, k.node(high), max(copper, 1e-3))
	k.line("F%s m1 0 Vw%s %.12g", id, id, turns)
}

// rectifier writes a vacuum rectifier by its 3/2-power law, a diode as a line
// from its forward volts on, of 20 mΩ.
func (k *deck) rectifier(p *amp.Position) {
	l := k.lawOf(p)
	a, c := k.d.ends(p)
	mid := k.aid()
	k.line("V%s %s %s 0", sense(p.Ref), k.node(a), mid)
	u := fmt.Sprintf("v(%s,%s)", mid, k.node(c))
	conduct := number(p, "conduct", unit.None, 1)
	if l.Pv > 0 {
		k.line("B%s %s %s I=%.9g*pow(max(%s,0),1.5)", k.aid(), mid, k.node(c), l.Pv*conduct, u)
		return
	}
	k.line("B%s %s %s I=max(%s-%.9g,0)/0.02", k.aid(), mid, k.node(c), u, l.Vf)
}
