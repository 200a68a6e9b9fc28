package order

import "math"

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
