//go:build !js

package circuit_test

import (
	"math"
	"os"
	"testing"

	"lugworth/core/circuit"
	"lugworth/core/limit"
)

// rippleCurrent is the alternating current of a reservoir, amps rms.
const rippleCurrent limit.Quantity = "ripple current"

// long asks for every run live: make long-oracle.
func long() bool { return os.Getenv("LUGWORTH_LONG") == "oracle" }

// Our solution against the whole amp in time, rectifiers, transformer and
// all: means to 0.1 % or 20 mV, ripple of 50 mV and more to 2 %, reservoir
// currents to 1.5 %, greatest rectifier currents to 1 %. With nothing drawing
// current the means hold to 0.15 %.
func TestOracleInTime(t *testing.T) {
	for _, c := range liveCases(t) {
		t.Run(c.file, func(t *testing.T) {
			if long() {
				compare(t, c, c.settled(t))
			} else {
				compare(t, c, c.kept(t))
			}
		})
	}
}

// One run live at every change, of the amp whose laws come from a card file:
// the kept ones are of this simulator, and still what it says.
func TestOracleInTimeLive(t *testing.T) {
	t.Parallel()
	for _, c := range liveCases(t) {
		if c.file != "single" {
			continue
		}
		sol := c.solve(t, c.state())
		l := runLive(t, c.draw(), quickSpan, sol.Node)
		compare(t, c, l)
		kept := c.kept(t)
		for n, v := range l.Mean {
			if math.Abs(v-kept.Mean[n]) > max(0.02, 1e-3*math.Abs(v)) {
				t.Errorf("node %s: %.4f V live, %.4f V kept", n, v, kept.Mean[n])
			}
		}
		return
	}
	t.Fatal("no case named single")
}

// A tally keeps the worst of each comparison of one case.
type tally struct {
	t     *testing.T
	c     liveCase
	worst map[string]float64
}

func (y *tally) hold(what, at string, ours, theirs, off, allowed float64) {
	y.worst[what] = max(y.worst[what], off)
	if math.IsNaN(off) || off > allowed {
		y.t.Errorf("%s: %s of %s: %.6g, the simulator says %.6g: off by %.3g, allowed %.3g", y.c.file, what, at, ours, theirs, off, allowed)
	}
}

func relative(ours, theirs float64) float64 { return math.Abs(ours-theirs) / math.Abs(theirs) }

func compare(t *testing.T, c liveCase, l *live) {
	t.Helper()
	sol := c.solve(t, c.state())
	y := &tally{t, c, map[string]float64{}}
	y.volts(sol, l)
	if !c.cold {
		y.currents(sol, l)
	}
	t.Logf("%-15s means %.4f %%, ripple %.2f %%, reservoir %.2f %%, peak %.2f %%, mean of a leg %.3f %%", c.file,
		100*y.worst["mean"], 100*y.worst["ripple"], 100*y.worst["reservoir"], 100*y.worst["peak"], 100*y.worst["flow"])
}

func (y *tally) volts(sol *circuit.Solution, l *live) {
	d := y.c.draw()
	swing := supplyOf(d).swing
	allowed := 1e-3
	if y.c.cold {
		allowed = 1.5e-3
	}
	for _, n := range d.nodes() {
		if swing[n] {
			continue
		}
		v, ok := sol.Node(n)
		r, also := sol.Ripple(n)
		if !ok || !also {
			y.t.Errorf("%s: node %s: volts known %v, ripple %v", y.c.file, n, ok, also)
			continue
		}
		y.hold("mean", n, v, l.Mean[n], math.Abs(v-l.Mean[n])/max(math.Abs(l.Mean[n]), 0.02/allowed), allowed)
		if l.Ripple[n] > 0.05 && !y.c.cold {
			y.hold("ripple", n, r, l.Ripple[n], relative(r, l.Ripple[n]), 0.02)
		}
	}
}

func (y *tally) currents(sol *circuit.Solution, l *live) {
	for _, ref := range keysOf(l.Rms) {
		ours, ok := sol.Figure(circuit.Figure{Ref: ref, Quantity: rippleCurrent})
		if !ok {
			y.t.Errorf("%s: no ripple current of %s", y.c.file, ref)
			continue
		}
		y.hold("reservoir", ref, ours, l.Rms[ref], relative(ours, l.Rms[ref]), 0.015)
	}
	for _, ref := range keysOf(l.Peak) {
		leg, ok := sol.Leg(ref)
		if !ok {
			y.t.Errorf("%s: no currents of %s", y.c.file, ref)
			continue
		}
		y.hold("peak", ref, leg.Peak, l.Peak[ref], relative(leg.Peak, l.Peak[ref]), 0.01)
		y.hold("flow", ref, leg.Mean, l.Flow[ref], relative(leg.Mean, l.Flow[ref]), 0.005)
	}
}
