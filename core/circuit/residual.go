package circuit

import (
	"fmt"
	"math"

	"lugworth/core/unit"
)

// compare holds every reading against the matched circuit. settled are the
// readings that set a value before anything was solved.
func (c *Calibration) compare(settled []int) error {
	used := map[int]bool{}
	for _, i := range settled {
		used[i] = true
	}
	for _, f := range c.fits {
		for _, p := range f.pins {
			used[p.target] = true
		}
	}
	expected := c.expectAll()
	for i := range c.targets {
		r := c.residual(&c.targets[i], expected[i])
		r.Used = used[i]
		c.Residuals = append(c.Residuals, r)
	}
	for _, f := range c.fits {
		c.contradict(&f)
	}
	return nil
}

// contradict says of a reading that is not met which part would have to be
// unlikely far from its marking or type to meet it.
func (c *Calibration) contradict(f *fit) {
	for i, p := range f.pins {
		r := &c.Residuals[p.target]
		if !f.at[i] || r.Agrees || r.Why != "" || c.metElsewhere(p.target) {
			continue
		}
		k := c.Net.Knobs[p.moves[0].knob]
		r.Why = fmt.Sprintf("%s would have to be further from its marking or type than is likely", k.Ref)
	}
}

// metElsewhere reports whether some explanation meets a reading with its pin
// inside the limit.
func (c *Calibration) metElsewhere(t int) bool {
	for _, f := range c.fits {
		for i, p := range f.pins {
			if p.target == t && !f.at[i] {
				return true
			}
		}
	}
	return false
}

// residual is what the matched circuit gives for one reading, with the error
// of the meter beside it.
func (c *Calibration) residual(t *target, e expectation) Residual {
	r := Residual{Reading: t.reading, Why: t.why}
	switch {
	case t.why != "":
		return r
	case t.kind == readOhms:
		return c.ohmsResidual(t, r)
	case t.kind == readWinding:
		return c.windingResidual(t, r)
	}
	if e.err != nil {
		r.Why = e.err.Error()
		return r
	}
	iv := e.Interval
	r.Model = iv
	r.Agrees = t.amount+t.err >= iv.Low && t.amount-t.err <= iv.High
	if k := t.amount; k != t.reading.Amount && k != 0 {
		r.Model = iv.Scale(t.reading.Amount / k) // at the reading's own mains
	}
	return r
}

func (c *Calibration) ohmsResidual(t *target, r Residual) Residual {
	for _, q := range []Property{Ohms, Copper} {
		if k, ok := c.Net.Knob(t.ref, q); ok {
			r.Model = unit.Exactly(c.fits[0].values[k])
			r.Agrees = math.Abs(r.Model.Expected-t.amount) <= t.err+1e-9*t.amount
			return r
		}
	}
	return r
}

func (c *Calibration) windingResidual(t *target, r Residual) Residual {
	k, ok := c.Net.Knob(t.ref, Volts)
	nominal := nominalMains(c.joints.parts)
	if !ok || nominal <= 0 {
		r.Why = t.ref + " takes no part in the circuit"
		return r
	}
	part := t.state.Mains * ratioOf(t.state.Ratio) / nominal
	if _, tapped := c.joints.parts[c.joints.byRef[t.ref]].Node("ct"); tapped {
		part /= 2
	}
	for i, f := range c.fits {
		r.Model = hull(r.Model, unit.Exactly(f.values[k]*part), i == 0)
	}
	r.Model = widened(r.Model, c.halves[k].width*part)
	r.Agrees = t.amount+t.err >= r.Model.Low && t.amount-t.err <= r.Model.High
	return r
}

func hull(a, b unit.Interval, first bool) unit.Interval {
	if first {
		return b
	}
	return unit.Interval{Low: min(a.Low, b.Low), Expected: (a.Expected + b.Expected) / 2, High: max(a.High, b.High)}
}

func widened(iv unit.Interval, by float64) unit.Interval {
	iv.Low -= by
	iv.High += by
	return iv
}
