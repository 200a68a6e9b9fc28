package decision

import (
	"cmp"
	"slices"

	"lugworth/core/money"
	"lugworth/core/sorted"
)

// Least are the choices that touch least.
type Least struct {
	// Points are the choices of which none is bettered: another that touches
	// no more of matter, look and undo, costs no more and is ready no later
	// touches as much, costs as much and takes as long. Of those that are alike
	// in all five one stands for all: the one of fewest options, then of the
	// earliest IDs. The least matter comes first.
	Points   []Point
	Proven   bool     // they are all there are
	Unpriced []string // why some choices could not be priced; they are left out
}

// A Point is one choice of the front.
type Point struct {
	Standing
	Touch
}

// UnknownDay stands for the day of a choice with a part of no stated lead: it
// betters nothing.
const UnknownDay = 1 << 30

// Day is the day it is ready, UnknownDay if nothing states it.
func (p Point) Day() int {
	if len(p.NoLead) > 0 && !p.Simulated {
		return UnknownDay
	}
	return p.ReadyDays
}

// scores are what is compared, less being better.
type scores [5]int

func scoresOf(t Touch, total money.Amount, day int) scores {
	return scores{t.Matter, t.Look, t.Undo, int(total), day}
}

func (p Point) scores() scores { return scoresOf(p.Touch, p.Total, p.Day()) }

// within reports whether no score is worse, and whether all are alike.
func (s scores) within(o scores) (no, alike bool) {
	for i := range s {
		if s[i] > o[i] {
			return false, false
		}
	}
	return true, s == o
}

// A Front is the search for all choices that touch least, in steps: musts
// fixed, answers standing, every choice inside ceiling and date, nothing in it
// refused. It goes depth first and leaves out what the least of each score,
// taken apart, shows to be bettered.
type Front struct {
	h      *hunt
	low    map[*relief][]lowest
	points []Point
	most   int
	begun  bool
	done   bool
	cut    bool
}

// lowest is the least that the decisions from a depth on can touch.
type lowest struct {
	Touch
	options int
}

// NewFront begins the search. The errors are those of [NewSeek].
func NewFront(m Model) (*Front, error) {
	b, err := newBoard(m)
	if err != nil {
		return nil, err
	}
	b.line(func(s spot) int { return -min(len(s.ways[0].options), 1) }) // musts first: of the others a no touches least
	f := &Front{low: map[*relief][]lowest{}, most: MostWork}
	f.h = huntFor(b, goal{ceiling: true, date: true, more: anyValue, barred: true})
	f.h.front = f
	return f, nil
}

// Step goes on and reports whether there is more to do.
func (f *Front) Step() bool {
	switch {
	case f.done:
		return false
	case !f.begun && f.h.b.date():
		return true
	case !f.begun:
		f.begun = true
		f.h.start()
	}
	f.h.step(stepWork)
	f.cut = !f.h.over() && f.h.work > f.most
	f.done = f.h.over() || f.cut
	return !f.done
}

// Over reports whether the search is over.
func (f *Front) Over() bool { return f.done }

// Least is what is found so far, all of it once Step has nothing more to do.
func (f *Front) Least() Least {
	points := slices.Clone(f.points)
	sorted.By(points, func(a, b Point) int {
		x, y := a.scores(), b.scores()
		return cmp.Or(slices.Compare(x[:], y[:]), slices.Compare(a.Accept, b.Accept))
	})
	return Least{Points: points, Proven: f.done && !f.cut, Unpriced: f.h.unread}
}

// Least finds all choices that touch least.
func (m Model) Least() (Least, error) {
	f, err := NewFront(m)
	if err != nil {
		return Least{}, err
	}
	for f.Step() {
	}
	return f.Least(), nil
}

// least is the least each score can still come to.
func (f *Front) least(r *relief, s state) (scores, int) {
	low, ok := f.low[r]
	if !ok {
		low = f.lows(r)
		f.low[r] = low
	}
	at := low[s.depth]
	return scoresOf(s.touch.plus(at.Touch), r.least(s, anyValue), r.wait(s)), s.taken + at.options
}

func (f *Front) lows(r *relief) []lowest {
	b := r.b
	out := make([]lowest, len(b.order)+1)
	for depth := len(b.order) - 1; depth >= 0; depth-- {
		dec := b.order[depth]
		var l lowest
		first := true
		for w, t := range b.spots[dec].ways {
			if r.barred[dec][w] {
				continue
			}
			if first {
				l, first = lowest{t.touch, len(t.options)}, false
				continue
			}
			l.Matter, l.Look, l.Undo = min(l.Matter, t.touch.Matter), min(l.Look, t.touch.Look), min(l.Undo, t.touch.Undo)
			l.options = min(l.options, len(t.options))
		}
		out[depth] = lowest{out[depth+1].plus(l.Touch), out[depth+1].options + l.options}
	}
	return out
}

// shut reports whether everything behind a state is bettered by a choice
// already found.
func (f *Front) shut(r *relief, s state) bool {
	best, options := f.least(r, s)
	f.h.work += len(f.points) / 8
	for _, p := range f.points {
		no, alike := p.scores().within(best)
		if no && (!alike || cmp.Or(cmp.Compare(len(p.Accept), options), f.earlier(p)) <= 0) {
			return true
		}
	}
	return false
}

// earlier compares the IDs of a choice with the earliest that can still come.
func (f *Front) earlier(p Point) int {
	return slices.Compare(f.h.b.ranks(p.Accept), f.h.b.earliest(f.h.way))
}

// leaf keeps a whole choice if nothing found betters it.
func (f *Front) leaf(touch Touch) {
	h := f.h
	s, ok := h.priced()
	if !ok || !s.FitsCeiling {
		return
	}
	if h.b.m.Ready != nil {
		h.work += workDate
		h.b.m.dated(&s)
	}
	p := Point{s, touch}
	if !s.FitsDate || f.bettered(p) {
		return
	}
	h.ask(question{s.Accept, true, func(refused bool) {
		if !refused {
			f.keep(p)
		}
	}})
}

// keep takes a choice up in place of those it betters.
func (f *Front) keep(p Point) {
	f.points = append(slices.DeleteFunc(f.points, func(o Point) bool {
		no, _ := p.scores().within(o.scores())
		return no
	}), p)
}

func (f *Front) bettered(p Point) bool {
	for _, o := range f.points {
		no, alike := o.scores().within(p.scores())
		if no && (!alike || cmp.Or(cmp.Compare(len(o.Accept), len(p.Accept)), slices.Compare(o.Accept, p.Accept)) <= 0) {
			return true
		}
	}
	return false
}
