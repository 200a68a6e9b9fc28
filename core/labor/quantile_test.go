package labor

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// By hand: 1, 2, 6 → mean (1 + 8 + 6)/6 = 2.5; variance 1.5·3.5/7 = 0.75;
// a = 1 + 4/5 = 1.8, b = 4.2; skewness 2·2.4·√7/(8·√7.56) = 0.5774.
func TestMomentsByHand(t *testing.T) {
	m := three(t, "1 2 6").Moments()
	near(t, "mean", 0, m.Mean-2.5, 1e-12)
	near(t, "variance", 0, m.Variance-0.75, 1e-12)
	near(t, "skewness", 0, m.Third/math.Pow(0.75, 1.5)-0.57735, 1e-4)
}

// A third, a half, certain: the moments of work that may not happen.
// By hand, for hours that are exactly 2 with chance 1/2: mean 1, variance 1,
// third moment 0.
func TestWorkThatMayNotHappen(t *testing.T) {
	m := Moments{Mean: 2}.IfFound(0.5)
	if math.Abs(m.Mean-1) > 1e-12 || math.Abs(m.Variance-1) > 1e-12 || math.Abs(m.Third) > 1e-12 {
		t.Errorf("%+v, want mean 1, variance 1, third 0", m)
	}
}

// The shifted lognormal must have the moments it was made from: integrated
// numerically over its quantiles.
func TestQuantilesHaveTheMoments(t *testing.T) {
	for _, m := range []Moments{{3, 1, 0}, {3, 1, 0.7}, {10, 4, 12}, {5, 2, -1.5}} {
		const n = 400_000
		var mean, v, third float64
		for i := range n {
			mean += m.Quantile((float64(i) + 0.5) / n)
		}
		mean /= n
		for i := range n {
			d := m.Quantile((float64(i)+0.5)/n) - mean
			v += d * d
			third += d * d * d
		}
		v, third = v/n, third/n
		if math.Abs(mean-m.Mean) > 1e-3*m.Mean || math.Abs(v-m.Variance) > 2e-3*m.Variance || math.Abs(third-m.Third) > 0.02*(math.Abs(m.Third)+m.Variance) {
			t.Errorf("%+v: got mean %.4f, variance %.4f, third %.4f", m, mean, v, third)
		}
	}
}

// Against drawn samples, fixed seed: hours of 3 to 40 tasks, each a beta, with
// one factor for the job and one for each task. Eight tenths must be within
// one percent of 400,000 samples on 100 jobs; fewer samples on fewer jobs are
// good to about half a percent themselves.
func TestQuantilesAgainstSamplesLong(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 17))
	jobs, draws, most := 8, 20_000, 0.02
	if os.Getenv("LUGWORTH_LONG") == "oracle" {
		jobs, draws, most = 100, 400_000, 0.01
	}
	worst, worst80 := 0.0, 0.0
	for range jobs {
		n := []int{3, 8, 20, 40}[r.IntN(4)]
		jobSD, taskSD := []float64{0, 0.15, 0.3}[r.IntN(3)], []float64{0, 0.3}[r.IntN(2)]
		tasks := make([][3]float64, n)
		sum := Moments{}
		for i := range tasks {
			low := 0.1 + r.Float64()
			mode := low * (1 + 0.8*r.Float64())
			high := mode * (1 + 1.5*r.Float64())
			tasks[i] = [3]float64{low, mode, high}
			sum = sum.Plus(beta(tasks[i]).Times(0, taskSD))
		}
		sum = sum.Times(0, jobSD)
		all := make([]float64, draws)
		for d := range all {
			h := 0.0
			for _, x := range tasks {
				h += drawBeta(r, x) * math.Exp(taskSD*r.NormFloat64())
			}
			all[d] = h * math.Exp(jobSD*r.NormFloat64())
		}
		slices.Sort(all)
		for _, p := range []float64{0.5, 0.8, 0.9} {
			want := all[int(p*float64(draws))]
			off := math.Abs(sum.Quantile(p)/want - 1)
			worst = max(worst, off)
			if p == 0.8 {
				worst80 = max(worst80, off)
			}
			if off > most && p == 0.8 || off > 2*most {
				t.Errorf("%d tasks, sds %.2f %.2f: P%.0f %.3f, drawn %.3f", n, jobSD, taskSD, 100*p, sum.Quantile(p), want)
			}
		}
	}
	t.Logf("figure hours against %d samples on %d jobs: P80 off by %.2f %% at worst, P50 and P90 by %.2f %%", draws, jobs, 100*worst80, 100*worst)
}

func beta(x [3]float64) Moments {
	mean := (x[0] + 4*x[1] + x[2]) / 6
	a := 1 + 4*(x[1]-x[0])/(x[2]-x[0])
	v := (mean - x[0]) * (x[2] - mean) / 7
	skew := 2 * (6 - 2*a) * math.Sqrt(7) / (8 * math.Sqrt(a*(6-a)))
	return Moments{mean, v, skew * math.Pow(v, 1.5)}
}

// drawBeta draws from the beta of three points as a ratio of gamma draws.
func drawBeta(r *rand.Rand, x [3]float64) float64 {
	a := 1 + 4*(x[1]-x[0])/(x[2]-x[0])
	u, v := drawGamma(r, a), drawGamma(r, 6-a)
	return x[0] + (x[2]-x[0])*u/(u+v)
}

// drawGamma draws by acceptance and rejection (Marsaglia and Tsang, from
// memory), shape at least 1.
func drawGamma(r *rand.Rand, shape float64) float64 {
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.NormFloat64()
		v := math.Pow(1+c*x, 3)
		if v > 0 && math.Log(r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// By hand: the chance undoes the quantile, and a certain number of hours is
// enough or is not.
func TestChanceUndoesQuantile(t *testing.T) {
	for _, m := range []Moments{{3, 1, 0}, {3, 1, 0.7}, {10, 4, 12}, {5, 2, -1.5}} {
		for _, p := range []float64{0.01, 0.2, 0.5, 0.8, 0.99} {
			if got := m.Chance(m.Quantile(p)); math.Abs(got-p) > 1e-9 {
				t.Errorf("%+v: chance %.6f at the quantile of %g", m, got, p)
			}
		}
	}
	if c := (Moments{Mean: 2}); c.Chance(1.9) != 0 || c.Chance(2) != 1 {
		t.Error("two hours, certain: less is not enough, two are")
	}
	if low := (Moments{10, 4, 12}).Chance(-50); low != 0 {
		t.Errorf("chance %g below where the distribution begins", low)
	}
}
