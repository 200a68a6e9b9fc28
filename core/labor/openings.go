package labor

import (
	"cmp"
	"fmt"
	"slices"
)

// An opening is how often a state is opened, and the tasks done in it or
// behind it.
type opening struct {
	times  int
	serves []string
}

// openings finds how often each state of access is opened on the way that
// takes the least hours, and why one is opened again. Where no task asks for
// a state none is.
//
// Errors: a state nobody defined, a task that names two states among its
// set-ups, and those of [Route].
func openings(tasks []Task, setUps []SetUp) (map[string]opening, string, error) {
	w := ways{at: map[string]int{Closed: 0}, states: []Access{{Name: Closed}}}
	if err := w.open(setUps); err != nil {
		return nil, "", err
	}
	asked, err := w.visits(tasks)
	if err != nil || !asked {
		return nil, "", err
	}
	_, legs, err := Route(w.states, w.all)
	if err != nil {
		return nil, "", err
	}
	return w.count(legs), Why(w.states, w.all, legs), nil
}

// ways are the states and visits of one choice.
type ways struct {
	at     map[string]int // state → index
	states []Access
	all    []Visit
	ids    []string // of the tasks in all
}

// open lists the states, each behind the one it is reached from.
func (w *ways) open(setUps []SetUp) error {
	var open []SetUp
	for _, s := range setUps {
		if s.From != "" {
			open = append(open, s)
		}
	}
	for len(open) > 0 {
		before := len(open)
		open = slices.DeleteFunc(open, func(s SetUp) bool {
			from, ok := w.at[s.From]
			if ok {
				w.at[s.ID] = len(w.states)
				w.states = append(w.states, Access{Name: s.Say, From: from, Open: float64(s.Three.Expected())})
			}
			return ok
		})
		if len(open) == before {
			return fmt.Errorf("state %s is reached from %q, which is not defined", open[0].ID, open[0].From)
		}
	}
	return nil
}

// visits lists the tasks that ask for a state or for an order, and reports
// whether any asks for a state.
func (w *ways) visits(tasks []Task) (asked bool, err error) {
	place := map[string]int{}
	var kept []Task
	for _, t := range tasks {
		in, err := w.in(t)
		if err != nil {
			return false, err
		}
		asked = asked || len(in) > 0
		if len(in) == 0 && !ordered(t, tasks) {
			continue
		}
		if len(in) == 0 {
			in = w.anywhere()
		}
		place[t.ID] = len(kept)
		kept, w.ids = append(kept, t), append(w.ids, t.ID)
		w.all = append(w.all, Visit{Name: cmp.Or(t.Say, t.ID), In: in})
	}
	for i, t := range kept {
		for _, a := range t.After {
			if k, ok := place[a]; ok && k != i {
				w.all[i].After = append(w.all[i].After, k)
			}
		}
	}
	return asked, nil
}

func (w *ways) anywhere() []int {
	in := make([]int, len(w.states))
	for s := range in {
		in[s] = s
	}
	return in
}

// ordered reports whether a task must come before or behind another of them.
func ordered(t Task, tasks []Task) bool {
	return len(t.After) > 0 || slices.ContainsFunc(tasks, func(o Task) bool { return slices.Contains(o.After, t.ID) })
}

// in returns the states a task can be done in.
func (w *ways) in(t Task) ([]int, error) {
	var in []int
	for _, name := range t.In {
		s, ok := w.at[name]
		if !ok {
			return nil, fmt.Errorf("task %s is done in state %q, which is not defined", t.ID, name)
		}
		in = append(in, s)
	}
	if len(in) > 0 {
		return in, nil
	}
	for _, name := range t.SetUps {
		if s, ok := w.at[name]; ok {
			in = append(in, s)
		}
	}
	if len(in) > 1 {
		return nil, fmt.Errorf("task %s names %d states among its set-ups: say which it can be done in", t.ID, len(in))
	}
	return in, nil
}

// count adds up how often each state is entered from the one before it, and
// what is done there and behind it.
func (w *ways) count(legs []Leg) map[string]opening {
	entered, does := make([]int, len(w.states)), make([][]int, len(w.states))
	for i, l := range legs {
		if i > 0 && w.states[l.State].From == legs[i-1].State && l.State > 0 {
			entered[l.State]++
		}
		for s := l.State; s > 0; s = w.states[s].From {
			does[s] = append(does[s], l.Do...)
		}
	}
	out := map[string]opening{}
	for id, s := range w.at {
		if entered[s] == 0 {
			continue
		}
		o := opening{times: entered[s]}
		slices.Sort(does[s])
		for _, d := range does[s] {
			o.serves = append(o.serves, w.ids[d])
		}
		out[id] = o
	}
	return out
}
