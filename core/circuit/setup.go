package circuit

import (
	"math"

	"lugworth/core/amp"
	"lugworth/core/tube"
)

// A setup is a circuit with the numbers of one specimen in one state: what
// Newton's method works on. It does not change while a state is solved.
type setup struct {
	net   *Net
	v     Values
	state State

	fault []Fault // by part; kind 0 is none
	g     []float64
	spec  []tube.Specimen
	off   []bool // tubes that do not conduct
	drive []DriveShare
	legs  []legNow
	peak  float64 // peak volts of the core, nothing drawn
	back  float64 // ohms by which the core sags, seen at the primary
	omega float64 // of the mains
}

// A legNow is a leg with its numbers.
type legNow struct {
	n      float64 // volts it adds for each volt of the core, signed
	r      float64 // its own ohms, the core's not included
	vf     float64 // silicon in series
	law    tube.Law
	vacuum bool
	dead   bool // something in it is open
}

// at returns the current at volts driving it past its port, and its slope.
func (l *legNow) at(u, r float64) (amps, slope float64) {
	u -= l.vf
	if u <= 0 {
		return 0, 0
	}
	if !l.vacuum {
		return u / r, 1 / r
	}
	return l.law.Diode(u, r, 1)
}

// leastOhms keeps a leg without any stated ohms from being a short.
const leastOhms = 0.02

func (n *Net) setUp(v Values, s State) (*setup, *Unsolved) {
	p := &setup{
		net: n, v: v, state: s, fault: make([]Fault, len(n.parts)), g: make([]float64, len(n.links)),
		spec: make([]tube.Specimen, len(n.tubes)), off: make([]bool, len(n.tubes)),
		drive: make([]DriveShare, len(n.tubes)), legs: make([]legNow, len(n.supply.legs)), omega: 2 * math.Pi * n.supply.hertz,
	}
	if len(v) != len(n.Knobs) {
		return nil, &Unsolved{State: s.Name, Say: "the values are not those of this circuit"}
	}
	if u := p.takeFaults(); u != nil {
		return nil, u
	}
	if u := p.takeDrive(); u != nil {
		return nil, u
	}
	p.takeTubes()
	for i := range n.links {
		p.g[i] = p.conductance(i)
	}
	if n.supply.mains >= 0 && !(s.Mains >= 0) {
		return nil, &Unsolved{State: s.Name, Say: "the mains volts are not stated"}
	}
	p.takeSupply()
	return p, nil
}

func (p *setup) value(part, knob int) float64 { return p.v[p.net.parts[part].first+knob] }

// takeFaults finds the parts that have failed.
func (p *setup) takeFaults() *Unsolved {
	for _, f := range p.state.Faults {
		found := false
		for i := range p.net.parts {
			q := &p.net.parts[i]
			socketed := q.kind == isTube || q.kind == isRectifier
			if q.ref != f.Ref && !(socketed && amp.Base(q.ref) == f.Ref) {
				continue
			}
			if say := impossible(q.kind, f); say != "" {
				return &Unsolved{State: p.state.Name, Say: q.ref + ": " + say, Refs: []string{q.ref}}
			}
			p.fault[i], found = f, true
		}
		if !found {
			return &Unsolved{State: p.state.Name, Say: f.Ref + " has no place in the circuit, so its failure cannot be reckoned", Refs: []string{f.Ref}}
		}
	}
	return nil
}

// impossible says why a fault of that kind of part has no answer.
func impossible(k partKind, f Fault) string {
	switch {
	case k == isMains:
		return "without mains nothing works"
	case f.Kind == Short && (k == isTube || k == isRectifier || k == isWinding):
		return "a short in it blows the fuse or burns it out; there is no steady state"
	case f.Kind == Leak && (k != isCapacitor || !(f.Ohms > 0)):
		return "a leak is ohms across a capacitor"
	case f.Kind == Pulled && k != isTube && k != isRectifier:
		return "only a tube is pulled"
	}
	return ""
}

func (p *setup) takeDrive() *Unsolved {
	for _, d := range p.state.Drive {
		i, ok := p.net.byRef[d.Ref]
		if !ok || p.net.parts[i].kind != isTube {
			return &Unsolved{State: p.state.Name, Say: d.Ref + " is no tube of the circuit", Refs: []string{d.Ref}}
		}
		p.drive[p.net.parts[i].tube] = d
	}
	return nil
}

func (p *setup) takeTubes() {
	for i := range p.net.tubes {
		t := &p.net.tubes[i]
		s := tube.Specimen{P: p.value(t.part, 0), Shift: p.value(t.part, 1) + p.state.Shift, Share: 1}
		if t.screened {
			s.Share = p.value(t.part, 2)
		}
		p.spec[i] = s
		p.off[i] = p.state.Cold || p.fault[t.part].Kind != 0
		if p.off[i] {
			p.drive[i] = DriveShare{}
		}
	}
}

// conductance of a link at rest, in siemens.
func (p *setup) conductance(i int) float64 {
	l := &p.net.links[i]
	q := &p.net.parts[l.part]
	f := p.fault[l.part]
	switch {
	case f.Kind == Short:
		return 1 / closedOhms
	case f.Kind == Open && l.sort == linkTrack:
		return 1 / max(p.value(l.part, 0), closedOhms)
	case f.Kind == Open, l.sort == linkClosed && q.loose && p.state.Standby:
		return 0
	case f.Kind == Leak:
		return 1 / f.Ohms
	}
	ohms := 0.0
	switch l.sort {
	case linkOhms:
		ohms = p.value(l.part, 0)
	case linkUpper:
		ohms = p.value(l.part, 0) * p.value(l.part, 1)
	case linkLower:
		ohms = p.value(l.part, 0) * (1 - p.value(l.part, 1))
	case linkChoke:
		ohms = p.value(l.part, 1)
	case linkFarads, linkTrack:
		return 0
	}
	return 1 / max(ohms, closedOhms)
}

// takeSupply reckons the core's volts and each leg's turns and ohms. The
// heaters load the core as a conductance; a tap with more turns lowers every
// winding in the same measure.
func (p *setup) takeSupply() {
	n := p.net
	if n.supply.mains < 0 {
		return
	}
	ratio := p.state.Ratio
	if ratio == 0 {
		ratio = 1
	}
	rp := p.value(n.supply.mains, 0)
	load := p.value(n.supply.mains, 1) / (n.supply.nominal * n.supply.nominal) * ratio * ratio
	gain := 1 / (1 + load*rp)
	p.peak, p.back = math.Sqrt2*p.state.Mains*gain, rp*gain
	for i := range n.supply.legs {
		p.legs[i] = p.legNow(&n.supply.legs[i], ratio)
	}
}

func (p *setup) legNow(l *leg, ratio float64) legNow {
	var now legNow
	for _, s := range l.sections {
		now.n += s.share * p.value(s.part, 0) / p.net.supply.nominal * ratio
		now.r += math.Abs(s.share) * p.value(s.part, 1)
		now.dead = now.dead || p.fault[s.part].Kind != 0
	}
	for _, i := range l.links {
		now.dead = now.dead || p.g[i] == 0
		now.r += 1 / max(p.g[i], 1e-12)
	}
	slow := 0.0 // sum of Pv^(-2/3): drops of vacuum rectifiers in series
	for _, g := range l.groups {
		pv, vf, ok := p.group(g)
		now.dead = now.dead || !ok
		now.vf += vf
		if pv > 0 {
			slow += math.Pow(pv, -2.0/3)
		}
	}
	if slow > 0 {
		now.vacuum, now.law = true, tube.Law{Kind: tube.Rectifier, Pv: math.Pow(slow, -1.5)}
	}
	now.r = max(now.r, leastOhms)
	return now
}

// group adds up rectifiers in parallel. Silicon beside vacuum carries all.
func (p *setup) group(g int) (pv, vf float64, ok bool) {
	silicon := false
	for _, m := range p.net.supply.groups[g].members {
		r := &p.net.rects[m]
		switch {
		case p.fault[r.part].Kind != 0:
		case r.law.Kind == tube.Rectifier:
			pv += r.law.Pv * p.value(r.part, 0)
			ok = true
		case !silicon || r.law.Vf < vf:
			vf, silicon, ok = r.law.Vf, true, true
		}
	}
	if silicon {
		pv = 0
	}
	return pv, vf, ok
}
