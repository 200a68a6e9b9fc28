package circuit

import (
	"math"
	"slices"

	"lugworth/core/unit"
)

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
