package order

import (
	"cmp"
	"math"
	"slices"
)

// one is a multiplier of one: multipliers count in 1024ths.
const one = 1024

// A work is one pattern being worked on.
type work struct {
	s     *Search
	p     pattern
	out   uint32
	dims  []dim     // sellers whose goods the pattern has something to say of
	open  [][]int32 // by group: options that use open sellers only
	beta  []int64   // by seller, in 1024ths
	toll  int64     // on a point of score, in 1024ths of a unit
	fees  int64
	score bool
}

// dim is an open seller with a threshold or a ceiling.
type dim struct {
	seller      int
	factor      int64
	least, most int64
}

func newWork(s *Search, p pattern) *work {
	if s.spare.beta[0] == nil {
		s.spare.beta = [2][]int64{make([]int64, len(p)), make([]int64, len(p))}
		s.spare.open = map[uint32][][]int32{}
	}
	w := &work{s: s, p: p, beta: s.spare.beta[0], score: s.lim.Score > 0}
	for x, k := range p {
		w.beta[x] = one
		if k < 0 {
			w.out |= 1 << x
			continue
		}
		r := s.rows[x][k]
		w.fees += r.fee * s.factor[x]
		if r.least > 0 || r.most < unbounded {
			w.dims = append(w.dims, dim{x, s.factor[x], r.least, r.most})
		}
	}
	w.open = s.openTo(w.out)
	return w
}

// openTo lists, for each group, the options that use open sellers only.
func (s *Search) openTo(out uint32) [][]int32 {
	if have := s.spare.open[out]; have != nil {
		return have
	}
	all := make([][]int32, len(s.groups))
	for i := range s.groups {
		for k := range s.groups[i].options {
			if s.groups[i].options[k].mask&out == 0 {
				all[i] = append(all[i], int32(k))
			}
		}
	}
	s.spare.open[out] = all
	return all
}

// reduced is an option's cost under the multipliers, in 1024ths.
func (w *work) reduced(o *option) int64 {
	c := o.base * one
	for _, d := range w.dims {
		if g := o.goods[d.seller]; g != 0 {
			c += (w.beta[d.seller] - one) * d.factor * g
		}
	}
	return c - w.toll*int64(o.score)
}

// constant is what the multipliers add whatever is chosen:
//
//	max(G, T) ≥ βG + (1−β)T for 0 ≤ β ≤ 1, and ≥ βG + (1−β)·most for β > 1 where G ≤ most
func (w *work) constant() int64 {
	c := w.fees*one + w.toll*int64(w.s.lim.Score)
	for _, d := range w.dims {
		b := w.beta[d.seller]
		if b <= one {
			c += d.factor * (one - b) * d.least
		} else {
			c += d.factor * (one - b) * d.most
		}
	}
	return c
}

// relaxed returns the bound under the multipliers, in 1024ths, the picks that
// reach it, and their goods at each dim and score.
func (w *work) relaxed(pick []int, goods []int64) (bound int64, score int) {
	bound = w.constant()
	for i := range goods {
		goods[i] = 0
	}
	for i, open := range w.open {
		g := &w.s.groups[i]
		low, at := int64(math.MaxInt64), int32(0)
		for _, k := range open {
			if c := w.reduced(&g.options[k]); c < low {
				low, at = c, k
			}
		}
		bound += low
		pick[i] = int(at)
		score += g.options[at].score
		for j, d := range w.dims {
			goods[j] += g.options[at].goods[d.seller]
		}
	}
	return bound, score
}

// rounds is how often the multipliers are moved.
const rounds = 24

// bound moves the multipliers to raise the lower bound of the pattern, tries
// the orders met on the way, and returns the bound rounded up to whole units.
func (w *work) bound() int64 {
	n := len(w.dims)
	x := &w.s.spare
	if len(x.pick) == 0 {
		x.pick, x.slope = make([]int, len(w.open)), make([]float64, len(w.p))
	}
	pick, goods, slope := x.pick, make([]int64, n), x.slope[:n]
	best := int64(math.MinInt64)
	beta, toll := x.beta[1], w.toll
	copy(beta, w.beta)
	step := 1.0
	for range rounds {
		b, score := w.relaxed(pick, goods)
		w.s.offer(pick)
		if b > best {
			best, toll = b, w.toll
			copy(beta, w.beta)
		} else {
			step *= 0.7
		}
		if w.s.closed(up(best)) || !w.move(step, b, goods, score, slope) {
			break
		}
	}
	copy(w.beta, beta)
	w.toll = toll
	return up(best)
}

func up(v int64) int64 {
	q := v / one
	if v > 0 && v%one != 0 {
		q++
	}
	return q
}

// move takes one step along the slopes, as far as would reach the best order
// if the bound were straight. It reports whether anything moved.
func (w *work) move(step float64, b int64, goods []int64, score int, slope []float64) bool {
	target := float64(w.s.best)
	if w.s.best == Never {
		target = float64(b)/one*1.05 + 1
	}
	gap := target - float64(b)/one
	norm := 0.0
	for j, d := range w.dims {
		edge := d.least
		if w.beta[d.seller] > one || w.beta[d.seller] == one && goods[j] > d.most {
			edge = d.most
		}
		slope[j] = float64(d.factor) * float64(goods[j]-edge)
		if w.beta[d.seller] == one && slope[j] > 0 && goods[j] <= d.most || w.beta[d.seller] == 0 && slope[j] < 0 {
			slope[j] = 0
		}
		norm += slope[j] * slope[j]
	}
	lack := 0.0
	if w.score {
		if lack = float64(w.s.lim.Score - score); lack < 0 && w.toll == 0 {
			lack = 0
		}
	}
	// A point of score and a part of a threshold count in other units: the
	// score's slope is scaled so that both move.
	scale := 1.0
	if lack != 0 {
		scale = math.Max(1, math.Sqrt(norm)/math.Max(1, math.Abs(lack)))
		if norm == 0 {
			scale = math.Max(1, gap)
		}
		norm += lack * scale * lack * scale
	}
	if norm == 0 || gap <= 0 {
		return false
	}
	t := step * gap / norm
	moved := false
	for j, d := range w.dims {
		was := w.beta[d.seller]
		most := int64(one)
		if d.most < unbounded {
			most = 8 * one
		}
		now := min(max(was+int64(math.Round(t*slope[j]*one)), 0), most)
		if was < one && now > one || was > one && now < one {
			now = one
		}
		w.beta[d.seller] = now
		moved = moved || now != was
	}
	if lack != 0 {
		was := w.toll
		w.toll = max(0, was+int64(math.Round(t*lack*scale*scale*one)))
		w.toll = min(w.toll, biggest/int64(max(1, w.s.lim.Score)))
		moved = moved || w.toll != was
	}
	return moved
}

// A label is a part order: an option for each group so far.
type label struct {
	reduced int64 // under the multipliers, 1024ths
	base    int64
	goods   [8]int64 // by dim; further dims are left to the multipliers alone
	score   int32
	parent  int32
	option  int32
}

// label finds the cheapest order of the pattern group by group. At most width
// part orders are kept; what is dropped for that leaves a lower bound, which
// is returned (Never where nothing was dropped).
func (w *work) label(width int) int64 {
	order, suffix := w.plan()
	konst := w.constant()
	left := int64(Never)
	stages := w.s.room(len(order) + 1)
	stages[0] = append(stages[0][:0], label{parent: -1})
	for at, i := range order {
		next := w.extend(stages[at+1][:0], stages[at], i, konst, suffix[at+1])
		next = w.thin(next)
		if len(next) > width {
			slices.SortStableFunc(next, byReduced)
			left = min(left, up(konst+next[width].reduced+suffix[at+1]))
			next = next[:width]
		}
		stages[at+1] = next
		if len(next) == 0 {
			return left
		}
	}
	w.settle(order, stages)
	return left
}

// room is one list of part orders for each stage, used again.
func (s *Search) room(n int) [][]label {
	for len(s.spare.stages) < n {
		s.spare.stages = append(s.spare.stages, nil)
	}
	return s.spare.stages[:n]
}

func byReduced(a, b label) int { return cmp.Compare(a.reduced, b.reduced) }

// plan puts the groups first that say most about thresholds, and returns the
// least reduced cost of all that follow each.
func (w *work) plan() (order []int, suffix []int64) {
	weight := make([]int64, len(w.open))
	least := make([]int64, len(w.open))
	for i, open := range w.open {
		low, high := int64(math.MaxInt64), int64(0)
		for _, k := range open {
			o := &w.s.groups[i].options[k]
			low = min(low, w.reduced(o))
			for _, d := range w.dims {
				high = max(high, o.goods[d.seller]*d.factor)
			}
		}
		least[i], weight[i] = low, high
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	suffix = make([]int64, len(order)+1)
	for k := len(order) - 1; k >= 0; k-- {
		suffix[k] = suffix[k+1] + least[order[k]]
	}
	return order, suffix
}

// extend takes each part order on by each option of a group that can still
// lead to something cheaper.
func (w *work) extend(out, from []label, i int, konst, rest int64) []label {
	g := &w.s.groups[i]
	for _, k := range w.open[i] {
		o := &g.options[k]
		r := w.reduced(o)
		for f := range from {
			l := from[f]
			if l.reduced += r; w.s.closed(up(konst + l.reduced + rest)) {
				continue
			}
			if l.base += o.base; !w.add(&l, o) {
				continue
			}
			l.score += int32(o.score)
			l.parent, l.option = int32(f), k
			out = append(out, l)
		}
	}
	return out
}

// add adds an option's goods; false where a ceiling is passed.
func (w *work) add(l *label, o *option) bool {
	for j := range min(len(w.dims), len(l.goods)) {
		d := &w.dims[j]
		if l.goods[j] += o.goods[d.seller]; l.goods[j] > d.most {
			return false
		}
	}
	return true
}

// window is how many kept part orders one is held against.
const window = 48

// thin drops a part order that a kept one betters: the same completion then
// costs no more from the kept one, because the shortfalls differ by at most
//
//	Σ f·[min(G_B, T) − min(G_A, T)]⁺
//
// provided its goods are no higher under a ceiling and its score no lower.
func (w *work) thin(ls []label) []label {
	if len(w.dims) > len(label{}.goods) || len(ls) < 2 {
		return ls
	}
	slices.SortStableFunc(ls, func(a, b label) int { return cmp.Compare(w.toppedUp(&a), w.toppedUp(&b)) })
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
	for j, d := range w.dims {
		c += d.factor * max(0, d.least-l.goods[j])
	}
	return c
}

func (w *work) betters(a, b *label) bool {
	if w.score && a.score < b.score {
		return false
	}
	cost := a.base
	for j, d := range w.dims {
		if d.most < unbounded && a.goods[j] > b.goods[j] {
			return false
		}
		cost += d.factor * max(0, min(b.goods[j], d.least)-min(a.goods[j], d.least))
	}
	return cost <= b.base
}

// settle takes every full order that is left as the best if it is.
func (w *work) settle(order []int, stages [][]label) {
	last := stages[len(stages)-1]
	pick := make([]int, len(order))
	for l := range last {
		if w.score && int(last[l].score) < w.s.lim.Score || w.s.best != Never && last[l].base+w.fees > w.s.best {
			continue
		}
		at := int32(l)
		for k := len(stages) - 1; k > 0; k-- {
			pick[order[k-1]] = int(stages[k][at].option)
			at = stages[k][at].parent
		}
		w.s.offer(pick)
	}
}
