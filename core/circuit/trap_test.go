package circuit

import (
	"errors"
	"strings"
	"testing"

	"lugworth/core/tube"
)

const trapSupply = "MAINS,mains,,120,,hz=60 rs=2 heater=10\nT1,winding,,300,a=A b=0,dcr=50\nD1,diode,1N4007,,plate=A cathode=B,\nC1,electrolytic,,50uF,plus=B minus=0,\n"
const trapStage = "R1,resistor,,100k,a=B b=P,\nR2,resistor,,1.5k,a=K b=0,\nV1,triode,12AX7,,plate=P grid=G cathode=K,\n"

// Circuits without an answer: each says so and names who it is about.
func TestTrapsAreUnsolved(t *testing.T) {
	none := func(typ string) (tube.Law, string, bool) {
		if typ == "12AX7" {
			return tube.Law{}, "", false
		}
		return fittedLaws(typ)
	}
	for _, c := range []struct {
		name, rows, say string
		laws            Laws
	}{
		{"floating grid", trapSupply + trapStage + "C2,film capacitor,,0.1uF,a=G b=0,\n", "grid of V1", fittedLaws},
		{"plate on nothing", trapSupply + "R2,resistor,,1.5k,a=K b=0,\nR3,resistor,,470k,a=G b=0,\nV1,triode,12AX7,,plate=P grid=G cathode=K,\n", "plate of V1", fittedLaws},
		{"bias supply through a capacitor", trapSupply + "C2,film capacitor,,0.1uF,a=A b=X,\nD2,diode,1N4007,,plate=X cathode=0,\nD3,diode,1N4007,,plate=N cathode=X,\nC3,electrolytic,,25uF,plus=0 minus=N,\nR4,resistor,,47k,a=N b=0,\n", "not covered", fittedLaws},
		{"tube without a law", trapSupply + trapStage + "R3,resistor,,470k,a=G b=0,\n", "no current law", none},
		{"triode drawn, screen tube fitted", trapSupply + strings.Replace(trapStage, "12AX7", "6V6GT", 1) + "R3,resistor,,470k,a=G b=0,\n", "is a beam", fittedLaws},
		{"no mains row", strings.SplitN(trapSupply, "\n", 2)[1] + trapStage + "R3,resistor,,470k,a=G b=0,\n", "mains", fittedLaws},
		{"part without a value", trapSupply + "R9,resistor,,,a=B b=0,\n", "no value", fittedLaws},
	} {
		_, err := tryNet(t, c.rows, c.laws)
		var u *Unsolved
		if !errors.As(err, &u) || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: %v, want a reason with %q", c.name, err, c.say)
		}
	}
}

// States without an answer.
func TestStatesWithoutAnswer(t *testing.T) {
	n := netOf(t, trapSupply+trapStage+"R3,resistor,,470k,a=G b=0,\n", fittedLaws)
	for _, c := range []struct {
		name, say string
		f         Fault
	}{
		{"grid leak open", "grid of V1", Fault{Kind: Open, Ref: "R3"}},
		{"shorted rectifier", "no steady state", Fault{Kind: Short, Ref: "D1"}},
		{"first capacitor open", "reservoir", Fault{Kind: Open, Ref: "C1"}},
		{"no such part", "no place", Fault{Kind: Open, Ref: "R77"}},
		{"leak across a resistor", "capacitor", Fault{Kind: Leak, Ref: "R1", Ohms: 1e6}},
	} {
		s, err := n.Solve(n.Sheet(), State{Name: c.name, Mains: 120, Faults: []Fault{c.f}}, nil)
		var u *Unsolved
		if !errors.As(err, &u) || s != nil || !strings.Contains(u.Say, c.say) || u.State != c.name {
			t.Errorf("%s: %v, %v; want a reason with %q", c.name, s, err, c.say)
		}
	}
	choke := netOf(t, strings.Replace(trapSupply, "plus=B", "plus=C", 1)+"L1,choke,,10H,a=B b=C,dcr=100\nR1,resistor,,4k,a=C b=0,\n", fittedLaws)
	if _, err := choke.Solve(choke.Sheet(), State{Mains: 120}, nil); err == nil || !strings.Contains(err.Error(), "choke input") {
		t.Errorf("choke input: %v", err)
	}
}
