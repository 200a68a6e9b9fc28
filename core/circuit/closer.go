package circuit

import (
	"math"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// Where volts and current together may take watts down by so much more than
// the watts' own slope, a corner found by that slope is no low end.
const mostCancel = 1.3

// nearGrain is what another explanation's ripple may be off by.
const nearGrain = 3e-4

// ends bounds the figure, and leaves room for a ripple that was held.
func (p *prospect) ends(r *reach, f Figure, q, k float64, closer bool, low, high float64) error {
	err := p.bounded(r, f, q, k, closer, low, high)
	if p.near {
		r.low, r.high = spreadBy(r.low, r.high, nearGrain)
	}
	if q >= 0 && neverBelow(f) {
		r.low = max(r.low, 0)
	}
	return err
}

// neverBelow reports a figure that is nothing at least: all but volts to a
// cathode.
func neverBelow(f Figure) bool {
	return f.Quantity != limit.PlateVolts && f.Quantity != limit.ScreenVolts
}

// bounded bounds the figure: cautiously, and by a solved corner where the
// cautious bound is not inside what is needed or says nothing.
func (p *prospect) bounded(r *reach, f Figure, q, k float64, closer bool, low, high float64) error {
	w := r.carry
	if few, ok, err := p.fewNew(r, f, k); ok || err != nil {
		r.low, r.high = spreadBy(few.Low, few.High, w+nearGrain) // its corners hold the ripple
		return err
	}
	l, h, ok := logLinear(q, p.slack(r))
	if r.fall != nil {
		falling, _, _ := logLinear(q, r.fall)
		l = min(l, falling)
	}
	r.low, r.high = spreadBy(l, h, w)
	if ds, _, _ := p.split(r); len(ds) == 0 {
		return nil // nothing that a corner could take to its end
	}
	if !closer {
		low, high = math.Inf(-1), math.Inf(1)
	}
	fallen := ok && l <= 0 && q > 0 && p.a.fresh[f.Ref] // of a new tube more than zero is worth a corner
	wide := sumAbs(r.parts) > math.Abs(q)               // cautious beyond use
	for _, up := range []bool{false, true} {
		inside := up && r.high <= high || !up && r.low >= low && !fallen
		if inside && (!wide || p.rippled(f, q/k)) {
			continue
		}
		want := high / (1 + w)
		if !up {
			want = low / (1 - w)
		}
		end, firm, err := p.cornerEnd(r, f, up, q, k, want)
		if err != nil {
			return err
		}
		switch {
		case !firm && ok, !up && sumAbs(r.fall) > mostCancel*sumAbs(r.parts): // the cautious bound stands
		case !firm && up:
			_, r.high = spreadBy(q, max(h, end*(1+boundMore)), w)
		case !firm:
			r.low, _ = spreadBy(min(l, 0), q, w)
		case up:
			_, r.high = spreadBy(q, end, w)
		default:
			r.low, _ = spreadBy(end, q, w)
		}
	}
	return nil
}

// notCarried is how much further the causes of a figure that no reading
// carries over are taken than their slopes say. Slopes hold the ripple and
// what two supplies on one primary do to each other; a solved corner of a
// four-tube stage lay a third further out than they said.
const notCarried = 1.35

// slack is how far each cause moves a figure, for the cautious bound.
func (p *prospect) slack(r *reach) []float64 {
	if r.basis == Anchored {
		return r.parts
	}
	out := make([]float64, len(r.parts))
	for i, v := range r.parts {
		out[i] = notCarried * v
	}
	return out
}

// fewNew solves every corner of what is new, where that is one part or two
// and the figure is carried over from a reading: the solutions serve every
// figure of the state.
func (p *prospect) fewNew(r *reach, f Figure, k float64) (unit.Interval, bool, error) {
	ds, slope, rest := p.split(r)
	if r.basis != Anchored || len(ds) == 0 || len(ds) > 2 {
		return unit.Interval{}, false, nil
	}
	q, _ := p.figure(f)
	room := cornerRoom(q*k, slope, true) * (1 + cornerNear/cornerMore)
	out := unit.Interval{Low: beyond(q*k, rest, 0, false), High: beyond(q*k, rest, 0, true)}
	for n := range 1 << len(ds) {
		signs := make([]int8, len(ds))
		for i := range signs {
			signs[i] = int8(n>>i&1)*2 - 1
		}
		_, v, err := p.cornerAt(f, ds, signs, true)
		if err != nil {
			return out, false, err
		}
		out.Low = min(out.Low, beyond(v*k, rest, room, false))
		out.High = max(out.High, beyond(v*k, rest, room, true))
	}
	return out, true, nil
}

// cornerEnd is one end by a solved corner, before it is carried over: with the
// ripple held where the room that this needs still leaves the end inside
// want, else in full. An end that is not firm has the whole allowance beside
// it.
func (p *prospect) cornerEnd(r *reach, f Figure, up bool, q, k, want float64) (float64, bool, error) {
	ds, slope, rest := p.split(r)
	v, signs, firm, err := p.search(f, up, ds, slope)
	if err != nil {
		return 0, false, err
	}
	room := cornerRoom(q, slope, firm)
	near := room + cornerNear/cornerMore*room
	if len(loaded(ds, signs)) > 1 {
		near += cornerNear / cornerMore * room
	}
	if end := beyond(v*k, rest, near, up); !p.rippled(f, q/k) && (up && end <= want || !up && end >= want) {
		return end, firm, nil
	}
	_, v, err = p.settled(f, up, ds, signs, q/k)
	return beyond(v*k, rest, room, up), firm, err
}

func sumAbs(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += math.Abs(x)
	}
	return sum
}

// split parts what a corner takes to its end from what is reckoned in
// proportion: of an anchored figure only what is new is taken to its end, and
// what the ripple may do is never solved.
func (p *prospect) split(r *reach) (ds []direction, slope, rest []float64) {
	g := &p.sides[0]
	if r.basis == Anchored {
		g = &p.sides[1]
	}
	if g.all == 0 {
		p.side(g, r.basis == Anchored)
	}
	slope, rest = make([]float64, len(g.taken)), make([]float64, len(g.left))
	for i, k := range g.taken {
		slope[i] = r.parts[k]
	}
	for i, k := range g.left {
		rest[i] = r.parts[k]
	}
	return g.ds, slope, rest
}

// A side is which directions a corner takes to their ends and which it leaves.
type side struct {
	ds          []direction
	taken, left []int
	all         int
}

func (p *prospect) side(g *side, anchored bool) {
	g.all = len(p.ds)
	for i := range p.ds {
		if p.ds[i].fresh || !anchored && !p.ds[i].ripple {
			g.ds, g.taken = append(g.ds, p.ds[i]), append(g.taken, i)
		} else {
			g.left = append(g.left, i)
		}
	}
}

// beyond adds to a solved corner what it does not take to its end, and the
// room left beyond it.
func beyond(v float64, rest []float64, room float64, up bool) float64 {
	l, h, ok := logLinear(v, rest)
	if !ok {
		sum := 0.0
		for _, x := range rest {
			sum += math.Abs(x)
		}
		l, h = v-sum, v+sum
	}
	if up {
		return h + math.Abs(h)*room
	}
	return l - math.Abs(l)*room
}
