package labor

import (
	"math"
	"slices"
)

// Draws is how many times a job is played through.
const Draws = 2000

// A Span is how long one step takes: three points in hours or in whole days,
// and the words its draws are seeded by.
type Span struct {
	Low, Mode, High float64
	Days            bool   // whole days, else hours
	Seed            string // the same words give the same draws
	Class           string // of bench work: the class of task it is calibrated by
	SetUp           bool   // bench work without a class of its own
}

// Mean is the expected length in minutes.
func (s Span) Mean() int {
	m := (s.Low + 4*s.Mode + s.High) / 6
	if s.Days {
		return int(m+0.5) * Day
	}
	return int(m*60 + 0.5)
}

// A Sampler draws how long steps take, each from a stream of its own, and
// keeps the draws: a step takes as long in one choice as in another.
type Sampler struct {
	fit    Fit
	seed   string
	shared []float64
	class  map[string][]float64
	drawn  map[Span][]int32
}

// NewSampler makes a sampler for one job. seed is what the job is known by.
// Bench work is multiplied by what the fit knows: a factor for the whole job,
// one for each class, and one for each task.
func NewSampler(seed string, f Fit) *Sampler {
	s := &Sampler{fit: f, seed: seed, class: map[string][]float64{}, drawn: map[Span][]int32{}}
	s.shared = s.factor("the job", f.Bias, math.Sqrt(f.BiasSD*f.BiasSD+f.JobSD*f.JobSD))
	return s
}

// factor draws lognormal factors.
func (s *Sampler) factor(words string, mean, sd float64) []float64 {
	r := streamOf(s.seed, "factor", words)
	out := make([]float64, Draws)
	for i := range out {
		out[i] = math.Exp(mean + sd*r.normal())
	}
	return out
}

func (s *Sampler) classFactor(c string) []float64 {
	if f, ok := s.class[c]; ok {
		return f
	}
	sd, known := s.fit.ClassSD[c]
	if !known {
		sd = s.fit.NewClassSD
	}
	s.class[c] = s.factor("class "+c, s.fit.Class[c], sd)
	return s.class[c]
}

// of returns the draws of a span in minutes.
func (s *Sampler) of(x Span, bench bool) []int32 {
	if d, ok := s.drawn[x]; ok {
		return d
	}
	r := streamOf(s.seed, "span", x.Seed)
	out := make([]int32, Draws)
	for i := range out {
		v := r.three(x.Low, x.Mode, x.High)
		switch {
		case x.Days:
			out[i] = int32(math.Floor(v+0.5)) * Day
			continue
		case bench:
			v *= s.shared[i]
			if !x.SetUp {
				v *= s.classFactor(x.Class)[i] * math.Exp(s.fit.TaskSD*r.normal())
			}
		}
		out[i] = int32(math.Floor(v*60 + 0.5))
	}
	s.drawn[x] = out
	return out
}

// Ready is when a job is ready, in days from the day of asking, and what that
// hangs on.
type Ready struct {
	P50, P80, P90 int
	Held          []float64 // by step: the share of draws in which the end waits for it
	Days          []float64 // by step: days the end waits for it, on average over all draws
	All           []int     // every draw, rising
}

// Play plays a job through, as often as Draws says: every step as long as its
// span draws it, every bench step when the rule of [Network] takes it. It is
// sampling: eight in ten of the draws are ready on the day called P80.
//
// A step holds the end up where it is on the chain of steps that ends last
// and the step behind it could have begun earlier without it.
func (s *Sampler) Play(n *Network, spans []Span) Ready {
	k := len(n.Steps)
	columns, means, took := make([][]int32, k), make([]int, k), make([]int, k)
	for i, x := range spans {
		columns[i], means[i] = s.of(x, n.Steps[i].Bench), x.Mean()
	}
	r := Ready{Held: make([]float64, k), Days: make([]float64, k), All: make([]int, Draws)}
	minutes := make([]int, k)
	held := make([]int, k)
	p := n.plan(n.tails(means))
	for d := range Draws {
		for i := range took {
			took[i] = int(columns[i][d])
		}
		end := p.run(took)
		if end == nothing {
			continue
		}
		r.All[d] = max(0, p.finish[end]-1) / Day
		for i := end; i != nothing; i = p.by[i] {
			from := 0
			if p.by[i] != nothing {
				from = p.finish[p.by[i]]
			}
			if p.finish[i] > from {
				held[i]++
				minutes[i] += p.finish[i] - from
			}
		}
	}
	for i := range held {
		r.Held[i], r.Days[i] = float64(held[i])/Draws, float64(minutes[i])/Draws/Day
	}
	slices.Sort(r.All)
	r.P50, r.P80, r.P90 = r.Within(0.5), r.Within(0.8), r.Within(0.9)
	return r
}

// Within is the day by which the job is ready in that share of the draws.
func (r Ready) Within(share float64) int {
	return r.All[min(max(int(math.Ceil(share*float64(len(r.All))-1e-9))-1, 0), len(r.All)-1)]
}
