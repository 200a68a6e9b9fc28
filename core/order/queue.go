package order

// open is a part of the work that is not done: a pattern with options chosen
// for some groups, and the least an order of it can cost.
type open struct {
	bound   int64
	pattern int32
	choice  int32 // the last one made, below zero none
}

// choice is an option taken for a group, after another one.
type choice struct{ group, option, before int32 }

// queue holds open parts, the lowest bound on top.
type queue struct{ heap []open }

func (q *queue) least() int64 {
	if len(q.heap) == 0 {
		return Never
	}
	return q.heap[0].bound
}

// before puts the lower bound first; of equals the later one, which has more
// choices made.
func (a *open) before(b *open) bool {
	if a.bound != b.bound {
		return a.bound < b.bound
	}
	return a.choice > b.choice || a.choice == b.choice && a.pattern < b.pattern
}

func (q *queue) push(x open) {
	q.heap = append(q.heap, x)
	h := q.heap
	for i := len(h) - 1; i > 0; {
		up := (i - 1) / 2
		if !h[i].before(&h[up]) {
			return
		}
		h[i], h[up] = h[up], h[i]
		i = up
	}
}

func (q *queue) pop() open {
	h := q.heap
	top, n := h[0], len(h)-1
	h[0] = h[n]
	q.heap, h = h[:n], h[:n]
	for i := 0; ; {
		k := 2*i + 1
		if k >= n {
			return top
		}
		if k+1 < n && h[k+1].before(&h[k]) {
			k++
		}
		if !h[k].before(&h[i]) {
			return top
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
}
