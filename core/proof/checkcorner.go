package proof

import (
	"errors"
	"fmt"
)

// corner is the figure of the verdict in one solved state.
func (w *working) corner(s *Step) (held, error) {
	z, ok := w.states[s.State]
	if !ok {
		return held{}, fmt.Errorf("no state %q", s.State)
	}
	if z.s.Mains != w.mains {
		return held{}, fmt.Errorf("judged at mains %s, read %s", w.mains, z.s.Mains)
	}
	v, err := z.figure(w.subject, w.quantity)
	return held{v: v}, err
}

// figure works a figure of one position from the volts of its nodes.
func (z *solved) figure(ref, quantity string) (span, error) {
	for i := range z.c.Elements {
		e := &z.c.Elements[i]
		if e.Ref != ref {
			continue
		}
		if f, ok := z.figures(e)[quantity]; ok && f.known() {
			return f, nil
		}
	}
	return span{}, fmt.Errorf("the state gives no %s of %s", quantity, ref)
}

// figures are those a certificate may state of one element.
func (z *solved) figures(e *Element) map[string]span {
	last := e.Nodes[len(e.Nodes)-1]
	v := z.drop(e.Nodes[0], last)
	switch e.Kind {
	case TriodeTube:
		return map[string]span{"plate volts": v, "plate watts": v.times(z.amps[e.Ref+" plate"]), "cathode current": z.amps[e.Ref+" cathode"]}
	case ScreenTube:
		s := z.drop(e.Nodes[1], last)
		p, q := v.times(z.amps[e.Ref+" plate"]), s.times(z.amps[e.Ref+" screen"])
		return map[string]span{"plate volts": v, "screen volts": s, "plate watts": p, "screen watts": q,
			"plate and screen watts": p.plus(q), "cathode current": z.amps[e.Ref+" cathode"]}
	case Resistor, Copper:
		return map[string]span{"dc volts": v.abs(), "watts": v.times(z.amps[e.Ref])}
	case Capacitor:
		return map[string]span{"dc volts": v.abs()}
	}
	return nil
}

// rounding is how far a corner may pass its band, in parts of it: what
// writing its knobs with eight figures moves it.
const rounding = 1e-6

// end is one end of a band: the corner, what carries a bench reading over,
// what the corner leaves out, and what it is spread by; outward with sign.
func (w *working) end(a []held, sign float64) held {
	out := exact(sign)
	e := a[0].v.times(a[1].v).plus(out.times(a[2].v))
	return held{v: e.plus(out.times(e.abs()).times(a[3].v))}
}

// corners holds the band that is stated against its two ends: it must hold
// them, and is what the verdict rests on.
func (w *working) corners(s *Step, a []held) (held, error) {
	if len(a) != 2 && len(a) != 3 || s.From[0].Rule != LowerEnd || s.From[1].Rule != UpperEnd {
		return held{}, errors.New("made from other than a lower and an upper end")
	}
	l, _, err1 := number(s.Low)
	h, _, err2 := number(s.High)
	if err := errors.Join(err1, err2); err != nil {
		return held{}, err
	}
	low, high := a[0].v, a[1].v
	if room := rounding * (low.abs().hi + high.abs().hi); l.lo > low.hi+room || h.hi < high.lo-room {
		return held{}, fmt.Errorf("read %s to %s, and its corners stand at %s and %s", s.Low, s.High, low, high)
	}
	w.tier = 1
	r := held{low: l, high: h, was: h, band: true}
	if len(a) == 3 {
		r.was = a[2].v
	}
	return r, nil
}
