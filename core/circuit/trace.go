package circuit

import "lugworth/core/tube"

// A Trace is a solution laid open: every element that direct current passes,
// the volts of every node, and what the supply feeds in. It is what somebody
// else needs to hold the solution against the laws of its parts.
type Trace struct {
	Mains   string  // position of the mains row, "" none
	Nominal float64 // mains volts the windings have their volts at
	Nodes   []string
	Volts   []float64 // by node
	Paths   []Path
	Feeds   []Feeding
	Off     []string // positions that carry nothing in this state
}

// A Path is a two-lead path or a tube. Nodes are a b, plate grid cathode, or
// plate screen grid cathode.
type Path struct {
	Kind  PathKind
	Ref   string
	Nodes []string
	Amps  float64  // of a contact
	Law   tube.Law // of a tube
	Drive DriveShare
}

// PathKind says how a path carries current.
type PathKind uint8

// Kinds of paths. A contact is a milliohm: what it carries cannot be told
// from its volts as they are written.
const (
	PathOhms PathKind = iota + 1
	PathUpper
	PathLower
	PathCopper
	PathContact
	PathTriode
	PathScreened
	PathOpen // a capacitor: it has volts and carries nothing
)

// A Feeding is what one supply port feeds into the circuit.
type Feeding struct {
	Minus, Plus string
	Amps        float64
	Legs        []FeedingLeg
}

// A FeedingLeg is one way a rectified current takes: parts of windings,
// positions in series, and rectifiers, those in parallel together.
type FeedingLeg struct {
	Coils  []FeedingCoil
	Series []string
	Drops  [][]Path // only Ref and Law are set
}

// A FeedingCoil is part of a winding, negative against its direction.
type FeedingCoil struct {
	Ref   string
	Share float64
}

// Trace lays the solution open. ok is false where something in the state has
// failed: a failed part has another law than its row.
func (s *Solution) Trace() (t Trace, ok bool) {
	if len(s.state.Faults) > 0 {
		return t, false
	}
	n := s.net
	t.Nodes = n.Nodes()
	t.Volts = append([]float64(nil), s.x[:len(t.Nodes)]...)
	if n.supply.mains >= 0 {
		t.Mains, t.Nominal = n.parts[n.supply.mains].ref, n.supply.nominal
	}
	for i := range n.links {
		t.link(s, i)
	}
	for i := range n.tubes {
		t.tube(s, i)
	}
	for i := range n.supply.ports {
		t.Feeds = append(t.Feeds, s.feeding(i))
	}
	return t, true
}

func (n *Net) nodeName(i int) string {
	if i == len(n.names) {
		return chassisNode
	}
	return n.names[i]
}

var pathKinds = [...]PathKind{linkOhms: PathOhms, linkUpper: PathUpper, linkLower: PathLower, linkClosed: PathContact, linkChoke: PathCopper, linkCopper: PathContact}

func (t *Trace) link(s *Solution, i int) {
	l := &s.net.links[i]
	if l.a < 0 || l.b < 0 || l.sort == linkTrack {
		if s.g[i] == 0 && l.sort != linkTrack {
			t.Off = append(t.Off, s.net.parts[l.part].ref) // in series with a rectifier
		}
		return
	}
	p := Path{Kind: PathOpen, Ref: s.net.parts[l.part].ref, Nodes: []string{s.net.nodeName(l.a), s.net.nodeName(l.b)}}
	if l.sort != linkFarads {
		p.Kind = pathKinds[l.sort]
		if s.g[i] > 0.999/closedOhms {
			p.Kind, p.Amps = PathContact, (s.x[l.a]-s.x[l.b])*s.g[i]
		}
		if s.g[i] == 0 {
			t.Off = append(t.Off, p.Ref)
		}
	}
	t.Paths = append(t.Paths, p)
}

func (t *Trace) tube(s *Solution, i int) {
	u := &s.net.tubes[i]
	p := Path{Kind: PathTriode, Ref: s.net.parts[u.part].ref, Law: u.law, Drive: s.drive[i]}
	p.Nodes = []string{s.net.nodeName(u.plate), s.net.nodeName(u.grid), s.net.nodeName(u.cathode)}
	if u.screened {
		p.Kind = PathScreened
		p.Nodes = append(p.Nodes[:1:1], s.net.nodeName(u.screen), p.Nodes[1], p.Nodes[2])
	}
	if s.off[i] {
		t.Off = append(t.Off, p.Ref)
	}
	t.Paths = append(t.Paths, p)
}

func (s *Solution) feeding(i int) Feeding {
	q := &s.net.supply.ports[i]
	f := Feeding{Minus: s.net.nodeName(q.minus), Plus: s.net.nodeName(q.plus), Amps: s.into[i]}
	for _, k := range q.legs {
		f.Legs = append(f.Legs, s.net.feedingLeg(&s.net.supply.legs[k]))
	}
	return f
}

func (n *Net) feedingLeg(l *leg) FeedingLeg {
	var out FeedingLeg
	for _, c := range l.sections {
		out.Coils = append(out.Coils, FeedingCoil{n.parts[c.part].ref, c.share})
	}
	for _, k := range l.links {
		out.Series = append(out.Series, n.parts[n.links[k].part].ref)
	}
	for _, g := range l.groups {
		var group []Path
		for _, m := range n.supply.groups[g].members {
			r := &n.rects[m]
			group = append(group, Path{Ref: n.parts[r.part].ref, Law: r.law})
		}
		out.Drops = append(out.Drops, group)
	}
	return out
}

// Ranges are the ends between which a choice and a scenario leave each
// number of the circuit: of every explanation, all that may be otherwise at
// once.
func (c *Calibration) Ranges(ch Choice, sc Scenario, laws Laws) (low, high Values, err error) {
	a, err := c.after(ch, laws)
	if err != nil {
		return nil, nil, err
	}
	ps, err := a.prospects(sc, nil)
	if err != nil {
		return nil, nil, err
	}
	for i, p := range ps {
		l, h := p.ranges()
		if i == 0 {
			low, high = l, h
			continue
		}
		for k := range low {
			low[k], high[k] = min(low[k], l[k]), max(high[k], h[k])
		}
	}
	return low, high, nil
}

func (p *prospect) ranges() (low, high Values) {
	low, high = append(Values(nil), p.spec.values...), append(Values(nil), p.spec.values...)
	for i := range p.ds {
		for _, m := range p.ds[i].moves {
			by := max(m.by, -m.by)
			low[m.knob] -= by
			high[m.knob] += by
		}
	}
	for k, knob := range p.a.net.Knobs {
		if was := p.spec.values[k]; knob.Property != Shift && was > 0 {
			low[k] = max(low[k], was/20)
		}
	}
	return low, high
}
