package decision

import (
	"cmp"
	"fmt"
	"slices"
)

// MostUndecided is the most undecided options Best tries one by one: 2^16
// choices are priced in the time a caller will wait, 2^17 are not.
const MostUndecided = 16

// A Best is the choice worth most inside the ceiling and the date.
type Best struct {
	Found    bool // a choice fits both limits
	Standing      // the choice; where none fits, the cheapest there is
	RunnerUp *Standing
	Say      string // what a little more would buy, or why nothing fits
}

// Best tries every choice the owner still has, answers given standing and
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
	all, err := m.standings()
	if err != nil {
		return Best{}, err
	}
	whole := slices.DeleteFunc(all, func(s Standing) bool { return len(s.Lacks) > 0 })
	if len(whole) == 0 {
		return Best{}, fmt.Errorf("best choice: every choice left lacks work that an accepted option needs")
	}
	fitting := fits(whole)
	if len(fitting) == 0 {
		return Best{Standing: slices.MinFunc(whole, byTotal), Say: m.nothingFits(whole)}, nil
	}
	best := Best{Found: true, Standing: fitting[0]}
	if len(fitting) > 1 {
		best.RunnerUp = &fitting[1]
	}
	best.Say = m.sayMore(best.Standing, whole)
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
	slices.SortFunc(in, byValue)
	return in
}

// byValue puts the better choice first.
func byValue(a, b Standing) int {
	return cmp.Or(-cmp.Compare(a.Value, b.Value), byTotal(a, b))
}

func byTotal(a, b Standing) int {
	return cmp.Or(cmp.Compare(a.Total, b.Total), slices.Compare(a.Accept, b.Accept))
}

// standings prices every allowed choice. A decision with no allowed way (an
// owner who said yes to two that exclude each other) is an error.
func (m Model) standings() ([]Standing, error) {
	choices := [][]string{nil}
	for _, d := range m.Decisions {
		w := ways(d)
		if len(w) == 0 {
			return nil, fmt.Errorf("decision %s: the answers given exclude each other", d.Finding)
		}
		choices = extend(choices, w)
	}
	all := make([]Standing, 0, len(choices))
	for _, accept := range choices {
		s, err := m.stand(accept)
		if err != nil {
			return nil, fmt.Errorf("pricing %v: %w", accept, err)
		}
		all = append(all, s)
	}
	return all, nil
}

func extend(choices, ways [][]string) [][]string {
	next := make([][]string, 0, len(choices)*len(ways))
	for _, c := range choices {
		for _, w := range ways {
			next = append(next, append(slices.Clone(c), w...))
		}
	}
	return next
}
