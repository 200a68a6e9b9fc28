package circuit

import (
	"math"

	"lugworth/core/amp"
	"lugworth/core/limit"
)

// Figures beside those that limits are stated for.
const (
	Current       limit.Quantity = "current"        // mean, of a resistor, choke or contact
	RippleCurrent limit.Quantity = "ripple current" // rms, of a capacitor
)

// figuresOf lists what a kind of part has figures for.
var figuresOf = [...][]limit.Quantity{
	isResistor:  {limit.DCVolts, limit.Watts, Current},
	isPot:       {limit.DCVolts, limit.Watts, Current},
	isCapacitor: {limit.DCVolts, RippleCurrent},
	isChoke:     {limit.DCVolts, limit.Watts, Current},
	isContact:   {limit.FuseCurrent},
	isTube:      {limit.PlateVolts, limit.PlateWatts, limit.CathodeCurrent},
	isRectifier: {limit.OutputCurrent, limit.PeakCurrent, limit.InverseVolts},
	isWinding:   {},
	isMains:     {},
}

var screenFigures = []limit.Quantity{limit.ScreenVolts, limit.ScreenWatts, limit.BothWatts}

// listFigures makes the list of figures, in the order of the sheet. A
// rectifier tube of two plates has its output current once more under the
// name of the whole tube.
func (c *compiler) listFigures() {
	done := map[string]bool{}
	for i := range c.parts {
		q := &c.parts[i]
		for _, f := range figuresOf[q.kind] {
			c.figs = append(c.figs, Figure{q.ref, f})
		}
		if q.kind == isTube && c.tubes[q.tube].screened {
			for _, f := range screenFigures {
				c.figs = append(c.figs, Figure{q.ref, f})
			}
		}
		base := amp.Base(q.ref)
		if _, taken := c.byRef[base]; q.kind == isRectifier && base != q.ref && !taken && !done[base] {
			done[base] = true
			c.figs = append(c.figs, Figure{base, limit.OutputCurrent})
		}
	}
}

// Figures lists every figure a solution of this circuit can give, in the
// order of the sheet.
func (n *Net) Figures() []Figure { return append([]Figure(nil), n.figs...) }

// Nodes lists the names of all nodes that have mean volts, chassis left out,
// in the order of the sheet. Nodes between the mains transformer and the
// rectifiers have none.
func (n *Net) Nodes() []string { return append([]string(nil), n.names...) }

// Sheet returns the values as the sheet states them.
func (n *Net) Sheet() Values {
	v := make(Values, len(n.Knobs))
	for i := range v {
		v[i] = n.Knobs[i].Value
	}
	return v
}

// Knob returns the index of a knob.
func (n *Net) Knob(ref string, p Property) (int, bool) {
	i, ok := n.knobAt[Figured{ref, p}]
	return i, ok
}

// Figure returns one figure in SI units: plate and screen volts to the
// cathode, watts, cathode current; of a two-lead part its volts (limit.DCVolts:
// mean with the peak of the ripple), watts (a resistor's with those of the
// ripple), mean current; of a rectifier mean
// and peak current and inverse volts; of a capacitor its ripple current (rms).
// A pot's watts are those of its whole track at the greatest current in it,
// which is how pots are rated. There is no figure where a node it stands on
// is held by nothing.
func (s *Solution) Figure(f Figure) (float64, bool) {
	i, ok := s.net.byRef[f.Ref]
	if !ok {
		return s.wholeRectifier(f)
	}
	if !s.held(i, f.Quantity) {
		return 0, false
	}
	v, ok := s.point.figure(i, f.Quantity)
	if !ok {
		return 0, false
	}
	switch f.Quantity {
	case limit.DCVolts:
		v += s.crest(i)
	case limit.Watts:
		v += s.rippleWatts(i)
	}
	return v, !math.IsNaN(v)
}

// held reports whether all nodes a figure stands on are held. Watts and
// currents of a tube that draws nothing are nothing, whatever its nodes do.
func (s *Solution) held(i int, q limit.Quantity) bool {
	p := &s.net.parts[i]
	if p.kind == isTube && q != limit.PlateVolts && q != limit.ScreenVolts {
		c := s.tubes[p.tube]
		if math.Abs(c.Plate)+math.Abs(c.Screen) < quiet {
			return true
		}
		if q == limit.CathodeCurrent {
			return true
		}
	}
	for _, n := range p.nodes {
		if n < 0 || n >= len(s.adrift) || !s.adrift[n] {
			continue
		}
		if p.kind == isTube && !concerns(&s.net.tubes[p.tube], n, q) {
			continue
		}
		return false
	}
	return true
}

// concerns reports whether a tube's figure hangs on the volts of a node.
func concerns(t *tubeAt, node int, q limit.Quantity) bool {
	switch q {
	case limit.PlateVolts:
		return node == t.plate || node == t.cathode
	case limit.ScreenVolts, limit.ScreenWatts:
		return node == t.screen || node == t.cathode
	case limit.PlateWatts, limit.BothWatts:
		return node == t.cathode // a plate that nothing holds draws nothing
	}
	return false
}

// figure is a figure without the peak of the ripple.
func (p *point) figure(i int, q limit.Quantity) (float64, bool) {
	switch p.net.parts[i].kind {
	case isTube:
		return p.tubeFigure(i, q)
	case isRectifier:
		return p.rectifierFigure(i, q)
	case isCapacitor:
		if q == RippleCurrent {
			return p.rippleAmps(i)
		}
	case isPot:
		return p.potFigure(i, q)
	}
	return p.linkFigure(i, q)
}

func (p *point) tubeFigure(i int, q limit.Quantity) (float64, bool) {
	t := p.tubeAt(p.net.parts[i].tube)
	screened := p.net.tubes[p.net.parts[i].tube].screened
	switch q {
	case limit.PlateVolts:
		return t.Plate, true
	case limit.PlateWatts:
		return t.Plate * t.PlateAmps, true
	case limit.CathodeCurrent:
		return t.Total, true
	case limit.ScreenVolts:
		return t.Screen, screened
	case limit.ScreenWatts:
		return t.Screen * t.ScreenAmps, screened
	case limit.BothWatts:
		return t.Plate*t.PlateAmps + t.Screen*t.ScreenAmps, screened
	}
	return 0, false
}

// linkFigure is a figure of a two-lead part. One in series with a rectifier
// has the current of the leg it is in.
func (p *point) linkFigure(i int, q limit.Quantity) (float64, bool) {
	part := &p.net.parts[i]
	if part.links[0] == part.links[1] {
		return 0, false
	}
	k := part.links[0]
	l := &p.net.links[k]
	if l.a < 0 || l.b < 0 {
		return p.seriesFigure(k, q)
	}
	v := p.x[l.a] - p.x[l.b]
	switch q {
	case limit.DCVolts:
		return math.Abs(v), true
	case limit.Watts:
		return v * v * p.g[k], true
	case Current, limit.FuseCurrent:
		return math.Abs(v) * p.g[k], part.kind != isCapacitor
	}
	return 0, false
}

// potFigure takes the greater of the currents on both sides of the wiper.
func (p *point) potFigure(i int, q limit.Quantity) (float64, bool) {
	part := &p.net.parts[i]
	amps, low, high := 0.0, math.Inf(1), math.Inf(-1)
	for k := part.links[0]; k < part.links[1]; k++ {
		l := &p.net.links[k]
		if l.a < 0 || l.b < 0 {
			return 0, false
		}
		amps = max(amps, math.Abs(p.x[l.a]-p.x[l.b])*p.g[k])
		low, high = min(low, p.x[l.a], p.x[l.b]), max(high, p.x[l.a], p.x[l.b])
	}
	switch q {
	case limit.DCVolts:
		return high - low, true
	case limit.Watts:
		return amps * amps * p.value(i, 0), true
	case Current:
		return amps, true
	}
	return 0, false
}

// wholeOutput adds up the mean currents of a rectifier tube's plates.
func (p *point) wholeOutput(base string) (sum float64, found bool) {
	for i := range p.net.parts {
		q := &p.net.parts[i]
		if q.kind == isRectifier && amp.Base(q.ref) == base {
			sum, found = sum+p.leg(i).Mean, true
		}
	}
	return sum, found
}
