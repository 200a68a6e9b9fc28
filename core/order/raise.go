package order

import "math"

// raise moves the multipliers to raise the lower bound, tries the orders met
// on the way, and returns the bound rounded up to whole units; Never where
// nothing can be had. The multipliers are left where the bound is highest.
//
// Method: Polyak's step, as long as would reach the best order if the bound
// were straight, shorter where that did not help (from memory).
func (w *work) raise(n *node, rounds int) int64 {
	best, toll := int64(math.MinInt64), n.toll
	beta := w.spareBeta()
	step := 1.0
	for range rounds {
		b, score := w.relaxed(n)
		if b == Never {
			return Never
		}
		w.s.offer(w.pick)
		if b > best {
			best, toll = b, n.toll
			copy(beta, n.beta)
		} else {
			step *= 0.7
		}
		if w.s.closed(w.s.up(best)) || !w.move(n, step, b, score) {
			break
		}
	}
	copy(n.beta, beta)
	n.toll = toll
	return w.s.up(best)
}

func (w *work) spareBeta() []int64 {
	if len(w.beta) == 0 {
		w.beta = make([]int64, len(w.s.rows))
	}
	return w.beta
}

// steepest is how far beyond zero and one a multiplier may go, in ones.
const steepest = 8

// slopeOf is how the bound changes with a multiplier: goods less the edge the
// multiplier counts from. At zero and one two edges meet.
func (w *work) slopeOf(d *dim, beta, goods int64) int64 {
	one := w.s.one
	down, up := goods-d.least, goods-d.least // to lower and higher multipliers
	if beta > one || beta == one {
		up = goods - d.most
	}
	if beta > one {
		down = up
	}
	if beta < 0 || beta == 0 {
		down = goods - d.low
	}
	if beta < 0 {
		up = down
	}
	switch {
	case up > 0 && (beta < one || d.most < unbounded):
		return up
	case down < 0 && (beta > 0 || d.low > 0 && !w.s.loose):
		return down
	}
	return 0
}

// move takes one step along the slopes. It reports whether anything moved.
func (w *work) move(n *node, step float64, b int64, score int) bool {
	s, one := w.s, float64(w.s.one)
	target := float64(s.best)
	if s.best == Never {
		target = float64(b)/one*1.05 + 1
	}
	gap := min(target, float64(s.limit)) - float64(b)/one
	norm := 0.0
	for i := range n.dims {
		d := &n.dims[i]
		v := float64(d.factor) * float64(w.slopeOf(d, n.beta[d.seller], w.goods[d.seller]))
		w.slope[i] = v
		norm += float64(v * v)
	}
	lack, scale := w.lack(n, score)
	norm += float64(lack * scale * lack * scale)
	if norm == 0 || gap <= 0 {
		return false
	}
	t := step * gap / norm
	moved := false
	for i := range n.dims {
		d := &n.dims[i]
		was := n.beta[d.seller]
		now := w.within(d, was, was+round(float64(t*w.slope[i])*one, 2*steepest*one))
		n.beta[d.seller] = now
		moved = moved || now != was
	}
	if lack != 0 {
		was := n.toll
		most := s.mostToll()
		n.toll = min(max(0, was+round(float64(t*lack*scale*scale)*one, float64(most))), most)
		moved = moved || n.toll != was
	}
	return moved
}

// round keeps a change inside what a whole number holds.
func round(v, most float64) int64 { return int64(math.Round(min(max(v, -most), most))) }

// lack is how much score is missing, and how far the toll moves against the
// other multipliers: those are of the size of one, the toll of the size it was
// first found at.
func (w *work) lack(n *node, score int) (lack, scale float64) {
	if w.s.lim.Score == 0 {
		return 0, 0
	}
	if lack = float64(w.s.lim.Score - score); lack < 0 && n.toll == 0 {
		return 0, 0
	}
	return lack, math.Max(1, float64(w.toll)/float64(w.s.one))
}

// seek finds the toll at which just enough score is chosen: the bound is
// highest there, the other multipliers left alone. It reports false where no
// toll is enough.
func (w *work) seek(n *node) bool {
	s := w.s
	low, high := int64(0), max(n.toll, s.one)
	n.toll = 0
	if b, score := w.relaxed(n); b == Never || score >= s.lim.Score {
		return b != Never
	}
	most := s.mostToll()
	for n.toll = high; ; n.toll = high {
		b, score := w.relaxed(n)
		if b == Never || score < s.lim.Score && high == most {
			return false
		}
		if score >= s.lim.Score {
			break
		}
		low, high = high, min(4*high, most)
	}
	for high-low > max(1, high>>8) {
		n.toll = low + (high-low)/2
		if _, score := w.relaxed(n); score >= s.lim.Score {
			s.offer(w.pick)
			high = n.toll
		} else {
			low = n.toll
		}
	}
	n.toll = high
	w.toll = high
	return true
}

// within keeps a multiplier where it has a meaning, and stops it at the kinks.
func (w *work) within(d *dim, was, now int64) int64 {
	one := w.s.one
	low, high := int64(0), one
	if d.low > 0 && !w.s.loose {
		low = -steepest * one
	}
	if d.most < unbounded {
		high = steepest * one
	}
	if was < one && now > one || was > one && now < one {
		now = one
	} else if was > 0 && now < 0 || was < 0 && now > 0 {
		now = 0
	}
	return min(max(now, low), high)
}
