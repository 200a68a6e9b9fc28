package circuit

import (
	"math"
	"slices"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// Bands answers figures under scenarios after a choice: every specimen that
// agrees with the readings, every corner of what stays open. For each
// scenario and figure, in that order, one band; one that cannot be had says
// why. With need, a band whose cautious bound is outside what is needed is
// looked at more closely; without, every band is the cautious one. Of a
// scenario with two mains the band holds both ends; Expected is that at the
// mains which gives High.
func (c *Calibration) Bands(ch Choice, scenarios []Scenario, fs []Figure, laws Laws, need Need) []Band {
	a, err := c.after(ch, laws)
	out := make([]Band, 0, len(scenarios)*len(fs))
	for _, sc := range scenarios {
		if err != nil {
			out = append(out, missing(sc, fs, err)...)
			continue
		}
		out = append(out, a.bands(sc, fs, need)...)
	}
	return out
}

func missing(sc Scenario, fs []Figure, err error) []Band {
	out := make([]Band, len(fs))
	for i, f := range fs {
		out[i] = emptyBand(f, sc)
		out[i].Missing = err.Error()
	}
	return out
}

func emptyBand(f Figure, sc Scenario) Band {
	u, _ := limit.UnitOf(f.Quantity)
	return Band{Figure: f, Scenario: sc.Name, Mains: sc.High, Unit: u}
}

// bands answers one scenario.
func (a *after) bands(sc Scenario, fs []Figure, need Need) []Band {
	ps, err := a.prospects(sc, fs)
	if err != nil {
		return missing(sc, fs, err)
	}
	out := make([]Band, len(fs))
	for i, f := range fs {
		out[i] = a.band(sc, ps, f, i, need)
	}
	return out
}

// prospects solves every explanation at both mains.
func (a *after) prospects(sc Scenario, asked []Figure) ([]*prospect, error) {
	fs := withVolts(asked)
	mains := []float64{float64(sc.High)}
	if sc.Low != sc.High && sc.Low > 0 {
		mains = append(mains, float64(sc.Low))
	}
	var out []*prospect
	for i := range a.specs {
		for k, m := range mains {
			var near *prospect
			if i > 0 && !sc.Fault {
				near = out[k]
			}
			p, err := a.prospect(&a.specs[i], sc, m, fs, near)
			if err != nil {
				return nil, err
			}
			out = append(out, p)
		}
	}
	return out, nil
}

// withVolts adds to figures the volts that go into those of watts: watts may
// fall by either of their factors where their own slope shows nothing.
func withVolts(fs []Figure) []Figure {
	out := slices.Clone(fs)
	for _, f := range fs {
		if q, ok := voltsOf[f.Quantity]; ok && !slices.Contains(out, Figure{f.Ref, q}) {
			out = append(out, Figure{f.Ref, q})
		}
	}
	return out
}

var voltsOf = map[limit.Quantity]limit.Quantity{
	limit.PlateWatts: limit.PlateVolts, limit.BothWatts: limit.PlateVolts, limit.ScreenWatts: limit.ScreenVolts,
}

// band is the hull of one figure over all prospects.
func (a *after) band(sc Scenario, ps []*prospect, f Figure, i int, need Need) Band {
	b := emptyBand(f, sc)
	b.Basis = Anchored
	b.Low, b.High = math.Inf(1), math.Inf(-1)
	low, high := math.Inf(-1), math.Inf(1)
	if need != nil {
		if l, h, ok := need(f); ok {
			low, high = l, h
		}
	}
	var best *reach
	for _, p := range ps {
		r, err := p.reach(f, p.slope[i], need != nil, low, high)
		if err == nil && !(r.low <= r.high && r.high-r.low < math.MaxFloat64) {
			err = &Unsolved{State: sc.Name, Say: "the ends of this figure could not be worked out", Refs: []string{f.Ref}}
		}
		if err != nil {
			b = emptyBand(f, sc)
			b.Missing = err.Error()
			return b
		}
		b.Low = min(b.Low, r.low)
		if r.high > b.High {
			b.High, b.Mains, best = r.high, unit.Voltage(p.state.Mains), r
		}
		b.Basis = min(b.Basis, r.basis)
		a.note(&b, r)
	}
	b.Expected = a.expected(ps, f, float64(b.Mains))
	b.Causes = best.causes(f)
	b.Expected = min(max(b.Expected, b.Low), b.High)
	return b
}

// note keeps what a band rests on.
func (a *after) note(b *Band, r *reach) {
	b.Assumed = b.Assumed || r.assumed || a.fresh[b.Ref]
	for _, say := range []string{a.c.Doubt, r.doubt} {
		if b.Doubt == "" {
			b.Doubt = say
		}
	}
}

// expected is the middle of the explanations at one mains.
func (a *after) expected(ps []*prospect, f Figure, mains float64) float64 {
	sum, n := 0.0, 0.0
	for _, p := range ps {
		if q, ok := p.figure(f); ok && p.state.Mains == mains {
			sum += q * p.factor(f)
			n++
		}
	}
	return sum / n
}

// factor carries a bench reading of a figure over; 1 where there is none.
func (p *prospect) factor(f Figure) float64 {
	if an := p.anchor(f); an.ok {
		return an.factor
	}
	return 1
}

// anchor is what was read of a figure, unless what was read is no longer in
// the amp.
func (p *prospect) anchor(f Figure) anchor {
	q, ok := p.spec.fit.figures[f]
	if p.a.fresh[f.Ref] || !ok || q == 0 {
		return anchor{}
	}
	return p.a.c.anchor(p.spec.fit, f)
}
