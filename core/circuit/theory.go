package circuit

import (
	"math"
	"slices"
)

// fitRounds is how often the numbers of a theory are improved.
const fitRounds = 12

// A theory that still misses by more than hopeless times the meter's error,
// and gains less than a twentieth in a round, is left as it is.
const hopeless = 4.0

// fit finds the numbers that leave least unexplained, by the method of Gauss
// and Newton with a damped step, then sees to the worst reading.
func (d *detective) fit(cs []charge, x []float64) (theory, bool) {
	t := theory{charges: cs, x: slices.Clone(x)}
	var ok bool
	if t.reads, t.sol, ok = d.try(cs, t.x, nil); !ok {
		return t, false
	}
	t.off = offOf(d.miss(t.reads))
	for range fitRounds {
		was := t.off
		if !d.improve(&t, nil) || t.off > hopeless && t.off > 0.95*was {
			break
		}
	}
	d.even(&t)
	return t, true
}

// even weighs the readings a theory misses until it meets them all, where it
// nearly does: least squares looks at the sum, and every single reading
// counts.
func (d *detective) even(t *theory) {
	weights := make([]float64, len(t.reads))
	for i := range weights {
		weights[i] = 1
	}
	for range 8 {
		miss := d.miss(t.reads)
		if most := worstOf(miss); most <= 1 || most > 2.5 {
			return
		}
		for i := range weights {
			weights[i] *= 0.3 + math.Abs(miss[i])
		}
		if next := *t; d.improve(&next, weights) && worstOf(d.miss(next.reads)) < worstOf(miss) {
			*t = next
		} else {
			return
		}
	}
}

func worstOf(miss []float64) float64 {
	most := 0.0
	for _, m := range miss {
		most = max(most, math.Abs(m))
	}
	return most
}

// improve takes one step, as long as the circuit lets it gain; weights nil
// counts every reading alike.
func (d *detective) improve(t *theory, weights []float64) bool {
	miss := d.miss(t.reads)
	step, ok := d.step(t, miss, weights)
	if !ok {
		return false
	}
	now := offOf(weighed(miss, weights))
	for k := 1.0; k > 0.06; k /= 2.5 {
		next := d.stepped(t, step, k)
		reads, _, ok := d.try(t.charges, next, t.sol)
		if !ok || offOf(weighed(d.miss(reads), weights)) >= now*(1-1e-3) {
			continue
		}
		reads, sol, ok := d.try(t.charges, next, nil)
		if !ok {
			continue
		}
		t.x, t.reads, t.sol, t.off = next, reads, sol, offOf(d.miss(reads))
		return true
	}
	return false
}

func weighed(miss, weights []float64) []float64 {
	if weights == nil {
		return miss
	}
	out := make([]float64, len(miss))
	for i := range miss {
		out[i] = miss[i] * weights[i]
	}
	return out
}

// stepped is a part of a step, inside what each number may be.
func (d *detective) stepped(t *theory, step []float64, k float64) []float64 {
	next := slices.Clone(t.x)
	for i, c := range t.charges {
		if c.free() {
			s := min(max(step[i], -1.5), 1.5)
			if c.fault == Leak {
				s = min(max(step[i], -4), 4)
			}
			next[i] = min(max(t.x[i]+k*s, c.low), c.top)
		}
	}
	return next
}

// step solves the normal equations of the free numbers.
func (d *detective) step(t *theory, miss, weights []float64) ([]float64, bool) {
	var free []int
	for i, c := range t.charges {
		if c.free() {
			free = append(free, i)
		}
	}
	cols, ok := d.columns(t, miss)
	if !ok || len(cols) == 0 {
		return nil, false
	}
	for k := range cols {
		cols[k] = weighed(cols[k], weights)
	}
	y, ok := leastSquares(cols, weighed(miss, weights))
	out := make([]float64, len(t.x))
	for k, i := range free {
		if ok {
			out[i] = -y[k]
		}
	}
	return out, ok
}
