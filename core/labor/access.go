package labor

import (
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

func (s step) less(o step) bool {
	return s.hours < o.hours || s.hours == o.hours && s.n < o.n
}

// push and pop keep the least step first, as a binary heap.
func (q *queue) push(s step) {
	h := append(*q, s)
	for i := len(h) - 1; i > 0 && s.less(h[(i-1)/2]); i = (i - 1) / 2 {
		h[i], h[(i-1)/2] = h[(i-1)/2], s
	}
	*q = h
}

func (q *queue) pop() step {
	h := *q
	first, s := h[0], h[len(h)-1]
	h = h[:len(h)-1]
	for i := 0; ; {
		k := 2*i + 1
		if k+1 < len(h) && h[k+1].less(h[k]) {
			k++
		}
		if k >= len(h) || !h[k].less(s) {
			if i < len(h) {
				h[i] = s
			}
			break
		}
		h[i], i = h[k], k
	}
	*q = h
	return first
}

func (r *router) run() (float64, []Leg, error) {
	all := uint64(1)<<len(r.visits) - 1
	if len(r.visits) == mostVisits {
		all = ^uint64(0)
	}
	start := place{0, r.work(0, 0)}
	goal := place{0, all}
	reached := map[place]reach{start: {}}
	q := queue{{start, 0, 0}}
	n := 0
	for len(q) > 0 {
		s := q.pop()
		if s.hours > reached[s.place].hours {
			continue
		}
		if s.place == goal {
			return s.hours, r.legs(reached, start, goal), nil
		}
		r.moves(s.place, func(to int, by float64) {
			p := place{to, r.work(to, s.done)}
			h := s.hours + by
			if was, seen := reached[p]; seen && was.hours <= h {
				return
			}
			reached[p] = reach{h, s.place}
			n++
			q.push(step{p, h, n})
		})
	}
	return 0, nil, errors.New("these tasks wait for each other, or for a state that none of them leaves: " + r.stuck(reached))
}

// reach is how a place was reached, and after how many hours.
type reach struct {
	hours float64
	from  place
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
func (r *router) legs(reached map[place]reach, start, goal place) []Leg {
	var way []place
	for p := goal; ; p = reached[p].from {
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
func (r *router) stuck(reached map[place]reach) string {
	most := uint64(0)
	for p := range reached {
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
