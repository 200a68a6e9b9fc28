package order

import "math"

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

// save keeps a pattern for later and returns its number.
func (w *work) save(row []int8) int32 {
	at := len(w.saved) / len(row)
	w.saved = append(w.saved, row...)
	w.betas = append(append(w.betas, w.nodes[0].beta...), w.nodes[0].toll)
	return int32(at)
}

// resume takes a kept pattern up again, with the choices made since.
func (w *work) resume(s *Search, x open) {
	n := len(s.rows)
	w.take(s, w.saved[int(x.pattern)*n:][:n])
	b := w.betas[int(x.pattern)*(n+1):][:n+1]
	top := w.nodes[0]
	copy(top.beta, b)
	top.toll = b[n]
	for c := x.choice; c >= 0; c = w.choices[c].before {
		top.fix(w.choices[c].group, w.choices[c].option)
	}
	top.close()
}

// fix marks all other options of a group as gone.
func (n *node) fix(group, option int32) {
	for i := n.start[group]; i < n.start[group+1]; i++ {
		if n.list[i].id != option {
			n.list[i].id = -1
		}
	}
}

// close takes out what is marked as gone.
func (n *node) close() {
	to := int32(0)
	for g := range len(n.start) - 1 {
		from := n.start[g]
		n.start[g] = to
		for i := from; i < n.start[g+1]; i++ {
			if n.list[i].id >= 0 {
				n.list[to] = n.list[i]
				to++
			}
		}
	}
	n.start[len(n.start)-1] = to
	n.list = n.list[:to]
}

// reduced is an option's cost under the multipliers.
func (w *work) reduced(l *lean) int64 {
	c := l.cost
	if l.seller >= 0 {
		c += w.coef[l.seller] * l.goods
	} else {
		o := &w.s.options[l.id]
		for _, p := range w.s.parts[o.first:o.past] {
			c += w.coef[p.seller] * p.goods
		}
	}
	return c
}

// tolled is the reduced cost less the toll on score.
func (w *work) tolled(n *node, l *lean) int64 {
	c := w.reduced(l)
	if w.s.lim.Score > 0 {
		c -= n.toll * int64(w.s.options[l.id].score)
	}
	return c
}

// weigh turns multipliers into what a unit of goods costs more or less.
func (w *work) weigh(n *node) {
	clear(w.coef)
	for i := range n.dims {
		d := &n.dims[i]
		w.coef[d.seller] = (n.beta[d.seller] - w.s.one) * d.factor
	}
}

// constant is what the multipliers add whatever is chosen:
//
//	max(G, T) ≥ βG + (1−β)T     for 0 ≤ β ≤ 1
//	          ≥ βG + (1−β)most  for β > 1, where G ≤ most
//	          ≥ T + β(G − low)  for β < 0, where G ≥ low
func (w *work) constant(n *node) int64 {
	c := w.fees*w.s.one + n.toll*int64(w.s.lim.Score)
	for i := range n.dims {
		d := &n.dims[i]
		b := n.beta[d.seller]
		switch {
		case b < 0:
			c += d.factor * (w.s.one*d.least - b*d.low)
		case b <= w.s.one:
			c += d.factor * (w.s.one - b) * d.least
		default:
			c += d.factor * (w.s.one - b) * d.most
		}
	}
	return c
}

// up rounds a bound up to whole units.
func (s *Search) up(v int64) int64 {
	q := v / s.one
	if v > 0 && v%s.one != 0 {
		q++
	}
	return q
}

// relaxed returns the bound under the multipliers, the picks that reach it,
// their goods at each seller and their score. None is left where a group has
// no option.
func (w *work) relaxed(n *node) (bound int64, score int) {
	s := w.s
	w.weigh(n)
	bound = w.constant(n)
	clear(w.goods)
	for g := range len(n.start) - 1 {
		low, at := int64(math.MaxInt64), -1
		for i := n.start[g]; i < n.start[g+1]; i++ {
			l := &n.list[i]
			if c := w.tolled(n, l); c < low {
				low, at = c, int(i)
			}
		}
		if at < 0 {
			return Never, 0
		}
		l := &n.list[at]
		bound += low
		w.least[g] = low
		w.pick[g] = l.id
		if l.seller >= 0 {
			w.goods[l.seller] += l.goods
		} else {
			o := &s.options[l.id]
			for _, p := range s.parts[o.first:o.past] {
				w.goods[p.seller] += p.goods
			}
		}
		if s.lim.Score > 0 {
			score += int(s.options[l.id].score)
		}
	}
	s.effort += len(n.list) + len(n.start)
	return bound, score
}
