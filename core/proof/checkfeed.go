package proof

import (
	"errors"
	"fmt"
	"math"
)

// A pulse is one leg of a feed with its numbers: peak volts that drive it,
// ohms in series, the drop of silicon, the perveance of vacuum.
type pulse struct{ peak, ohms, vf, pv float64 }

// feed holds the mean current of a supply port against its legs: what they
// bring at the port's mean volts, less what the ripple shifts them by. That
// shift is stated, and may not be more than a fiftieth of the volts.
func (z *solved) feed(e *Element, amps span, k int) error {
	if k >= len(z.s.Ripple) {
		return errors.New("its ripple is not stated")
	}
	ripple, half, err := number(z.s.Ripple[k])
	if err != nil {
		return err
	}
	v := z.drop(e.Nodes[1], e.Nodes[0]).mid()
	if math.Abs(ripple.mid()) > 0.02*math.Abs(v)+0.2 {
		return fmt.Errorf("ripple shifts it by %s V of %g V", z.s.Ripple[k], v)
	}
	most, least := 0.0, 0.0
	for i := range e.Legs {
		p, on, err := z.pulse(&e.Legs[i])
		if err != nil {
			return err
		}
		if on {
			most += p.mean(v - ripple.mid() - half*(1+1e-6))
			least += p.mean(v - ripple.mid() + half*(1+1e-6))
		}
	}
	if !(amps.lo <= most*(1+1e-12)+1e-15) || !(amps.hi >= least*(1-1e-12)-1e-15) {
		return fmt.Errorf("read %s A, got %g to %g A", amps, least, most)
	}
	return nil
}

// mains is the peak volts of the core without rectified current, in volts of
// the primary, and the ohms by which it sags.
func (z *solved) mains() (peak, back float64, err error) {
	ref := ""
	for _, k := range z.c.Knobs {
		if k.Property == HeaterLoad {
			ref = k.Ref
		}
	}
	volts, _, err1 := number(z.s.Mains)
	nominal, _, err2 := number(z.c.Nominal)
	ratio, _, err3 := number(z.s.Ratio)
	if err := errors.Join(err1, err2, err3); err != nil || !(nominal.lo > 0) {
		return 0, 0, fmt.Errorf("mains: %w", errors.Join(err, errors.New("volts, nominal volts and tap ratio are wanted")))
	}
	rs, turns := z.of(ref, Windings).mid(), ratio.mid()/nominal.mid()
	gain := 1 / (1 + z.of(ref, HeaterLoad).mid()*turns*turns*rs)
	return math.Sqrt2 * volts.mid() * gain, rs * gain, nil
}

// pulse reads one leg; on is false where nothing in it conducts.
func (z *solved) pulse(l *Leg) (p pulse, on bool, err error) {
	peak, back, err := z.mains()
	if err != nil {
		return p, false, err
	}
	nominal, _, _ := number(z.c.Nominal)
	ratio, _, _ := number(z.s.Ratio)
	n := 0.0
	for _, c := range l.Coils {
		share, _, err := number(c.Share)
		if err != nil {
			return p, false, err
		}
		n += share.mid() * z.of(c.Ref, Turns).mid() / nominal.mid() * ratio.mid()
		p.ohms += math.Abs(share.mid()) * z.of(c.Ref, Windings).mid()
	}
	on = true
	for _, ref := range l.Series {
		if z.off(ref) {
			on = false
		} else if ohms := z.of(ref, Ohms).mid(); ohms > 1e-3 {
			p.ohms += ohms
		} else {
			p.ohms += 1e-3
		}
	}
	on = z.drops(l, &p) && on
	p.peak, p.ohms = peak*math.Abs(n), max(p.ohms, 0.02)+n*n*back
	if math.IsNaN(p.peak + p.ohms + p.vf + p.pv) {
		return p, on, errors.New("a coil, resistor or rectifier of its legs has no value")
	}
	return p, on, nil
}

// drops adds what the rectifiers of a leg take: of those in parallel silicon
// carries all, and vacuum adds up.
func (z *solved) drops(l *Leg, p *pulse) (on bool) {
	slow := 0.0
	on = true
	for _, group := range l.Drops {
		pv, vf, silicon, any := 0.0, math.Inf(1), false, false
		for _, ref := range group {
			law := z.rectifier(ref)
			switch v, ok := law["pv"]; {
			case z.off(ref):
			case ok:
				pv, any = pv+v.mid()*z.of(ref, Conduct).mid(), true
			default:
				vf, silicon, any = min(vf, law["vf"].mid()), true, true
			}
		}
		if silicon {
			p.vf += vf
		} else if pv > 0 {
			slow += math.Pow(pv, -2.0/3)
		}
		on = on && any
	}
	if slow > 0 {
		p.pv = math.Pow(slow, -1.5)
	}
	return on
}

// mean is the mean current at steady volts v: Simpson's rule over the angle
// for which the leg conducts, 200 steps.
func (p pulse) mean(v float64) float64 {
	c := (v + p.vf) / p.peak
	if !(c < 1) {
		return 0
	}
	phi := math.Acos(max(c, -1))
	const steps = 200
	sum := 0.0
	for i := 0; i <= steps; i++ {
		w := 2 + 2*float64(i%2)
		if i == 0 || i == steps {
			w = 1
		}
		sum += w * p.amps(p.peak*math.Cos(phi*float64(i)/steps)-v-p.vf)
	}
	return sum * phi / (3 * steps * math.Pi)
}

// amps is the current at u volts past the drop of silicon.
func (p pulse) amps(u float64) float64 {
	switch {
	case u <= 0:
		return 0
	case p.pv == 0:
		return u / p.ohms
	}
	// x = √v: x² + ohms·pv·x³ = u, by Newton from above
	x := math.Sqrt(u)
	for range 60 {
		x -= (x*x + p.ohms*p.pv*x*x*x - u) / (2*x + 3*p.ohms*p.pv*x*x)
	}
	return p.pv * x * x * x
}
