package catalog

import (
	"cmp"
	"slices"
	"strings"
	"sync"
)

// An Index finds offers by kind and value, by tube type and by number.
// It is built once for a set of lists and is then only read, so that several
// needs may be looked up at the same time.
type Index struct {
	byKind   [Other + 1]byValue
	byTube   map[string][]*Offer
	byNumber map[listNumber]*Offer
	added    []*Offer // in the order of the lists
	all      []*Offer // in the order of compareOffers
	doubles  []Double

	onceAll sync.Once
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

type listNumber struct{ list, number string }

// NewIndex indexes every offer of lists. The lists must not change afterwards.
func NewIndex(lists []List) *Index {
	g := StartIndex(lists)
	for g.list < len(g.lists) {
		g.add(1 << 20)
	}
	g.finish()
	return g.x // a long list takes its time to be put in order: only the kinds that are looked for are
}

// An Indexing makes an index in pieces, so that the caller can do other things
// between them.
type Indexing struct {
	x         *Index
	lists     []List
	list, row int
	kind      int
}

// StartIndex begins an index of every offer of lists.
func StartIndex(lists []List) *Indexing {
	n := 0
	for i := range lists {
		n += len(lists[i].Offers)
	}
	return &Indexing{lists: lists, x: &Index{byTube: map[string][]*Offer{}, byNumber: make(map[listNumber]*Offer, n), added: make([]*Offer, 0, n)}}
}

// Step takes in about so many offers, or puts so many in order; false when the
// index is made.
func (g *Indexing) Step(offers int) bool {
	switch {
	case g.list < len(g.lists):
		g.add(offers)
		return true
	case g.kind < len(g.x.byKind):
		if !g.x.byKind[g.kind].step(offers) {
			g.kind++
		}
		return true
	}
	g.finish()
	return false
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

func (g *Indexing) finish() {
	for _, os := range g.x.byTube {
		slices.SortFunc(os, compareOffers)
	}
}

func (x *Index) add(o *Offer) {
	x.added = append(x.added, o)
	k := min(o.Part.Kind, Other)
	x.byKind[k].offers = append(x.byKind[k].offers, o)
	if o.Part.Tube != "" {
		x.byTube[o.Part.Tube] = append(x.byTube[o.Part.Tube], o)
	}
	for _, t := range o.Part.TubeAlso {
		x.byTube[t] = append(x.byTube[t], o)
	}
	key := listNumber{o.List, o.Number}
	first, taken := x.byNumber[key]
	switch {
	case o.Number == "":
	case !taken:
		x.byNumber[key] = o
	case first.Price.Cmp(o.Price) != 0 || first.Priced != o.Priced || first.Pack != o.Pack:
		x.doubles = append(x.doubles, Double{first, o})
	}
}

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
func (x *Index) All() []*Offer {
	x.onceAll.Do(func() {
		x.all = slices.Clone(x.added)
		slices.SortFunc(x.all, compareOffers)
	})
	return x.all
}

// ByNumber returns the offer of a list with that part number, written as the
// supplier writes it; the first in the file if several rows have it.
func (x *Index) ByNumber(list, number string) (*Offer, bool) {
	o, ok := x.byNumber[listNumber{list, number}]
	return o, ok
}

// slack lets a value that came through a unit prefix still lie on the edge of
// a window: 22e-6 and 22*1e-6 differ in the last place.
const slack = 1e-9

// Find returns the offers that answer w, ordered by list, number and line.
// With neither kinds nor tube it looks through all offers.
func (x *Index) Find(w Want) []*Offer {
	var out []*Offer
	switch {
	case w.Tube != "":
		out = w.among(out, x.byTube[strings.ToUpper(strings.TrimSpace(w.Tube))])
	case len(w.Kinds) == 0:
		out = w.among(out, x.All())
	}
	if w.Tube == "" {
		for i, k := range w.Kinds {
			if k <= Other && !slices.Contains(w.Kinds[:i], k) {
				for _, e := range x.byKind[k].window(w.ValueLow, w.ValueHigh) {
					if w.answers(e.offer) {
						out = append(out, e.offer)
					}
				}
			}
		}
	}
	slices.SortFunc(out, compareOffers)
	return out
}

func (w Want) among(out, offers []*Offer) []*Offer {
	for _, o := range offers {
		if w.answers(o) {
			out = append(out, o)
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
