package circuit

import (
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
// milliampere, which no capacitor minds.
const (
	mostlyRipple = 0.2
	rippleAnyhow = 10.0
	littleRipple = 1e-3
)

// ripplePart is how far a figure's peaks may move it: a ripple goes with the
// current and against each filter, so it spreads by the three widest
// capacitors and chokes together. Two plates of a rectifier part the current
// by how each conducts, which slopes of the mean do not show.
func (p *prospect) ripplePart(f Figure, q float64) float64 {
	switch f.Quantity {
	case limit.PeakCurrent:
		return math.Abs(q) * p.rippleSpread()
	case limit.OutputCurrent:
		return math.Abs(q) * p.conductSpread(f.Ref)
	case limit.InverseVolts:
		return math.Abs(q) * p.windingSpread()
	case RippleCurrent:
		if math.Abs(q) < littleRipple {
			return math.Abs(q) * rippleAnyhow
		}
		return math.Abs(q) * p.rippleSpread()
	case limit.DCVolts:
		i, ok := p.sol.net.byRef[f.Ref]
		if !ok {
			return 0
		}
		mean, _ := p.sol.point.figure(i, f.Quantity)
		crest := math.Abs(q - mean)
		if crest > mostlyRipple*math.Abs(q) {
			return crest * rippleAnyhow
		}
		return crest * p.rippleSpread()
	}
	return 0
}

// conductSpread is half of what one plate's own conduction may be off.
func (p *prospect) conductSpread(ref string) float64 {
	for _, d := range p.ds {
		if d.property == Conduct && d.ref == ref {
			return p.relative(d) / 2
		}
	}
	return 0
}

func (p *prospect) rippleSpread() float64 {
	var widths []float64
	for _, d := range p.ds {
		if d.property == Farads || d.property == Henries {
			widths = append(widths, p.relative(d))
		}
	}
	slices.SortFunc(widths, func(a, b float64) int {
		if a > b {
			return -1
		}
		return 1
	})
	sum := rippleLoad
	for _, w := range widths[:min(3, len(widths))] {
		sum += w
	}
	return math.Exp(sum) - 1
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
