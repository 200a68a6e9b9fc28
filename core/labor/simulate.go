package labor

import (
	"math"
	"slices"
)

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
		return whole(m) * Day
	}
	return whole(m * 60)
}

// whole rounds to the nearest whole number. Lengths are whole minutes and
// days so that the last bit of a logarithm decides no date.
func whole(v float64) int { return int(math.Floor(v + 0.5)) }

// A Sampler draws how long steps take, each from a stream of its own, and
// keeps the draws: a step takes as long in one choice as in another.
type Sampler struct {
	fit    Fit
	seed   string
	shared []float64
	class  map[string][]float64
	drawn  map[Span][]int32
	shapes map[float64][]float64

	normals, logs []float64
	noise         []float64 // factors of a task; nil until asked for
}

// NewSampler makes a sampler for one job. seed is what the job is known by.
// Bench work is multiplied by what the fit knows: a factor for the whole job,
// one for each class, and one for each task.
func NewSampler(seed string, f Fit) *Sampler {
	s := &Sampler{fit: f, seed: seed, class: map[string][]float64{}, drawn: map[Span][]int32{}, shapes: map[float64][]float64{},
		normals: normals(), logs: logs()}
	s.shared = s.factor("the job", f.Bias, math.Sqrt(f.BiasSD*f.BiasSD+f.JobSD*f.JobSD))
	return s
}

// factor draws lognormal factors.
func (s *Sampler) factor(words string, mean, sd float64) []float64 {
	return streamOf(s.seed, "factor", words).shuffled(s.lognormals(mean, sd))
}

func (s *Sampler) lognormals(mean, sd float64) []float64 {
	out := make([]float64, len(s.normals))
	for i, z := range s.normals {
		out[i] = math.Exp(mean + sd*z)
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

// three draws from the beta of three points.
func (s *Sampler) three(x Span) []float64 {
	if x.High <= x.Low {
		return slices.Repeat([]float64{x.Low}, Draws)
	}
	a := math.Round((1+4*(x.Mode-x.Low)/(x.High-x.Low))*1e9) / 1e9 // shapes alike but for the last bits share a table
	t, ok := s.shapes[a]
	if !ok {
		t = betas(a, s.logs)
		s.shapes[a] = t
	}
	out := streamOf(s.seed, "span", x.Seed).shuffled(t)
	for i, v := range out {
		out[i] = x.Low + (x.High-x.Low)*v
	}
	return out
}

// of returns the draws of a span in minutes.
func (s *Sampler) of(x Span, bench bool) []int32 {
	if d, ok := s.drawn[x]; ok {
		return d
	}
	drawn := s.three(x)
	if bench {
		s.calibrate(drawn, x)
	}
	out := make([]int32, Draws)
	for i, v := range drawn {
		if x.Days {
			out[i] = int32(whole(v) * Day)
		} else {
			out[i] = int32(whole(v * 60))
		}
	}
	s.drawn[x] = out
	return out
}

// calibrate multiplies hours by the factors of the job, the class and the
// task.
func (s *Sampler) calibrate(hours []float64, x Span) {
	for i, f := range s.shared {
		hours[i] *= f
	}
	if x.SetUp {
		return
	}
	for i, f := range s.classFactor(x.Class) {
		hours[i] *= f
	}
	if s.noise == nil {
		s.noise = s.lognormals(0, s.fit.TaskSD)
	}
	for i, f := range streamOf(s.seed, "factor", "task "+x.Seed).shuffled(s.noise) {
		hours[i] *= f
	}
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
	m, into := n.merged()
	g := s.game(m, into, n, spans)
	r := Ready{Held: make([]float64, len(spans)), Days: make([]float64, len(spans)), All: make([]int, Draws)}
	for d := range r.All {
		r.All[d] = g.play(d)
	}
	given := make([]bool, len(g.held))
	for i := range spans {
		k := i
		if into != nil {
			k = into[i]
		}
		r.Held[i] = float64(g.held[k]) / Draws
		if !given[k] { // the days of steps that are one stand with the first of them
			r.Days[i], given[k] = float64(g.minutes[k])/Draws/Day, true
		}
	}
	slices.Sort(r.All)
	r.P50, r.P80, r.P90 = r.Within(0.5), r.Within(0.8), r.Within(0.9)
	return r
}

// game sets up a network to be played, its columns those of the steps that
// went into each of its own.
func (s *Sampler) game(m *Network, into []int, n *Network, spans []Span) *game {
	k := len(m.Steps)
	g := &game{columns: make([][]int32, k), held: make([]int, k), minutes: make([]int, k), took: make([]int, k)}
	means, own := make([]int, k), make([]bool, k)
	for i, x := range spans {
		at := i
		if into != nil {
			at = into[i]
		}
		c := s.of(x, n.Steps[i].Bench)
		means[at] += x.Mean()
		switch {
		case g.columns[at] == nil:
			g.columns[at] = c
			continue
		case !own[at]:
			g.columns[at], own[at] = slices.Clone(g.columns[at]), true
		}
		for d, v := range c {
			g.columns[at][d] += v
		}
	}
	g.plan = m.plan(m.tails(means))
	return g
}

// A game is one job being played through.
type game struct {
	plan          *plan
	columns       [][]int32
	took          []int
	held, minutes []int
}

// play plays one draw, counts what held the end up, and returns the day.
func (g *game) play(draw int) int {
	for i := range g.took {
		g.took[i] = int(g.columns[i][draw])
	}
	p := g.plan
	end := p.run(g.took)
	if end == nothing {
		return 0
	}
	for i := end; i != nothing; i = p.by[i] {
		from := 0
		if p.by[i] != nothing {
			from = p.finish[p.by[i]]
		}
		if p.finish[i] > from {
			g.held[i]++
			g.minutes[i] += p.finish[i] - from
		}
	}
	return max(0, p.finish[end]-1) / Day
}

// Within is the day by which the job is ready in that share of the draws.
func (r Ready) Within(share float64) int {
	return r.All[min(max(int(math.Ceil(share*float64(len(r.All))-1e-9))-1, 0), len(r.All)-1)]
}
