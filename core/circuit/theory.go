package circuit

import (
	"cmp"
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

// leastSquares finds y so that Σ cols[k] y[k] is nearest b.
func leastSquares(cols [][]float64, b []float64) ([]float64, bool) {
	n := len(cols)
	a, rhs := make([][]float64, n), make([]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
		for k := range cols {
			a[i][k] = dot(cols[i], cols[k])
		}
		a[i][i] *= 1 + 1e-9
		rhs[i] = dot(cols[i], b)
	}
	return solveDense(a, rhs)
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// grow tries each theory with one more charge: those that, by their first
// effect, would leave least.
func (d *detective) grow(from []theory) []theory {
	var out []theory
	seen := map[string]bool{}
	for i := range from {
		for _, more := range d.promising(&from[i]) {
			cs := append(slices.Clone(from[i].charges), more)
			if key := keyOf(cs); !seen[key] {
				seen[key] = true
				if t, ok := d.fit(cs, append(slices.Clone(from[i].x), more.start)); ok {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// keyOf names a set whatever the order of its charges.
func keyOf(cs []charge) string {
	var names []string
	for _, c := range cs {
		names = append(names, c.ref+"/"+string(rune('a'+c.property))+string(rune('a'+c.fault)))
	}
	slices.Sort(names)
	key := ""
	for _, n := range names {
		key += n + " "
	}
	return key
}

// promising ranks the charges that could join a theory.
func (d *detective) promising(t *theory) []charge {
	type option struct {
		charge
		left float64
	}
	miss := d.miss(t.reads)
	own, _ := d.columns(t, miss)
	var options []option
	for _, c := range d.all {
		if slices.ContainsFunc(t.charges, func(o charge) bool {
			return o.ref == c.ref && (o.property == c.property || o.fault != 0 || c.fault != 0)
		}) {
			continue
		}
		if left, ok := d.left(t, c, own, miss); ok {
			options = append(options, option{c, left})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(a.left, b.left) })
	var out []charge
	for _, o := range options[:min(beamSecond, len(options))] {
		out = append(out, o.charge)
	}
	return out
}

// columns are the effects of a theory's own numbers.
func (d *detective) columns(t *theory, miss []float64) ([][]float64, bool) {
	var cols [][]float64
	for i, c := range t.charges {
		if !c.free() {
			continue
		}
		h := 1e-3
		if t.x[i]+h > c.top {
			h = -h
		}
		x := slices.Clone(t.x)
		x[i] += h
		reads, _, ok := d.try(t.charges, x, t.sol)
		if !ok {
			return nil, false
		}
		col := d.miss(reads)
		for k := range col {
			col[k] = (col[k] - miss[k]) / h
		}
		cols = append(cols, col)
	}
	return cols, true
}

// left is what one more charge would leave, by its effect where it starts: of
// a drift by its slope, of a failure by the whole of it.
func (d *detective) left(t *theory, c charge, own [][]float64, miss []float64) (float64, bool) {
	cs := append(slices.Clone(t.charges), c)
	x := append(slices.Clone(t.x), c.start)
	h := 1.0
	if c.fault == 0 {
		h = 0.05
		x[len(x)-1] += h
	}
	reads, _, ok := d.try(cs, x, t.sol)
	if !ok {
		return 0, false
	}
	col := d.miss(reads)
	rest := slices.Clone(miss)
	cols := slices.Clone(own)
	if c.free() {
		for k := range col {
			col[k] = (col[k] - miss[k]) / h
		}
		cols = append(cols, col)
	} else {
		rest = col
	}
	if y, ok := leastSquares(cols, rest); ok {
		for k := range rest {
			for i := range cols {
				rest[k] -= cols[i][k] * y[i]
			}
		}
	}
	off := offOf(rest)
	return off, !math.IsNaN(off)
}
