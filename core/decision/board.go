package decision

import (
	"cmp"
	"fmt"
	"slices"

	"lugworth/core/sorted"
)

// A board is a model laid out for a search: every decision with the ways it
// may still go, in the order they are decided.
type board struct {
	m       Model
	options []*Option
	rank    []int   // of an option's ID among all of them in the order of the alphabet
	needs   [][]int // option → options it rests on
	needy   []int   // options that rest on others
	of      []int   // option → decision
	spots   []spot  // as Model.Decisions
	order   []int   // decisions as they are decided
	moving  int     // so many of order, the first, change what others cost
	floor   *Floor  // whatever is taken of those that move
	first   []int   // option index of the first option of each decision
	alone   []int   // by option: the day it would be ready alone by Model.Ready, 0 not known
	blank   []Share // of a model without floors
}

// A spot is one decision with the ways open to it.
type spot struct {
	ways []taken
}

// taken is one way: the options it takes, and what they are worth.
type taken struct {
	options []int
	value   int
	touch   Touch
}

// nowhere is so far down that no floor of a model without floors binds.
const nowhere = -1 << 60

// newBoard lays a model out.
//
// Errors: those of Check, answers that exclude each other, and more options
// of one finding that may stand beside each other than can be gone through.
func newBoard(m Model) (*board, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	b := &board{m: m}
	for i := range m.Decisions {
		b.first = append(b.first, len(b.options))
		for k := range m.Decisions[i].Options {
			b.options, b.of = append(b.options, &m.Decisions[i].Options[k]), append(b.of, i)
		}
	}
	b.name()
	for i, d := range m.Decisions {
		s, err := b.spot(d, b.first[i])
		if err != nil {
			return nil, err
		}
		b.spots = append(b.spots, s)
	}
	b.floor = b.under(nil, false)
	b.line(func(spot) int { return 0 })
	return b, nil
}

// name ranks the options by ID and finds what each needs.
func (b *board) name() {
	at := make(map[string]int, len(b.options))
	by := make([]int, len(b.options))
	for i, o := range b.options {
		at[o.ID], by[i] = i, i
	}
	slices.SortFunc(by, func(x, y int) int { return cmp.Compare(b.options[x].ID, b.options[y].ID) })
	b.rank, b.needs = make([]int, len(by)), make([][]int, len(by))
	for r, i := range by {
		b.rank[i] = r
	}
	for i, o := range b.options {
		for _, need := range o.Needs {
			b.needs[i] = append(b.needs[i], at[need])
		}
		if len(o.Needs) > 0 {
			b.needy = append(b.needy, i)
		}
	}
}

func (b *board) spot(d Decision, first int) (spot, error) {
	if n := besides(d); n > mostBeside {
		return spot{}, fmt.Errorf("decision %s: %d options that may stand beside each other are undecided, want at most %d; settle some first", d.Finding, n, mostBeside)
	}
	var s spot
	for _, picks := range ways(d) {
		w := taken{}
		for _, k := range picks {
			w.options = append(w.options, first+k)
			w.value += d.Options[k].Value
			w.touch = w.touch.plus(d.Options[k].Touch)
		}
		s.ways = append(s.ways, w)
	}
	if len(s.ways) == 0 {
		return s, fmt.Errorf("decision %s: the answers given exclude each other", d.Finding)
	}
	return s, nil
}

// under is the model's floor, or one that binds nothing.
func (b *board) under(moving []string, known bool) *Floor {
	if b.m.Floor != nil {
		if f := b.m.Floor(moving, known); f != nil {
			return f
		}
	}
	if b.blank == nil {
		b.blank = make([]Share, len(b.options))
	}
	return &Floor{Base: nowhere, Shares: b.blank}
}

// date asks for the day of one more option alone, which is a floor for the day
// of every choice with it, and reports whether there are more to ask for.
func (b *board) date() bool {
	if b.m.Ready == nil || len(b.alone) == len(b.options) {
		return false
	}
	i, day := len(b.alone), 0
	if b.floor.Shares[i].Steady {
		if days, ok := b.m.Ready([]string{b.options[i].ID}); ok {
			day = days
		}
	}
	b.alone = append(b.alone, day)
	return true
}

// share is what an option brings, its day as the model judges days.
func (b *board) share(f *Floor, option int) Share {
	s := f.Shares[option]
	if b.m.Ready != nil {
		s.Days, s.NoLead = b.alone[option], false
	}
	return s
}

// line puts what moves first: once it is decided, all prices are known. The
// others follow by the rule, in the order of the model where it is alike.
func (b *board) line(rule func(spot) int) {
	b.order = b.order[:0]
	var rest []int
	for i, s := range b.spots {
		if b.moves(s) {
			b.order = append(b.order, i)
		} else {
			rest = append(rest, i)
		}
	}
	b.moving = len(b.order)
	sorted.By(rest, func(x, y int) int { return cmp.Compare(rule(b.spots[x]), rule(b.spots[y])) })
	b.order = append(b.order, rest...)
}

func (b *board) moves(s spot) bool {
	for _, w := range s.ways {
		for _, o := range w.options {
			if b.floor.Shares[o].Moves {
				return true
			}
		}
	}
	return false
}

// accept names the options of a whole choice, one way of each decision, in
// the order of the model.
func (b *board) accept(way []int) []string {
	var ids []string
	for i, s := range b.spots {
		for _, o := range s.ways[way[i]].options {
			ids = append(ids, b.options[o].ID)
		}
	}
	return ids
}

// earliest is the choice that comes first by its IDs among those that hold to
// the decisions made (way ≥ 0), as ranks.
func (b *board) earliest(way []int) []int {
	var tail []int
	for i, s := range slices.Backward(b.spots) {
		ways := s.ways
		if way[i] >= 0 {
			ways = ways[way[i] : way[i]+1]
		}
		var best []int
		for k, w := range ways {
			list := make([]int, 0, len(w.options)+len(tail))
			for _, o := range w.options {
				list = append(list, b.rank[o])
			}
			list = append(list, tail...)
			if k == 0 || slices.Compare(list, best) < 0 {
				best = list
			}
		}
		tail = best
	}
	return tail
}

// ranks are the ranks of named options.
func (b *board) ranks(accept []string) []int {
	out := make([]int, 0, len(accept))
	k := 0
	for i, o := range b.options {
		if k < len(accept) && o.ID == accept[k] {
			out = append(out, b.rank[i])
			k++
		}
	}
	return out
}

// meets reports whether a way of one decision keeps every need between it and
// the decisions made before.
func (b *board) meets(dec, w int, way []int) bool {
	for _, o := range b.spots[dec].ways[w].options {
		for _, need := range b.needs[o] {
			d := b.of[need]
			if d == dec && !b.takes(dec, w, need) || d != dec && way[d] >= 0 && !b.takes(d, way[d], need) {
				return false
			}
		}
	}
	return b.wanted(dec, w, way)
}

// wanted reports whether a way of one decision takes what options taken before
// need of it.
func (b *board) wanted(dec, w int, way []int) bool {
	for _, o := range b.needy {
		if b.of[o] == dec || way[b.of[o]] < 0 || !b.takes(b.of[o], way[b.of[o]], o) {
			continue
		}
		for _, need := range b.needs[o] {
			if b.of[need] == dec && !b.takes(dec, w, need) {
				return false
			}
		}
	}
	return true
}

func (b *board) takes(dec, w, option int) bool {
	return slices.Contains(b.spots[dec].ways[w].options, option)
}
