package circuit

import "math"

// Twelve points of Gauss and Legendre between 0 and 1.
var gaussAt, gaussWeight = func() (at, weight [12]float64) {
	x := [6]float64{0.1252334085114689, 0.3678314989981802, 0.5873179542866175, 0.7699026741943047, 0.9041172563704749, 0.9815606342467192}
	w := [6]float64{0.2491470458134028, 0.2334925365383548, 0.2031674267230659, 0.1600783285433462, 0.1069393259953184, 0.0471753363865118}
	for i := range 6 {
		at[5-i], weight[5-i] = (1-x[i])/2, w[i]/2
		at[6+i], weight[6+i] = (1+x[i])/2, w[i]/2
	}
	return at, weight
}()

// average is the averaged law of a port: the mean current its legs bring
// over a cycle of the mains while it stands still at so many volts, and the
// slope to them. The core's sag by each leg's own current is in it; that by
// the others, and the ripple, are left to the cycle.
func (p *setup) average(q *port, volts float64) (amps, slope float64) {
	for k, i := range q.legs {
		l := &p.legs[i]
		if l.dead {
			continue
		}
		if k > 0 && l.like(&p.legs[q.legs[k-1]]) {
			// A full wave brings the same twice.
			a, s := amps, slope
			if k == 1 {
				amps, slope = a+a, s+s
				continue
			}
		}
		a, s := p.pulse(l, volts)
		amps, slope = amps+a, slope+s
	}
	return amps, slope
}

// like reports two legs that differ at most in the half cycle they take.
func (l *legNow) like(o *legNow) bool {
	return !o.dead && math.Abs(l.n) == math.Abs(o.n) && l.r == o.r && l.vf == o.vf && l.vacuum == o.vacuum && l.law.Pv == o.law.Pv
}

// pulse is the mean current of one leg into a port at so many volts: with u
// the volts that drive it, the mean over the angle for which it conducts.
//
//	i(t) at peak·cos t − volts, 0 <= t <= phi, cos phi = (volts + vf)/peak
//
// The points stand closer where conduction starts: t = phi·(1 − u²).
func (p *setup) pulse(l *legNow, volts float64) (amps, slope float64) {
	peak := p.peak * math.Abs(l.n)
	c := (volts + l.vf) / peak
	if !(c < 1) {
		return 0, 0
	}
	phi := math.Acos(max(c, -1))
	r := l.r + l.n*l.n*p.back
	for k, u := range gaussAt {
		w := gaussWeight[k] * 2 * u * phi / math.Pi
		i, s := l.at(peak*math.Cos(phi*(1-u*u))-volts, r)
		amps += w * i
		slope -= w * s
	}
	return amps, slope
}
