package circuit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// Every part of every amp, open and shorted, every tube pulled, every coupler
// leaking: a solution whose every figure is a number and which does not depend
// on the start, or a reason. What is left without an answer is a grid that
// loses its way to the chassis, or a reservoir that is gone.
func TestEveryPartOpenAndShorted(t *testing.T) {
	tried, solved := 0, 0
	reasons := map[string]int{}
	for _, a := range benchAmps(t) {
		st := State{Mains: a.net.supply.nominal}
		sound, err := a.net.Solve(a.net.Sheet(), st, nil)
		if err != nil {
			t.Fatal(a.name, err)
		}
		for _, p := range a.net.parts {
			for _, f := range faultsOf(p) {
				tried++
				st.Faults = []Fault{f}
				if s := solveTwice(t, a, st, sound, reasons); s != nil {
					solved++
				}
			}
		}
	}
	t.Logf("%d faults, %d solved; %v", tried, solved, reasons)
	if tried < 700 || 10*solved < 8*tried {
		t.Errorf("%d faults tried, %d solved", tried, solved)
	}
}

// faultsOf lists what may happen to a part.
func faultsOf(p part) []Fault {
	switch p.kind {
	case isResistor, isChoke, isPot:
		return []Fault{{Kind: Open, Ref: p.ref}, {Kind: Short, Ref: p.ref}}
	case isCapacitor:
		return []Fault{{Kind: Open, Ref: p.ref}, {Kind: Short, Ref: p.ref}, {Kind: Leak, Ref: p.ref, Ohms: 1e6}}
	case isTube, isRectifier:
		return []Fault{{Kind: Pulled, Ref: p.ref}}
	case isWinding, isContact:
		return []Fault{{Kind: Open, Ref: p.ref}}
	}
	return nil
}

// solveTwice solves from nothing and from another solution, holds the two
// against each other and looks at every figure.
func solveTwice(t *testing.T, a benchAmp, st State, from *Solution, reasons map[string]int) *Solution {
	t.Helper()
	s, err := a.net.Solve(a.net.Sheet(), st, nil)
	again, err2 := a.net.Solve(a.net.Sheet(), st, from)
	what := a.name + " " + st.Name
	for _, f := range st.Faults {
		what += " " + f.Ref + map[FaultKind]string{Open: " open", Short: " short", Leak: " leak", Pulled: " pulled"}[f.Kind]
	}
	if (err == nil) != (err2 == nil) {
		t.Errorf("%s: from nothing %v, from another solution %v", what, err, err2)
		return nil
	}
	if err != nil {
		var u *Unsolved
		if !errors.As(err, &u) || u.Say == "" {
			t.Errorf("%s: %v is no *Unsolved", what, err)
		}
		reasons[u.Say]++
		if !strings.Contains(u.Say, "grid") && !strings.Contains(u.Say, "reservoir") {
			t.Errorf("%s: %s", what, u.Say)
		}
		return nil
	}
	sameVolts(t, what, s, again)
	allNumbers(t, what, s)
	return s
}

// sameVolts holds two solutions of one state together: 1e-4 of the volts or
// 2 mV.
func sameVolts(t *testing.T, what string, s, o *Solution) {
	t.Helper()
	for _, n := range s.net.Nodes() {
		v, ok := s.Node(n)
		u, ok2 := o.Node(n)
		if ok != ok2 || math.Abs(v-u) > 1e-4*math.Abs(v)+2e-3 {
			t.Errorf("%s: node %s %v (%v) or %v (%v), by where the search starts", what, n, v, ok, u, ok2)
		}
	}
}

func allNumbers(t *testing.T, what string, s *Solution) {
	t.Helper()
	for _, f := range s.net.Figures() {
		if v, ok := s.Figure(f); ok && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%s: %s %s is %v", what, f.Ref, f.Quantity, v)
		}
	}
}

// The states an amp is in without a fault: each is solved, for every amp.
func TestStates(t *testing.T) {
	for _, a := range benchAmps(t) {
		nominal := a.net.supply.nominal
		sound, err := a.net.Solve(a.net.Sheet(), State{Mains: nominal}, nil)
		if err != nil {
			t.Fatal(a.name, err)
		}
		for _, st := range []State{
			{Name: "low", Mains: 0.8 * nominal}, {Name: "high", Mains: 1.2 * nominal}, {Name: "cold", Mains: nominal, Cold: true},
			{Name: "standby", Mains: nominal, Standby: true}, {Name: "other tap", Mains: nominal, Ratio: 0.9}, {Name: "hot heaters", Mains: nominal, Shift: 0.2},
			{Name: "off", Mains: 0},
		} {
			reasons := map[string]int{}
			if s := solveTwice(t, a, st, sound, reasons); s == nil {
				t.Errorf("%s %s: %v", a.name, st.Name, reasons)
			}
		}
		if again, _ := a.net.Solve(a.net.Sheet(), State{Mains: nominal, Ratio: 1}, nil); again != nil {
			sameVolts(t, a.name+" ratio 1", sound, again)
		}
	}
}

// What a failure does to an output stage, in the direction every technician
// knows.
func TestKnownFailures(t *testing.T) {
	find := func(name string) benchAmp {
		for _, a := range benchAmps(t) {
			if a.name == name {
				return a
			}
		}
		t.Fatal("no amp " + name)
		return benchAmp{}
	}
	a := find("estrick")
	watts := func(faults ...Fault) (float64, *Solution) {
		s, err := a.net.Solve(a.net.Sheet(), State{Mains: 117, Faults: faults}, nil)
		if err != nil {
			t.Fatal(err)
		}
		at, ok := s.Tube("V3")
		if !ok {
			t.Fatal("V3 has no operating point")
		}
		return at.Plate * at.PlateAmps, s
	}
	idle, sound := watts()
	if lost, s := watts(Fault{Kind: Open, Ref: "D301"}); lost < 3*idle || volt(t, s, "B1") >= volt(t, sound, "B1") {
		t.Errorf("bias lost: %.1f W from %.1f W, B1 %.0f V from %.0f V", lost, idle, volt(t, s, "B1"), volt(t, sound, "B1"))
	}
	if leaky, _ := watts(Fault{Kind: Leak, Ref: "C801", Ohms: 10e6}); leaky < 1.1*idle {
		t.Errorf("leaky coupler: %.1f W from %.1f W", leaky, idle)
	}
	if _, s := watts(Fault{Kind: Pulled, Ref: "V4"}); volt(t, s, "B1") <= volt(t, sound, "B1") {
		t.Error("a pulled tube does not raise the B+")
	}
	s, err := a.net.Solve(a.net.Sheet(), State{Mains: 117, Faults: []Fault{{Kind: Open, Ref: "T801"}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	before, _ := sound.Figure(Figure{"V3", "screen watts"})
	after, ok := s.Figure(Figure{"V3", "screen watts"})
	if !ok || after < 4*before {
		t.Errorf("plate winding open: screen %.2f W from %.2f W (%v)", after, before, ok)
	}
	if plate, ok := s.Figure(Figure{"V3", "plate watts"}); !ok || math.Abs(plate) > 1e-3 {
		t.Errorf("plate winding open: plate %.4f W (%v)", plate, ok)
	}
	if _, ok := s.Node("Pa8"); ok {
		t.Error("a plate that nothing holds has volts")
	}
	full, err := a.net.Solve(a.net.Sheet(), State{Mains: 117, Drive: []DriveShare{{"V3", 0.08, 0.01}, {"V4", 0.08, 0.01}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	// Bias moves little, so each tube draws its idle current less what the
	// sagging screens take away, and the drive on top.
	i0, _ := sound.Tube("V3")
	i1, _ := full.Tube("V3")
	if more := i1.PlateAmps - i0.PlateAmps; more < 0.05 || more > 0.08 {
		t.Errorf("drive of 80 mA adds %.1f mA", 1000*more)
	}
	if volt(t, full, "B1") >= volt(t, sound, "B1") {
		t.Error("full drive does not pull the B+ down")
	}
}

func volt(t *testing.T, s *Solution, node string) float64 {
	t.Helper()
	v, ok := s.Node(node)
	if !ok {
		t.Fatalf("node %s has no volts", node)
	}
	return v
}
