package circuit

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/limit"
)

// rippleDirection stands for what capacitors and chokes do to the peaks of a
// figure. Slopes hold the ripple, so its part is reckoned by rule.
var rippleDirection = direction{ref: "ripple", property: Farads, law: true, ripple: true}

// rippleLoad is what the load's current adds to the spread of a ripple, in
// logarithms; our own judgment, held against samples in the tests.
const rippleLoad = 0.3

// Where a figure is mostly ripple, ripples from two ways may add or cancel:
// it may then be so many times itself. The same for a ripple current below a
// milliampere and a milliwatt of it, which no part minds. Of other parts than capacitors
// nobody rates the peaks: a plain factor does.
const (
	mostlyRipple = 0.2
	rippleAnyhow = 40.0
	ripplePlain  = 6.0
	littleRipple = 1e-3
	littleWatts  = 1e-3
)

// ripplePart is how far a figure's peaks may move it: a ripple goes with the
// current and against each filter. Two plates of a rectifier part the current
// by how each conducts, which slopes of the mean do not show; what is in
// series with a rectifier sees its pulses.
func (p *prospect) ripplePart(f Figure, q float64) float64 {
	switch f.Quantity {
	case limit.PeakCurrent:
		return math.Abs(q) * p.rippleSpread(f.Ref)
	case limit.OutputCurrent:
		return math.Abs(q) * p.conductSpread(f.Ref)
	case limit.InverseVolts:
		return math.Abs(q) * p.windingSpread()
	case RippleCurrent:
		if math.Abs(q) < littleRipple {
			return math.Abs(q) * rippleAnyhow
		}
		return math.Abs(q) * p.rippleSpread(f.Ref)
	}
	i, ok := p.sol.net.byRef[f.Ref]
	if !ok || p.sol.net.parts[i].kind == isTube {
		return 0
	}
	if p.inLeg(i) {
		return math.Abs(q) * p.rippleSpread(f.Ref) / 2
	}
	crest := p.crestOf(f, i, q)
	switch {
	case f.Quantity == limit.Watts && crest < littleWatts:
		return crest * rippleAnyhow
	case f.Quantity == limit.Watts: // the square of a ripple
		return crest * (math.Pow(1+p.rippleSpread(f.Ref), 2) - 1)
	case f.Quantity == limit.DCVolts && p.sol.net.leaksGrid(i):
		return gridVolts + crest*rippleAnyhow
	case crest > mostlyRipple*math.Abs(q):
		return crest * rippleAnyhow
	case p.sol.net.parts[i].kind != isCapacitor:
		return crest * ripplePlain
	}
	return crest * p.rippleSpread(f.Ref)
}

// crestOf is the peak of the ripple in a figure of volts, and what it adds to
// watts.
func (p *prospect) crestOf(f Figure, part int, q float64) float64 {
	if f.Quantity != limit.DCVolts && f.Quantity != limit.Watts {
		return 0
	}
	mean, _ := p.sol.point.figure(part, f.Quantity)
	return math.Abs(q - mean)
}

// inLeg reports a part between a winding and a rectifier.
func (p *prospect) inLeg(part int) bool {
	q := &p.sol.net.parts[part]
	return q.kind == isResistor && slices.ContainsFunc(q.nodes, func(n int) bool { return n < 0 })
}

// rippled reports a figure that moves with the ripple, so that a corner with
// the ripple held says little of it.
func (p *prospect) rippled(f Figure, q float64) bool {
	switch f.Quantity {
	case limit.PeakCurrent, limit.OutputCurrent, limit.InverseVolts, RippleCurrent:
		return true
	}
	i, ok := p.sol.net.byRef[f.Ref]
	return ok && p.sol.net.parts[i].kind != isTube && (p.inLeg(i) || p.crestOf(f, i, q) > matters*math.Abs(q))
}

// conductSpread is three fifths of what one plate's own conduction may be off.
func (p *prospect) conductSpread(ref string) float64 {
	for _, d := range p.ds {
		if d.property == Conduct && d.ref == ref {
			return 0.6 * p.relative(d)
		}
	}
	return 0
}

// rippleSpread is how far a ripple may be off: of a reservoir by its own
// farads and the load, of what lies behind filters by the three widest parts
// of them as well.
func (p *prospect) rippleSpread(ref string) float64 {
	var widths []float64
	own := 0.0
	for _, d := range p.ds {
		switch {
		case d.property == Farads && d.ref == ref:
			own = p.relative(d)
		case d.property == Farads, d.property == Henries && !p.loadsPlate(d.ref):
			widths = append(widths, p.relative(d))
		}
	}
	slices.SortFunc(widths, func(a, b float64) int { return cmp.Compare(b, a) })
	sum := own + p.loadSpread()
	if !p.reservoir(ref) {
		for _, w := range widths[:min(3, len(widths))] {
			sum += w
		}
	}
	return math.Exp(sum) - 1
}

// loadSpread is what the load's current adds: less where tubes were read.
func (p *prospect) loadSpread() float64 {
	if p.a.c != nil && len(p.a.c.read) > 0 && len(p.a.fresh) == 0 {
		return rippleLoad / 2
	}
	return rippleLoad
}

// reservoir reports a capacitor that a rectifier fills.
func (p *prospect) reservoir(ref string) bool {
	i, ok := p.a.net.byRef[ref]
	if !ok || p.a.net.parts[i].kind != isCapacitor {
		return false
	}
	n := p.a.net.parts[i].nodes
	for _, q := range p.a.net.supply.ports {
		if len(n) == 2 && (n[0] == q.plus && n[1] == q.minus || n[0] == q.minus && n[1] == q.plus) {
			return true
		}
	}
	return false
}

// loadsPlate reports a choke on a tube's plate: half an output transformer,
// which filters nothing.
func (p *prospect) loadsPlate(ref string) bool {
	i := p.a.net.byRef[ref]
	for _, t := range p.a.net.tubes {
		if slices.Contains(p.a.net.parts[i].nodes, t.plate) {
			return true
		}
	}
	return false
}

// relative is how far a direction's own knob goes, in parts of itself.
func (p *prospect) relative(d direction) float64 {
	for _, m := range d.moves {
		if k := p.a.net.Knobs[m.knob]; k.Ref == d.ref && k.Property == d.property && p.spec.values[m.knob] != 0 {
			return math.Abs(m.by / p.spec.values[m.knob])
		}
	}
	return 0
}

// windingSpread is how far the volts of the windings may go, of the one that
// goes furthest.
func (p *prospect) windingSpread() float64 {
	sum := map[int]float64{}
	for _, d := range p.ds {
		for _, m := range d.moves {
			if p.a.net.Knobs[m.knob].Property == Volts && p.spec.values[m.knob] > 0 {
				sum[m.knob] += math.Abs(m.by / p.spec.values[m.knob])
			}
		}
	}
	most := 0.0
	for _, s := range sum { // the greatest does not depend on the order
		most = max(most, s)
	}
	return most
}
