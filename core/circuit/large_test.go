package circuit

import (
	"fmt"
	"math"
	"testing"

	"lugworth/core/amp"
)

// largeAmp is fallowby with 33 more triode stages, each of its own plate,
// grid and cathode: 138 unknown nodes.
func largeAmp(t testing.TB) benchAmp {
	t.Helper()
	a := loadAmp(t, "../../testdata/amps/fallowby.csv")
	rows := func(text string) {
		ps, problems := amp.ReadSheet("stages.csv", []byte("ref,kind,type,value,rating,tolerance,nodes,place,note,extra\n"+text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		a.sheet = append(a.sheet, ps...)
	}
	for i := range 33 {
		rows(fmt.Sprintf("V9%d,triode,12AX7,,,,plate=XP%d grid=XG%d cathode=XK%d,,,\nR9%d1,resistor,,220k,,5%%,a=B3 b=XP%d,,,\n"+
			"R9%d2,resistor,,1M,,5%%,a=XG%d b=0,,,\nR9%d3,resistor,,3.3k,,5%%,a=XK%d b=0,,,\n", i, i, i, i, i, i, i, i, i, i))
	}
	var err error
	if a.net, err = Compile(a.sheet, fittedLaws); err != nil {
		t.Fatal(err)
	}
	return a
}

// A large amp is solved like a small one, and warm like from nothing.
func TestLargeAmp(t *testing.T) {
	a := largeAmp(t)
	if n := len(a.net.Nodes()); n < 125 {
		t.Errorf("%d nodes", n)
	}
	s, err := a.net.Solve(a.net.Sheet(), State{Mains: nominalMains(a.sheet)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	warm, err := a.net.Solve(a.net.Sheet(), State{Mains: nominalMains(a.sheet)}, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range a.net.Nodes() {
		v, ok := s.Node(n)
		w, _ := warm.Node(n)
		if ok && math.Abs(v-w) > 1e-3+1e-4*math.Abs(v) {
			t.Errorf("%s: %.4f V from nothing, %.4f V warm", n, v, w)
		}
	}
}

// Targets 1.5 ms warm, 3 ms from nothing, at 138 nodes.
func BenchmarkLargeAmp(b *testing.B) {
	a := largeAmp(b)
	mains := nominalMains(a.sheet)
	s, err := a.net.Solve(a.net.Sheet(), State{Mains: mains}, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("warm", func(b *testing.B) {
		for b.Loop() {
			if _, err := a.net.Solve(a.net.Sheet(), State{Mains: 1.03 * mains}, s); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("scratch", func(b *testing.B) {
		for b.Loop() {
			if _, err := a.net.Solve(a.net.Sheet(), State{Mains: mains}, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
}
