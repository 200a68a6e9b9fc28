package order

// kid is a choice not made yet, with the least an order with it can cost.
type kid struct {
	bound  int64
	option int32
}

// reach is what goods at a seller can come to.
type reach struct {
	least, most int64 // over all groups
	low, high   int64 // in the group being looked at
	count       int32
}

// plunge is how many parts of a pattern are gone into before the rest is put
// back: a hard pattern is not finished while the best order is poor.
const plunge = 64

// workOn goes into a part of the work.
func (s *Search) workOn(x open) {
	if s.closed(x.bound) {
		return
	}
	s.work.resume(s, x)
	s.work.budget = plunge
	s.work.dive(0, x)
}

// dive bounds a part, leaves out what cannot better the best order, and
// either settles it or goes into the options of one group.
func (w *work) dive(depth int, x open) {
	n := w.nodes[depth]
	x.bound = max(x.bound, w.raise(n, 10))
	if w.s.closed(x.bound) || !w.narrow(n) {
		return
	}
	for i := 0; i < 3 && w.s.loose && w.tighten(n); i++ {
		x.bound = max(x.bound, w.raise(n, 10))
		if w.s.closed(x.bound) || !w.narrow(n) {
			return
		}
	}
	g := w.widest(n)
	if g < 0 { // all is decided, and was offered
		return
	}
	w.partOut(n, g, x.bound)
	for i := range n.kids {
		k := n.kids[i]
		if w.s.closed(k.bound) {
			continue
		}
		w.choices = append(w.choices, choice{int32(g), k.option, x.choice})
		next := open{k.bound, x.pattern, int32(len(w.choices) - 1)}
		if w.budget <= 0 {
			w.s.queue.push(next)
			continue
		}
		w.budget--
		w.copyTo(n, w.deepen(depth+1), int32(g), k.option)
		w.dive(depth+1, next)
	}
}

// copyTo goes into one option of a group.
func (w *work) copyTo(from, to *node, group, option int32) {
	to.list, to.start = append(to.list[:0], from.list...), append(to.start[:0], from.start...)
	to.dims = append(to.dims[:0], from.dims...)
	copy(to.beta, from.beta)
	to.toll = from.toll
	to.fix(group, option)
	to.close()
}

// partOut lists the options of a group, the one with the lowest bound first.
func (w *work) partOut(n *node, g int, bound int64) {
	n.kids = n.kids[:0]
	total := w.constant(n)
	for _, l := range w.least {
		total += l
	}
	for i := n.start[g]; i < n.start[g+1]; i++ {
		l := &n.list[i]
		b := w.s.up(total - w.least[g] + w.tolled(n, l))
		n.kids = append(n.kids, kid{max(bound, b), l.id})
	}
	for i := range n.kids { // they are few
		for k := i; k > 0 && n.kids[k].bound < n.kids[k-1].bound; k-- {
			n.kids[k], n.kids[k-1] = n.kids[k-1], n.kids[k]
		}
	}
}

// narrow leaves out the options whose bound closes them, and thresholds that
// whatever is left meets or misses. It reports false where nothing is left.
func (w *work) narrow(n *node) bool {
	bound, _ := w.relaxed(n)
	if bound == Never || w.s.closed(w.s.up(bound)) || !w.scores(n) {
		return false
	}
	gone := false
	for g := range w.least {
		if n.start[g+1] == n.start[g]+1 {
			continue
		}
		for i := n.start[g]; i < n.start[g+1]; i++ {
			if w.s.closed(w.s.up(bound - w.least[g] + w.tolled(n, &n.list[i]))) {
				n.list[i].id, gone = -1, true
			}
		}
	}
	if gone {
		n.close()
	}
	return w.settleDims(n)
}

// scores reports whether enough score can still be reached.
func (w *work) scores(n *node) bool {
	if w.s.lim.Score == 0 {
		return true
	}
	sum := 0
	for g := range w.least {
		best := int32(0)
		for i := n.start[g]; i < n.start[g+1]; i++ {
			best = max(best, w.s.options[n.list[i].id].score)
		}
		sum += int(best)
	}
	return sum >= w.s.lim.Score
}

// settleDims looks at what the goods of each seller can still come to.
func (w *work) settleDims(n *node) bool {
	w.reaches(n)
	kept := n.dims[:0]
	for _, d := range n.dims {
		r := &w.reach[d.seller]
		if r.least > d.most || r.most < d.low && !w.s.loose {
			return false
		}
		if !w.s.loose {
			if r.most <= d.most {
				d.most = unbounded
			}
			if r.least >= d.low {
				d.low = 0
			}
			if r.most <= d.least && d.most == unbounded {
				n.beta[d.seller], d.low = 0, 0
			}
		}
		if r.least >= d.least && d.most == unbounded && d.low == 0 {
			n.beta[d.seller] = w.s.one
			continue
		}
		n.beta[d.seller] = w.within(&d, n.beta[d.seller], n.beta[d.seller])
		kept = append(kept, d)
	}
	n.dims = kept
	_, _ = w.relaxed(n)
	return true
}

// reaches finds the least and the most goods at each seller.
func (w *work) reaches(n *node) {
	clear(w.reach)
	for g := range len(n.start) - 1 {
		own := n.list[n.start[g]:n.start[g+1]]
		for i := range own {
			w.touch(&own[i])
		}
		for i := range w.reach {
			r := &w.reach[i]
			if r.count == int32(len(own)) {
				r.least += r.low
			}
			r.most += r.high
			r.low, r.high, r.count = 0, 0, 0
		}
	}
}

func (w *work) touch(l *lean) {
	one := [1]part{{l.seller, l.goods}}
	parts := one[:]
	if l.seller < 0 {
		o := &w.s.options[l.id]
		parts = w.s.parts[o.first:o.past]
	}
	for _, p := range parts {
		r := &w.reach[p.seller]
		if r.count == 0 || p.goods < r.low {
			r.low = p.goods
		}
		r.high = max(r.high, p.goods)
		r.count++
	}
}

// widest is the group whose options move most goods for the least excess,
// below zero where every group has one option.
func (w *work) widest(n *node) int {
	if w.s.loose {
		if g := w.unpaid(n); g >= 0 {
			return g
		}
	}
	best, at := -1.0, -1
	for g := range w.least {
		own := n.list[n.start[g]:n.start[g+1]]
		if len(own) < 2 {
			continue
		}
		excess, goods := int64(Never), int64(0)
		for i := range own {
			if own[i].id == w.pick[g] {
				continue
			}
			excess = min(excess, w.tolled(n, &own[i])-w.least[g])
		}
		for i := range own {
			goods = max(goods, own[i].cost)
		}
		if v := float64(goods) / (float64(excess) + float64(goods)/256 + 1); v > best {
			best, at = v, g
		}
	}
	return at
}
