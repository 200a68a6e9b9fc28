//go:build !js

package circuit_test

import (
	"fmt"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// lawFunctions are the smooth step of the tube law and its guard, in the
// simulator's words. The argument of exp stays small, so that no deck stops
// on an overflow.
const lawFunctions = `.func sp(x,w) {w*(max(x/w,0)+ln(1+exp(-min(abs(x/w),60))))}
.func pos(x) {sp(x,0.3)}
.func on(x) {1/(1+exp(-min(max(x/0.3,-60),60)))}
.func soft(x) {max(x,0)+ln(1+exp(-min(abs(x),60)))}
`

// A deck is a circuit in the simulator's language. Every name in it is made
// here, for the simulator does not tell capital letters from small ones.
type deck struct {
	strings.Builder
	d    *drawing
	name map[string]string // node of the drawing → node of the deck
	aids int               // helper nodes and elements given out
}

func newDeck(d *drawing) *deck {
	k := &deck{d: d, name: map[string]string{"0": "0"}}
	for i, n := range d.nodes() {
		k.name[n] = fmt.Sprintf("n%d", i+1)
	}
	k.line("* %s", d.name)
	k.WriteString(lawFunctions)
	return k
}

func (k *deck) line(format string, args ...any) { fmt.Fprintf(k, format+"\n", args...) }

// node returns the deck's name of a node of the drawing.
func (k *deck) node(n string) string {
	name, ok := k.name[n]
	if !ok {
		panic(k.d.name + ": no node " + n)
	}
	return name
}

// aid gives out a name nothing else has.
func (k *deck) aid() string {
	k.aids++
	return fmt.Sprintf("x%d", k.aids)
}

// leak gives every node a way to the chassis too small to see.
func (k *deck) leak() {
	for _, n := range k.d.nodes() {
		k.line("Rg%s %s 0 1e12", k.node(n), k.node(n))
	}
}

// part writes one position that is no winding, mains or rectifier.
func (k *deck) part(p *amp.Position) {
	switch {
	case capacitive(p):
		a, b := k.d.ends(p)
		k.capacitor(p, a, b)
	case p.Kind == "resistor":
		a, b := k.d.ends(p)
		k.resistor(a, b, p.Spec.Value())
	case p.Kind == "pot":
		k.pot(p)
	case p.Kind == "choke":
		k.choke(p)
	case p.Kind == "triode":
		k.triode(p)
	case p.Kind == "pentode" || p.Kind == "beam":
		k.screenTube(p)
	case closed(*p), p.Kind == "mains", p.Kind == "winding":
	default:
		panic(k.d.name + ": " + p.Ref + ": the deck writer knows no " + p.Kind)
	}
}

func (k *deck) resistor(a, b string, ohms float64) {
	if a != b {
		k.line("R%s %s %s %.9g", k.aid(), k.node(a), k.node(b), ohms)
	}
}

func (k *deck) capacitor(p *amp.Position, a, b string) {
	if a == b {
		return
	}
	mid := k.aid()
	k.line("V%s %s %s 0", sense(p.Ref), k.node(a), mid)
	k.line("C%s %s %s %.9g", k.aid(), mid, k.node(b), p.Spec.Value())
}

// sense is the name of the source that measures a position's current.
func sense(ref string) string { return "s" + strings.ToLower(ref) }

func (k *deck) pot(p *amp.Position) {
	turn := number(p, "turn", unit.None, 0.5)
	track := p.Spec.Value()
	a, w, b := k.d.lead(p, "a"), k.d.lead(p, "wiper"), k.d.lead(p, "b")
	k.resistor(a, w, max(track*turn, 1e-3))
	k.resistor(w, b, max(track*(1-turn), 1e-3))
}

func (k *deck) choke(p *amp.Position) {
	a, b := k.d.ends(p)
	mid := k.aid()
	k.line("L%s %s %s %.9g", k.aid(), k.node(a), mid, p.Spec.Value())
	k.line("R%s %s %s %.9g", k.aid(), mid, k.node(b), max(number(p, "dcr", unit.Ohm, 0), 1e-3))
}

// A specimen of a tube, as the sheet states it.
func specimen(p *amp.Position) (factor, shift, share float64) {
	return number(p, "p", unit.None, 1), number(p, "shift", unit.Volt, 0), number(p, "share", unit.None, 1)
}

func (k *deck) lawOf(p *amp.Position) tube.Law {
	l, ok := k.d.law(p.Type)
	if !ok {
		panic(k.d.name + ": " + p.Ref + ": no law for " + p.Type)
	}
	return l
}

// grid writes the grid current: 1e-3 S(vg + 0.3, 0.15)^1.5.
func (k *deck) grid(g, c string) {
	k.line("B%s %s %s I=1e-3*pow(sp(v(%s,%s)+0.3,0.15),1.5)", k.aid(), g, c, g, c)
}

// triode writes va' = S(va, 0.3), e = S(vg + phi + va'/mu, (va' + 1)/k),
// Ia = P e^gamma va'/(va' + 1).
func (k *deck) triode(p *amp.Position) {
	if k.d.cold {
		return
	}
	l := k.lawOf(p)
	f, shift, _ := specimen(p)
	a, g, c := k.node(k.d.lead(p, "plate")), k.node(k.d.lead(p, "grid")), k.node(k.d.lead(p, "cathode"))
	va := fmt.Sprintf("pos(v(%s,%s))", a, c)
	e := fmt.Sprintf("sp(v(%s,%s)+%.9g+%s/%.9g,(%s+1)/%.9g)", g, c, l.Phi+shift, va, l.Mu, va, l.K)
	k.line("B%s %s %s I=%.9g*pow(%s,%.9g)*%s/(%s+1)", sense(p.Ref), a, c, l.P*f, e, l.Gamma, va, va)
	k.grid(g, c)
}

// screenTube writes the screen tube by three helper volts: the effective
// plate, the space current in mA, and the odds of plate against screen. A
// plate below its cathode draws nothing: the slope of va' takes it off.
func (k *deck) screenTube(p *amp.Position) {
	if k.d.cold {
		return
	}
	l := k.lawOf(p)
	f, shift, share := specimen(p)
	a, s := k.node(k.d.lead(p, "plate")), k.node(k.d.lead(p, "screen"))
	g, c := k.node(k.d.lead(p, "grid")), k.node(k.d.lead(p, "cathode"))
	va, vs := fmt.Sprintf("pos(v(%s,%s))", a, c), fmt.Sprintf("pos(v(%s,%s))", s, c)
	e, i, o := k.aid(), k.aid(), k.aid()
	k.line("B%s %s 0 V=(%s+%.9g*%s)/(1+%.9g)", e, e, vs, l.D, va, l.D)
	k.line("B%s %s 0 V=1000*%.9g*pow(sp(v(%s,%s)+%.9g+v(%s)/%.9g,(v(%s)+1)/%.9g),%.9g)",
		i, i, l.P*f, g, c, l.Phi+shift, e, l.Mu, e, l.K, l.Gamma)
	r := fmt.Sprintf("((%s+1e-9)/(%s+1e-9))", va, vs) // a power of nothing would stop the simulator on its way
	k.line("B%s %s 0 V=%.9g*pow(%s,%.9g)*pow(%s,1.6)/(pow(%s,1.6)+pow(0.08,1.6))", o, o, l.A*share, r, l.M, r, r)
	k.line("B%s %s %s I=0.001*v(%s)*v(%s)/(1+v(%s))*on(v(%s,%s))", sense(p.Ref), a, c, i, o, o, a, c)
	k.line("B%s %s %s I=0.001*v(%s)/(1+v(%s))*%s/(%s+1)", k.aid(), s, c, i, o, vs, vs)
	k.grid(g, c)
}
