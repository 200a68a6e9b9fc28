package circuit

import (
	"math"
	"slices"

	"lugworth/core/limit"
	"lugworth/core/tube"
)

// reach is how far one figure may lie in one prospect, and why.
type reach struct {
	p         *prospect
	low, high float64
	parts     []float64 // by direction: change of the figure at its end
	fall      []float64 // the same, of what may take watts down by either factor; nil for others
	soft      []float64 // the same, of what is taken together with carrying over
	carry     float64   // part of itself that carrying over adds, the meter's error with it
	basis     Basis
	assumed   bool
	doubt     string
}

// reach bounds one figure. An anchored figure moves with what is new by its
// whole slope, with what was there already by the difference to the bench.
func (p *prospect) reach(f Figure, byKnob []float64, closer bool, low, high float64) (*reach, error) {
	q, ok := p.figure(f)
	if !ok || math.IsNaN(q) || math.IsInf(q, 0) {
		return nil, &Unsolved{State: p.state.Name, Say: "the circuit gives no such figure", Refs: []string{f.Ref}}
	}
	r := &reach{p: p, basis: Calibrated}
	an := p.anchor(f)
	law := p.a.law(f.Ref)
	k := 1.0
	if an.ok {
		r.basis, k = Anchored, an.factor
	} else if p.a.fresh[f.Ref] || len(p.spec.fit.pins) == 0 {
		r.basis = FromType
	}
	r.parts = p.parts(f, q, byKnob, an.ok)
	r.fall = p.falls(f, q, r.parts, an.ok)
	r.soft = make([]float64, len(r.parts))
	for i := range r.parts {
		r.parts[i] *= k
		if an.ok && p.softly(&p.ds[i], f) {
			r.soft[i], r.parts[i] = r.parts[i], 0
		}
	}
	if an.ok {
		r.carry = an.err + together(p.a.c.carry(p.spec.fit, f, p.sol, law), r.soft, q*k)
	}
	if err := p.ends(r, f, q*k, k, closer, low, high); err != nil {
		return nil, err
	}
	p.judge(r, f, q*k, byKnob, law)
	return r, nil
}

// falls is, for watts, how far each direction may take them down: by the
// volts and by the current, each by itself. At the top of a load line the two
// cancel, and the slope of the watts says nothing of either side.
func (p *prospect) falls(f Figure, q float64, parts []float64, anchored bool) []float64 {
	quantity, ok := voltsOf[f.Quantity]
	i := slices.Index(p.fs, Figure{f.Ref, quantity})
	v, have := p.figure(Figure{f.Ref, quantity})
	if !ok || i < 0 || !have || v == 0 || anchored {
		return nil
	}
	out := make([]float64, len(parts))
	for k := range parts {
		if p.ds[k].ripple {
			continue
		}
		byVolts := p.ds[k].along(p.slope[i]) / v * q
		out[k] = math.Abs(byVolts) + math.Abs(parts[k]-byVolts)
	}
	return out
}

// softly reports a cause whose size is a judgment, as that of carrying over
// is: the law, the heaters, how an unread tube parts its current. They have
// nothing to do with one another, so their squares add. What a marking or a
// meter states is always added whole.
func (p *prospect) softly(d *direction, f Figure) bool {
	return carriesPower(f) && (d.law && !d.ripple || d.property == Share && d.ref == f.Ref && !d.fresh)
}

// together adds the squares of carrying over and of what is like it.
func together(carry float64, soft []float64, q float64) float64 {
	sum := carry * carry
	for _, s := range soft {
		if q != 0 {
			sum += s * s / (q * q)
		}
	}
	return math.Sqrt(sum)
}

// parts is how far each direction moves the figure at its end.
func (p *prospect) parts(f Figure, q float64, byKnob []float64, anchored bool) []float64 {
	out := make([]float64, len(p.ds))
	for i := range p.ds {
		d := &p.ds[i]
		switch {
		case d.ripple:
			out[i] = p.ripplePart(f, q)
		case !anchored || d.fresh:
			out[i] = d.along(byKnob)
		case i < len(p.spec.from):
			out[i] = p.carriedPart(f, q, d, p.spec.from[i], byKnob)
		case d.ref != f.Ref || !carriesPower(f):
			out[i] = d.along(byKnob)
		}
	}
	return out
}

// carriedPart is what a part that was there at the bench may add to a figure
// carried over: for volts the difference of its slopes, for watts and
// currents nothing, since the rule for carrying over has it already. How a
// tube parts its current was not in the reading unless the screen's was.
func (p *prospect) carriedPart(f Figure, q float64, d *direction, from int, byKnob []float64) float64 {
	switch {
	case !carriesPower(f):
		return d.along(byKnob) - p.spec.fit.slopes[f][from]*q/p.spec.fit.figures[f]
	case d.property == Share && d.ref == f.Ref && f.Quantity == limit.PlateWatts:
		return d.along(byKnob)
	}
	return 0
}

func carriesPower(f Figure) bool {
	switch f.Quantity {
	case limit.PlateWatts, limit.ScreenWatts, limit.BothWatts, limit.CathodeCurrent:
		return true
	}
	return false
}

// spreadBy widens both ends by a part of themselves.
func spreadBy(low, high, w float64) (float64, float64) {
	return low - math.Abs(low)*w, high + math.Abs(high)*w
}

// judge says what the reach rests on.
func (p *prospect) judge(r *reach, f Figure, q float64, byKnob []float64, law tube.Law) {
	total, assumed := r.carry*math.Abs(q), 0.0
	for i, d := range p.ds {
		part := max(math.Abs(r.parts[i]), math.Abs(r.soft[i]))
		total += math.Abs(r.parts[i])
		if d.assumed {
			assumed += part
		}
	}
	r.assumed = total > 0 && assumed > 0.1*total
	r.doubt = p.doubt(r, f, q, byKnob, law)
}
