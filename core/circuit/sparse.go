package circuit

import "math/bits"

// number is what a matrix may hold: volts at rest, or phasors.
type number interface{ float64 | complex128 }

// A program eliminates the unknowns of one pattern, in an order found once.
// It is a flat list of places, so that factoring allocates nothing and runs
// the same for real and complex numbers. Nodal matrices need no pivoting:
// every node has its own conductance on the diagonal.
type program struct {
	n      int
	size   int     // places of a matrix, the last one is for what stands on the chassis
	order  []int32 // unknown eliminated at each step
	diag   []int32 // place of its diagonal
	from   []int32 // first entry of each step in row, low, up; one more at the end
	row    []int32 // unknowns still to come that the step touches
	low    []int32 // place of (row, pivot)
	up     []int32 // place of (pivot, row)
	target []int32 // places (row i, row j), step by step
}

// A pattern collects which unknowns touch each other.
type pattern struct {
	n, words int
	set      []uint64
}

func newPattern(n int) *pattern {
	w := (n + 63) / 64
	return &pattern{n: n, words: w, set: make([]uint64, n*w)}
}

func (p *pattern) line(i int) []uint64 { return p.set[i*p.words : (i+1)*p.words] }

// join says that unknowns i and j touch; the chassis is n and is left out.
func (p *pattern) join(i, j int) {
	if i == p.n || j == p.n || i == j {
		return
	}
	p.line(i)[j/64] |= 1 << (j % 64)
	p.line(j)[i/64] |= 1 << (i % 64)
}

// places finds the order of elimination (least degree first, the earlier
// unknown of equals) and gives every entry of the filled matrix its place.
func (p *pattern) places() (*program, func(i, j int) int32) {
	n := p.n
	g := &program{n: n, from: []int32{0}}
	table := make([]int32, n*n)
	for i := range table {
		table[i] = -1
	}
	place := func(i, j int) int32 {
		if table[i*n+j] < 0 {
			table[i*n+j] = int32(g.size)
			g.size++
		}
		return table[i*n+j]
	}
	done := make([]bool, n)
	for range n {
		k := p.least(done)
		done[k] = true
		g.step(k, p.eliminate(k), place)
	}
	trash := int32(g.size)
	g.size++
	return g, func(i, j int) int32 {
		if i == n || j == n {
			return trash
		}
		return table[i*n+j]
	}
}

// least returns the unknown with the fewest neighbors.
func (p *pattern) least(done []bool) int {
	best, degree := -1, p.n+1
	for i := range p.n {
		if done[i] {
			continue
		}
		d := 0
		for _, w := range p.line(i) {
			d += bits.OnesCount64(w)
		}
		if d < degree {
			best, degree = i, d
		}
	}
	return best
}

// eliminate takes k out, joins its neighbors to each other and returns them.
func (p *pattern) eliminate(k int) []int {
	var near []int
	for w, word := range p.line(k) {
		for ; word != 0; word &= word - 1 {
			near = append(near, w*64+bits.TrailingZeros64(word))
		}
	}
	mine := p.line(k)
	for _, i := range near {
		line := p.line(i)
		for w := range line {
			line[w] |= mine[w]
		}
		line[i/64] &^= 1 << (i % 64)
		line[k/64] &^= 1 << (k % 64)
	}
	return near
}

func (g *program) step(k int, near []int, place func(i, j int) int32) {
	g.order = append(g.order, int32(k))
	g.diag = append(g.diag, place(k, k))
	for _, i := range near {
		g.row = append(g.row, int32(i))
		g.low = append(g.low, place(i, k))
		g.up = append(g.up, place(k, i))
	}
	for _, i := range near {
		for _, j := range near {
			g.target = append(g.target, place(i, j))
		}
	}
	g.from = append(g.from, int32(len(g.row)))
}

// factor eliminates in place: below the diagonal the multipliers, on it the
// inverse of each pivot. A pivot of zero makes infinities, which the caller's
// residual finds.
func factor[T number](g *program, a []T) {
	t := 0
	for k := range g.n {
		inverse := 1 / a[g.diag[k]]
		a[g.diag[k]] = inverse
		low, up := g.low[g.from[k]:g.from[k+1]], g.up[g.from[k]:g.from[k+1]]
		for _, l := range low {
			m := a[l] * inverse
			a[l] = m
			targets := g.target[t : t+len(up)]
			t += len(up)
			if m == 0 {
				continue
			}
			for j, u := range up {
				a[targets[j]] -= m * a[u]
			}
		}
	}
}

// solve solves in place for a right side indexed by unknown.
func solve[T number](g *program, a, b []T) {
	for k := range g.n {
		v := b[g.order[k]]
		if v == 0 {
			continue
		}
		for e := g.from[k]; e < g.from[k+1]; e++ {
			b[g.row[e]] -= a[g.low[e]] * v
		}
	}
	for k := g.n - 1; k >= 0; k-- {
		v := b[g.order[k]]
		for e := g.from[k]; e < g.from[k+1]; e++ {
			v -= a[g.up[e]] * b[g.row[e]]
		}
		b[g.order[k]] = v * a[g.diag[k]]
	}
}
