package order

import (
	"cmp"
	"slices"
)

// A label is a part order: an option for each group so far.
type label struct {
	reduced int64 // under the multipliers
	base    int64 // goods at sellers whose threshold may be met
	goods   [2]int64
	score   int32
	link
}

// link is the option a part order takes last, and the place of the one it
// goes on from.
type link struct{ option, parent int32 }

// mostLabels is how many part orders a pattern may keep; where there are more
// its groups are gone into one by one.
const mostLabels = 600

// labeled is how many thresholds a label counts goods for.
const labeled = 2

// label finds the cheapest order of a part group by group, leaving out what a
// kept part order betters. It reports false where that takes too many.
func (w *work) label(n *node) bool {
	if w.s.loose || !w.active(n) {
		return false
	}
	konst := w.constant(n)
	suffix := w.plan(n)
	var first label
	for g := range w.least {
		if n.start[g+1] == n.start[g]+1 && !w.extend(n, &first, &n.list[n.start[g]]) {
			return true
		}
	}
	w.labels[0], w.links, w.stages = append(w.labels[0][:0], first), w.links[:0], w.stages[:0]
	for at, g := range w.order {
		next := w.labels[1][:0]
		for i := n.start[g]; i < n.start[g+1]; i++ {
			l := &n.list[i]
			for f := range w.labels[0] {
				x := w.labels[0][f]
				if !w.extend(n, &x, l) || w.s.closed(w.s.up(konst+x.reduced+suffix[at+1])) {
					continue
				}
				x.link = link{l.id, int32(f)}
				next = append(next, x)
			}
		}
		w.s.effort += 8 * len(next)
		w.labels[1] = next
		if next = w.thin(next); len(next) > mostLabels {
			return false
		}
		w.labels[0], w.labels[1] = next, w.labels[0]
		w.stages = append(w.stages, int32(len(w.links)))
		for i := range next {
			w.links = append(w.links, next[i].link)
		}
	}
	w.settle(n)
	return true
}

// What labels make of a seller's goods, besides the number of a dim.
const (
	plain = -1 // they cost what they cost
	flat  = -2 // they cost the same whatever they are: the threshold is not met
)

// active lists the dims that labels count; false where they are too many.
func (w *work) active(n *node) bool {
	w.dims = w.dims[:0]
	for x := range w.counts {
		w.counts[x] = plain
	}
	for i := range n.dims {
		d := &n.dims[i]
		if d.flat {
			w.counts[d.seller] = flat
			continue
		}
		w.counts[d.seller] = int8(len(w.dims))
		w.dims = append(w.dims, *d)
	}
	return len(w.dims) <= labeled
}

// plan puts the undecided groups first that move most, and returns the least
// reduced cost of all that follow each.
func (w *work) plan(n *node) (suffix []int64) {
	w.order, w.weight = w.order[:0], w.weight[:0]
	for g := range w.least {
		most := int64(0)
		if own := n.list[n.start[g]:n.start[g+1]]; len(own) > 1 {
			for i := range own {
				most = max(most, own[i].cost)
			}
			w.order = append(w.order, int32(g))
		}
		w.weight = append(w.weight, most)
	}
	slices.SortFunc(w.order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(w.weight[b], w.weight[a]), cmp.Compare(a, b))
	})
	w.suffix = append(w.suffix[:0], make([]int64, len(w.order)+1)...)
	for k := len(w.order) - 1; k >= 0; k-- {
		w.suffix[k] = w.suffix[k+1] + w.least[w.order[k]]
	}
	return w.suffix
}

// extend adds an option to a part order; false where a ceiling is passed.
func (w *work) extend(n *node, x *label, l *lean) bool {
	x.reduced += w.tolled(n, l)
	one := [1]part{{l.seller, l.goods}}
	parts := one[:]
	if l.seller < 0 {
		o := &w.s.options[l.id]
		parts = w.s.parts[o.first:o.past]
	}
	for _, p := range parts {
		j := w.counts[p.seller]
		if j == flat {
			continue
		}
		x.base += p.goods * w.s.factor[p.seller]
		if j < 0 {
			continue
		}
		if x.goods[j] += p.goods; x.goods[j] > w.dims[j].most && w.dims[j].hard {
			return false
		}
	}
	if w.s.lim.Score > 0 {
		x.score += w.s.options[l.id].score
	}
	return true
}

// window is how many kept part orders one is held against.
const window = 64

// thin drops a part order that a kept one betters: the same completion then
// costs no more from the kept one, because the shortfalls differ by at most
//
//	Σ f·[min(G_B, T) − min(G_A, T)]⁺
//
// provided its goods are no higher under a ceiling, no lower over a floor,
// and its score no lower.
func (w *work) thin(ls []label) []label {
	if len(ls) < 2 {
		return ls
	}
	slices.SortFunc(ls, func(a, b label) int {
		return cmp.Or(cmp.Compare(w.toppedUp(&a), w.toppedUp(&b)), cmp.Compare(a.base, b.base), cmp.Compare(a.parent, b.parent), cmp.Compare(a.option, b.option))
	})
	kept := ls[:0]
next:
	for _, l := range ls {
		for k := len(kept) - 1; k >= max(0, len(kept)-window); k-- {
			if w.betters(&kept[k], &l) {
				continue next
			}
		}
		kept = append(kept, l)
	}
	return kept
}

// toppedUp is what a part order costs if its thresholds are met now by spares.
func (w *work) toppedUp(l *label) int64 {
	c := l.base
	for j := range w.dims {
		d := &w.dims[j]
		c += d.factor * max(0, d.least-l.goods[j])
	}
	return c
}

func (w *work) betters(a, b *label) bool {
	if w.s.lim.Score > 0 && a.score < b.score {
		return false
	}
	cost := a.base
	for j := range w.dims {
		d := &w.dims[j]
		if d.most < unbounded && a.goods[j] > b.goods[j] || d.low > 0 && a.goods[j] < b.goods[j] {
			return false
		}
		cost += d.factor * max(0, min(b.goods[j], d.least)-min(a.goods[j], d.least))
	}
	return cost <= b.base
}

// settle offers every full order that is left and may be the best.
func (w *work) settle(n *node) {
	fixed := w.fees
	for i := range n.dims {
		if d := &n.dims[i]; d.flat {
			fixed += d.factor * d.least
		}
	}
	last := w.labels[0]
	for i := range last {
		if w.s.closed(fixed+w.toppedUp(&last[i])) || int(last[i].score) < w.s.lim.Score {
			continue
		}
		for g := range w.least {
			w.pick[g] = n.list[n.start[g]].id
		}
		at := int32(i)
		for k := len(w.order) - 1; k >= 0; k-- {
			x := w.links[w.stages[k]+at]
			w.pick[w.order[k]], at = x.option, x.parent
		}
		w.s.offer(w.pick)
	}
}
