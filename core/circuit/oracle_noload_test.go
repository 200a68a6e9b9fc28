//go:build !js

package circuit_test

import (
	"fmt"
	"math"
	"testing"

	"lugworth/core/circuit"
)

// With nothing drawing current a reservoir stays where it is put, if that is
// too high, for longer than any run: a run in time that starts from our volts
// would agree with whatever we say. So it is held a little below our volts,
// where the rectifier must give more than the circuit takes, and a little
// above, where it must not. The wanted 0.15 % is what a little is. Reservoirs
// that ripple (bias supplies feed their dividers) are left to the runs in
// time: they find their level.
func TestOracleNoLoad(t *testing.T) {
	for _, a := range oracleAmps(t) {
		t.Run(a.name, func(t *testing.T) {
			mains := 1.06 * a.nominal()
			sol := a.solve(t, circuit.State{Mains: mains, Cold: true})
			d := a.drawing(mains)
			d.cold = true
			low, high := given(t, d, sol, 1-1.5e-3), given(t, d, sol, 1+1.5e-3)
			if len(low) == 0 {
				t.Fatal("no reservoir held")
			}
			for _, n := range keysOf(low) {
				v, _ := sol.Node(n)
				t.Logf("%s at %.3f V: %.3g A to spare a little below, %.3g A a little above", n, v, low[n], high[n])
				if !(low[n] > 1e-7) || !(high[n] < 1e-7) {
					t.Errorf("%s at %.3f V is not its no-load volts", n, v)
				}
			}
		})
	}
}

// given returns, by steady reservoir node at a rectifier, what the rectifier
// gives beyond what the circuit takes while every reservoir is held at our
// volts times a factor.
func given(t *testing.T, d *drawing, sol *circuit.Solution, factor float64) map[string]float64 {
	t.Helper()
	k, held := liveDeck(d), supplyOf(d).held
	for _, n := range ordered(held) {
		k.line("Vhold%s %s 0 %.12g", k.node(n), k.node(n), means(t, sol)(n)*factor)
	}
	s := span{8, 600}
	cycle := 1 / d.hertz()
	control, want := "run\n", map[string]float64{}
	for _, p := range d.parts {
		if !rectifying(&p) {
			continue
		}
		for _, l := range p.Nodes {
			n := d.at(l.Name)
			r, _ := sol.Ripple(n)
			if v, _ := sol.Node(n); held[n] && r < 5e-4*math.Abs(v) {
				want[n] = math.Copysign(1, v)
			}
		}
	}
	for _, n := range keysOf(want) {
		control += fmt.Sprintf("meas tran %s avg i(vhold%s) from=%.9g to=%.9g\n", k.node(n), k.node(n), 4*cycle, 8*cycle)
	}
	got := values(simulate(t, liveText(k, s), control))
	for n, sign := range want {
		v, ok := got[k.node(n)]
		if !ok {
			t.Fatalf("%s: no current of %s measured", d.name, n)
		}
		want[n] = sign * v
	}
	return want
}
