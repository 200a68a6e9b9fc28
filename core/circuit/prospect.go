package circuit

import (
	"math"
	"slices"
)

// A prospect is one specimen under one state, with what may be otherwise in
// that state.
type prospect struct {
	a     *after
	spec  *spec
	state State
	sol   *Solution
	ds    []direction // of the spec, then the law's own, then the heaters'
	slope [][]float64 // by figure, by knob
	fs    []Figure    // the figures of slope
	near  bool        // solved with another explanation's ripple
	found map[string]*corner
	asked map[Figure]float64 // figures of sol already worked out
	sides [2]side            // by basis: calibrated, anchored
}

// figure is a figure of the prospect's own solution.
func (p *prospect) figure(f Figure) (float64, bool) {
	if q, ok := p.asked[f]; ok {
		return q, true
	}
	q, ok := p.sol.Figure(f)
	if ok && p.asked != nil {
		p.asked[f] = q
	}
	return q, ok
}

// prospect solves one state. near, if not nil, is another explanation in the
// same state: both agree at the bench, so that its ripple and its slopes
// serve for both.
func (a *after) prospect(s *spec, sc Scenario, mains float64, fs []Figure, near *prospect) (*prospect, error) {
	p := &prospect{a: a, spec: s, found: map[string]*corner{}, asked: map[Figure]float64{}, state: State{
		Name: sc.Name, Mains: mains, Ratio: a.ratio, Cold: sc.Cold, Standby: sc.Standby, Faults: sc.Faults, Drive: sc.Drive,
	}}
	if sc.Ratio != 0 {
		p.state.Ratio = sc.Ratio
	}
	p.fs = fs
	var err error
	if near != nil {
		p.near = true
		p.sol, err = a.net.SolveNear(s.values, p.state, near.sol)
	} else {
		p.sol, err = a.net.Solve(s.values, p.state, s.fit.sol)
	}
	if err != nil {
		return nil, err
	}
	p.ds = append(slices.Clone(s.ds), p.lawDirections()...)
	if d, ok := p.heaterDirection(); ok {
		p.ds = append(p.ds, d)
	}
	p.ds = append(p.ds, rippleDirection)
	if near != nil {
		p.slope = near.slope
		return p, nil
	}
	p.slope, _, err = p.sol.Gradient(fs)
	return p, err
}

// lawDirections are what the type's law itself may miss on the way from the
// bench to this state, for each tube that was read.
func (p *prospect) lawDirections() []direction {
	var out []direction
	for i := range p.a.inPlace {
		ref := p.a.inPlace[i].ref
		k, ok := p.a.net.Knob(ref, Perveance)
		if _, read := p.a.c.read[ref]; !ok || !read || p.a.fresh[ref] {
			continue
		}
		was, _ := p.spec.fit.sol.Tube(ref)
		is, _ := p.sol.Tube(ref)
		if !(is.Total > 0) {
			continue
		}
		e := min(carryCurrent*change(was.Total, is.Total)+carryChange*change(was.Plate, is.Plate), 0.5)
		out = append(out, direction{ref: ref, property: Perveance, law: true, moves: []delta{{k, e * p.spec.values[k]}}})
	}
	return out
}

// heaterDirection moves the grid volts of every tube together, as heaters
// off their bench volts may.
func (p *prospect) heaterDirection() (direction, bool) {
	d := direction{ref: "heaters", property: Shift, law: true}
	volts := heaterVolts * math.Abs(p.heaters()/p.a.c.heaters-1) / 0.1
	if volts == 0 {
		return d, false
	}
	for i, k := range p.a.net.Knobs {
		if k.Property == Shift {
			d.moves = append(d.moves, delta{i, volts})
		}
	}
	return d, len(d.moves) > 0
}

// heaters is the heater volts of this state over the rated ones.
func (p *prospect) heaters() float64 {
	return p.a.c.heaters * p.state.Mains * ratioOf(p.state.Ratio) / float64(p.a.c.Mains)
}
