package proof

import (
	"errors"
	"fmt"
)

// A held is what the checker gets for one step: a figure with its relative
// error, or a band.
type held struct {
	v, e  span // figure and error
	low   span // band
	high  span
	was   span // upper end without what a choice changed
	less  span // ratio: what a lowered tap takes off, 1 if none was
	up    span // factor: new ohms over old
	band  bool
	blind bool // rests on a reading without a stated error, or carried too far
}

// A working is one verdict's chain being worked.
type working struct {
	mains, tap, found string             // tap in use, and as found
	facts             map[string]string  // of the whole certificate: what and where → value
	states            map[string]*solved // of its circuits, by name

	subject, quantity, scenario string
	tier                        int // 1 once a figure came from states of a circuit
}

// A rule works one step from those below it.
type rule struct {
	least, most int // how many
	work        func(a []held) held
}

var rules = map[string]rule{
	ToCathode:       {2, 2, func(a []held) held { return difference(a[0], a[1]) }},
	CathodeCurrent:  {3, 3, func(a []held) held { r := quotient(a[0], a[1]); r.v = r.v.over(a[2].v); return r }},
	PlateWatts:      {3, 3, func(a []held) held { return product(a[0], difference(a[1], a[2])) }},
	ScreenWatts:     {2, 2, func(a []held) held { return product(a[0], a[1]) }},
	ResistorWatts:   {2, 2, func(a []held) held { return product(a[0], quotient(a[0], a[1])) }},
	Factor:          {4, 4, factor},
	VoltsFollow:     {2, 2, func(a []held) held { return far(a[1], follow(a[0], a[1], exact(1), 2, 2)) }},
	SwitchOn:        {2, 2, func(a []held) held { return far(a[1], follow(a[0], a[1], exact(1), 2, 2)) }},
	Peak:            {2, 3, peak},
	CouplerVolts:    {3, 3, coupler},
	CurrentFollows:  {2, 2, func(a []held) held { return far(a[1], follow(a[0], a[1], exact(1), 2, 3)) }},
	WattsFollow:     {2, 2, func(a []held) held { return far(a[1], follow(a[0], a[1], exact(1), 4, 5)) }},
	ResistorFollows: {2, 2, func(a []held) held { return far(a[1], follow(a[0], a[1], exact(1), 4, 6)) }},
	TubeChanged:     {2, 2, func(a []held) held { return changed(a[0], a[1], 1, false) }},
	VoltsChanged:    {2, 2, func(a []held) held { return changed(a[0], a[1], 1, true) }},
	ResistorChanged: {2, 2, func(a []held) held { return changed(a[0], a[1], 2, true) }},
	Recovers:        {5, 5, recovers},
	Both:            {2, 2, both},
	Greatest:        {2, 2, func(a []held) held { return same(a[0].v.times(exact(1).plus(a[1].v.over(exact(100))))) }},
	SideBySide: {2, 2, func(a []held) held {
		r := same(a[0].low)
		r.high = r.high.times(a[1].v)
		r.was, r.blind = r.high, true
		return r
	}},
}

// The mains and the tap differ from verdict to verdict; they are held against
// what the verdict and the head say.
const (
	judgedAt   = "mains judged at"
	tapInUse   = "tap in use"
	tapAsFound = "tap as found"
)

// step works a step and everything below it, and holds what is stated at each
// against what it gets.
func (w *working) step(s *Step) (held, error) {
	if s.Rule == "" {
		return w.fact(s)
	}
	if s.Error != "" || s.Where != "" {
		return held{}, fmt.Errorf("%s: only a fact has a place and a meter error", s.Rule)
	}
	a := make([]held, len(s.From))
	for i := range s.From {
		var err error
		if a[i], err = w.step(&s.From[i]); err != nil {
			return held{}, err
		}
	}
	r, err := w.apply(s, a)
	if err != nil {
		return held{}, fmt.Errorf("%s, %s: %w", s.Rule, s.What, err)
	}
	if err := r.stated(s); err != nil {
		return held{}, fmt.Errorf("%s, %s: %w", s.Rule, s.What, err)
	}
	return r, nil
}

func (w *working) apply(s *Step, a []held) (held, error) {
	switch s.Rule {
	case Ratio:
		return w.ratio(s, a)
	case Corner:
		return w.corner(s)
	case LowerEnd, UpperEnd:
		if len(a) != 4 || s.From[0].Rule != Corner || a[3].v.mid() < 0 {
			return held{}, errors.New("made from other than a corner and what carries and widens it")
		}
		return w.end(a, map[string]float64{LowerEnd: -1, UpperEnd: 1}[s.Rule]), nil
	case Corners:
		return w.corners(s, a)
	}
	r, ok := rules[s.Rule]
	if !ok {
		return held{}, errors.New("no such rule")
	}
	if len(a) < r.least || len(a) > r.most {
		return held{}, fmt.Errorf("made from %d, wants %d", len(a), r.least)
	}
	return r.work(a), nil
}

// stated holds what a step states against what was got.
func (h *held) stated(s *Step) error {
	if h.band != (s.High != "") || h.band == (s.Value != "") {
		return errors.New("a figure has a value, a band an upper end")
	}
	for _, x := range []struct {
		text string
		got  span
	}{{s.Value, h.v}, {s.Low, h.low}, {s.High, h.high}} {
		if x.text == "" {
			continue
		}
		if err := states(x.text, x.got); err != nil {
			return err
		}
	}
	return nil
}

func (w *working) fact(s *Step) (held, error) {
	v, _, err := number(s.Value)
	if err != nil || len(s.From) > 0 || s.Low != "" || s.High != "" {
		return held{}, fmt.Errorf("fact %s: %w", s.What, errors.Join(err, errors.New("a fact is one number")))
	}
	if s.Where == "" && s.What != tapInUse && s.What != tapAsFound {
		return held{}, fmt.Errorf("fact %s: where it stands is not said", s.What)
	}
	key := s.What + "\x00" + s.Where + "\x00" + s.Unit
	if was, ok := w.facts[key]; ok && was != s.Value && s.What != judgedAt && s.What != tapInUse {
		return held{}, fmt.Errorf("fact %s (%s): read %s, and %s elsewhere", s.What, s.Where, s.Value, was)
	}
	w.facts[key] = s.Value
	h := held{v: v, low: v, high: v, was: v, less: exact(1), up: exact(1)}
	h.blind = s.Error == ""
	if !h.blind {
		if h.e, _, err = number(s.Error); err != nil || h.e.hi < 0 {
			return held{}, fmt.Errorf("fact %s: meter error: %q", s.What, s.Error)
		}
	}
	return h, nil
}

// ratio carries a reading to the mains of the verdict, on its tap.
func (w *working) ratio(s *Step, a []held) (held, error) {
	if len(a) != 2 && len(a) != 5 {
		return held{}, fmt.Errorf("made from %d, wants 2 or 5", len(a))
	}
	if s.From[0].Value != w.mains {
		return held{}, fmt.Errorf("judged at mains %s, read %s", w.mains, s.From[0].Value)
	}
	r := held{less: exact(1), was: exact(0)}
	if len(a) == 2 {
		r.v = a[0].v.over(a[1].v)
		return r, nil
	}
	if s.From[1].Value != w.tap || s.From[4].Value != w.found {
		return held{}, fmt.Errorf("tap in use %s, as found %s, read %s and %s", w.tap, w.found, s.From[1].Value, s.From[4].Value)
	}
	r.v = a[0].v.over(a[1].v).over(a[2].v.over(a[3].v))
	if a[1].v.hi < a[4].v.lo {
		r.less = a[1].v.over(a[4].v)
	}
	return r, nil
}

func difference(a, b held) held {
	d := held{v: a.v.minus(b.v), blind: a.blind || b.blind}
	d.e = a.v.abs().times(a.e).plus(b.v.abs().times(b.e)).over(d.v.abs())
	return d
}

func product(a, b held) held {
	return held{v: a.v.times(b.v), e: a.e.plus(b.e).plus(a.e.times(b.e)), blind: a.blind || b.blind}
}

func quotient(a, b held) held {
	return held{v: a.v.over(b.v), e: a.e.plus(b.e).over(exact(1).minus(b.e)), blind: a.blind || b.blind}
}

func same(v span) held { return held{low: v, high: v, was: v, band: true} }

// factor has the ends of (1 + g·R0) ÷ (1 + g·R1) over the two ends of g.
func factor(a []held) held {
	f := func(g span) span {
		return exact(1).plus(g.times(a[0].v)).over(exact(1).plus(g.times(a[1].v)))
	}
	p, q := f(a[2].v), f(a[3].v)
	return held{low: least(p, q), high: greatest(p, q), up: a[1].v.over(a[0].v), band: true}
}

// follow carries a figure to another mains by powers of the ratio, in halves.
func follow(f, r held, times span, p, q int) held {
	a, b := times.times(f.v).times(r.v.halves(p)), times.times(f.v).times(r.v.halves(q))
	h := held{band: true, blind: f.blind}
	h.low = least(a, b).times(exact(1).minus(f.e))
	h.high = greatest(a, b).times(exact(1).plus(f.e))
	h.was = h.high.times(r.less.halves(q))
	return h
}

// far marks a loaded reading carried too far to be first order.
func far(r, h held) held {
	h.blind = h.blind || r.v.hi < 0.75 || r.v.lo > 1.3
	return h
}

func peak(a []held) held {
	times := exact(2).root()
	if len(a) == 3 {
		times = times.times(a[2].v)
	}
	return follow(a[0], a[1], times, 2, 2)
}

func coupler(a []held) held {
	b := follow(held{v: a[1].v.abs(), e: a[1].e, blind: a[1].blind}, a[2], exact(1), 2, 2)
	h := held{low: a[0].low.plus(b.low), high: a[0].high.plus(b.high), band: true, blind: a[0].blind || b.blind}
	h.was = h.high.times(a[2].less)
	return h
}

// changed carries a band to another cathode resistor: by the factor on
// current to a power, and where asked by the ratio of ohms.
func changed(b, f held, power int, ohms bool) held {
	up := exact(1)
	if ohms {
		up = f.up
	}
	b.low = b.low.times(f.low.halves(2 * power)).times(up)
	b.high = b.high.times(f.high.halves(2 * power)).times(up)
	return b
}

// recovers raises a band by what the supply gives back under less load.
func recovers(a []held) held {
	b, f, top, loaded, r := a[0], a[1], a[2], a[3], a[4]
	rise := exact(1).minus(f.low).times(top.high.minus(loaded.v.times(r.v)))
	b.high = b.high.plus(greatest(rise, exact(0)))
	b.blind = b.blind || top.blind
	return b
}

func both(a []held) held {
	p, s := a[0], a[1]
	return held{low: p.low.plus(s.low), high: p.high.plus(s.high), was: p.was.plus(s.was), band: true, blind: p.blind || s.blind}
}
