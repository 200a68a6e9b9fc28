package order

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/sorted"
)

// A Front is the choice between what an order costs and something else it is
// wanted for: fewer parcels and an earlier arrival, or more originality. Each
// point is the cheapest order of a market under a limit, so no order is both
// cheaper and better; points come one by one, the cheapest of all first.
//
// Method: the constraint method. The market is solved without a limit, then
// again with a limit just past what the last answer reached.
type Front struct {
	base   *Search // its reduction serves every point with the same offers
	now    *Search
	lim    Limits // of the point being worked on
	steps  int    // spent on it
	points []Answer
	open   bool // something was given up unproven
	done   bool
	next   func(*Front, Answer)
	better func(a, b *Answer) bool

	// Parcels and arrival.
	latest int // of the answers under the present arrival limit
	stated int // longest lead that is stated
	// Originality.
	gaps []gap
	most int
	top  int // the most all needs could score
}

// gap is levels of score nothing is known of yet: from low to high, between
// orders of these costs.
type gap struct {
	low, high     int
	below, beyond int64 // cost just below and just beyond
}

// patient is how many steps a point may take before it is given with the gap
// it then has.
const patient = 400

// scorePoints is how many points of cost and originality are sought at first.
const scorePoints = 16

// NewParcelFront sets up the choice between cost, parcels and arrival. Points
// come with ever fewer parcels, then with ever shorter leads; no level is
// skipped: as long as every answer under one arrival limit arrives by another,
// the other's answers are the same.
func NewParcelFront(m Market) (*Front, error) {
	f := &Front{next: (*Front).nextParcels, better: fewerSooner, latest: -1}
	for i := range m.Packs {
		f.stated = max(f.stated, m.Packs[i].Days)
	}
	return f, f.start(m, Limits{})
}

// NewScoreFront sets up the choice between cost and originality: the cheapest
// order, the most original one, then those between, the widest gap first. It
// stops at sixteen points; Finer goes on.
func NewScoreFront(m Market) (*Front, error) {
	f := &Front{next: (*Front).nextScore, better: moreOriginal, most: scorePoints}
	for i := range m.Wants {
		best := 0
		for _, x := range m.Wants[i].Fits {
			best = max(best, x.Score)
		}
		f.top += best
	}
	f.gaps = []gap{{0, f.top, 0, Never}}
	return f, f.start(m, Limits{})
}

func (f *Front) start(m Market, lim Limits) error {
	s, err := NewSearch(m, lim)
	f.base, f.now, f.lim = s, s, lim
	return err
}

// Step does a small amount of work and reports whether the front is done.
func (f *Front) Step() bool {
	if f.done {
		return true
	}
	f.steps++
	if !f.now.Step() && f.steps < patient {
		return false
	}
	a := f.now.Answer()
	f.open = f.open || !a.Proven
	if a.Feasible {
		f.points = append(f.points, a)
	}
	f.next(f, a)
	return f.done
}

// Whole reports whether the front is done and nothing is left out: every
// point is proven and no level between two was skipped.
func (f *Front) Whole() bool { return f.done && !f.open && len(f.gaps) == 0 }

// Finer lets a front that stopped at its number of points go on for as many
// more.
func (f *Front) Finer() {
	f.most += scorePoints
	if f.done && len(f.gaps) > 0 {
		f.done = false
		f.widest()
	}
}

// Why says why there is no order at all.
func (f *Front) Why() string { return f.base.Answer().Why }

// Points returns the points known so far that no other one is better than,
// cheapest first. One that is not proven carries its true lower bound.
func (f *Front) Points() []Answer {
	var kept []Answer
	cheap := slices.Clone(f.points)
	sorted.By(cheap, func(a, b Answer) int { return cmp.Compare(a.Cost, b.Cost) })
	for i := range cheap {
		if !slices.ContainsFunc(cheap, func(o Answer) bool { return f.beaten(&cheap[i], &o) }) &&
			!slices.ContainsFunc(kept, func(o Answer) bool { return f.better(&o, &cheap[i]) }) {
			kept = append(kept, cheap[i])
		}
	}
	return kept
}

// beaten reports whether another point is no worse and somewhere better.
func (f *Front) beaten(a, by *Answer) bool {
	return by.Cost <= a.Cost && f.better(by, a) && !(by.Cost == a.Cost && f.better(a, by))
}

// arrival is the longest lead of an answer for comparing: one that is not
// stated is later than any.
func (a *Answer) arrival() int {
	if a.Days < 0 {
		return math.MaxInt
	}
	return a.Days
}

func fewerSooner(a, b *Answer) bool { return a.Parcels <= b.Parcels && a.arrival() <= b.arrival() }

func moreOriginal(a, b *Answer) bool { return a.Score >= b.Score }

// again works on the next point.
func (f *Front) again(lim Limits, atLeast int64) {
	s, err := f.base.Again(lim)
	if err != nil { // the market was fit for a search without the limit
		f.done, f.open = true, true
		return
	}
	s.atLeast(atLeast)
	f.now, f.lim, f.steps = s, lim, 0
}

// nextParcels asks for one parcel fewer, or for an earlier arrival where no
// fewer parcels will do.
func (f *Front) nextParcels(a Answer) {
	lim := f.lim
	if a.Feasible {
		f.latest = max(f.latest, a.arrival())
		if lim.Parcels = a.Parcels - 1; lim.Parcels > 0 {
			f.again(lim, a.Lower)
			return
		}
	}
	if f.latest <= 0 { // nothing at all, or everything from the shelf
		f.done = true
		return
	}
	lim = Limits{HasDays: true, Days: min(f.latest-1, f.stated)}
	f.latest = -1
	f.again(lim, 0)
}

// nextScore cuts the gap the answer lies in and asks for the middle of the
// widest one left.
func (f *Front) nextScore(a Answer) {
	at := slices.IndexFunc(f.gaps, func(g gap) bool { return g.low <= f.lim.Score && f.lim.Score <= g.high })
	if at >= 0 {
		g := f.gaps[at]
		low, high := gap{g.low, f.lim.Score - 1, g.below, Never}, gap{a.Score + 1, g.high, a.Lower, g.beyond}
		if a.Feasible {
			low.beyond = a.Cost
		} else {
			high.high = -1
		}
		f.gaps = slices.Delete(f.gaps, at, at+1)
		for _, x := range []gap{low, high} {
			if x.low <= x.high && x.below != x.beyond {
				f.gaps = append(f.gaps, x)
			}
		}
	}
	f.widest()
}

// widest asks for the middle of the widest gap, for its far end where nothing
// is known beyond.
func (f *Front) widest() {
	if len(f.gaps) == 0 || len(f.points) >= f.most {
		f.done = true
		return
	}
	g := slices.MaxFunc(f.gaps, func(a, b gap) int { return cmp.Compare(a.high-a.low, b.high-b.low) })
	at := (g.low + g.high + 1) / 2
	if g.high == f.top {
		at = g.high
	}
	f.again(Limits{Score: at}, g.below)
}
