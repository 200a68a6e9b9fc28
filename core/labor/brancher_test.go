package labor

import "math"

// A brancher finds the shortest schedule of one bench and many waits: every
// order of bench steps in which no step could be put before another without
// delaying it.
type brancher struct {
	n     *Network
	took  []int
	tail  []int
	best  int
	nodes int
}

// mostNodes is how long a job is searched.
const mostNodes = 300_000

func shortest(n *Network, took []int) (end int, proven bool) {
	b := &brancher{n: n, took: took, tail: n.tails(took), best: makespan(n, took)}
	finish := make([]int, len(took))
	for i := range finish {
		finish[i] = -1
	}
	b.branch(finish, 0)
	return b.best, b.nodes <= mostNodes
}

// branch puts one more step to the bench. finish is −1 for what has not run.
func (b *brancher) branch(finish []int, free int) {
	if b.nodes++; b.nodes > mostNodes {
		return
	}
	heads, done := b.heads(finish, free)
	if done {
		end := 0
		for _, h := range heads {
			end = max(end, h)
		}
		b.best = min(b.best, end)
		return
	}
	if b.bound(finish, heads) >= b.best {
		return
	}
	first := math.MaxInt
	for i := range heads {
		if b.can(finish, i) {
			first = min(first, heads[i]+b.took[i])
		}
	}
	for i := range heads {
		if b.can(finish, i) && heads[i] < first {
			next := append([]int(nil), finish...)
			next[i] = heads[i] + b.took[i]
			b.branch(next, next[i])
		}
	}
}

// can reports whether a bench step is next in line: all bench steps before
// it, at whatever remove, have run.
func (b *brancher) can(finish []int, i int) bool {
	if !b.n.Steps[i].Bench || finish[i] >= 0 {
		return false
	}
	for _, a := range b.n.Steps[i].After {
		if !b.ran(finish, a) {
			return false
		}
	}
	return true
}

func (b *brancher) ran(finish []int, i int) bool {
	if b.n.Steps[i].Bench {
		return finish[i] >= 0
	}
	for _, a := range b.n.Steps[i].After {
		if !b.ran(finish, a) {
			return false
		}
	}
	return true
}

// heads are the earliest starts of bench steps still to run and the finishes
// of all that ran; done says that no bench step is left.
func (b *brancher) heads(finish []int, free int) (heads []int, done bool) {
	heads, done = make([]int, len(finish)), true
	end := make([]int, len(finish))
	for _, i := range b.n.order {
		start := 0
		for _, a := range b.n.Steps[i].After {
			start = max(start, end[a])
		}
		if b.n.Steps[i].Bench && finish[i] < 0 {
			start = max(start, free)
			done = false
			heads[i], end[i] = start, start+b.took[i]
			continue
		}
		if end[i] = start + b.took[i]; finish[i] >= 0 {
			end[i] = finish[i]
		}
		heads[i] = end[i]
	}
	return heads, done
}

// bound is what no schedule from here can beat: the longest chain still to
// run, and the bench busy from the first start to the last tail.
func (b *brancher) bound(finish []int, heads []int) int {
	low, load, least, from := 0, 0, math.MaxInt, math.MaxInt
	for i, h := range heads {
		if !b.n.Steps[i].Bench || finish[i] >= 0 {
			low = max(low, h)
			continue
		}
		low = max(low, h+b.tail[i])
		load += b.took[i]
		least, from = min(least, b.tail[i]-b.took[i]), min(from, h)
	}
	return max(low, from+load+least)
}
