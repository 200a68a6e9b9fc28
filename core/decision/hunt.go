package decision

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/money"
	"lugworth/core/sorted"
)

// A hunt is one search over the choices of a board: depth first, the way that
// promises most first, and never into a part that the bounds show to hold
// nothing better. It is cut into steps by the work they take.
type hunt struct {
	b       *board
	g       goal
	ceiling money.Amount

	reliefs map[string]*relief // by what is taken of those that move
	frames  []frame
	way     []int // by decision, −1 open
	kept    []Standing
	work    int      // done so far, in nodes
	unread  []string // why choices cannot be priced, each reason once
	asked   *question
	front   *Front // where all choices that touch least are sought, and no goal
}

// A frame is one decision being gone through.
type frame struct {
	relief *relief
	kids   []kid
	at     int
}

// A kid is one way of a decision and what is still possible behind it.
type kid struct {
	way         int
	s           state
	first, then int64 // less is better
}

// A question is a choice put to Model.Refused. What that takes is done piece by
// piece before it is asked.
type question struct {
	accept []string
	whole  bool
	then   func(refused bool)
}

// The work of a piece, in nodes.
const (
	workLeaf  = 16
	workState = 1500 // a state of the amp made
	workAsk   = 500  // a whole choice judged
	workDate  = 5000 // its date played through
)

func newHunt(b *board, g goal) *hunt {
	h := huntFor(b, g)
	h.start()
	return h
}

func huntFor(b *board, g goal) *hunt {
	h := &hunt{b: b, g: g, ceiling: g.over(b.m.Limits), way: make([]int, len(b.spots)), reliefs: map[string]*relief{}}
	for i := range h.way {
		h.way[i] = -1
	}
	return h
}

// start opens the first decision.
func (h *hunt) start() {
	r := newRelief(h.b, h.b.floor, h.g.bars(h.b.m.Limits))
	switch {
	case r.nothing:
	case h.b.moving == 0:
		h.settled(func(r *relief) {
			if !r.nothing {
				h.enter(r, r.begin())
			}
		})
	default:
		h.expand(r, r.begin())
	}
}

// enter goes on from a state under its own relief.
func (h *hunt) enter(r *relief, s state) {
	if s.depth == len(h.b.order) {
		h.leaf(s)
		return
	}
	h.expand(r, s)
}

// movers are the options taken, of those that change what others cost.
func (h *hunt) movers() []string {
	var moving []string
	for _, dec := range h.b.order[:h.b.moving] {
		for _, o := range h.b.spots[dec].ways[h.way[dec]].options {
			if h.b.floor.Shares[o].Moves {
				moving = append(moving, h.b.options[o].ID)
			}
		}
	}
	return moving
}

// settled is the relief of the state that the decisions made put the amp in.
// A new one is asked about first, and then entered.
func (h *hunt) settled(then func(*relief)) {
	moving := h.movers()
	key := strings.Join(moving, "\x00")
	if r, ok := h.reliefs[key]; ok {
		then(r)
		return
	}
	h.work += workState
	r := newRelief(h.b, h.b.under(moving, true), h.g.bars(h.b.m.Limits))
	h.reliefs[key] = r
	if r.nothing || len(moving) == 0 || h.b.m.Refused == nil {
		then(r)
		return
	}
	h.ask(question{moving, false, func(refused bool) {
		r.nothing = refused
		then(r)
	}})
}

// ask puts a choice to Refused, once what that takes is done.
func (h *hunt) ask(q question) {
	if h.b.m.Refused == nil {
		q.then(false)
		return
	}
	h.asked = &q
	h.answer()
}

// answer does the next piece, or asks.
func (h *hunt) answer() {
	q := h.asked
	if h.b.m.Ahead != nil && h.b.m.Ahead(q.accept) {
		h.work += workState
		return
	}
	h.work += workAsk
	h.asked = nil
	q.then(h.b.m.Refused(q.accept, q.whole) != "")
}

// again puts the decisions made so far under another relief.
func (h *hunt) again(r *relief, depth int) (state, bool) {
	s := r.begin()
	for _, dec := range h.b.order[:depth] {
		if r.barred[dec][h.way[dec]] {
			return s, false
		}
		s = r.with(s, h.way[dec])
	}
	return s, true
}

// over reports whether all has been gone through.
func (h *hunt) over() bool { return len(h.frames) == 0 && h.asked == nil }

// step goes on until so much work is done.
func (h *hunt) step(work int) {
	for until := h.work + work; h.work < until && !h.over(); {
		h.next()
	}
}

// next takes the next way of the decision in hand.
func (h *hunt) next() {
	if h.asked != nil {
		h.answer()
		return
	}
	top := len(h.frames) - 1
	f := &h.frames[top]
	dec := h.b.order[top]
	if f.at == len(f.kids) {
		h.way[dec] = -1
		h.frames = h.frames[:top]
		return
	}
	k := f.kids[f.at]
	f.at++
	h.work++
	h.way[dec] = -1
	if !h.b.meets(dec, k.way, h.way) {
		return
	}
	h.way[dec] = k.way
	if h.shut(f.relief, k.s) {
		return
	}
	h.deeper(f.relief, k.s)
}

// deeper goes on behind a way that was taken.
func (h *hunt) deeper(r *relief, s state) {
	if s.depth != h.b.moving {
		h.enter(r, s)
		return
	}
	h.settled(func(r *relief) {
		if r.nothing {
			return
		}
		if s, ok := h.again(r, s.depth); ok && !h.shut(r, s) {
			h.enter(r, s)
		}
	})
}

// shut reports whether nothing behind a state can be kept.
func (h *hunt) shut(r *relief, s state) bool {
	if r.least(s, h.g.more) > h.ceiling {
		return true
	}
	if h.front != nil {
		return h.front.shut(r, s)
	}
	if len(h.kept) < h.g.keep {
		return false
	}
	last := h.kept[len(h.kept)-1]
	switch h.g.against(r, s, last, h.ceiling) {
	case open:
		return false
	case even:
		return slices.Compare(h.b.earliest(h.way), h.b.ranks(last.Accept)) >= 0
	}
	return true
}

// expand lists the ways of the next decision, the most promising first.
func (h *hunt) expand(r *relief, s state) {
	dec := h.b.order[s.depth]
	f := frame{relief: r}
	for w := range h.b.spots[dec].ways {
		if r.barred[dec][w] {
			continue
		}
		k := kid{way: w, s: r.with(s, w)}
		h.promise(r, &k)
		f.kids = append(f.kids, k)
	}
	sorted.By(f.kids, func(a, b kid) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.then, b.then), cmp.Compare(h.early(dec, a.way), h.early(dec, b.way)))
	})
	h.frames = append(h.frames, f)
}

// promise ranks a way by what its bound leaves possible.
func (h *hunt) promise(r *relief, k *kid) {
	if h.front != nil {
		t := k.s.touch
		k.first, k.then = int64(t.Matter)+int64(t.Look)+int64(t.Undo), int64(r.least(k.s, anyValue))
		return
	}
	switch h.g.rank {
	case worth, later:
		reach := r.reach(k.s, h.ceiling)
		k.first, k.then = int64(-reach), int64(r.least(k.s, reach))
		if h.g.rank == later {
			k.first, k.then = int64(r.wait(k.s)), k.first
		}
	case soonest:
		k.first, k.then = int64(r.wait(k.s)), int64(r.least(k.s, h.g.more))
	default:
		k.first = int64(r.least(k.s, h.g.more))
	}
}

// early puts the way first whose IDs come first; to take nothing comes last.
func (h *hunt) early(dec, w int) int {
	if o := h.b.spots[dec].ways[w].options; len(o) > 0 {
		return h.b.rank[o[0]]
	}
	return len(h.b.options)
}

// leaf prices a whole choice and keeps it if it is among the first.
func (h *hunt) leaf(at state) {
	h.work += workLeaf
	if h.front != nil {
		h.front.leaf(at.touch)
		return
	}
	s, ok := h.stand()
	if !ok || !h.g.takes(s) || h.full(s) {
		return
	}
	h.ask(question{s.Accept, true, func(refused bool) {
		if !refused {
			h.keep(s)
		}
	}})
}

// keep puts a choice among those kept.
func (h *hunt) keep(s Standing) {
	k, _ := slices.BinarySearchFunc(h.kept, s, h.g.by)
	h.kept = slices.Insert(h.kept, k, s)
	h.kept = h.kept[:min(len(h.kept), h.g.keep)]
}

// full reports whether as many choices are kept as asked for, none of which
// comes after s.
func (h *hunt) full(s Standing) bool {
	return len(h.kept) == h.g.keep && h.g.by(h.kept[len(h.kept)-1], s) <= 0
}

// priced prices the choice in hand.
func (h *hunt) priced() (Standing, bool) {
	accept := h.b.accept(h.way)
	value := 0
	for i, s := range h.b.spots {
		value += s.ways[h.way[i]].value
	}
	s, err := h.b.m.held(choice{accept, value})
	if err != nil {
		h.blame(err)
	}
	return s, err == nil
}

// stand prices the choice in hand. Its date is asked for last, and only where
// some day would make it one to keep.
func (h *hunt) stand() (Standing, bool) {
	s, ok := h.priced()
	m := h.b.m
	if !ok || m.Ready == nil {
		return s, ok
	}
	ideal := s
	ideal.FitsDate, ideal.ReadyDays, ideal.NoLead = true, 0, nil
	if h.g.takes(ideal) && !h.full(ideal) {
		h.work += workDate
		m.dated(&s)
	}
	return s, true
}

// blame notes why a choice cannot be priced, once for each reason.
func (h *hunt) blame(err error) {
	if !slices.Contains(h.unread, err.Error()) {
		h.unread = append(h.unread, err.Error())
	}
}

// most is a value that nothing not yet gone through gets above, and that no
// choice kept does either.
func (h *hunt) most() int {
	most := anyValue
	for _, s := range h.kept {
		most = max(most, s.Value)
	}
	for _, f := range h.frames {
		for _, k := range f.kids[f.at:] {
			most = max(most, f.relief.reach(k.s, h.ceiling))
		}
	}
	return most
}
