package labor

import "slices"

// merged returns a network in which bench steps that wait for the same steps
// are one, and for each step the one it went into. It does so where all bench
// steps that anything waits for are waited for by the same: the order among
// them then moves nothing, for a bench that takes whatever it can begin is
// busy as long in any order.
func (n *Network) merged() (*Network, []int) {
	if !n.plain() {
		return n, nil
	}
	into := make([]int, len(n.Steps))
	var firsts []int // the first step of each new one
	for i, s := range n.Steps {
		into[i] = len(firsts)
		for g, f := range firsts {
			if s.Bench && n.Steps[f].Bench && sameSteps(s.After, n.Steps[f].After) && sameSteps(n.next[i], n.next[f]) {
				into[i] = g
				break
			}
		}
		if into[i] == len(firsts) {
			firsts = append(firsts, i)
		}
	}
	if len(firsts) == len(n.Steps) {
		return n, nil
	}
	steps := make([]Step, len(firsts))
	for g, f := range firsts {
		steps[g] = n.Steps[f]
		steps[g].After = nil
		for _, a := range n.Steps[f].After {
			if !slices.Contains(steps[g].After, into[a]) {
				steps[g].After = append(steps[g].After, into[a])
			}
		}
	}
	m, err := NewNetwork(steps, n.Calendar)
	if err != nil {
		return n, nil // a network without loops has none when steps alike are one: this cannot happen
	}
	return m, into
}

// plain reports whether no wait follows a bench step, and all bench steps that
// are followed are followed by the same.
func (n *Network) plain() bool {
	first := nothing
	for i, s := range n.Steps {
		for _, a := range s.After {
			if n.Steps[a].Bench && !s.Bench {
				return false
			}
		}
		if !s.Bench || len(n.next[i]) == 0 {
			continue
		}
		if first == nothing {
			first = i
		}
		if !sameSteps(n.next[i], n.next[first]) {
			return false
		}
	}
	return true
}

// sameSteps compares lists as they were written; the same steps in another
// order only cost a merge.
func sameSteps(a, b []int) bool { return slices.Equal(a, b) }
