package decision

import (
	"cmp"
	"fmt"
	"slices"

	"lugworth/core/sorted"
)

// The plain enumeration of every choice: what the search is held against. It
// was the program's own way before there was a search.

// everyChoice weighs every choice the owner still has, answers given standing and
// musts fixed, and returns the one of greatest value inside ceiling and date.
// Ties go to the lower total, then to the earlier IDs. The runner-up is the
// next of those that fit.
func (m Model) everyChoice() (Best, error) {
	if err := m.Check(); err != nil {
		return Best{}, err
	}
	choices, err := m.choices()
	if err != nil {
		return Best{}, err
	}
	priced, err := m.priceDown(choices)
	if err != nil {
		return Best{}, err
	}
	if len(priced) == 0 {
		return Best{}, fmt.Errorf("best choice: every choice is refused")
	}
	fitting := fits(priced)
	if len(fitting) == 0 {
		return Best{Standing: slices.MinFunc(priced, byTotal), Say: m.nothingFitsOf(priced)}, nil
	}
	best := Best{Found: true, Standing: fitting[0]}
	if len(fitting) > 1 {
		best.RunnerUp = &fitting[1]
	}
	best.Say = m.sayMoreOf(best.Standing, priced)
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
	for _, picks := range ways(d) {
		var c choice
		for _, k := range picks {
			c.accept = append(c.accept, d.Options[k].ID)
			c.value += d.Options[k].Value
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
		m.dated(&s)
		if m.Refused != nil && m.Refused(s.Accept, true) != "" {
			continue
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

func (m Model) sayMoreOf(best Standing, all []Standing) string {
	one := func(s Standing, ok bool) *Standing {
		if !ok {
			return nil
		}
		return &s
	}
	return m.sayMore(best, one(m.dearer(best, all)), one(m.later(best, all)))
}

// dearer returns the cheapest better choice that keeps the date and breaks
// the ceiling.
func (m Model) dearer(best Standing, all []Standing) (Standing, bool) {
	return leastOf(all, func(s Standing) bool {
		return s.Value > best.Value && s.FitsDate && !s.FitsCeiling
	}, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.Total, b.Total), byValue(a, b))
	})
}

// later returns the earliest better choice that keeps the ceiling and breaks
// the date. A choice with a part of no stated lead has no day to name.
func (m Model) later(best Standing, all []Standing) (Standing, bool) {
	return leastOf(all, func(s Standing) bool {
		return s.Value > best.Value && s.FitsCeiling && !s.FitsDate && (s.Simulated || len(s.NoLead) == 0)
	}, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.ReadyDays, b.ReadyDays), byValue(a, b))
	})
}

func leastOf(all []Standing, keep func(Standing) bool, less func(a, b Standing) int) (Standing, bool) {
	var kept []Standing
	for _, s := range all {
		if keep(s) {
			kept = append(kept, s)
		}
	}
	if len(kept) == 0 {
		return Standing{}, false
	}
	return slices.MinFunc(kept, less), true
}

// nothingFitsOf says by how much the nearest choice on either side misses.
func (m Model) nothingFitsOf(all []Standing) string {
	cheapest := slices.MinFunc(all, byTotal)
	if !cheapest.FitsCeiling {
		return fmt.Sprintf("nothing fits: the least that can be done is %s, over the ceiling by %s",
			m.Currency.Format(cheapest.Total), m.Currency.Format(-cheapest.Left))
	}
	inTime, ok := leastOf(all, func(s Standing) bool { return s.FitsDate }, byTotal)
	if ok {
		return fmt.Sprintf("nothing fits: what is ready in time is %s at least, over the ceiling by %s",
			m.Currency.Format(inTime.Total), m.Currency.Format(-inTime.Left))
	}
	soonest, ok := leastOf(all, func(s Standing) bool { return s.Simulated || len(s.NoLead) == 0 }, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.ReadyDays, b.ReadyDays), byTotal(a, b))
	})
	if !ok {
		return "nothing fits: no choice has a stated lead for every part"
	}
	return fmt.Sprintf("nothing fits: the soonest is day %d, the date asked for is day %d", soonest.ReadyDays, m.Limits.Days)
}
