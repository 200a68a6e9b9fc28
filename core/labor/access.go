package labor

import (
	"cmp"
	"container/heap"
	"errors"
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// An Access is how far an amp is opened, as a tree: each state is reached
// from the one before it. The first is the amp closed.
type Access struct {
	Name        string
	From        int     // index of the state it is reached from; below its own
	Open, Close float64 // hours
}

// A Visit is one task as far as access goes: the states in which it can be
// done, and the tasks that must come before it.
type Visit struct {
	Name  string
	In    []int // indexes of states, at least one
	After []int // indexes of visits
}

// A Leg is one stay in a state, and what is done there.
type Leg struct {
	State int
	Do    []int
}

// mostVisits is how many tasks the search carries in one word.
const mostVisits = 64

// Route returns the least hours of opening and closing that all visits take,
// and the way there: a shortest path over pairs of state and tasks done, from
// closed with nothing done to closed with all done. In every state all tasks
// that can be done are done at once: done later they would need the state
// again, and what follows them only gains.
//
// Errors: a task no state admits, tasks that wait for each other, states that
// are no tree, more than 64 tasks.
func Route(states []Access, visits []Visit) (float64, []Leg, error) {
	r := router{states: states, visits: visits}
	if err := r.check(); err != nil {
		return 0, nil, err
	}
	return r.run()
}

type router struct {
	states []Access
	visits []Visit
	at     []uint64 // by state: tasks it admits
	before []uint64 // by task: tasks before it
}

func (r *router) check() error {
	var bad []error
	if len(r.states) == 0 {
		return errors.New("no state of the amp is given")
	}
	for i, s := range r.states {
		if i > 0 && (s.From < 0 || s.From >= i) || s.Open < 0 || s.Close < 0 {
			bad = append(bad, fmt.Errorf("state %s: reached from one given before it, in no less than no time", s.Name))
		}
	}
	if len(r.visits) > mostVisits {
		return fmt.Errorf("%d tasks, %d at most: join those alike", len(r.visits), mostVisits)
	}
	r.at, r.before = make([]uint64, len(r.states)), make([]uint64, len(r.visits))
	for i, v := range r.visits {
		if len(v.In) == 0 {
			bad = append(bad, fmt.Errorf("task %s: no state in which it can be done", v.Name))
		}
		for _, s := range v.In {
			if s < 0 || s >= len(r.states) {
				bad = append(bad, fmt.Errorf("task %s: there is no state %d", v.Name, s))
				continue
			}
			r.at[s] |= 1 << i
		}
		for _, a := range v.After {
			if a < 0 || a >= len(r.visits) {
				bad = append(bad, fmt.Errorf("task %s: there is no task %d", v.Name, a))
				continue
			}
			r.before[i] |= 1 << a
		}
	}
	return errors.Join(bad...)
}

// place is a state with what is done.
type place struct {
	state int
	done  uint64
}

// step is an entry of the queue.
type step struct {
	place
	hours float64
	n     int // order of entry: equal hours leave the queue as they came
}

type queue []step

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(q[i].hours, q[j].hours), cmp.Compare(q[i].n, q[j].n)) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(step)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

func (r *router) run() (float64, []Leg, error) {
	all := uint64(1)<<len(r.visits) - 1
	if len(r.visits) == mostVisits {
		all = ^uint64(0)
	}
	start := place{0, r.work(0, 0)}
	goal := place{0, all}
	hours, from := map[place]float64{start: 0}, map[place]place{}
	q := &queue{{start, 0, 0}}
	n := 0
	for q.Len() > 0 {
		s := heap.Pop(q).(step)
		if s.hours > hours[s.place] {
			continue
		}
		if s.place == goal {
			return s.hours, r.legs(from, start, goal), nil
		}
		r.moves(s.place, func(to int, by float64) {
			p := place{to, r.work(to, s.done)}
			h := s.hours + by
			if was, seen := hours[p]; seen && was <= h {
				return
			}
			hours[p], from[p] = h, s.place
			n++
			heap.Push(q, step{p, h, n})
		})
	}
	return 0, nil, errors.New("these tasks wait for each other, or for a state that none of them leaves: " + r.stuck(hours))
}

// moves calls f for each state next to this one.
func (r *router) moves(p place, f func(to int, by float64)) {
	if p.state > 0 {
		f(r.states[p.state].From, r.states[p.state].Close)
	}
	for i := 1; i < len(r.states); i++ {
		if r.states[i].From == p.state {
			f(i, r.states[i].Open)
		}
	}
}

// work does everything that can be done in a state.
func (r *router) work(state int, done uint64) uint64 {
	for again := true; again; {
		again = false
		for open := r.at[state] &^ done; open != 0; open &= open - 1 {
			i := bits.TrailingZeros64(open)
			if r.before[i]&^done == 0 {
				done |= 1 << i
				again = true
			}
		}
	}
	return done
}

// legs walks back from the goal.
func (r *router) legs(from map[place]place, start, goal place) []Leg {
	var way []place
	for p := goal; ; p = from[p] {
		way = append(way, p)
		if p == start {
			break
		}
	}
	slices.Reverse(way)
	var out []Leg
	done := uint64(0)
	for _, p := range way {
		l := Leg{State: p.state}
		for d := p.done &^ done; d != 0; d &= d - 1 {
			l.Do = append(l.Do, bits.TrailingZeros64(d))
		}
		done = p.done
		out = append(out, l)
	}
	return out
}

// stuck names the tasks that no way gets done.
func (r *router) stuck(hours map[place]float64) string {
	most := uint64(0)
	for p := range hours {
		if bits.OnesCount64(p.done) > bits.OnesCount64(most) || bits.OnesCount64(p.done) == bits.OnesCount64(most) && p.done < most {
			most = p.done
		}
	}
	var names []string
	for i, v := range r.visits {
		if most>>i&1 == 0 {
			names = append(names, v.Name)
		}
	}
	return strings.Join(names, ", ")
}

// Why says why a state is opened more than once, "" where none is: what had
// to be done elsewhere in between.
func Why(states []Access, visits []Visit, legs []Leg) string {
	var says []string
	last := map[int]int{}
	for i, l := range legs {
		was, seen := last[l.State]
		last[l.State] = i
		if !seen || l.State == 0 || len(l.Do) == 0 || states[l.State].From == legs[i-1].State && was == i-2 && len(legs[i-1].Do) == 0 {
			continue
		}
		var between []string
		for _, b := range legs[was+1 : i] {
			for _, d := range b.Do {
				between = append(between, visits[d].Name+" ("+states[b.State].Name+")")
			}
		}
		if len(between) > 0 {
			says = append(says, states[l.State].Name+" comes again because "+strings.Join(between, ", ")+" must come before "+visits[l.Do[0]].Name)
		}
	}
	return strings.Join(says, "; ")
}
