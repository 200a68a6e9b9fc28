package catalog

import (
	"math"
	"slices"
	"sort"
	"strings"
	"sync"
)

// A byValue holds the offers of one kind, put in order of value when they are
// first looked for, or before, piece by piece.
type byValue struct {
	of   *Index
	ats  []uint32 // places in Index.added
	once sync.Once
	sorting[entry]
	found []candidate
}

// An entry is what offers are put in order by, and which offer it is: a place
// in Index.added, or a rank.
type entry struct {
	key uint64
	at  uint32
}

// byKey orders by key, then by at.
func byKey(a, b entry) int {
	switch {
	case a.key < b.key:
		return -1
	case a.key > b.key:
		return 1
	case a.at < b.at:
		return -1
	case a.at > b.at:
		return 1
	}
	return 0
}

// A candidate is an offer of a kind with all that most needs ask of it, side
// by side in the order of value, then rank.
type candidate struct {
	value, volts, watts float64
	rank                uint32
	sections, count     uint16
	form                Form
	priced              bool
}

// ready puts the offers in order, unless they are.
func (b *byValue) ready() {
	b.once.Do(func() {
		for b.step(len(b.ats)) {
		}
	})
}

// step moves at least so many entries, if there are; false when all are in
// order.
func (b *byValue) step(entries int) bool {
	if b.found != nil || len(b.ats) == 0 {
		return false
	}
	if b.entries == nil {
		all := make([]entry, len(b.ats))
		for i, at := range b.ats {
			all[i] = entry{math.Float64bits(b.of.added[at].Part.Spec.Value()), b.of.rank[at]} // never negative: the bits are in the order of the values
		}
		b.start(all, byKey)
		if len(all) > entries {
			return true
		}
	}
	if b.sorting.step(entries) {
		return true
	}
	b.found = make([]candidate, len(b.sorting.entries))
	for i, e := range b.sorting.entries {
		o := b.of.all[e.at]
		p := &o.Part
		b.found[i] = candidate{p.Spec.Value(), p.Spec.Volts, p.Spec.Watts, e.at,
			uint16(min(len(p.Spec.Values), math.MaxUint16)), uint16(min(p.Count, math.MaxUint16)), p.Form, o.Priced}
	}
	b.sorting = sorting[entry]{}
	return false
}

// A ranking puts all offers in the order of compareOffers.
type ranking struct{ sorting[entry] }

func (r *ranking) step(offers []*Offer, entries int) bool {
	if r.entries == nil && len(offers) > 0 {
		all := make([]entry, len(offers))
		heads := headsOfNumbers(offers)
		for i, o := range offers {
			all[i] = entry{heads.key(o), uint32(i)}
		}
		r.start(all, func(a, b entry) int {
			if a.key == b.key {
				if d := compareOffers(offers[a.at], offers[b.at]); d != 0 {
					return d
				}
			}
			return byKey(a, b)
		})
	}
	return len(offers) > 0 && r.sorting.step(entries)
}

// numberHeads are, for each list, its place among the lists and what all its
// part numbers begin with: the rest tells them apart.
type numberHeads map[string]*numberHead

type numberHead struct {
	place  uint64
	prefix string
}

func headsOfNumbers(offers []*Offer) numberHeads {
	h := numberHeads{}
	var last *numberHead
	var names []string
	for i, o := range offers {
		if i == 0 || o.List != offers[i-1].List {
			if last = h[o.List]; last == nil {
				last = &numberHead{prefix: o.Number}
				h[o.List], names = last, append(names, o.List)
			}
		}
		if !strings.HasPrefix(o.Number, last.prefix) {
			last.prefix = last.prefix[:common(last.prefix, o.Number)]
		}
	}
	slices.Sort(names)
	for i, n := range names {
		h[n].place = uint64(i)
	}
	return h
}

func common(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// key is a number in the order of compareOffers as far as one word tells:
// the list, then the part number behind what all of the list begin with.
func (h numberHeads) key(o *Offer) uint64 {
	if len(h) > 1<<8 {
		return 0
	}
	head := h[o.List]
	k, rest := head.place, o.Number[len(head.prefix):]
	for i := range 7 {
		k <<= 8
		if i < len(rest) {
			k |= uint64(rest[i])
		}
	}
	return k
}

// sorting puts entries in order in pieces: runs of runLength first, then pairs
// of runs merged, each time over all of them. compare must tell any two apart.
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
		s.entries, s.compare = entries, compare
		if s.over = slices.IsSortedFunc(entries, compare); !s.over {
			s.spare = make([]T, len(entries))
		}
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
	slices.SortFunc(s.entries[s.at:end], s.compare)
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

// window appends the ranks of the offers that answer w, one run for each
// value: within a run they are in order.
func (b *byValue) window(w Want, runs [][]uint32) [][]uint32 {
	b.ready()
	from, to := 0, len(b.found)
	if w.ValueLow != 0 || w.ValueHigh != 0 {
		low, high := w.ValueLow*(1-slack), w.ValueHigh*(1+slack)
		from = sort.Search(len(b.found), func(i int) bool { return b.found[i].value >= low })
		to = from + sort.Search(len(b.found)-from, func(i int) bool { return b.found[from+i].value > high })
	}
	deep := w.Class != "" || len(w.Words) > 0
	volts, watts := w.MinVolts*(1-slack), w.MinWatts*(1-slack)
	ranks := make([]uint32, 0, to-from)
	start := 0
	for i := from; i < to; i++ {
		c := &b.found[i]
		if i > from && c.value != b.found[i-1].value && len(ranks) > start {
			runs = append(runs, ranks[start:])
			start = len(ranks)
		}
		if c.volts < volts || c.watts < watts || w.Sections > 0 && int(c.sections) != w.Sections || w.Count > 0 && int(c.count) != w.Count ||
			w.Form != AnyForm && c.form != w.Form || w.Priced && !c.priced || deep && !w.answers(b.of.all[c.rank]) {
			continue
		}
		ranks = append(ranks, c.rank)
	}
	if len(ranks) > start {
		runs = append(runs, ranks[start:])
	}
	return runs
}
