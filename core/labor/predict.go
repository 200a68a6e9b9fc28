package labor

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/sorted"
)

// A Work is one task to come: its class and the moments of its three points.
type Work struct {
	Class string
	Moments
	Chance float64 // that it has to be done; 0 = it is done
}

// Hours returns the moments of a whole job to come: each task times its
// class and its own noise, all times the shop's bias and the job's own
// factor. How well classes are known counts as shared, by their part of the
// hours.
func (f Fit) Hours(setUp Moments, work []Work) Moments {
	total := setUp
	var parts []classPart
	for _, w := range work {
		p := f.part(&parts, w.Class)
		m := w.scaled(p.factor)
		if w.Chance > 0 {
			w.Mean *= w.Chance
			m = m.IfFound(w.Chance)
		}
		p.mean += w.Mean
		total = total.Plus(m)
	}
	shared := f.BiasSD*f.BiasSD + f.JobSD*f.JobSD
	sorted.By(parts, func(a, b classPart) int { return cmp.Compare(a.class, b.class) })
	for _, p := range parts {
		part := p.mean / math.Max(total.Mean, 1e-12)
		shared += part * part * p.sd * p.sd
	}
	return total.Times(f.Bias, math.Sqrt(shared))
}

// A classPart is what of a job's hours is of one class.
type classPart struct {
	class  string
	mean   float64
	sd     float64 // how well the class is known
	factor [3]float64
}

// part finds the part of a class. A job has few: they are looked through.
func (f Fit) part(parts *[]classPart, class string) *classPart {
	for i := range *parts {
		if (*parts)[i].class == class {
			return &(*parts)[i]
		}
	}
	sd, known := f.ClassSD[class]
	if !known {
		sd = f.NewClassSD
	}
	*parts = append(*parts, classPart{class: class, sd: sd, factor: lognormalMoments(f.Class[class], f.TaskSD)})
	return &(*parts)[len(*parts)-1]
}

// Held returns between which chances a next ratio of actual to estimate stays
// at or below at, from the ratios of n finished jobs alone: if j of them do,
//
//	j/(n + 1) to (j + 1)/(n + 1)
//
// where the next job is like the ones before. Source: order statistics of
// exchangeable draws, a textbook result; no distribution is assumed.
func Held(ratios []float64, at float64) (low, high float64) {
	j := 0
	for _, r := range ratios {
		if r <= at {
			j++
		}
	}
	n := float64(len(ratios) + 1)
	return float64(j) / n, float64(j+1) / n
}

// Range returns the shortest pair of past ratios, counted from the smallest,
// that holds the next one with at least the chance asked for, and the chance
// it holds: (k − j)/(n + 1). ok is false where too few jobs are finished.
func Range(ratios []float64, chance float64) (low, high, holds float64, ok bool) {
	s := slices.Clone(ratios)
	slices.Sort(s)
	n := len(s)
	span := int(math.Ceil(chance*float64(n+1) - 1e-9))
	if span < 1 || span > n-1 {
		return 0, 0, 0, false
	}
	best := math.Inf(1)
	for j := 0; j+span < n; j++ {
		if w := s[j+span] - s[j]; w < best {
			best, low, high = w, s[j], s[j+span]
		}
	}
	return low, high, float64(span) / float64(n+1), true
}

// A Spread is a range of ratios with the chance that it holds the next one.
type Spread struct{ Low, High, Holds float64 }

// Widest is the range from the smallest ratio to the largest, with the chance
// (n − 1)/(n + 1) that it holds the next one: all that few jobs can say.
func Widest(ratios []float64) Spread {
	n := float64(len(ratios))
	return Spread{slices.Min(ratios), slices.Max(ratios), (n - 1) / (n + 1)}
}
