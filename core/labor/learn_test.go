package labor

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// By hand: nine jobs give an eight-in-ten range from the smallest ratio to
// the largest, (9 − 1)/(9 + 1).
func TestNineJobsGiveEightInTen(t *testing.T) {
	r := []float64{1.3, 0.9, 1.1, 1.0, 1.7, 1.2, 0.8, 1.4, 1.05}
	low, high, holds, ok := Range(r, 0.8)
	if !ok || low != 0.8 || high != 1.7 || holds != 0.8 {
		t.Errorf("%g to %g, holds %g, %v", low, high, holds, ok)
	}
	if _, _, _, ok := Range(r[:8], 0.8); ok {
		t.Error("eight jobs cannot give it")
	}
	if low, high := Held(r, 1.2); math.Abs(low-0.6) > 1e-12 || math.Abs(high-0.7) > 1e-12 {
		t.Errorf("1.2 holds between %g and %g, want 6/10 and 7/10", low, high)
	}
}

// The rule itself: the next draw lies between the j-th and the k-th of n with
// chance (k − j)/(n + 1), whatever the distribution. 20,000 draws, fixed
// seed, within a point.
func TestOrderStatisticsHold(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, d := range []struct {
		name string
		draw func() float64
	}{
		{"lognormal", func() float64 { return math.Exp(0.4 * r.NormFloat64()) }},
		{"uniform", r.Float64},
		{"heavy", func() float64 { return 1 / (1e-3 + r.Float64()) }},
	} {
		name, draw := d.name, d.draw
		for _, n := range []int{9, 14, 30} {
			in, low := 0, 0.0
			const draws = 20_000
			for range draws {
				all := make([]float64, n)
				for i := range all {
					all[i] = draw()
				}
				next := draw()
				slices.Sort(all)
				j, k := 1, n-1
				if next > all[j-1] && next <= all[k-1] {
					in++
				}
				_, high := Held(all, all[n/2])
				if next <= all[n/2] {
					low++
				}
				if math.Abs(high-float64(n/2+2)/float64(n+1)) > 1e-12 {
					t.Fatalf("Held of the middle of %d is %g", n, high)
				}
			}
			if got, want := float64(in)/draws, float64(n-2)/float64(n+1); math.Abs(got-want) > 0.01 {
				t.Errorf("%s, %d jobs: %.3f inside, want %.3f", name, n, got, want)
			}
			if got, want := low/draws, float64(n/2+1)/float64(n+1); math.Abs(got-want) > 0.01 {
				t.Errorf("%s, %d jobs: %.3f below the middle, want %.3f", name, n, got, want)
			}
		}
	}
}

// A shop that always takes a half longer must be found out: the more jobs,
// the nearer.
func TestLearnFindsTheBias(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 1))
	var past []Past
	for j := range 100 {
		for k := range 4 {
			past = append(past, Past{fmt.Sprint("j", j), fmt.Sprint("c", k), 1, 1.5 * math.Exp(0.2*r.NormFloat64())})
		}
	}
	f := Learn(past)
	if math.Abs(f.Bias-math.Log(1.5)) > 0.05 || f.TaskSD > 0.25 || !f.Calibrated() || f.Jobs != 100 || f.Tasks != 400 {
		t.Errorf("%+v, want a bias of %.3f and a task deviation of 0.2", f, math.Log(1.5))
	}
	if g := Learn(past[:20]); g.BiasSD <= f.BiasSD || g.Calibrated() {
		t.Errorf("five jobs: known to %.3f, a hundred: %.3f", g.BiasSD, f.BiasSD)
	}
	if h := Learn(append(past[:8:8], Past{"x", "y", 0, 1}, Past{"x", "y", 1, math.NaN()})); h.Tasks != 8 {
		t.Errorf("%d tasks taught, want 8: one has no estimate, one no actual", h.Tasks)
	}
}

// Simulated shops with biases, classes, jobs and tasks of their own: what is
// said to be enough in eight of ten jobs must be enough in 75 to 85 of a
// hundred, from ten jobs on. Fixed seed; a simulation, not field data.
func TestEightInTenHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 21))
	for _, jobs := range []int{0, 3, 10, 30, 100} {
		held, all := 0, 0
		for range 80 {
			s := newShop(r)
			var past []Past
			for j := range jobs {
				past = append(past, s.job(r, fmt.Sprint("j", j))...)
			}
			f := Learn(past)
			for range 12 {
				next := s.job(r, "next")
				var work []Work
				actual := 0.0
				for _, p := range next {
					work = append(work, Work{Class: p.Class, Moments: beta([3]float64{0.75 * p.Estimate, 0.95 * p.Estimate, 1.45 * p.Estimate})})
					actual += p.Actual
				}
				if actual <= f.Hours(Moments{}, work).Quantile(0.8) {
					held++
				}
				all++
			}
		}
		part := float64(held) / float64(all)
		t.Logf("figure labor: after %d jobs, P80 held %.1f %%", jobs, 100*part)
		if jobs >= 10 && (part < 0.75 || part > 0.85) {
			t.Errorf("after %d jobs P80 held %.3f, want 0.75 to 0.85", jobs, part)
		}
	}
}

type simulated struct {
	bias, jobSD, task float64
	class             [6]float64
}

func newShop(r *rand.Rand) *simulated {
	s := &simulated{bias: 0.15 + 0.2*r.NormFloat64(), jobSD: 0.10 + 0.15*r.Float64(), task: 0.25 + 0.25*r.Float64()}
	for i := range s.class {
		s.class[i] = 0.2 * r.NormFloat64()
	}
	return s
}

func (s *simulated) job(r *rand.Rand, name string) []Past {
	own := s.jobSD * r.NormFloat64()
	var out []Past
	for range 2 + r.IntN(7) {
		c := min(r.IntN(6), r.IntN(6))
		e := 0.3 + r.Float64()
		out = append(out, Past{name, fmt.Sprint("c", c), e, e * math.Exp(s.bias+s.class[c]+own+s.task*r.NormFloat64())})
	}
	return out
}
