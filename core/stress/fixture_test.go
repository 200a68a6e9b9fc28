package stress

import (
	"math"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// stage is an invented amp: two beam tubes with one cathode resistor behind a
// directly heated rectifier, read at 117 V with a meter taken as exact.
func stage() *amp.Amp {
	nodes := func(pairs ...string) []amp.Node {
		var out []amp.Node
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, amp.Node{Role: pairs[i], Name: pairs[i+1]})
		}
		return out
	}
	read := func(at, quantity string, v float64, u unit.Unit, mains unit.Voltage, state ...string) amp.Reading {
		return amp.Reading{ID: at, At: at, Quantity: quantity, Amount: v, Unit: u, Mains: mains, State: state, Stated: true}
	}
	ohm := func(v float64) unit.Spec { return unit.Spec{Unit: unit.Ohm, Values: []float64{v}} }
	return &amp.Amp{
		Bias: CathodeBias, Alike: true,
		Positions: []amp.Position{
			{Ref: "HT", Role: amp.HighWinding, Nodes: nodes("a", "HA", "ct", "0", "b", "HB")},
			{Ref: "LV", Role: amp.HeaterWinding},
			{Ref: "V5", Role: amp.RectifierTube, Type: "5U4GB"},
			{Ref: "C1", Role: amp.Reservoir, Nodes: nodes("plus", "B1", "minus", "0")},
			{Ref: "C5", Role: amp.Coupler, Nodes: nodes("a", "P2", "b", "G3")},
			{Ref: "V3", Role: amp.OutputTube, Type: "6V6GT", Nodes: nodes("plate", "P3", "screen", "B2", "grid", "G3", "cathode", "K")},
			{Ref: "V4", Role: amp.OutputTube, Type: "6V6GT", Nodes: nodes("plate", "P4", "screen", "B2", "grid", "G4", "cathode", "K")},
			{Ref: "R20", Role: amp.CathodeResistor, Spec: ohm(250), Nodes: nodes("a", "K", "b", "0")},
			{Ref: "C9", Role: amp.Bypass, Nodes: nodes("plus", "K", "minus", "0")},
			{Ref: "C10", Role: amp.Bypass, Nodes: nodes("plus", "K1", "minus", "0")},
			{Ref: "R5", Role: amp.PlateLoad, Nodes: nodes("a", "B3", "b", "P1")},
		},
		Readings: []amp.Reading{
			read("HT", amp.RMSVolts, 290, unit.Volt, 117, amp.NoLoad),
			read("P3", amp.Volts, 318, unit.Volt, 117),
			read("P4", amp.Volts, 318, unit.Volt, 117),
			read("B2", amp.Volts, 300, unit.Volt, 117),
			read("K", amp.Volts, 19, unit.Volt, 117),
			read("R20", amp.Ohms, 262, unit.Ohm, 0, amp.Off),
			read("V3:screen", amp.Current, 2.5e-3, unit.Ampere, 117),
			read("V4:screen", amp.Current, 2.5e-3, unit.Ampere, 117),
			read("LV", amp.RMSVolts, 6.25, unit.Volt, 117),
			read("K", amp.Volts, 20.3, unit.Volt, 124, amp.Check),
		},
	}
}

// with changes a copy of the stage.
func with(change func(*amp.Amp)) *amp.Amp {
	a := stage()
	change(a)
	return a
}

// reading returns the first reading of a place, to be changed.
func reading(a *amp.Amp, at string) *amp.Reading {
	for i := range a.Readings {
		if a.Readings[i].At == at {
			return &a.Readings[i]
		}
	}
	panic("no reading at " + at)
}

// drop takes every reading of a place away.
func drop(a *amp.Amp, at string) {
	var kept []amp.Reading
	for _, r := range a.Readings {
		if r.At != at {
			kept = append(kept, r)
		}
	}
	a.Readings = kept
}

// slow makes the rectifier one that heats slowly.
func cards(slow bool) func(string) (tube.Card, bool) {
	return func(t string) (tube.Card, bool) {
		switch {
		case t == "6V6GT":
			return tube.Card{Type: t, GmLow: 0.003, GmHigh: 0.005, Values: stated("gm low", "gm high")}, true
		case t == "5U4GB" && slow:
			return tube.Card{Type: t, Heating: "slow", Values: stated("heating")}, true
		case t == "5U4GB":
			return tube.Card{Type: t, Heating: "direct"}, true
		}
		return tube.Card{}, false
	}
}

// stated are values of a card that are from more than memory.
func stated(names ...string) []tube.Value {
	var out []tube.Value
	for _, n := range names {
		out = append(out, tube.Value{Quantity: n, Mark: limit.User})
	}
	return out
}

func model(a *amp.Amp) *Model {
	return New(Input{Amp: a, Mains: intake.Mains{Measured: 124, Low: 114, High: 127}, Cards: cards(false)})
}

func find(t *testing.T, a *amp.Amp, ref string) *amp.Position {
	t.Helper()
	p, ok := a.Find(ref)
	if !ok {
		t.Fatalf("no position %s", ref)
	}
	return p
}

// holds compares the ends of a stress, each to tol.
func holds(t *testing.T, s Stress, low, high, tol float64) {
	t.Helper()
	if s.Missing != "" {
		t.Errorf("%s %s: missing: %s", s.Subject, s.Quantity, s.Missing)
		return
	}
	if math.Abs(s.Low-low) > tol || math.Abs(s.High-high) > tol {
		t.Errorf("%s %s: %.6g to %.6g, want %g to %g within %g", s.Subject, s.Quantity, s.Low, s.High, low, high, tol)
	}
	if !(s.Low <= s.Expected*(1+1e-12) && s.Expected <= s.High*(1+1e-12)) {
		t.Errorf("%s %s: expected %g outside %g to %g", s.Subject, s.Quantity, s.Expected, s.Low, s.High)
	}
}
