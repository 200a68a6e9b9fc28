//go:build !js

package circuit_test

import (
	"fmt"
	"strings"
	"testing"

	"lugworth/core/amp"
)

// A live is what a run of the whole amp in time showed, settled.
type live struct {
	Mean, Drift, Ripple map[string]float64 // by node: volts, change of the mean over the last half second, peak to peak
	Rms                 map[string]float64 // by reservoir: amps of alternating current
	Peak, Flow          map[string]float64 // by rectifier: greatest and mean amps
}

func newLive() *live {
	m := func() map[string]float64 { return map[string]float64{} }
	return &live{m(), m(), m(), m(), m(), m()}
}

// A span is how a run in time is made.
type span struct {
	cycles int // mains cycles run
	steps  int // at least, in a cycle
}

// The whole run, one for amps that settle slowly, and a shorter one that
// starts settled enough for a test.
var (
	fullSpan  = span{150, 600}
	longSpan  = span{450, 600}
	quickSpan = span{60, 600}
)

// windowCycles is the length of each of the two windows whose means are
// compared to see whether the run has settled.
const windowCycles = 25

// liveText is the deck of a run, initial volts left out: those come from our
// own means, and only shorten the way to the answer.
func liveText(k *deck, s span) string {
	step := 1 / (k.d.hertz() * float64(s.steps))
	return k.String() + fmt.Sprintf(".options method=gear reltol=1e-5 vntol=1e-6 abstol=1e-9 itl1=1000 itl4=100\n.tran %.9g %.9g 0 %.9g\n",
		step, float64(s.cycles)/k.d.hertz(), step)
}

// starting writes the initial volts.
func starting(k *deck, mean func(string) (float64, bool)) string {
	swing := supplyOf(k.d).swing
	var b strings.Builder
	for _, n := range k.d.nodes() {
		if v, ok := mean(n); ok && !swing[n] {
			fmt.Fprintf(&b, ".ic v(%s)=%.9g\n", k.node(n), v)
		}
	}
	return b.String()
}

// measures lists what a run is asked for, and where each answer goes.
type measures struct {
	control strings.Builder
	into    map[string]func(*live, float64)
}

func (m *measures) ask(kind, of string, from, to float64, into func(*live, float64)) {
	name := fmt.Sprintf("q%d", len(m.into))
	fmt.Fprintf(&m.control, "meas tran %s %s %s from=%.9g to=%.9g\n", name, kind, of, from, to)
	m.into[name] = into
}

func liveMeasures(k *deck, s span) *measures {
	m := &measures{into: map[string]func(*live, float64){}}
	cycle := 1 / k.d.hertz()
	end := float64(s.cycles) * cycle
	late, early := end-windowCycles*cycle, end-2*windowCycles*cycle
	for _, n := range k.d.nodes() {
		v := "v(" + k.node(n) + ")"
		m.ask("avg", v, late, end, func(l *live, x float64) { l.Mean[n] = x })
		m.ask("avg", v, early, late, func(l *live, x float64) { l.Drift[n] = l.Mean[n] - x })
		m.ask("pp", v, end-3*cycle, end, func(l *live, x float64) { l.Ripple[n] = x })
	}
	for i := range k.d.parts {
		p := &k.d.parts[i]
		current := "i(v" + sense(p.Ref) + ")"
		switch {
		case p.Role == amp.Reservoir:
			m.ask("rms", current, end-6*cycle, end, func(l *live, x float64) { l.Rms[p.Ref] = x })
		case rectifying(p):
			m.ask("max", current, end-6*cycle, end, func(l *live, x float64) { l.Peak[p.Ref] = x })
			m.ask("avg", current, end-6*cycle, end, func(l *live, x float64) { l.Flow[p.Ref] = x })
		}
	}
	return m
}

// runLive runs a drawing in time, starting from the means given.
func runLive(t testing.TB, d *drawing, s span, mean func(string) (float64, bool)) *live {
	t.Helper()
	k := liveDeck(d)
	m := liveMeasures(k, s)
	text := simulate(t, liveText(k, s)+starting(k, mean), "run\n"+m.control.String())
	got := values(text)
	l := newLive()
	for i := range len(m.into) {
		name := fmt.Sprintf("q%d", i)
		v, ok := got[name]
		if !ok {
			t.Fatalf("%s: the simulator measured no %s:\n%s", d.name, name, tail(text, 30))
		}
		m.into[name](l, v)
	}
	return l
}
