package circuit

import (
	"math"

	"lugworth/core/limit"
	"lugworth/core/tube"
)

// A swell is the ripple of every node: phasors (peak) by harmonic of the
// mains.
type swell struct {
	order []int          // harmonics
	volts [][]complex128 // by harmonic, by node; the chassis last
	of    *setup         // the numbers it was found with
}

// swell sends the harmonics of all ports through the linearized circuit.
func (a *phasors) swell(p *setup, c *cycle) *swell {
	s := &swell{of: p}
	top := 0
	for _, h := range c.harmony {
		top = max(top, len(h)-1)
	}
	n := len(p.net.names)
	for h := 1; h <= top; h++ {
		if !c.has(h) {
			continue
		}
		clear(a.b)
		for k, z := range c.harmony {
			if h < len(z) {
				q := &p.net.supply.ports[k]
				a.b[q.plus] += z[h]
				a.b[q.minus] -= z[h]
			}
		}
		a.b[n] = 0
		a.at(float64(h) * p.omega)
		solve(p.net.prog, a.a, a.b)
		s.order = append(s.order, h)
		s.volts = append(s.volts, append([]complex128(nil), a.b...))
	}
	return s
}

// has reports whether any port's current has that harmonic.
func (c *cycle) has(h int) bool {
	for _, z := range c.harmony {
		if h < len(z) && z[h] != 0 {
			return true
		}
	}
	return false
}

// phases is into how many parts a cycle of the mains is cut to find the
// crests of the ripple.
const phases = 192

var wheel = func() (w [phases]complex128) {
	for i := range w {
		t := 2 * math.Pi * float64(i) / phases
		w[i] = complex(math.Cos(t), math.Sin(t))
	}
	return w
}()

// reach returns the least and greatest ripple volts of node a against b.
func (s *swell) reach(a, b int) (low, high float64) {
	if s == nil || len(s.order) == 0 {
		return 0, 0
	}
	var wave [phases]float64
	for k, h := range s.order {
		z := s.volts[k][a] - s.volts[k][b]
		re, im := real(z), imag(z)
		at := 0
		for i := range wave {
			w := wheel[at]
			wave[i] += re*real(w) - im*imag(w)
			if at += h; at >= phases {
				at -= phases
			}
		}
	}
	for _, v := range wave {
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// Ripple returns the peak-to-peak ripple volts of a node.
func (s *Solution) Ripple(name string) (float64, bool) {
	i, ok := s.net.byName[name]
	if !ok || i < len(s.adrift) && s.adrift[i] {
		return 0, false
	}
	low, high := s.swell.reach(i, len(s.net.names))
	return high - low, true
}

// crest is what ripple adds to the mean volts across a part at the worst
// moment.
func (s *Solution) crest(i int) float64 {
	n := s.net.parts[i].nodes
	if len(n) < 2 || n[0] < 0 || n[len(n)-1] < 0 {
		return 0
	}
	a, b := n[0], n[len(n)-1]
	low, high := s.swell.reach(a, b)
	if s.x[a] < s.x[b] {
		return -low
	}
	return high
}

// rippleWatts is what the ripple across a resistor adds to its watts: the sum
// of the squares of its harmonics, rms, over its ohms. One in series with a
// rectifier has its pulses in its watts already.
func (s *Solution) rippleWatts(i int) float64 {
	if square := s.rippleSquare(i); square > 0 {
		return square * s.g[s.net.parts[i].links[0]]
	}
	return 0
}

// rippleSquare is the mean square of the ripple volts across a resistor.
func (s *Solution) rippleSquare(i int) float64 {
	q := &s.net.parts[i]
	if q.kind != isResistor || len(q.nodes) != 2 || q.nodes[0] < 0 || q.nodes[1] < 0 || s.swell == nil {
		return 0
	}
	square := 0.0
	for k := range s.swell.order {
		z := s.swell.volts[k][q.nodes[0]] - s.swell.volts[k][q.nodes[1]]
		square += (real(z)*real(z) + imag(z)*imag(z)) / 2
	}
	return square
}

// rippleAmps is the rms current of a capacitor. What the followed harmonics
// leave out of the rectifiers' current goes into the capacitors at the
// reservoir, in the measure of their farads.
func (p *point) rippleAmps(i int) (float64, bool) {
	if p.cycle == nil || p.net.parts[i].links[0] == p.net.parts[i].links[1] {
		return 0, p.cycle != nil
	}
	k := p.net.parts[i].links[0]
	l := &p.net.links[k]
	if l.a < 0 || l.b < 0 || p.fault[i].Kind == Open {
		return 0, l.a >= 0 && l.b >= 0
	}
	farads := p.swell.of.value(i, 0)
	sum := 0.0
	for j, h := range p.swell.order {
		z := p.swell.volts[j][l.a] - p.swell.volts[j][l.b]
		w := float64(h) * p.omega * farads
		sum += w * w * (real(z)*real(z) + imag(z)*imag(z)) / 2
	}
	for j := range p.net.supply.ports {
		if share := p.reservoirShare(i, j); share > 0 {
			sum += share * share * p.cycle.rest[j]
		}
	}
	return math.Sqrt(sum) * p.draw(i), true
}

// reservoirShare is a capacitor's part of the farads at a port, 0 where it
// does not stand there.
func (p *point) reservoirShare(i, port int) float64 {
	q := &p.net.supply.ports[port]
	foot := q.plus
	if foot == len(p.net.names) {
		foot = q.minus
	}
	mine, all := 0.0, 0.0
	for j := range p.net.links {
		l := &p.net.links[j]
		if l.sort != linkFarads || l.a != foot && l.b != foot || p.fault[l.part].Kind != 0 {
			continue
		}
		c := p.swell.of.value(l.part, 0)
		all += c
		if l.part == i {
			mine = c
		}
	}
	if all == 0 {
		return 0
	}
	return mine / all
}

// draw is how much more than when the cycle was run the port brings that a
// capacitor stands at; for one behind it, all ports together.
func (p *point) draw(i int) float64 {
	now, then := 0.0, 0.0
	for k := range p.into {
		if p.reservoirShare(i, k) > 0 {
			return p.drawOf(k)
		}
		now, then = now+p.into[k], then+p.cycle.into[k]
	}
	if !(then > 0) {
		return 1
	}
	return now / then
}

func (p *point) drawOf(k int) float64 {
	if k < 0 || p.cycle == nil || !(p.cycle.into[k] > 0) {
		return 1
	}
	return p.into[k] / p.cycle.into[k]
}

// A Leg is one rectifier's conduction.
type Leg struct{ Mean, Peak, Inverse float64 } // amps, amps, volts

// Leg returns the currents and inverse volts of a rectifier position. Of
// rectifiers in series each is taken to bear the same inverse volts.
func (s *Solution) Leg(ref string) (Leg, bool) {
	i, ok := s.net.byRef[ref]
	if !ok || s.net.parts[i].kind != isRectifier || s.cycle == nil {
		return Leg{}, false
	}
	return s.point.leg(i), true
}

// leg is what one rectifier carries of the leg it is in.
func (p *point) leg(i int) Leg {
	r := &p.net.rects[p.net.parts[i].tube]
	share := p.shareOf(i)
	for k := range p.net.supply.legs {
		l := &p.net.supply.legs[k]
		for _, g := range l.groups {
			if g != r.group {
				continue
			}
			c, more := &p.cycle.legs[k], p.drawOf(l.port)
			q := &p.net.supply.ports[l.port]
			volts := p.x[q.plus] - p.x[q.minus] - p.cycle.volts[l.port]
			emf := math.Abs(p.legs[k].n) * (p.peak - p.cycle.peak)
			mean := c.mean * more
			if c.mean == 0 && !p.legs[k].dead {
				mean = p.into[l.port] / float64(p.living(q)) // too little to have a cycle
			}
			return Leg{mean * share, c.peak * more * share, (c.inverse + volts + emf) / float64(len(l.groups))}
		}
	}
	return Leg{}
}

// living counts the legs of a port that can conduct.
func (p *setup) living(q *port) int {
	n := 0
	for _, i := range q.legs {
		if !p.legs[i].dead {
			n++
		}
	}
	return max(n, 1)
}

// shareOf is the part of its leg's current that a rectifier carries beside
// others in parallel with it.
func (p *point) shareOf(i int) float64 {
	r := &p.net.rects[p.net.parts[i].tube]
	if p.fault[i].Kind != 0 {
		return 0
	}
	mine, all := 0.0, 0.0
	pv, vf, _ := p.group(r.group)
	for _, m := range p.net.supply.groups[r.group].members {
		o := &p.net.rects[m]
		w := 0.0
		switch {
		case p.fault[o.part].Kind != 0:
		case pv == 0 && o.law.Kind != tube.Rectifier && o.law.Vf <= vf:
			w = 1
		case pv > 0:
			w = o.law.Pv * p.value(o.part, 0)
		}
		all += w
		if o.part == i {
			mine = w
		}
	}
	if all == 0 {
		return 0
	}
	return mine / all
}

func (p *point) rectifierFigure(i int, q limit.Quantity) (float64, bool) {
	if p.cycle == nil {
		return 0, false
	}
	l := p.leg(i)
	switch q {
	case limit.OutputCurrent:
		return l.Mean, true
	case limit.PeakCurrent:
		return l.Peak, true
	case limit.InverseVolts:
		return l.Inverse, true
	}
	return 0, false
}

// wholeRectifier adds up the plates of a rectifier tube.
func (s *Solution) wholeRectifier(f Figure) (float64, bool) {
	if f.Quantity != limit.OutputCurrent || s.cycle == nil {
		return 0, false
	}
	v, found := s.point.wholeOutput(f.Ref)
	return v, found
}

// seriesFigure is a figure of a resistor or contact on the mains side of the
// rectifiers: it carries the pulses of the legs it is in.
func (p *point) seriesFigure(link int, q limit.Quantity) (float64, bool) {
	if p.cycle == nil {
		return 0, false
	}
	var mean, square, peak float64
	found := false
	for k := range p.net.supply.legs {
		for _, i := range p.net.supply.legs[k].links {
			if i != link {
				continue
			}
			c, more := &p.cycle.legs[k], p.drawOf(p.net.supply.legs[k].port)
			mean += c.mean * more
			square += c.rms * c.rms * more * more
			peak = max(peak, c.peak*more)
			found = true
		}
	}
	if p.g[link] == 0 {
		return 0, found && q != limit.DCVolts
	}
	switch q {
	case limit.DCVolts:
		return peak / p.g[link], found
	case limit.Watts:
		return square / p.g[link], found
	case Current:
		return mean, found
	case limit.FuseCurrent:
		return math.Sqrt(square), found
	}
	return 0, false
}
