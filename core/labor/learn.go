package labor

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/sorted"
)

// A Past is one finished task: what was estimated, the mean of its three
// points, and what it took.
type Past struct {
	Job, Class       string
	Estimate, Actual float64 // hours
}

// A Fit is what the shop's own jobs say of its estimates.
//
// The logarithm of actual over estimate is taken as a sum: the shop's own
// bias, what a class of task adds, what a job adds to all its tasks, and what
// is left. Each is pulled toward nothing the more, the less there is to learn
// it from.
type Fit struct {
	Jobs, Tasks int
	Bias        float64            // of the shop, log
	BiasSD      float64            // how well that is known
	Class       map[string]float64 // by class, log
	ClassSD     map[string]float64 // how well that is known
	NewClassSD  float64            // of a class never seen
	JobSD       float64            // of a job
	TaskSD      float64            // of a task
}

// Starting beliefs, and how many observations each is worth. Our own
// judgment, no source.
const (
	startBias, startClass, startJob, startTask = 0.25, 0.20, 0.15, 0.35
	startWorth                                 = 6.0
	passes                                     = 12
)

// CalibratedFrom is how many finished jobs make a fit worth the name; below,
// every figure from it says "not calibrated". Our own judgment.
const CalibratedFrom = 10

// Calibrated reports whether enough jobs are behind the fit.
func (f Fit) Calibrated() bool { return f.Jobs >= CalibratedFrom }

// Learn fits the shop's bias and spreads by passes of posterior means, each
// followed by new variances. Tasks without an estimate or an actual above
// nothing teach nothing. A logarithm beyond three deviations counts as three.
func Learn(past []Past) Fit {
	past = slices.Clone(past)
	past = slices.DeleteFunc(past, func(p Past) bool { return !(p.Estimate > 0) || !(p.Actual > 0) })
	sorted.By(past, func(a, b Past) int {
		return cmp.Or(cmp.Compare(a.Job, b.Job), cmp.Compare(a.Class, b.Class))
	})
	l := newLearner(past)
	for range passes {
		l.bias()
		l.classes.update(l, l.inClass)
		l.jobs.update(l, l.inJob)
		l.variances()
	}
	return l.fit()
}

// effects are the levels of one kind: classes, or jobs.
type effects struct {
	names    []string
	members  [][]int // observations of each
	mean, sd []float64
	variance float64 // of the levels
	start    float64
}

func (e *effects) at(name string) int {
	i, ok := slices.BinarySearch(e.names, name)
	if !ok {
		e.names = slices.Insert(e.names, i, name)
	}
	return i
}

type learner struct {
	y       []float64
	classOf []int
	jobOf   []int
	classes effects
	jobs    effects
	mu      float64
	muVar   float64
	noise   float64 // variance of a task
}

func newLearner(past []Past) *learner {
	l := &learner{noise: startTask * startTask, muVar: startBias * startBias}
	l.classes = effects{variance: startClass * startClass, start: startClass}
	l.jobs = effects{variance: startJob * startJob, start: startJob}
	for _, p := range past {
		l.classes.at(p.Class)
		l.jobs.at(p.Job)
	}
	for _, e := range []*effects{&l.classes, &l.jobs} {
		e.members, e.mean, e.sd = make([][]int, len(e.names)), make([]float64, len(e.names)), make([]float64, len(e.names))
	}
	most := 3 * math.Sqrt(startBias*startBias+startClass*startClass+startJob*startJob+startTask*startTask)
	for i, p := range past {
		l.y = append(l.y, min(max(math.Log(p.Actual/p.Estimate), -most), most))
		c, j := l.classes.at(p.Class), l.jobs.at(p.Job)
		l.classOf, l.jobOf = append(l.classOf, c), append(l.jobOf, j)
		l.classes.members[c] = append(l.classes.members[c], i)
		l.jobs.members[j] = append(l.jobs.members[j], i)
	}
	return l
}

// bias is the shop's own: a normal mean with a normal prior.
func (l *learner) bias() {
	sum := 0.0
	for i, y := range l.y {
		sum += y - l.classes.mean[l.classOf[i]] - l.jobs.mean[l.jobOf[i]]
	}
	precision := float64(len(l.y))/l.noise + 1/(startBias*startBias)
	l.mu, l.muVar = sum/l.noise/precision, 1/precision
}

func (l *learner) inClass(i int) float64 { return l.y[i] - l.mu - l.jobs.mean[l.jobOf[i]] }
func (l *learner) inJob(i int) float64   { return l.y[i] - l.mu - l.classes.mean[l.classOf[i]] }

// update shrinks each level toward nothing.
func (e *effects) update(l *learner, rest func(int) float64) {
	for k, members := range e.members {
		sum := 0.0
		for _, i := range members {
			sum += rest(i)
		}
		precision := float64(len(members))/l.noise + 1/e.variance
		e.mean[k], e.sd[k] = sum/l.noise/precision, math.Sqrt(1/precision)
	}
}

// variances are those seen, with the starting beliefs as so many more.
func (l *learner) variances() {
	ss := startWorth * startTask * startTask
	for i, y := range l.y {
		c, j := l.classOf[i], l.jobOf[i]
		d := y - l.mu - l.classes.mean[c] - l.jobs.mean[j]
		ss += d*d + l.muVar + l.classes.sd[c]*l.classes.sd[c] + l.jobs.sd[j]*l.jobs.sd[j]
	}
	l.noise = ss / (startWorth + float64(len(l.y)))
	for _, e := range []*effects{&l.classes, &l.jobs} {
		ss := startWorth * e.start * e.start
		for k := range e.mean {
			ss += e.mean[k]*e.mean[k] + e.sd[k]*e.sd[k]
		}
		e.variance = ss / (startWorth + float64(len(e.mean)))
	}
}

func (l *learner) fit() Fit {
	f := Fit{Jobs: len(l.jobs.names), Tasks: len(l.y), Bias: l.mu, BiasSD: math.Sqrt(l.muVar), NewClassSD: math.Sqrt(l.classes.variance),
		JobSD: math.Sqrt(l.jobs.variance), TaskSD: math.Sqrt(l.noise), Class: map[string]float64{}, ClassSD: map[string]float64{}}
	for i, n := range l.classes.names {
		f.Class[n], f.ClassSD[n] = l.classes.mean[i], l.classes.sd[i]
	}
	return f
}
