package decision

import "slices"

// A Turner turns options over from one choice, one after the other: what is
// the same for all of them is worked out once. It gives what Turn gives.
type Turner struct {
	m     Model
	now   Standing
	needy []Option
	at    map[string]place
	rank  []int // of now.Accept, in the order of the model
}

// place is where an option stands in the model.
type place struct{ decision, option, rank int }

// From returns the turner of a choice that stands.
func (m Model) From(now Standing) *Turner {
	t := &Turner{m: m, now: now, needy: m.needy(), at: map[string]place{}, rank: make([]int, len(now.Accept))}
	rank := 0
	for d := range m.Decisions {
		for o := range m.Decisions[d].Options {
			t.at[m.Decisions[d].Options[o].ID] = place{d, o, rank}
			rank++
		}
	}
	for i, id := range now.Accept {
		t.rank[i] = t.at[id].rank
	}
	return t
}

// Turn returns the change of one option, from the choice.
//
// Errors: as Turn of the model.
func (t *Turner) Turn(option string) (Delta, error) {
	p, known := t.at[option]
	if !known || !slices.IsSorted(t.rank) {
		return t.m.turn(t.now, option)
	}
	delta := Delta{Option: option}
	cut, accepted := slices.BinarySearch(t.rank, p.rank)
	value, next := t.now.Value, make([]string, 0, len(t.now.Accept)+1)
	mine := &t.m.Decisions[p.decision].Options[p.option]
	if accepted {
		delta.Accepted = true
		next = append(append(next, t.now.Accept[:cut]...), t.now.Accept[cut+1:]...)
		return t.stand(delta, choice{next, value - mine.Value})
	}
	next = append(append(append(next, t.now.Accept[:cut]...), option), t.now.Accept[cut:]...)
	value += mine.Value
	if !mine.Both {
		next = slices.DeleteFunc(next, func(id string) bool {
			o := t.at[id]
			if o.decision != p.decision || o.rank == p.rank || t.m.Decisions[o.decision].Options[o.option].Both {
				return false
			}
			delta.Swaps = append(delta.Swaps, id)
			value -= t.m.Decisions[o.decision].Options[o.option].Value
			return true
		})
	}
	return t.stand(delta, choice{next, value})
}

// stand prices the choice that a turn leads to.
func (t *Turner) stand(delta Delta, c choice) (Delta, error) {
	after, err := t.m.held(c)
	if err != nil {
		return Delta{}, err
	}
	after.Lacks = lacking(t.needy, c.accept)
	delta.After = after
	delta.Total = after.Total - t.now.Total
	delta.Hours = after.Hours - t.now.Hours
	delta.Days = after.ReadyDays - t.now.ReadyDays
	return delta, nil
}
