package circuit

import (
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/tube"
)

// after is the amp once a choice is made: its circuit, and for each
// explanation the specimen with all that stays open.
type after struct {
	c     *Calibration
	net   *Net
	laws  Laws
	ratio float64
	fresh map[string]bool // tubes nobody has read, by row
	types map[string]string
	specs []spec
}

// A spec is one explanation after the choice. Directions before fresh belong
// to the amp as found; those from it on to what is new.
type spec struct {
	fit    *fit
	values Values
	ds     []direction
	from   []int // index of each kept direction in the fit
}

// after applies a choice.
func (c *Calibration) after(ch Choice, laws Laws) (*after, error) {
	if laws == nil {
		laws = c.bench.Laws
	}
	a := &after{c: c, net: c.Net, laws: laws, ratio: ch.Ratio, fresh: map[string]bool{}, types: map[string]string{}}
	a.renew(ch)
	if len(a.types) > 0 {
		net, err := c.Net.Fit(a.types, laws)
		if err != nil {
			return nil, err
		}
		a.net = net
	}
	for i := range c.fits {
		a.specs = append(a.specs, a.spec(&c.fits[i], ch))
	}
	return a, nil
}

// renew lists the rows a choice fills with something nobody has read. A tube
// is named by its row or by its socket: "V1" means V1a and V1b.
func (a *after) renew(ch Choice) {
	for i := range a.c.joints.parts {
		p := &a.c.joints.parts[i]
		if !isOneOf(p.Kind, tubeKinds...) && !isOneOf(p.Kind, rectifierKinds...) {
			continue
		}
		for _, name := range []string{p.Ref, amp.Base(p.Ref)} {
			if typ := ch.Types[name]; typ != "" {
				a.types[p.Ref], a.fresh[p.Ref] = typ, true
			}
			if ch.Fresh[name] {
				a.fresh[p.Ref] = true
			}
		}
	}
}

// spec is one explanation after the choice.
func (a *after) spec(f *fit, ch Choice) spec {
	s := spec{fit: f, values: slices.Clone(f.values)}
	changed := map[int]bool{}
	var fresh []direction
	for i, k := range a.c.Net.Knobs {
		v, width, assumed, is := a.changed(k, i, ch)
		if !is {
			continue
		}
		changed[i] = true
		s.values[i] = v
		if width > 0 {
			fresh = append(fresh, direction{ref: k.Ref, property: k.Property, assumed: assumed, fresh: true, moves: []delta{{i, width}}})
		}
	}
	for i, d := range f.directions {
		if kept := without(d, changed); len(kept.moves) > 0 {
			s.ds = append(s.ds, kept)
			s.from = append(s.from, i)
		}
	}
	s.ds = append(s.ds, fresh...)
	return s
}

// changed returns a knob's value and half width after the choice.
func (a *after) changed(k Knob, i int, ch Choice) (v, width float64, assumed, is bool) {
	if m, ok := ch.Values[Figured{k.Ref, k.Property}]; ok {
		return m.Value, math.Abs(m.Value) * m.Tolerance, false, true
	}
	if !a.fresh[k.Ref] {
		return 0, 0, false, false
	}
	v, width = 1, a.c.halves[i].width
	switch k.Property {
	case Shift:
		v = 0
	case Perveance, Share, Conduct:
	default:
		return 0, 0, false, false
	}
	return v, width, true, true
}

func without(d direction, knobs map[int]bool) direction {
	d.moves = slices.DeleteFunc(slices.Clone(d.moves), func(m delta) bool { return knobs[m.knob] })
	return d
}

// law returns the law of a row after the choice, and the doubt on it.
func (a *after) law(ref string) (tube.Law, string) {
	typ := a.types[ref]
	if i, ok := a.c.joints.byRef[ref]; typ == "" && ok {
		typ = a.c.joints.parts[i].Type
	}
	if a.laws == nil {
		return tube.Law{}, ""
	}
	l, doubt, _ := a.laws(typ)
	return l, doubt
}

// A prospect is one specimen under one state, with what may be otherwise in
// that state.
type prospect struct {
	a     *after
	spec  *spec
	state State
	sol   *Solution
	ds    []direction // of the spec, then the law's own, then the heaters'
	slope [][]float64 // by figure, by knob
	found map[string]*corner
	asked map[Figure]float64 // figures of sol already worked out
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

// prospect solves one state. near, if not nil, is another explanation's
// solution of it: both agree at the bench, so its ripple serves for both.
func (a *after) prospect(s *spec, sc Scenario, mains float64, fs []Figure, near *Solution) (*prospect, error) {
	p := &prospect{a: a, spec: s, found: map[string]*corner{}, asked: map[Figure]float64{}, state: State{
		Name: sc.Name, Mains: mains, Ratio: a.ratio, Cold: sc.Cold, Standby: sc.Standby, Faults: sc.Faults, Drive: sc.Drive,
	}}
	if sc.Ratio != 0 {
		p.state.Ratio = sc.Ratio
	}
	var err error
	if near != nil && !sc.Fault {
		p.sol, err = a.net.SolveNear(s.values, p.state, near)
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
	p.slope, _, err = p.sol.Gradient(fs)
	return p, err
}

// lawDirections are what the type's law itself may miss on the way from the
// bench to this state, for each tube that was read.
func (p *prospect) lawDirections() []direction {
	var out []direction
	for i := range p.a.c.joints.parts {
		ref := p.a.c.joints.parts[i].Ref
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

// typesOf lists rows of the choice's new types in order, for words.
func (a *after) typesOf() string {
	var out []string
	for _, p := range a.c.joints.parts {
		if t := a.types[p.Ref]; t != "" {
			out = append(out, p.Ref+" "+t)
		}
	}
	return strings.Join(out, ", ")
}
