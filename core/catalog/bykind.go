package catalog

import (
	"cmp"
	"slices"
	"sort"
	"sync"
)

// A byValue holds the offers of one kind, put in order of value when they are
// first looked for, or before, piece by piece.
type byValue struct {
	offers []*Offer
	once   sync.Once
	sorting[entry]
}

type entry struct {
	value float64
	offer *Offer
}

// ready puts the offers in order, unless they are.
func (b *byValue) ready() {
	b.once.Do(func() {
		for b.step(len(b.offers)) {
		}
	})
}

// step moves at least so many entries, if there are; false when all are in
// order.
func (b *byValue) step(entries int) bool {
	if b.entries == nil && !b.over {
		all := make([]entry, len(b.offers))
		for i, o := range b.offers {
			all[i] = entry{o.Part.Spec.Value(), o}
		}
		b.start(all, func(a, b entry) int { return cmp.Compare(a.value, b.value) })
		b.offers = nil
		if len(all) > entries {
			return true
		}
	}
	return b.sorting.step(entries)
}

// sorting puts entries in order in pieces: runs of runLength first, then pairs
// of runs merged, each time over all of them. Of equal ones the first stays
// first.
type sorting[T any] struct {
	entries, spare []T
	compare        func(a, b T) int
	run            int // length of runs that are in order, 0 before the first
	at, i, j       int // where the piece after this one goes on
	over           bool
}

const runLength = 512

func (s *sorting[T]) start(entries []T, compare func(a, b T) int) {
	if s.compare == nil {
		s.entries, s.spare, s.compare = entries, make([]T, len(entries)), compare
	}
}

func (s *sorting[T]) step(entries int) bool {
	for n := 0; n < max(entries, 1) && !s.over; {
		if s.run == 0 {
			n += s.sortRun()
		} else {
			n += s.merge(max(entries-n, 1))
		}
	}
	if s.over {
		s.spare = nil
	}
	return !s.over
}

// sortRun puts the next run in order.
func (s *sorting[T]) sortRun() int {
	end := min(s.at+runLength, len(s.entries))
	n := end - s.at
	slices.SortStableFunc(s.entries[s.at:end], s.compare)
	s.at = end
	if end == len(s.entries) {
		s.grow(runLength)
	}
	return n
}

// grow starts the next pass over all runs.
func (s *sorting[T]) grow(run int) {
	s.run, s.at, s.i, s.j = run, 0, 0, run
	s.over = run >= len(s.entries)
}

// merge moves at most so many entries of the pair of runs at hand.
func (s *sorting[T]) merge(most int) int {
	mid, end := min(s.at+s.run, len(s.entries)), min(s.at+2*s.run, len(s.entries))
	to := s.i + s.j - mid
	n := 0
	for ; n < most && (s.i < mid || s.j < end); n++ {
		if s.j >= end || s.i < mid && s.compare(s.entries[s.i], s.entries[s.j]) <= 0 {
			s.spare[to+n] = s.entries[s.i]
			s.i++
		} else {
			s.spare[to+n] = s.entries[s.j]
			s.j++
		}
	}
	if s.i < mid || s.j < end {
		return n
	}
	s.at = end
	s.i, s.j = end, min(end+s.run, len(s.entries))
	if end == len(s.entries) {
		s.entries, s.spare = s.spare, s.entries
		s.grow(2 * s.run)
	}
	return max(n, 1)
}

// window returns the entries from low to high, both within; all of them for
// 0 and 0.
func (b *byValue) window(low, high float64) []entry {
	b.ready()
	if low == 0 && high == 0 {
		return b.entries
	}
	from := sort.Search(len(b.entries), func(i int) bool { return b.entries[i].value >= low*(1-slack) })
	to := from
	for to < len(b.entries) && b.entries[to].value <= high*(1+slack) {
		to++
	}
	return b.entries[from:to]
}
