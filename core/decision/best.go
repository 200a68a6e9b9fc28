package decision

import (
	"cmp"
	"fmt"
	"slices"

	"lugworth/core/sorted"
)

// MostUndecided is the most undecided options Best weighs one by one, at most
// 2^16 choices.
const MostUndecided = 16

// A Best is the choice worth most inside the ceiling and the date.
type Best struct {
	Found    bool // a choice fits both limits
	Standing      // the choice; where none fits, the cheapest there is
	RunnerUp *Standing
	Say      string // what a little more would buy, or why nothing fits
}

// Best weighs every choice the owner still has, answers given standing and
// musts fixed, and returns the one of greatest value inside ceiling and date.
// Ties go to the lower total, then to the earlier IDs. The runner-up is the
// next of those that fit.
//
// More than MostUndecided undecided options is an error: the answer would no
// longer be a proven best.
func (m Model) Best() (Best, error) {
	if err := m.Check(); err != nil {
		return Best{}, err
	}
	if n := m.Undecided(); n > MostUndecided {
		return Best{}, fmt.Errorf("best choice: %d options are undecided, want at most %d; settle some first", n, MostUndecided)
	}
	choices, err := m.choices()
	if err != nil {
		return Best{}, err
	}
	priced, err := m.priceDown(choices)
	if err != nil {
		return Best{}, err
	}
	fitting := fits(priced)
	if len(fitting) == 0 {
		return Best{Standing: slices.MinFunc(priced, byTotal), Say: m.nothingFits(priced)}, nil
	}
	best := Best{Found: true, Standing: fitting[0]}
	if len(fitting) > 1 {
		best.RunnerUp = &fitting[1]
	}
	best.Say = m.sayMore(best.Standing, priced)
	return best, nil
}

// fits returns the choices inside both limits, best first.
func fits(all []Standing) []Standing {
	var in []Standing
	for _, s := range all {
		if s.Fits() {
			in = append(in, s)
		}
	}
	sorted.By(in, byValue)
	return in
}

// byValue puts the better choice first.
func byValue(a, b Standing) int {
	return cmp.Or(-cmp.Compare(a.Value, b.Value), byTotal(a, b))
}

func byTotal(a, b Standing) int {
	return cmp.Or(cmp.Compare(a.Total, b.Total), slices.Compare(a.Accept, b.Accept))
}

// A choice is a list of accepted options, not yet priced.
type choice struct {
	accept []string
	value  int
}

// choices returns every allowed choice, the greatest value first. A decision
// with no allowed way (an owner who said yes to two that exclude each other)
// is an error.
func (m Model) choices() ([]choice, error) {
	each := make([][]choice, len(m.Decisions))
	for i, d := range m.Decisions {
		if each[i] = waysOf(d); len(each[i]) == 0 {
			return nil, fmt.Errorf("decision %s: the answers given exclude each other", d.Finding)
		}
	}
	all := product(each)
	if needy := m.needy(); len(needy) > 0 {
		all = slices.DeleteFunc(all, func(c choice) bool { return len(lacking(needy, c.accept)) > 0 })
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("best choice: every choice left lacks work that an accepted option needs")
	}
	sorted.By(all, func(a, b choice) int { return cmp.Compare(b.value, a.value) })
	return all, nil
}

// waysOf returns the allowed ways of one decision with what each is worth.
func waysOf(d Decision) []choice {
	var out []choice
	for _, ids := range ways(d) {
		c := choice{accept: ids}
		for _, o := range d.Options {
			if slices.Contains(ids, o.ID) {
				c.value += o.Value
			}
		}
		out = append(out, c)
	}
	return out
}

// priceDown prices the choices from the greatest value down. It stops below
// the value at which two of them fit: what comes after is worth less than the
// best and its runner-up, and only a choice worth more than the best can be
// what a little more would buy. Where fewer than two fit, all are priced.
func (m Model) priceDown(choices []choice) ([]Standing, error) {
	var priced []Standing
	fit := 0
	for i, c := range choices {
		if i > 0 && c.value < choices[i-1].value && fit >= 2 {
			break
		}
		s, err := m.held(c)
		if err != nil {
			return nil, fmt.Errorf("pricing %v: %w", c.accept, err)
		}
		if s.Fits() {
			fit++
		}
		priced = append(priced, s)
	}
	return priced, nil
}

// product returns every choice of one way of each decision, the last decision
// turning fastest. The lists share a few long arrays: there may be 2^16.
func product(each [][]choice) []choice {
	count := 1
	for _, ways := range each {
		count *= len(ways)
	}
	all := make([]choice, 0, count)
	turn := make([]int, len(each))
	var room []string
	for range count {
		var c choice
		longest := 0
		for i, ways := range each {
			longest += len(ways[turn[i]].accept)
		}
		if cap(room)-len(room) < longest {
			room = make([]string, 0, max(longest, min(4096, count*longest)))
		}
		from := len(room)
		for i, ways := range each {
			room = append(room, ways[turn[i]].accept...)
			c.value += ways[turn[i]].value
		}
		c.accept = room[from:len(room):len(room)]
		all = append(all, c)
		for i := len(turn) - 1; i >= 0; i-- {
			if turn[i]++; turn[i] < len(each[i]) {
				break
			}
			turn[i] = 0
		}
	}
	return all
}
