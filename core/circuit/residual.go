package circuit

import (
	"fmt"
	"math"
	"slices"

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

// An expectation is what every specimen gives for a reading.
type expectation struct {
	unit.Interval
	err error
}

// expectAll asks both explanations, with all that may be otherwise, for every
// reading that can be compared. Readings of one state are asked for together.
func (c *Calibration) expectAll() []expectation {
	out := make([]expectation, len(c.targets))
	for _, group := range c.states() {
		for i := range c.fits {
			f := &c.fits[i]
			s, err := f.sol, error(nil)
			if !c.targets[group[0]].bench {
				s, err = c.Net.Solve(f.values, c.targets[group[0]].state, f.sol)
			}
			if err != nil {
				for _, k := range group {
					out[k].err = err
				}
				break
			}
			c.ask(f, s, group, i == 0, out)
		}
	}
	return out
}

// states groups the readings that a solution answers by the state they were
// taken in, each group and its members in the order of the chart.
func (c *Calibration) states() [][]int {
	var groups [][]int
	for i := range c.targets {
		t := &c.targets[i]
		if t.why != "" || t.kind != readNode && t.kind != readCurrent {
			continue
		}
		at := slices.IndexFunc(groups, func(g []int) bool { return c.targets[g[0]].together(t) })
		if at < 0 {
			groups = append(groups, []int{i})
			continue
		}
		groups[at] = append(groups[at], i)
	}
	return groups
}

// together reports whether two readings were taken in one state.
func (t *target) together(o *target) bool {
	if t.bench || o.bench {
		return t.bench && o.bench
	}
	return t.state.Mains == o.state.Mains && ratioOf(t.state.Ratio) == ratioOf(o.state.Ratio) &&
		t.state.Standby == o.state.Standby && len(t.state.Faults) == len(o.state.Faults)
}

// ask fills in what one explanation gives for the readings of one state.
func (c *Calibration) ask(f *fit, s *Solution, group []int, first bool, out []expectation) {
	ts := make([]*target, len(group))
	from := make([]*target, len(group))
	for i, k := range group {
		ts[i] = &c.targets[k]
		from[i] = c.sameAt(ts[i])
		if from[i] == nil {
			from[i] = ts[i]
		}
	}
	now := slopes(s, f.directions, ts)
	was := now
	if !ts[0].bench {
		was = slopes(f.sol, f.directions, from)
	}
	for i, k := range group {
		v, ok := ts[i].of(s)
		if !ok {
			out[k].err = &Unsolved{Say: "the circuit gives no figure for it"}
			continue
		}
		half, carry := 0.0, 1.0
		if from[i] != ts[i] {
			old, _ := from[i].of(f.sol)
			carry = from[i].amount / old
			half = math.Abs(v) * (from[i].err/math.Abs(from[i].amount) + carryVolts)
			for d := range now {
				half += math.Abs(now[d][i] - was[d][i]*v/old)
			}
		} else {
			for d := range now {
				half += math.Abs(now[d][i])
			}
		}
		out[k].Interval = hull(out[k].Interval, widened(unit.Exactly(v*carry), half), first)
	}
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
