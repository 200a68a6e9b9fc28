package circuit

import "math"

// A Specimen is one amp that agrees with the readings, as found and after a
// choice.
type Specimen struct {
	Net           *Net // of the choice
	Found, Values Values
	Bench         *Solution // as found, at the chart's mains
}

// Sampler draws specimens for a choice: an explanation, every part and every
// reading's error somewhere between its ends, or, with corner, at one of
// them; then the amp is matched anew, so that it reads what the meter read.
// uniform gives numbers from 0 to 1.
func (c *Calibration) Sampler(ch Choice, laws Laws) (func(uniform func() float64, corner bool) (Specimen, error), error) {
	a, err := c.after(ch, laws)
	if err != nil {
		return nil, err
	}
	return func(uniform func() float64, corner bool) (Specimen, error) {
		draw := func() float64 {
			t := 2*uniform() - 1
			if corner {
				t = math.Copysign(1, t)
			}
			return t
		}
		s := &a.specs[min(int(uniform()*float64(len(a.specs))), len(a.specs)-1)]
		found, bench, err := c.redrawn(s.fit, draw)
		if err != nil {
			return Specimen{}, err
		}
		v := append(Values(nil), found...)
		for i, w := range a.net.Knobs {
			if new, _, _, is := a.changed(w, i, ch); is {
				v[i] = new
			}
		}
		for i := range s.ds {
			if s.ds[i].fresh {
				s.ds[i].to(v, draw(), a.net.Knobs)
			}
		}
		return Specimen{Net: a.net, Found: found, Values: v, Bench: bench}, nil
	}, nil
}

// redrawn is another specimen of a fit: its free parts and readings moved,
// its pins matched again.
func (c *Calibration) redrawn(f *fit, draw func() float64) (Values, *Solution, error) {
	base := append(Values(nil), f.values...)
	ts := append([]target(nil), c.targets...)
	for i := range f.directions {
		d := &f.directions[i]
		if d.property != 0 {
			own := direction{moves: d.moves[:1]} // the pins that follow are found anew
			own.to(base, draw(), c.Net.Knobs)
		}
	}
	for _, p := range f.pins {
		ts[p.target].amount += draw() * ts[p.target].err
	}
	m := &matcher{net: c.Net, base: base, state: c.state, pins: f.pins, ts: ts}
	found, err := m.run(make([]float64, len(f.pins)), f.sol)
	return found.values, found.sol, err
}
