package labor

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"lugworth/core/sorted"
)

// A Step is one piece of a job: work at the one bench, or a wait, which needs
// nobody and runs beside everything else.
type Step struct {
	Name    string
	Bench   bool
	Working bool  // of a wait: whole days in which the shop is open
	After   []int // steps that must be finished before
}

// A Network is a job's steps in the order they wait for each other.
type Network struct {
	Steps    []Step
	Calendar *Calendar // nil: the bench never closes

	order []int   // each step behind those it waits for
	next  [][]int // steps that wait for it
}

// NewNetwork orders steps.
//
// Errors: a step that waits for one there is not, steps that wait for each
// other.
func NewNetwork(steps []Step, c *Calendar) (*Network, error) {
	n := &Network{Steps: steps, Calendar: c, next: make([][]int, len(steps))}
	missing := make([]int, len(steps))
	for i, s := range steps {
		for _, a := range s.After {
			if a < 0 || a >= len(steps) {
				return nil, errors.New(s.Name + " waits for a step there is not")
			}
			n.next[a] = append(n.next[a], i)
			missing[i]++
		}
	}
	for i := range steps {
		if missing[i] == 0 {
			n.order = append(n.order, i)
		}
	}
	for at := 0; at < len(n.order); at++ {
		for _, k := range n.next[n.order[at]] {
			if missing[k]--; missing[k] == 0 {
				n.order = append(n.order, k)
			}
		}
	}
	if len(n.order) == len(steps) {
		return n, nil
	}
	var stuck []string
	for i, s := range steps {
		if missing[i] > 0 {
			stuck = append(stuck, s.Name)
		}
	}
	return nil, errors.New("these wait for each other: " + strings.Join(stuck, ", "))
}

// A Pass is the earliest and latest start of each step if nothing but the
// order held them back, and how long the whole takes. A step whose two starts
// are the same is critical.
type Pass struct {
	Early, Late []int
	Length      int
}

// Pass goes through the network forward and backward, without the bench and
// without the calendar.
//
//	early start = max of early finishes before; late finish = min of late starts behind
//
// Source: the critical path method, a textbook result.
func (n *Network) Pass(took []int) Pass {
	p := Pass{Early: make([]int, len(took)), Late: make([]int, len(took))}
	for _, i := range n.order {
		for _, a := range n.Steps[i].After {
			p.Early[i] = max(p.Early[i], p.Early[a]+took[a])
		}
		p.Length = max(p.Length, p.Early[i]+took[i])
	}
	for _, i := range slices.Backward(n.order) {
		end := p.Length
		for _, k := range n.next[i] {
			end = min(end, p.Late[k])
		}
		p.Late[i] = end - took[i]
	}
	return p
}

// tails returns for each step how long it and the longest chain behind it
// take.
func (n *Network) tails(took []int) []int {
	out := make([]int, len(took))
	for _, i := range slices.Backward(n.order) {
		for _, k := range n.next[i] {
			out[i] = max(out[i], out[k])
		}
		out[i] += took[i]
	}
	return out
}

// nothing is no step.
const nothing = -1

// soon is how close two beginnings, in minutes, are as good as one: the step
// with the longer tail goes first.
const soon = 15

// A plan is one run of a network.
type plan struct {
	n             *Network
	rank          []int // of bench steps, the longest tail first
	start, finish []int
	begin         []int // of bench steps: when the bench could begin, were it free
	by            []int // step that held it back, nothing where none did
	missing       []int // steps it still waits for
	ready         []int // bench steps that may begin, in the order of their rank
	free          int   // when the bench is free
	frees         int   // when it can then begin something
	last          int   // bench step done last
}

func (n *Network) plan(tail []int) *plan {
	k := len(n.Steps)
	all := make([]int, 6*k)
	part := func(i int) []int { return all[i*k : (i+1)*k : (i+1)*k] }
	p := &plan{n: n, start: part(0), finish: part(1), by: part(2), missing: part(3), rank: part(4), begin: part(5)}
	order := make([]int, k)
	for i := range order {
		order[i] = i
	}
	sorted.By(order, func(a, b int) int { return cmp.Compare(tail[b], tail[a]) })
	for r, i := range order {
		p.rank[i] = r
	}
	return p
}

// run schedules the steps as long as they took: waits as soon as they can,
// and at the bench whatever can begin first, among those that can begin at
// about one time the one with the longest chain behind it. It returns the
// step that ends last, nothing where there is none.
func (p *plan) run(took []int) int {
	p.free, p.last, p.ready = 0, nothing, p.ready[:0]
	p.frees = p.n.Calendar.begin(0)
	for i := range p.n.Steps {
		p.missing[i], p.start[i], p.by[i] = len(p.n.Steps[i].After), 0, nothing
	}
	for i := range p.n.Steps {
		if len(p.n.Steps[i].After) == 0 {
			p.open(i, took)
		}
	}
	for len(p.ready) > 0 {
		i := p.choose()
		p.bench(i, took[i])
		p.close(i, took)
	}
	end := nothing
	for i, f := range p.finish {
		if end == nothing || f > p.finish[end] {
			end = i
		}
	}
	return end
}

// open takes up a step nothing is missing for.
func (p *plan) open(i int, took []int) {
	s := &p.n.Steps[i]
	if s.Bench {
		p.begin[i] = p.n.Calendar.begin(p.start[i])
		p.ready = append(p.ready, i)
		for at := len(p.ready) - 1; at > 0 && p.rank[p.ready[at-1]] > p.rank[i]; at-- {
			p.ready[at-1], p.ready[at] = i, p.ready[at-1]
		}
		return
	}
	p.finish[i] = p.n.Calendar.wait(p.start[i], took[i], s.Working)
	p.close(i, took)
}

// close tells the steps behind one that it is finished.
func (p *plan) close(i int, took []int) {
	for _, k := range p.n.next[i] {
		if p.finish[i] > p.start[k] || p.by[k] == nothing {
			p.start[k], p.by[k] = p.finish[i], i
		}
		if p.missing[k]--; p.missing[k] == 0 {
			p.open(k, took)
		}
	}
}

// choose takes the step to do next out of those that are ready.
func (p *plan) choose() int {
	first := p.begin[p.ready[0]]
	for _, i := range p.ready[1:] {
		first = min(first, p.begin[i])
	}
	first = max(first, p.frees) + soon
	at := slices.IndexFunc(p.ready, func(i int) bool { return p.begin[i] <= first })
	i := p.ready[at]
	p.ready = slices.Delete(p.ready, at, at+1)
	return i
}

// bench does a step at the bench. It was held back by the step before it at
// the bench where it could not have begun earlier without what it waits for.
func (p *plan) bench(i, took int) {
	if p.last != nothing && p.begin[i] <= p.frees {
		p.by[i] = p.last
	}
	p.start[i], p.finish[i] = p.n.Calendar.work(max(p.begin[i], p.frees), took)
	p.free, p.last = p.finish[i], i
	p.frees = p.n.Calendar.begin(p.free)
}
