package order

// A work is one pattern being worked on, or a part of it.
type work struct {
	s      *Search
	fees   int64
	nodes  []*node // by depth
	coef   []int64
	goods  []int64
	least  []int64 // by group: the least cost under the multipliers
	reach  []reach // by seller
	pick   []int32
	slope  []float64
	budget int
	toll   int64 // as it was last found at the top of a pattern

	saved   []int8  // rows of all patterns kept
	betas   []int64 // their multipliers, and the toll
	choices []choice
	warm    [][]int64 // by seller and row: the last multipliers that were best
	beta    []int64
	tight   tight
}

// dim is an open seller whose goods the pattern has something to say of.
type dim struct {
	seller  int
	factor  int64
	pattRow // with most the lower of most and high
}

// node is a part of a pattern: the options left for each group.
type node struct {
	list  []lean
	start []int32 // by group, and the end
	dims  []dim
	beta  []int64 // by seller
	toll  int64   // on a point of score, in units of 1/one
	kids  []kid
}

// lean is an option in the form the bounds run over.
type lean struct {
	cost   int64 // in units of 1/one
	goods  int64
	seller int32 // below zero: several parts, or none
	id     int32
}

// pattern takes a pattern up and returns its bound.
func (w *work) pattern(s *Search, row []int8, rounds int) int64 {
	w.take(s, row)
	n := w.nodes[0]
	for x, k := range row {
		if k >= 0 {
			n.beta[x] = w.warm[x][k]
		}
	}
	if s.lim.Score > 0 && !w.seek(n) {
		return Never
	}
	b := w.raise(n, rounds)
	for x, k := range row {
		if k >= 0 {
			w.warm[x][k] = n.beta[x]
		}
	}
	return b
}

// take lists what is left under a pattern.
func (w *work) take(s *Search, row []int8) {
	w.prepare(s)
	out := uint32(0)
	w.fees = 0
	n := w.nodes[0]
	n.dims, n.toll = n.dims[:0], w.toll
	for x, k := range row {
		n.beta[x] = s.one
		if k == undecided {
			continue
		}
		if k < 0 {
			out |= 1 << x
			continue
		}
		r := s.rows[x][k]
		w.fees += r.fee * s.factor[x]
		if r.least > 0 || r.most < unbounded {
			d := dim{seller: x, factor: s.factor[x], pattRow: r}
			d.most = min(r.most, r.high)
			n.dims = append(n.dims, d)
		}
	}
	n.list, n.start = n.list[:0], n.start[:0]
	for i := range s.groups {
		n.start = append(n.start, int32(len(n.list)))
		for k := s.groups[i].options.from; k < s.groups[i].options.to; k++ {
			if o := &s.options[k]; o.mask&out == 0 && (s.best == Never || o.base <= s.best) {
				n.list = append(n.list, w.lean(o, k))
			}
		}
	}
	n.start = append(n.start, int32(len(n.list)))
	s.effort += len(s.options) / 4
}

// prepare makes room, once.
func (w *work) prepare(s *Search) {
	if w.s != nil {
		return
	}
	n := len(s.rows)
	w.s, w.toll = s, s.toll
	w.coef, w.goods, w.slope = make([]int64, n), make([]int64, n), make([]float64, n)
	w.reach = make([]reach, n)
	w.least, w.pick = make([]int64, len(s.groups)), make([]int32, len(s.groups))
	w.warm = make([][]int64, n)
	for x := range w.warm {
		w.warm[x] = make([]int64, len(s.rows[x]))
		for k := range w.warm[x] {
			w.warm[x][k] = s.one
		}
	}
	w.deepen(0)
}

// deepen makes room for one more depth.
func (w *work) deepen(depth int) *node {
	if depth == len(w.nodes) {
		w.nodes = append(w.nodes, &node{beta: make([]int64, len(w.s.rows)), start: make([]int32, 0, len(w.s.groups)+1)})
	}
	return w.nodes[depth]
}

func (w *work) lean(o *option, id int32) lean {
	l := lean{cost: o.base * w.s.one, seller: -1, id: id}
	if o.past == o.first+1 {
		p := w.s.parts[o.first]
		l.seller, l.goods = p.seller, p.goods
	}
	return l
}
