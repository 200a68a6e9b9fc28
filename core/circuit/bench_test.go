package circuit

import "testing"

// A Newton step makes nothing anew: 0 allocations.
func TestStepAllocatesNothing(t *testing.T) {
	for _, a := range benchAmps(t) {
		p, u := a.net.setUp(a.net.Sheet(), State{Mains: a.net.supply.nominal})
		if u != nil {
			t.Fatal(u)
		}
		w := newWork(p)
		if n := testing.AllocsPerRun(20, func() { w.newton(1) }); n != 0 {
			t.Errorf("%s: %v allocations in a step", a.name, n)
		}
	}
}

func benchAmp40(b *testing.B) (benchAmp, *Solution) {
	for _, a := range benchAmps(b) {
		if a.name == "fallowby" { // 39 unknown nodes, the largest
			s, err := a.net.Solve(a.net.Sheet(), State{Mains: a.net.supply.nominal}, nil)
			if err != nil {
				b.Fatal(err)
			}
			return a, s
		}
	}
	b.Fatal("no such amp")
	return benchAmp{}, nil
}

// Target 1.0 ms on a quiet machine.
func BenchmarkSolveWarm(b *testing.B) {
	a, s := benchAmp40(b)
	for b.Loop() {
		if _, err := a.net.Solve(a.net.Sheet(), State{Mains: 1.03 * a.net.supply.nominal}, s); err != nil {
			b.Fatal(err)
		}
	}
}

// Target 2.0 ms.
func BenchmarkSolveScratch(b *testing.B) {
	a, _ := benchAmp40(b)
	for b.Loop() {
		if _, err := a.net.Solve(a.net.Sheet(), State{Mains: a.net.supply.nominal}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompileSheet(b *testing.B) {
	a, _ := benchAmp40(b)
	for b.Loop() {
		if _, err := Compile(a.sheet, fittedLaws); err != nil {
			b.Fatal(err)
		}
	}
}

// Target 1 ms for every figure and knob.
func BenchmarkGradient(b *testing.B) {
	a, s := benchAmp40(b)
	for b.Loop() {
		if _, _, err := s.Gradient(a.net.Figures()); err != nil {
			b.Fatal(err)
		}
	}
}

// Two scenarios, their sensitivities and twenty corners. Target 3 ms.
func BenchmarkTwoScenarios(b *testing.B) {
	a, s := benchAmp40(b)
	fs := a.net.Figures()
	for b.Loop() {
		for _, m := range []float64{0.95, 1.06} {
			now, err := a.net.Solve(a.net.Sheet(), State{Mains: m * a.net.supply.nominal}, s)
			if err != nil {
				b.Fatal(err)
			}
			if _, _, err := now.Gradient(fs); err != nil {
				b.Fatal(err)
			}
			for i := range 10 {
				v := a.net.Sheet()
				for k := range v {
					v[k] *= 1 + 0.05*float64((k+i)%3-1)
				}
				if _, err := a.net.SolveNear(v, State{Mains: m * a.net.supply.nominal}, now); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}
