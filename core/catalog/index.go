package catalog

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/sorted"
)

// An Index finds offers by kind and value, by tube type and by number.
// It is built once for a set of lists and is then only read, so that several
// needs may be looked up at the same time.
type Index struct {
	added   []*Offer // in the order of the lists
	all     []*Offer // in the order of compareOffers
	rank    []uint32 // place in all of each in added
	order   []entry  // of all: which of added each is
	byKind  [Other + 1]byValue
	byTube  map[string][]uint32 // ranks
	doubles []Double
}

// A Double is a part number that a list gives twice, at another price or
// pack. The first row counts until a person says which.
type Double struct{ First, Later *Offer }

// Of reports whether the index is of these lists, as they were read.
func (x *Index) Of(lists []List) bool {
	n := 0
	for i := range lists {
		o := lists[i].Offers
		if len(o) > 0 && (n >= len(x.added) || x.added[n] != &o[0]) {
			return false
		}
		n += len(o)
	}
	return n == len(x.added)
}

// Doubles lists them in the order of the files.
func (x *Index) Doubles() []Double { return x.doubles }

// NewIndex indexes every offer of lists. The lists must not change afterwards.
func NewIndex(lists []List) *Index {
	g := StartIndex(lists)
	for !g.ranked {
		g.Step(1 << 20)
	}
	return g.x // a long list takes its time to be put in order: only the kinds that are looked for are
}

// An Indexing makes an index in pieces, so that the caller can do other things
// between them.
type Indexing struct {
	x         *Index
	lists     []List
	list, row int
	ranking
	ranked bool
	kind   int
}

// StartIndex begins an index of every offer of lists.
func StartIndex(lists []List) *Indexing {
	n := 0
	for i := range lists {
		n += len(lists[i].Offers)
	}
	return &Indexing{lists: lists, x: &Index{byTube: map[string][]uint32{}, added: make([]*Offer, 0, n)}}
}

// Step takes in about so many offers, or puts so many in order; false when the
// index is made.
func (g *Indexing) Step(offers int) bool {
	switch {
	case g.list < len(g.lists):
		g.add(offers)
	case !g.ranked:
		if !g.ranking.step(g.x.added, offers) {
			g.x.rankAll(g.ranking.entries)
			g.ranked = true
		}
	case g.kind < len(g.x.byKind):
		if !g.x.byKind[g.kind].step(offers) {
			g.kind++
		}
	default:
		return false
	}
	return true
}

// Index is the index, once Step says that it is made.
func (g *Indexing) Index() *Index { return g.x }

func (g *Indexing) add(offers int) {
	l := &g.lists[g.list]
	end := min(g.row+offers, len(l.Offers))
	for ; g.row < end; g.row++ {
		g.x.add(&l.Offers[g.row])
	}
	if end == len(l.Offers) {
		g.list, g.row = g.list+1, 0
	}
}

func (x *Index) add(o *Offer) {
	at := uint32(len(x.added))
	x.added = append(x.added, o)
	k := min(o.Part.Kind, Other)
	x.byKind[k].ats = append(x.byKind[k].ats, at)
	if o.Part.Tube != "" {
		x.byTube[o.Part.Tube] = append(x.byTube[o.Part.Tube], at)
	}
	for _, t := range o.Part.TubeAlso {
		x.byTube[t] = append(x.byTube[t], at)
	}
}

// rankAll takes in the order of all offers, finds what stands twice, and
// hands the kinds what they need to be put in order.
func (x *Index) rankAll(order []entry) {
	x.all, x.rank, x.order = make([]*Offer, len(order)), make([]uint32, len(order)), order
	for i, e := range order {
		x.all[i], x.rank[e.at] = x.added[e.at], uint32(i)
	}
	for _, tube := range x.byTube {
		for i, at := range tube {
			tube[i] = x.rank[at]
		}
		sorted.By(tube, func(a, b uint32) int { return cmp.Compare(a, b) })
	}
	for k := range x.byKind {
		x.byKind[k].of = x
	}
	x.findDoubles(order)
}

// findDoubles looks at neighbors of one number. The first in the order of the
// lists is the one the others are held to.
func (x *Index) findDoubles(order []entry) {
	type later struct {
		at uint32
		Double
	}
	var found []later
	for i := 0; i < len(order); {
		j, first := i+1, order[i].at
		for j < len(order) && sameNumber(x.all[i], x.all[j]) {
			first = min(first, order[j].at)
			j++
		}
		for _, e := range order[i:j] {
			if o, f := x.added[e.at], x.added[first]; e.at != first && o.Number != "" && (f.Price.Cmp(o.Price) != 0 || f.Priced != o.Priced || f.Pack != o.Pack) {
				found = append(found, later{e.at, Double{f, o}})
			}
		}
		i = j
	}
	sorted.By(found, func(a, b later) int { return cmp.Compare(a.at, b.at) })
	for _, d := range found {
		x.doubles = append(x.doubles, d.Double)
	}
}

func sameNumber(a, b *Offer) bool { return a.Number == b.Number && a.List == b.List }

// compareOffers orders by list, number, line.
func compareOffers(a, b *Offer) int {
	if d := strings.Compare(a.List, b.List); d != 0 {
		return d
	}
	if d := strings.Compare(a.Number, b.Number); d != 0 {
		return d
	}
	return cmp.Or(strings.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line))
}

// All returns every offer, ordered by list, number and line.
func (x *Index) All() []*Offer { return x.all }

// ByNumber returns the offer of a list with that part number, written as the
// supplier writes it; the first in the file if several rows have it.
func (x *Index) ByNumber(list, number string) (*Offer, bool) {
	if number == "" {
		return nil, false
	}
	i, ok := slices.BinarySearchFunc(x.all, number, func(o *Offer, number string) int {
		return cmp.Or(strings.Compare(o.List, list), strings.Compare(o.Number, number))
	})
	if !ok {
		return nil, false
	}
	first := x.order[i].at
	for ; i < len(x.all) && x.all[i].Number == number && x.all[i].List == list; i++ {
		first = min(first, x.order[i].at)
	}
	return x.added[first], true
}

// slack lets a value that came through a unit prefix still lie on the edge of
// a window: 22e-6 and 22*1e-6 differ in the last place.
const slack = 1e-9

// Find returns the offers that answer w, ordered by list, number and line.
// With neither kinds nor tube it looks through all offers.
func (x *Index) Find(w Want) []*Offer {
	if w.Tube == "" && len(w.Kinds) == 0 {
		var out []*Offer
		for _, o := range x.all {
			if w.answers(o) {
				out = append(out, o)
			}
		}
		return out
	}
	if w.Tube != "" {
		return x.answering(w, x.byTube[strings.ToUpper(strings.TrimSpace(w.Tube))])
	}
	var runs [][]uint32
	for i, k := range w.Kinds {
		if k <= Other && !slices.Contains(w.Kinds[:i], k) {
			runs = x.byKind[k].window(w, runs)
		}
	}
	return x.offers(mergeRuns(runs))
}

func (x *Index) answering(w Want, ranks []uint32) (out []*Offer) {
	for _, r := range ranks {
		if w.answers(x.all[r]) {
			out = append(out, x.all[r])
		}
	}
	return out
}

func (x *Index) offers(ranks []uint32) []*Offer {
	if len(ranks) == 0 {
		return nil
	}
	out := make([]*Offer, len(ranks))
	for i, r := range ranks {
		out[i] = x.all[r]
	}
	return out
}

// mergeRuns puts runs of ranks, each in order, in one order, pair by pair.
func mergeRuns(runs [][]uint32) []uint32 {
	for len(runs) > 1 {
		half := runs[:0]
		for i := 0; i < len(runs); i += 2 {
			if i+1 < len(runs) {
				half = append(half, mergeTwo(runs[i], runs[i+1]))
			} else {
				half = append(half, runs[i])
			}
		}
		runs = half
	}
	if len(runs) == 0 {
		return nil
	}
	return runs[0]
}

func mergeTwo(a, b []uint32) []uint32 {
	out := make([]uint32, len(a)+len(b))
	i, j := 0, 0
	for n := range out {
		if j == len(b) || i < len(a) && a[i] <= b[j] {
			out[n] = a[i]
			i++
		} else {
			out[n] = b[j]
			j++
		}
	}
	return out
}

// answers reports whether o meets every field of w that asks for something.
func (w Want) answers(o *Offer) bool {
	p := &o.Part
	v := p.Spec.Value()
	switch {
	case len(w.Kinds) > 0 && !slices.Contains(w.Kinds, p.Kind),
		(w.ValueLow != 0 || w.ValueHigh != 0) && (v < w.ValueLow*(1-slack) || v > w.ValueHigh*(1+slack)),
		w.Sections > 0 && len(p.Spec.Values) != w.Sections,
		w.Count > 0 && p.Count != w.Count,
		p.Spec.Volts < w.MinVolts*(1-slack), p.Spec.Watts < w.MinWatts*(1-slack),
		w.Form != AnyForm && p.Form != w.Form,
		w.Class != "" && p.Class != w.Class,
		w.Priced && !o.Priced:
		return false
	}
	for _, word := range w.Words {
		if !hasWord(p.Words, plain(word)) {
			return false
		}
	}
	return true
}
