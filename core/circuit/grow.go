package circuit

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/sorted"
)

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
	sorted.By(options, func(a, b option) int { return cmp.Compare(a.left, b.left) })
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
