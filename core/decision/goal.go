package decision

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/money"
)

// A goal says which choices a search may return, and which comes first.
type goal struct {
	keep    int  // so many of the first are kept
	ceiling bool // it keeps the ceiling
	date    bool // it keeps the date
	stated  bool // every lead of it is stated
	barred  bool // every part of it may be ordered
	more    int  // it is worth as much at least
	by      func(a, b Standing) int
	rank    ranking
}

// ranking is what comes first, for the bounds.
type ranking uint8

const (
	worth    ranking = iota // value, total, IDs
	dearer                  // total, value, IDs
	later                   // day, value, total, IDs
	cheapest                // total, IDs
	soonest                 // day, total, IDs
)

// any value will do.
const anyValue = math.MinInt / 4

func worthMost() goal {
	return goal{keep: 2, ceiling: true, date: true, more: anyValue, by: byValue, rank: worth}
}

// dearerThan is the cheapest better choice that keeps the date. That it breaks
// the ceiling need not be asked: nothing better keeps both.
func dearerThan(value int) goal {
	return goal{keep: 1, date: true, more: value + 1, rank: dearer, by: func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.Total, b.Total), byValue(a, b))
	}}
}

// laterThan is the earliest better choice that keeps the ceiling. A choice
// with a part of no stated lead has no day to name.
func laterThan(value int) goal {
	return goal{keep: 1, ceiling: true, stated: true, more: value + 1, rank: later, by: func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.ReadyDays, b.ReadyDays), byValue(a, b))
	}}
}

func cheapestOf(inTime bool) goal {
	return goal{keep: 1, date: inTime, more: anyValue, rank: cheapest, by: byTotal}
}

func soonestOf() goal {
	return goal{keep: 1, stated: true, more: anyValue, rank: soonest, by: func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.ReadyDays, b.ReadyDays), byTotal(a, b))
	}}
}

// byValue puts the better choice first.
func byValue(a, b Standing) int {
	return cmp.Or(-cmp.Compare(a.Value, b.Value), byTotal(a, b))
}

func byTotal(a, b Standing) int {
	return cmp.Or(cmp.Compare(a.Total, b.Total), slices.Compare(a.Accept, b.Accept))
}

// takes reports whether a priced choice may be returned.
func (g goal) takes(s Standing) bool {
	return (!g.ceiling || s.FitsCeiling) && (!g.date || s.FitsDate) && (!g.stated || s.Simulated || len(s.NoLead) == 0) && s.Value >= g.more
}

// bars reports whether an option cannot be in any choice the goal takes.
func (g goal) bars(l Limits) func(Share) bool {
	return func(s Share) bool {
		return g.date && l.HasDays && (s.NoLead || s.Days > l.Days) || g.stated && s.NoLead || g.barred && s.Barred
	}
}

// over is the ceiling a goal is held to.
func (g goal) over(l Limits) money.Amount {
	if g.ceiling && l.HasCeiling {
		return l.Ceiling
	}
	return impossible - 1
}

// tie says that only the order of IDs is left to decide.
type tie uint8

const (
	open tie = iota // what comes may be better
	shut            // nothing that comes is better
	even            // it may be as good: the IDs decide
)

// against sets what a state may still become against the last choice kept.
func (g goal) against(r *relief, s state, last Standing, ceiling money.Amount) tie {
	switch g.rank {
	case dearer:
		return firstOf(cmp.Compare(r.least(s, g.more), last.Total), func() tie {
			return g.value(r, s, last, last.Total, func() tie { return even })
		})
	case cheapest:
		return firstOf(cmp.Compare(r.least(s, anyValue), last.Total), func() tie { return even })
	case later, soonest:
		if c := cmp.Compare(r.wait(s), last.ReadyDays); c != 0 {
			return firstOf(c, nil)
		}
		if g.rank == soonest {
			return firstOf(cmp.Compare(r.least(s, anyValue), last.Total), func() tie { return even })
		}
	}
	return g.value(r, s, last, ceiling, func() tie {
		return firstOf(cmp.Compare(r.least(s, last.Value), last.Total), func() tie { return even })
	})
}

// value compares the value still in reach under a ceiling with the last
// choice's.
func (g goal) value(r *relief, s state, last Standing, ceiling money.Amount, same func() tie) tie {
	switch {
	case r.least(s, last.Value+1) <= ceiling:
		return open
	case r.least(s, last.Value) > ceiling:
		return shut
	}
	return same()
}

// firstOf reads one comparison: less is open, more is shut, and of what is
// equal the next decides.
func firstOf(c int, next func() tie) tie {
	switch {
	case c < 0:
		return open
	case c > 0:
		return shut
	}
	return next()
}
