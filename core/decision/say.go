package decision

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/shop"
)

// sayMore returns what the least step beyond one limit would buy:
//
//	raise the ceiling by 6.37, or accept day 35, and T7 comes too
//
// Each limit is stepped over alone, the other kept. It is "" where no better
// choice lies behind either.
func (m Model) sayMore(best Standing, dearer, later *Standing) string {
	raise, wait := "", ""
	if dearer != nil {
		raise = "raise the ceiling by " + m.Currency.Format(-dearer.Left)
	}
	if later != nil {
		wait = fmt.Sprintf("accept day %d", later.ReadyDays)
	}
	switch {
	case dearer != nil && later != nil:
		up, on := m.gain(best, *dearer), m.gain(best, *later)
		if up == on {
			return raise + ", or " + wait + ", and " + up
		}
		return raise + " and " + up + "; or " + wait + " and " + on
	case dearer != nil:
		return raise + " and " + m.gain(best, *dearer)
	case later != nil:
		return wait + " and " + m.gain(best, *later)
	}
	return ""
}

// gain says which work comes and which goes between two choices. The way a
// must is done is said only where nothing else comes: the must is done either
// way.
func (m Model) gain(from, to Standing) string {
	come, leave := m.optional(to.Accept, from.Accept), m.optional(from.Accept, to.Accept)
	if len(come) == 0 {
		come, leave = without(to.Accept, from.Accept), without(from.Accept, to.Accept)
	}
	verb := " comes"
	if len(come) > 1 {
		verb = " come"
	}
	if len(leave) == 0 {
		return words(come) + verb + " too"
	}
	return words(come) + verb + " in place of " + words(leave)
}

// optional returns the IDs of a that are not in b and belong to no must.
func (m Model) optional(a, b []string) []string {
	var musts []string
	for _, d := range m.Pile(shop.Must) {
		for _, o := range d.Options {
			musts = append(musts, o.ID)
		}
	}
	return without(without(a, b), musts)
}

// without returns the IDs of a that are not in b.
func without(a, b []string) []string {
	var ids []string
	for _, id := range a {
		if !slices.Contains(b, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// words returns "T7", "T7 and T8", "T5, T7 and T8".
func words(ids []string) string {
	if len(ids) < 2 {
		return strings.Join(ids, "")
	}
	last := len(ids) - 1
	return strings.Join(ids[:last], ", ") + " and " + ids[last]
}

// nothingFits says by how much the nearest choice on either side misses.
func (m Model) nothingFits(cheapest Standing, inTime, soonest *Standing) string {
	switch {
	case !cheapest.FitsCeiling:
		return fmt.Sprintf("nothing fits: the least that can be done is %s, over the ceiling by %s",
			m.Currency.Format(cheapest.Total), m.Currency.Format(-cheapest.Left))
	case inTime != nil:
		return fmt.Sprintf("nothing fits: what is ready in time is %s at least, over the ceiling by %s",
			m.Currency.Format(inTime.Total), m.Currency.Format(-inTime.Left))
	case soonest == nil:
		return "nothing fits: no choice has a stated lead for every part"
	}
	return fmt.Sprintf("nothing fits: the soonest is day %d, the date asked for is day %d", soonest.ReadyDays, m.Limits.Days)
}
