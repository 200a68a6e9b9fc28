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
	for i := range c.targets {
		r := c.residual(&c.targets[i])
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
func (c *Calibration) residual(t *target) Residual {
	r := Residual{Reading: t.reading, Why: t.why}
	switch {
	case t.why != "":
		return r
	case t.kind == readOhms:
		return c.ohmsResidual(t, r)
	case t.kind == readWinding:
		return c.windingResidual(t, r)
	}
	iv, err := c.expect(t)
	if err != nil {
		r.Why = err.Error()
		return r
	}
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

// expect is what every specimen gives for a reading: both explanations, with
// all that may be otherwise, carried over from a bench reading of the same
// place where there is one.
func (c *Calibration) expect(t *target) (unit.Interval, error) {
	var out unit.Interval
	for i := range c.fits {
		f := &c.fits[i]
		s, err := c.Net.Solve(f.values, t.state, f.sol)
		if err != nil {
			return out, err
		}
		v, ok := t.of(s)
		if !ok {
			return out, &Unsolved{Say: "the circuit gives no figure for it"}
		}
		open, k := c.open(f, t, s)
		out = hull(out, widened(unit.Exactly(v*k), open), i == 0)
	}
	return out, nil
}

// open is how far a reading may be off the circuit, and the factor that
// carries a bench reading of the same place over.
func (c *Calibration) open(f *fit, t *target, s *Solution) (half, carry float64) {
	cols := slopes(s, f.directions, []*target{t})
	from := c.sameAt(t)
	var was [][]float64
	carry = 1
	v, _ := t.of(s)
	if from != nil {
		was = slopes(f.sol, f.directions, []*target{from})
		old, _ := from.of(f.sol)
		carry = from.amount / old
		half = math.Abs(v) * (from.err/math.Abs(from.amount) + carryVolts)
	}
	for i := range cols {
		d := cols[i][0]
		if from != nil {
			old, _ := from.of(f.sol)
			d -= was[i][0] * v / old
		}
		half += math.Abs(d)
	}
	return half, carry
}

// sameAt is a bench reading of the same place as a target in another state.
func (c *Calibration) sameAt(t *target) *target {
	if t.bench {
		return nil
	}
	for i := range c.targets {
		o := &c.targets[i]
		if o.bench && o.why == "" && o.kind == t.kind && o.node == t.node && o.ref == t.ref && o.lead == t.lead && math.Abs(o.amount) > 0 {
			if t.kind == readNode && o.node == chassisNode {
				continue
			}
			return o
		}
	}
	return nil
}
