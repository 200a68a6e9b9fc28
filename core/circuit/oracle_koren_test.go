//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"testing"
)

// A koren is a tube by another law than ours, in the form of N. L. Koren,
// "Improved vacuum tube models for SPICE simulations", Glass Audio 8(5), 1996
// (from memory; the form is known from many later texts):
//
//	triode  E = (Vp/kp) ln(1 + exp(kp (1/mu + Vg/sqrt(kvb + Vp²)))),  Ip = 2 E^x / kg1
//	screen  E = (Vs/kp) ln(1 + exp(kp (1/mu + Vg/Vs))),  Ip = (2 E^x / kg1) atan(Vp/kvb),
//	        Is = E^1.5 / kg2
//
// The paper's screen current is (Vg + Vs/mu)^1.5 / kg2, which stops short
// where a cold-biased tube idles; E runs into it smoothly.
//
// Its screen current does not depend on plate volts and its plate current
// rises with them by an arc tangent: neither is so in our law.
type koren struct {
	Mu, X, Kg1, Kp, Kvb float64
	Kg2                 float64 // screen tubes; 0 = triode
}

// A korenPoint is a published operating point: volts to the cathode, mA,
// mA/V, kΩ; 0 = not printed.
type korenPoint struct {
	plate, screen, grid  float64
	amps, second, gm, rp float64
	source               string
}

// The points the other law is fitted to. For the output tubes none of them
// stands on the shipped cards, on which our own laws rest. All are from
// memory of published rows, which is good enough here: they only have to be
// somebody's tube of about that type.
var korenPoints = map[string][]korenPoint{
	"12AX7": {
		{100, 0, -1, 0.5, 0, 1.25, 80, "characteristics; the cards have no third row to take instead"},
		{250, 0, -2, 1.2, 0, 1.6, 62.5, "characteristics; the cards have no third row to take instead"},
	},
	"6V6GT": {
		{180, 180, -8.5, 29, 3, 3.7, 50, "from memory: 6V6GT, class A1, 180 V"},
		{285, 285, -19, 35, 2, 0, 0, "from memory: 6V6GT, class AB1 pair, 285 V, one tube"},
	},
	"6L6GC": {
		{350, 250, -18, 54, 2.5, 5.2, 33, "from memory: 6L6GC, class A1, 350 V"},
		{360, 225, -18, 39, 1.75, 0, 0, "from memory: 6L6GC, class AB2 pair, 225 V screens, one tube"},
	},
	"EL34": {
		{250, 265, -14.5, 70, 10, 9, 18, "from memory: EL34, class A, 70 mA"},
		{800, 400, -39, 25, 3, 0, 0, "from memory: EL34, class B pair, 800 V, one tube"},
	},
	"EL84": {
		{250, 250, -8.4, 36, 4.1, 10, 40, "from memory: EL84, class A, 36 mA"},
		{250, 210, -6.4, 36, 3.9, 10.4, 40, "from memory: EL84, class A, 210 V screen"},
		{300, 300, -14.7, 7.5, 0.8, 0, 0, "from memory: EL84, class B pair, 300 V, one tube"},
	},
}

// at returns plate and screen amps.
func (k koren) at(plate, screen, grid float64) (ip, is float64) {
	if k.Kg2 == 0 {
		e := plate / k.Kp * softplus(k.Kp*(1/k.Mu+grid/math.Sqrt(k.Kvb+plate*plate)))
		return 2 * math.Pow(e, k.X) / k.Kg1, 0
	}
	e := screen / k.Kp * softplus(k.Kp*(1/k.Mu+grid/screen))
	return 2 * math.Pow(e, k.X) / k.Kg1 * math.Atan(plate/k.Kvb), math.Pow(e, 1.5) / k.Kg2
}

func softplus(x float64) float64 { return max(x, 0) + math.Log1p(math.Exp(-math.Abs(x))) }

// lines writes the tube for a deck: f on the current, shift on the grid,
// share on the screen's current.
func (k koren) lines(d *deck, ref, a, s, g, c string, f, shift, share float64) {
	vg := fmt.Sprintf("(v(%s,%s)+%.9g)", g, c, shift)
	if k.Kg2 == 0 {
		x := fmt.Sprintf("%.9g*(1/%.9g+%s/sqrt(%.9g+v(%s,%s)^2))", k.Kp, k.Mu, vg, k.Kvb, a, c)
		d.line("B%s %s %s I=%.9g*pow(pos(v(%s,%s))/%.9g*soft(%s),%.9g)", sense(ref), a, c, 2*f/k.Kg1, a, c, k.Kp, x, k.X)
		return
	}
	e := d.aid()
	d.line("B%s %s 0 V=pos(v(%s,%s))/%.9g*soft(%.9g*(1/%.9g+%s/pos(v(%s,%s))))", e, e, s, c, k.Kp, k.Kp, k.Mu, vg, s, c)
	d.line("B%s %s %s I=%.9g*pow(v(%s),%.9g)*atan(v(%s,%s)/%.9g)", sense(ref), a, c, 2*f/k.Kg1, e, k.X, a, c, k.Kvb)
	d.line("B%s %s %s I=%.9g*pow(v(%s),1.5)", d.aid(), s, c, f*share/k.Kg2, e)
}

// miss is how far the law is from the points: log ratios over the error
// allowed each (plate 1 %, screen 5 %, gm 3 %, rp 15 %), and what its
// constants commonly are.
func (k koren) miss(points []korenPoint, usual koren) float64 {
	sum := 0.0
	add := func(ours, theirs, sigma float64) {
		if theirs > 0 {
			z := math.Log(ours/theirs) / sigma
			sum += z * z
		}
	}
	for _, p := range points {
		ip, is := k.at(p.plate, p.screen, p.grid)
		add(1e3*ip, p.amps, 0.01)
		add(1e3*is, p.second, 0.05)
		up, _ := k.at(p.plate, p.screen, p.grid+0.01)
		add((up-ip)/0.01*1e3, p.gm, 0.03)
		up, _ = k.at(p.plate+1, p.screen, p.grid)
		add(1e-3/(up-ip), p.rp, 0.15)
	}
	add(k.Mu, usual.Mu, 0.08)
	add(k.X, usual.X, 0.06)
	add(k.Kp, usual.Kp, 0.5)
	add(k.Kvb, usual.Kvb, 0.7)
	if math.IsNaN(sum) {
		return math.Inf(1)
	}
	return sum
}

// usual are constants about which fits of this form commonly lie.
var usual = map[string]koren{
	"12AX7": {Mu: 100, X: 1.4, Kg1: 1060, Kp: 600, Kvb: 300},
	"6V6GT": {Mu: 9.5, X: 1.35, Kg1: 1460, Kp: 48, Kvb: 20, Kg2: 4500},
	"6L6GC": {Mu: 8.7, X: 1.35, Kg1: 1460, Kp: 48, Kvb: 20, Kg2: 4500},
	"EL34":  {Mu: 11, X: 1.35, Kg1: 650, Kp: 60, Kvb: 24, Kg2: 4200},
	"EL84":  {Mu: 19, X: 1.35, Kg1: 600, Kp: 110, Kvb: 24, Kg2: 4500},
}

// The other law says what its points say: plate currents to 5 %, gm to 10 %,
// screen currents to 35 %, for those scatter so from row to row.
func TestKorenFits(t *testing.T) {
	for _, typeNumber := range keysOf(korenPoints) {
		k := fitKoren(typeNumber)
		t.Logf("%-6s mu %.2f x %.3f kg1 %.0f kp %.1f kvb %.1f kg2 %.0f", typeNumber, k.Mu, k.X, k.Kg1, k.Kp, k.Kvb, k.Kg2)
		for _, p := range korenPoints[typeNumber] {
			ip, is := k.at(p.plate, p.screen, p.grid)
			up, _ := k.at(p.plate, p.screen, p.grid+0.01)
			gm := (up - ip) / 0.01 * 1e3
			t.Logf("  %3.0f/%3.0f/%5.1f: %6.2f of %6.2f mA, screen %5.2f of %5.2f, gm %5.2f of %5.2f", p.plate, p.screen, p.grid, 1e3*ip, p.amps, 1e3*is, p.second, gm, p.gm)
			if math.Abs(1e3*ip/p.amps-1) > 0.05 || p.second > 0 && math.Abs(1e3*is/p.second-1) > 0.35 || p.gm > 0 && math.Abs(gm/p.gm-1) > 0.1 {
				t.Errorf("%s at %g/%g/%g: too far from the point", typeNumber, p.plate, p.screen, p.grid)
			}
		}
	}
}
