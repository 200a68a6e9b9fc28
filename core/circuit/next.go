package circuit

import (
	"cmp"
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/sorted"
)

// A Measure is one reading worth taking next.
type Measure struct {
	At       string // node, ref:electrode, or ref, as a reading names it
	Quantity string // as a reading names it
	State    string // "" is the working amp
	How      string // where the meter goes
	Live     bool   // it sends someone to a live node
	Gain     float64
	Figure   Figure // whose band it narrows most
	Scenario string
}

// Caution names what is said before a reading on a live amp, as Dial does.
func (m Measure) Caution() string {
	if m.Live {
		return LiveReadings
	}
	return ""
}

// Next ranks the readings nobody has taken yet by how much each would narrow
// the band of a figure that is not decided: its limit lies inside the band,
// or something speaks against its counting. Gain is the part of the limit
// that the band's half width would lose, the greatest over all figures.
//
// Each cause of a band is taken as independent of the others here, and a
// reading takes away what it has in common with the band (the rule of linear
// regression): good for a ranking, never for a bound.
func (c *Calibration) Next(ch Choice, scenarios []Scenario, fs []Figure, laws Laws, need Need) ([]Measure, error) {
	a, err := c.after(ch, laws)
	if err != nil {
		return nil, err
	}
	ms := c.candidates()
	for _, sc := range scenarios {
		ps, err := a.prospects(sc, fs)
		if err != nil {
			continue // that scenario says nothing; the others still count
		}
		for i, f := range fs {
			if low, high, ok := need(f); ok {
				a.weigh(ms, sc, ps, f, i, low, high)
			}
		}
	}
	out := make([]Measure, 0, len(ms))
	for _, m := range ms {
		if m.Gain > leastGain {
			out = append(out, m.Measure)
		}
	}
	sorted.By(out, func(a, b Measure) int { return cmp.Compare(math.Round(b.Gain*1e4), math.Round(a.Gain*1e4)) })
	return out, nil
}

// A reading that narrows by less than this part of the limit is not worth
// going for.
const leastGain = 1e-3

// A figure whose verdict is plain anyway counts this much of one that is not.
const plainFigure = 0.02

// A candidate is a measure with what it has to do with each cause.
type candidate struct {
	Measure
	slopes []([]float64) // by fit, by direction of the fit
	err    []float64     // by fit: of the meter, in the unit of the reading
	screen string        // tube whose screen current it is
}

// candidates are the readings that were not taken, in the order of the sheet.
func (c *Calibration) candidates() []*candidate {
	var out []*candidate
	var ts []*target
	add := func(m Measure, t target) {
		k := &candidate{Measure: m}
		if m.Quantity == amp.Current && t.lead == "screen" {
			k.screen = t.ref
		}
		out, ts = append(out, k), append(ts, &t)
	}
	c.nodeMeasures(add)
	for i := range c.joints.parts {
		if p := &c.joints.parts[i]; len(p.Nodes) > 0 {
			c.partMeasures(p, add)
		}
	}
	for i := range c.fits {
		c.relate(out, ts, &c.fits[i])
	}
	return slices.DeleteFunc(out, func(k *candidate) bool { return k.err[0] == 0 })
}

// nodeMeasures offers the nodes nobody read. Grids and what hangs on nothing
// but grids are left out: the meter would load them.
func (c *Calibration) nodeMeasures(add func(Measure, target)) {
	for _, n := range c.Net.Nodes() {
		root := c.joints.root(n)
		if root != n || n == chassisNode || len(c.joints.ways[n])+len(c.joints.pull[n]) == 0 || c.taken(readNode, n, "") {
			continue
		}
		add(Measure{At: n, Quantity: amp.Volts, How: "meter from node " + n + " to the chassis", Live: true},
			target{kind: readNode, node: n})
	}
}

func (c *Calibration) partMeasures(p *amp.Position, add func(Measure, target)) {
	switch {
	case isOneOf(p.Kind, tubeKinds...):
		for _, lead := range []string{"screen", "cathode"} {
			if _, has := p.Node(lead); !has || c.taken(readCurrent, p.Ref, lead) || lead == "cathode" && c.toldCurrent(p.Ref) {
				continue
			}
			add(Measure{At: p.Ref + ":" + lead, Quantity: amp.Current, How: currentBy(p.Ref, lead), Live: true},
				target{kind: readCurrent, ref: p.Ref, lead: lead})
		}
	case p.Kind == "winding":
		if k, ok := c.Net.Knob(p.Ref, Volts); ok && c.halves[k].assumed || ok && c.halves[k].why == "sheet" {
			add(Measure{At: p.Ref, Quantity: amp.RMSVolts, State: amp.NoLoad, Live: true,
				How: "AC volts of " + p.Ref + " with the rectifier out, so that nothing draws current"}, target{kind: readWinding, ref: p.Ref})
		}
	case isOneOf(p.Kind, "resistor", "choke"):
		if !c.taken(readOhms, p.Ref, "") {
			add(Measure{At: p.Ref, Quantity: amp.Ohms, State: amp.Off, How: "ohms of " + p.Ref + " with the power off and the capacitors discharged"},
				target{kind: readOhms, ref: p.Ref})
		}
	}
}

func currentBy(ref, lead string) string {
	if lead == "screen" {
		return "screen current of " + ref + ": the drop over its screen resistor, divided by its ohms"
	}
	return "cathode current of " + ref + ": the drop over its cathode resistor or a 1-ohm resistor there"
}

// taken reports whether a reading of this place was given.
func (c *Calibration) taken(kind targetKind, at, lead string) bool {
	for i := range c.targets {
		t := &c.targets[i]
		switch {
		case t.kind != kind || t.why != "":
		case kind == readNode && t.bench && t.node == at, kind == readCurrent && t.bench && t.ref == at && t.lead == lead,
			kind == readOhms && t.ref == at:
			return true
		}
	}
	return false
}

// toldCurrent reports whether some reading tells a tube's current.
func (c *Calibration) toldCurrent(ref string) bool {
	t, ok := c.read[ref]
	return ok && !t.averaged
}

// relate works out how every reading would move with each cause of a fit. One
// that would read nothing gets no error, and is then left out.
func (c *Calibration) relate(ks []*candidate, ts []*target, f *fit) {
	rows := slopes(f.sol, f.directions, ts)
	for n, k := range ks {
		t := ts[n]
		s := make([]float64, len(f.directions))
		amount, _ := t.of(f.sol)
		knob, own := c.ownKnob(t)
		for i := range f.directions {
			s[i] = rows[i][n]
			for _, m := range f.directions[i].moves {
				if own && m.knob == knob {
					s[i] += m.by
				}
			}
		}
		if own {
			amount = f.values[knob]
		}
		k.slopes = append(k.slopes, s)
		k.err = append(k.err, math.Abs(amount)*max(c.bench.Meter, ordinaryMeter))
	}
}

// ownKnob is the knob that a reading with the power off, or of an open
// winding, tells by itself.
func (c *Calibration) ownKnob(t *target) (int, bool) {
	var try []Property
	switch t.kind {
	case readWinding:
		try = []Property{Volts}
	case readOhms:
		try = []Property{Ohms, Copper}
	}
	for _, p := range try {
		if k, ok := c.Net.Knob(t.ref, p); ok {
			return k, true
		}
	}
	return 0, false
}

// ordinaryMeter is the error taken for a reading that is still to be made.
const ordinaryMeter = 0.005

// weigh adds to every candidate what it would do for one figure.
func (a *after) weigh(ms []*candidate, sc Scenario, ps []*prospect, f Figure, i int, low, high float64) {
	b := a.band(sc, ps, f, i, func(Figure) (float64, float64, bool) { return math.Inf(-1), math.Inf(1), true })
	scale := math.Abs(high)
	if math.IsInf(high, 0) {
		scale = math.Abs(low)
	}
	if b.Missing != "" || scale == 0 || math.IsInf(scale, 0) {
		return
	}
	weight := 1.0
	if b.Doubt == "" && (b.Low >= low && b.High <= high || b.Low > high || b.High < low) {
		weight = plainFigure
	}
	for _, p := range ps {
		r, err := p.reach(f, p.slope[i], false, 0, 0)
		if err != nil {
			continue
		}
		for _, m := range ms {
			if g := weight * p.gain(m, r, f) / scale; g > m.Gain {
				m.Gain, m.Figure, m.Scenario = g, f, sc.Name
			}
		}
	}
}

// gain is by how much a reading would narrow one figure's half width.
func (p *prospect) gain(m *candidate, r *reach, f Figure) float64 {
	fit := slices.IndexFunc(p.a.c.fits, func(o fit) bool { return o.sol == p.spec.fit.sol })
	with, seen, own := 0.0, m.err[fit]*m.err[fit], 0.0
	for i := range p.ds {
		part := r.parts[i] + r.soft[i]
		own += r.parts[i] * r.parts[i]
		if i < len(p.spec.from) {
			g := m.slopes[fit][p.spec.from[i]]
			with += part * g
			seen += g * g
		}
	}
	q, _ := p.figure(f)
	q *= p.factor(f)
	own += r.carry * r.carry * q * q
	left := own
	if seen > 0 {
		left -= with * with / seen
	}
	if m.screen == f.Ref && f.Quantity == limit.ScreenWatts && r.basis == Anchored {
		left = min(left, own-(screenByType*screenByType-screenCarry*screenCarry)*q*q)
	}
	return math.Sqrt(own) - math.Sqrt(max(left, 0))
}
