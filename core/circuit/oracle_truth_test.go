//go:build !js

package circuit_test

import (
	"fmt"
	"math"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A truthState is one way a trial amp is run: its mains as a part of the
// bench's, and whether the bias resistor is the new one.
type truthState struct {
	name    string
	mains   float64
	changed bool
}

var truthStates = []truthState{
	{"bench", 1, false}, {"low", 0.94, false}, {"high", 1.06, false}, {"highest", 1.10, false},
	{"changed", 1, true}, {"changed-high", 1.06, true},
}

// A truth is one trial amp in one state, on its way to consistent volts: the
// reckoning of the supply and the simulator's operating point in turns.
type truth struct {
	amp   *trialAmp
	state truthState
	parts []amp.Position
	load  []float64 // drawn out of reservoir nodes, A
	held  []float64
	volts map[string]float64
	off   float64 // how far the last turn moved the reservoirs, a fraction
}

// reservoirs are the nodes whose volts the reckoning gives.
func (a *trialAmp) reservoirs() []string {
	if a.fixed {
		return []string{"B1", "NEG"}
	}
	return []string{"B1"}
}

func newTruth(a *trialAmp, s truthState) *truth {
	u := &truth{amp: a, state: s, parts: a.real, load: []float64{0.08, -0.002}[:len(a.reservoirs())]}
	if s.changed {
		u.parts = append([]amp.Position(nil), a.real...)
		for i := range u.parts {
			if u.parts[i].Ref == a.change.ref {
				u.parts[i].Spec.Values = []float64{a.change.real}
			}
		}
	}
	u.held = []float64{350, -50}[:len(u.load)]
	return u
}

func (u *truth) mains() float64 { return u.amp.bench * u.state.mains }

func (u *truth) find(ref string) *amp.Position {
	for i := range u.parts {
		if u.parts[i].Ref == ref {
			return &u.parts[i]
		}
	}
	panic("no " + ref)
}

// reckoning is the supply of the amp in this state.
func (u *truth) reckoning() *reckoning {
	m, w := u.find("MAINS"), u.find("T1")
	nominal := m.Spec.Value()
	half := w.Spec.Value() / 2 / nominal
	leg := u.amp.rect
	leg.turns, leg.toward, leg.ohms = half, 1, number(w, "dcr", unit.Ohm, 0)/2
	other := leg
	other.turns = -half
	r := &reckoning{
		peak: u.mains() * math.Sqrt2, ohms: number(m, "rs", unit.Ohm, 0), heater: number(m, "heater", unit.Watt, 0) / nominal / nominal,
		hertz: number(m, "hz", unit.Hertz, 0), legs: []reckonLeg{leg, other},
		farads: []float64{u.find("C101").Spec.Value()}, load: u.load, slip: []float64{0},
	}
	for i := range u.parts {
		if u.parts[i].Ref == "R109" { // in place of a choke: the next capacitor holds its other end still
			r.slip[0] = 1 / u.parts[i].Spec.Value()
		}
	}
	if u.amp.fixed {
		b := u.find("T3")
		r.farads, r.slip = append(r.farads, u.find("C301").Spec.Value()), append(r.slip, 1/u.find("R302").Spec.Value())
		r.legs = append(r.legs, reckonLeg{1, b.Spec.Value() / nominal, -1, number(b, "dcr", unit.Ohm, 0) + u.find("R301").Spec.Value(), 0, 0.75})
	}
	return r
}

// text is the operating-point deck with the other law's tubes.
func (u *truth) text() (string, *deck) {
	d := drawn(fmt.Sprintf("trial %d %s", u.amp.number, u.state.name), u.parts, nil, u.mains())
	k, s := newDeck(d), supplyOf(d)
	for i := range d.parts {
		p := &d.parts[i]
		switch {
		case rectifying(p) || p.Kind == "winding" || s.swings(d, p):
		case p.Kind == "triode" || p.Kind == "pentode" || p.Kind == "beam":
			u.tube(k, p)
		default:
			k.part(p)
		}
	}
	for i, n := range u.amp.reservoirs() {
		k.line("Vh%s %s 0 %.10g", k.node(n), k.node(n), u.held[i])
	}
	k.leak()
	k.line(".options reltol=1e-7 vntol=1e-9 abstol=1e-14 gmin=1e-15 itl1=1000")
	return k.String(), k
}

// shiftOf is what is added to a tube's grid: its own, and the heaters'.
func (u *truth) shiftOf(ref string) float64 {
	return u.amp.is[ref].shift + u.amp.heat*(u.state.mains-1)/0.1
}

func (u *truth) tube(k *deck, p *amp.Position) {
	at := func(lead string) string { return k.node(k.d.lead(p, lead)) }
	s, is := "", u.amp.is[p.Ref]
	if p.Kind != "triode" {
		s = at("screen")
	}
	korens[p.Type].lines(k, p.Ref, at("plate"), s, at("grid"), at("cathode"), is.f, u.shiftOf(p.Ref), is.share)
}

// korens are the other law's types, fitted once.
var korens = func() map[string]koren {
	out := map[string]koren{}
	for typeNumber := range korenPoints {
		out[typeNumber] = fitKoren(typeNumber)
	}
	return out
}()

// watts are plate and screen watts of a tube of the output stage.
func (u *truth) watts(ref string) (plate, screen float64) {
	ip, is, va, vs := u.amps(ref)
	return ip * va, is * vs
}

// amps are the currents of an output tube and its volts to the cathode.
func (u *truth) amps(ref string) (ip, is, va, vs float64) {
	p := u.find(ref)
	at := func(lead string) float64 { n, _ := p.Node(lead); return u.volts[n] }
	va, vs = at("plate")-at("cathode"), at("screen")-at("cathode")
	k := u.amp.is[ref]
	ip, is = korens[p.Type].at(va, vs, at("grid")-at("cathode")+u.shiftOf(ref))
	return ip * k.f, is * k.f * k.share, va, vs
}
