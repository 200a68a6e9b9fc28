package circuit

import (
	"math"
	"testing"
)

// Each sensitivity is held against two solves with the knob turned both ways
// and the ripple correction held. Tolerance: 0.2 % of the slope, or a slope
// that moves the figure by no more than two millionths of itself, or by 2e-10
// in SI units, over the width; slopes under 1e-12 are none.
func TestGradientAgainstDifferences(t *testing.T) {
	checked := 0
	for _, a := range benchAmps(t) {
		st := State{Mains: a.net.supply.nominal}
		s, err := a.net.Solve(a.net.Sheet(), st, nil)
		if err != nil {
			t.Fatal(a.name, err)
		}
		fs := a.net.Figures()
		byKnob, byMains, err := s.Gradient(fs)
		if err != nil {
			t.Fatal(a.name, err)
		}
		at := func(v Values, st State) *Solution {
			r, err := a.net.SolveNear(v, st, s)
			if err != nil {
				t.Fatal(a.name, err)
			}
			return r
		}
		for k, knob := range a.net.Knobs {
			h := 1e-3 * math.Abs(knob.Value)
			if knob.Property == Shift || h == 0 {
				h = 1e-3
			}
			up, down := a.net.Sheet(), a.net.Sheet()
			up[k] += h
			down[k] -= h
			checked += compareSlopes(t, a.name+" "+knob.Ref, s, at(up, st), at(down, st), fs, 2*h, func(i int) float64 { return byKnob[i][k] })
		}
		high, low := st, st
		high.Mains += 0.1
		low.Mains -= 0.1
		checked += compareSlopes(t, a.name+" mains", s, at(a.net.Sheet(), high), at(a.net.Sheet(), low), fs, 0.2, func(i int) float64 { return byMains[i] })
	}
	if checked < 10000 {
		t.Errorf("only %d slopes checked", checked)
	}
}

func compareSlopes(t *testing.T, what string, s, up, down *Solution, fs []Figure, width float64, slope func(int) float64) int {
	t.Helper()
	n := 0
	for i, f := range fs {
		v, ok := s.Figure(f)
		a, _ := up.Figure(f)
		b, _ := down.Figure(f)
		if !ok {
			continue
		}
		n++
		want, got := (a-b)/width, slope(i)
		if math.Abs(got-want) > 2e-3*math.Abs(want)+2e-6*(math.Abs(v)+1e-4)/width+1e-12 {
			t.Errorf("%s: d(%s %s) is %g, by differences %g (figure %g)", what, f.Ref, f.Quantity, got, want, v)
		}
	}
	return n
}
