package stress

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A Circuit is the amp's own circuit, matched to its readings: the second
// tier. It answers beside the first-order rules.
type Circuit struct {
	Matched *circuit.Calibration
	Laws    circuit.Laws
	Need    circuit.Need     // between which ends each figure is asked for; may be nil
	Figures []circuit.Figure // what is judged, asked for together
	Standby bool             // a switch of the sheet opens in standby

	read   *why.Node         // what it was matched to, once asked for
	kept   map[string]*after // by what is changed
	probed map[probed]*circuit.Solution
	asked  map[probe][]circuit.Figure
}

// RuleCircuit is how the second tier finds a figure.
var RuleCircuit = &why.Rule{
	Name: "the amp's own circuit", Says: "Every specimen of the circuit that agrees with the readings is solved at this mains; the ends hold all of them, and every corner of what nobody read.",
	Formula: "sum of currents at every node = 0", Source: "Kirchhoff's current law; tube laws fitted to published points",
}

// RuleMatched is how the circuit was matched to the chart.
var RuleMatched = &why.Rule{
	Name: "matched to the readings", Says: "Windings, tubes and ohms nobody measured are moved until the circuit reads what the meter read; tubes in two ways, by current and by grid volts.",
	Formula: "circuit at the chart's mains = reading", Source: "our own method",
}

// matchedTo is what the circuit was matched to, reading by reading.
func (c *Circuit) matchedTo() *why.Node {
	if c.read == nil {
		var from []*why.Node
		for _, r := range c.Matched.Residuals {
			if r.Used {
				q := &r.Reading
				from = append(from, why.Given(q.At+" "+q.Quantity, unit.Quantity{Amount: q.Amount, Unit: q.Unit}, "reading "+q.ID))
			}
		}
		c.read = why.Found(RuleMatched, "the circuit at the chart's mains", volts(float64(c.Matched.Mains)), from...)
	}
	return c.read
}

// lawNode says where the current law of a figure's tube comes from, nil for
// what is no tube.
func (m *Model) lawNode(ref string) *why.Node {
	p, ok := m.in.Amp.Find(ref)
	if !ok || p.Type == "" || m.in.Circuit.Laws == nil {
		return nil
	}
	typ := cmp.Or(m.state.Types[ref], m.state.Types[amp.Base(ref)], p.Type)
	l, doubt, ok := m.in.Circuit.Laws(typ)
	switch {
	case !ok:
		return nil
	case l.Points == 0:
		return why.Given("current law of "+typ, why.Text("constants as stated"), cmp.Or(doubt, "card "+l.Type))
	}
	return why.Given("current law of "+typ, why.Text(fmt.Sprintf("fitted to %d published points", l.Points)), cmp.Or(doubt, "card "+l.Type))
}

// after is the circuit in one state of the amp. What is solved is kept.
type after struct {
	choice  circuit.Choice
	missing string
	bands   map[situation]map[circuit.Figure]*circuit.Band
}

// A situation is one scenario at one mains.
type situation struct {
	name  string
	mains unit.Voltage
}

// HasCircuit reports whether the second tier answers.
func (m *Model) HasCircuit() bool { return m.in.Circuit != nil }

// Solved returns a figure by the amp's own circuit; ok is false where there is
// no circuit, or the figure is none of its own.
func (m *Model) Solved(ref string, q limit.Quantity, mains unit.Voltage, scenario string) (s Stress, ok bool) {
	if m.in.Circuit == nil {
		return s, false
	}
	f := circuit.Figure{Ref: ref, Quantity: q}
	b := m.band(f, situation{scenario, mains})
	if b == nil {
		return s, false
	}
	return m.stressOf(b, situation{scenario, mains}), true
}

// Greatest returns the greatest of a figure over the situations a part must
// bear at the given mains: at work, before the tubes conduct, in standby.
func (m *Model) Greatest(ref string, q limit.Quantity, mains unit.Voltage) (s Stress, ok bool) {
	for _, at := range m.situations(circuit.Figure{Ref: ref, Quantity: q}, mains) {
		one, have := m.Solved(ref, q, at.mains, at.name)
		switch {
		case !have:
		case !ok:
			s, ok = one, true
		case one.Missing != "":
			s.Doubt = cmp.Or(s.Doubt, one.Missing)
		case s.Missing != "":
			one.Doubt = cmp.Or(one.Doubt, s.Missing)
			s = one
		case one.High > s.High:
			one.Doubt = cmp.Or(one.Doubt, s.Doubt)
			s = one
		default:
			s.Doubt = cmp.Or(s.Doubt, one.Doubt)
		}
	}
	return s, ok
}

// situations are those a figure is judged in. Ratings of tubes hold for a tube
// at work; a part bears what comes in any of them. The bottom of the range
// counts where a figure is greater there.
func (m *Model) situations(f circuit.Figure, mains unit.Voltage) []situation {
	out := []situation{{Top, mains}}
	if low := m.in.Mains.Low; m.in.Circuit.greaterAt(f, low, mains) {
		out = append(out, situation{Bottom, low})
	}
	switch f.Quantity {
	case limit.DCVolts, limit.Watts, limit.InverseVolts:
		out = append(out, situation{Cold, mains})
		if m.in.Circuit.Standby {
			out = append(out, situation{Standby, mains})
		}
	}
	return out
}

// band finds one figure, and with it all others of its situation.
func (m *Model) band(f circuit.Figure, at situation) *circuit.Band {
	a := m.circuitAfter()
	bands, have := a.bands[at]
	if !have {
		bands = m.solve(a, at)
		a.bands[at] = bands
	}
	return bands[f]
}

func (m *Model) solve(a *after, at situation) map[circuit.Figure]*circuit.Band {
	c := m.in.Circuit
	out := make(map[circuit.Figure]*circuit.Band, len(c.Figures))
	if a.missing != "" {
		for _, f := range c.Figures {
			u, _ := limit.UnitOf(f.Quantity)
			out[f] = &circuit.Band{Figure: f, Scenario: at.name, Mains: at.mains, Unit: u, Missing: a.missing}
		}
		return out
	}
	sc := m.ScenarioOf(at.name, at.mains)
	bands := c.Matched.Bands(a.choice, []circuit.Scenario{sc}, c.ask(at.name), c.Laws, c.needed)
	for i := range bands {
		out[bands[i].Figure] = &bands[i]
	}
	return out
}

// circuitAfter is the circuit in this model's state. Choices that change it
// alike share one, whatever their options are called.
func (m *Model) circuitAfter() *after {
	if m.after != nil {
		return m.after
	}
	c, k := m.in.Circuit, m.state.changes()
	if c.kept[k] == nil {
		a := &after{bands: map[situation]map[circuit.Figure]*circuit.Band{}}
		a.choice, a.missing = m.choice()
		if c.kept == nil {
			c.kept = map[string]*after{}
		}
		c.kept[k] = a
	}
	m.after = c.kept[k]
	return m.after
}

// changes writes what a state changes in the circuit, without saying which
// options do.
func (s State) changes() string {
	var b strings.Builder
	b.WriteString(s.Tap)
	for _, ref := range sortedRefs(s.Resistors) {
		r := s.Resistors[ref]
		fmt.Fprintf(&b, "|%s=%g±%g,%v", ref, r.Ohms, r.Tolerance, r.Stated)
	}
	for _, ref := range slices.Sorted(maps.Keys(s.Tubes)) {
		b.WriteString("|" + ref + "~" + s.Types[ref])
	}
	return b.String()
}

// Forget drops what was solved of all states but that of the amp as found,
// where they are more than most.
func (c *Circuit) Forget(most int) {
	if len(c.kept) > most {
		c.kept = map[string]*after{"": c.kept[""]}
	}
}

// unmoved is the amp with new tubes of the types that stand there and nothing
// else of the choice: the others are what moved its figures. Tubes of the same
// type widen what is known; they are read again and count as no change.
func (m *Model) unmoved() *Model {
	if m.from == nil {
		var s State
		for ref, by := range m.state.Tubes {
			if m.state.Types[ref] == "" {
				if s.Tubes == nil {
					s.Tubes = map[string]string{}
				}
				s.Tubes[ref] = by
			}
		}
		m.from = m.With(s)
	}
	return m.from
}

// movers names the options that made a state, those that only fit new tubes
// of the same type left out.
func (s State) movers() string {
	same := s
	same.Tubes = map[string]string{}
	for ref := range s.Types {
		same.Tubes[ref] = s.Tubes[ref]
	}
	return same.by()
}

// choice says what the state means for the circuit.
func (m *Model) choice() (c circuit.Choice, missing string) {
	if m.state.Tap != "" {
		was, now, missing := m.tapPair("")
		if missing != "" {
			return c, missing
		}
		c.Ratio = was / now
	}
	for _, ref := range sortedRefs(m.state.Resistors) {
		r := m.state.Resistors[ref]
		if r.Ohms <= 0 {
			return c, "the ohms of the new " + ref + " are not known"
		}
		if c.Values == nil {
			c.Values = map[circuit.Figured]circuit.Marked{}
		}
		c.Values[circuit.Figured{Ref: ref, Property: circuit.Ohms}] = circuit.Marked{Value: r.Ohms, Tolerance: m.toleranceOf(r)}
	}
	for _, ref := range slices.Sorted(maps.Keys(m.state.Tubes)) {
		m.fit(&c, ref)
	}
	return c, ""
}

// fit puts another tube into a place, and into every row of the sheet that is
// part of it.
func (m *Model) fit(c *circuit.Choice, ref string) {
	if c.Fresh == nil {
		c.Fresh, c.Types = map[string]bool{}, map[string]string{}
	}
	c.Fresh[ref] = true
	if t := m.state.Types[ref]; t != "" {
		c.Types[ref] = t
	}
}

// toleranceOf is what the row of a new resistor states, else what is assumed
// of any.
func (m *Model) toleranceOf(c Change) float64 {
	if c.Stated {
		return c.Tolerance
	}
	for _, r := range m.in.Circuit.Matched.Spreads {
		if r.Key == "spread_resistor" {
			return r.Amount
		}
	}
	return 1
}

// by names the options that made a state.
func (s State) by() string {
	var all []string
	add := func(o string) {
		for _, o := range strings.Split(o, " and ") {
			if o != "" && !slices.Contains(all, o) {
				all = append(all, o)
			}
		}
	}
	add(s.TapBy)
	for _, ref := range sortedRefs(s.Resistors) {
		add(s.Resistors[ref].Option)
	}
	for _, ref := range slices.Sorted(maps.Keys(s.Tubes)) {
		add(s.Tubes[ref])
	}
	return strings.Join(all, " and ")
}

// stressOf puts a band into the form of every other figure. What it would be
// without the choice is the same figure of the amp as found.
func (m *Model) stressOf(b *circuit.Band, at situation) Stress {
	s := Stress{Subject: b.Ref, Quantity: b.Quantity, Scenario: at.name, Mains: at.mains, Interval: b.Interval, Unit: b.Unit,
		Tier: 1, Missing: b.Missing, Doubt: b.Doubt, Band: b}
	if s.Missing != "" {
		s.Interval = unit.Interval{}
		return s
	}
	s.Inherited = s.High
	moved := m.state.movers()
	s.Movers = moved
	if moved != "" {
		if was := m.unmoved().band(b.Figure, at); was != nil && was.Missing == "" {
			s.Inherited, s.Cause = was.High, moved
		}
	}
	s.Fresh = len(m.state.Tubes) > len(m.state.Types)
	s.Node = m.circuitNode(b)
	return s
}

// circuitNode explains a band: what it was matched to, and what its width
// comes from.
func (m *Model) circuitNode(b *circuit.Band) *why.Node {
	var from []*why.Node
	for _, c := range b.Causes {
		from = append(from, why.Given("of the width, "+c.Says(), share(c.Part), "circuit sheet"))
	}
	from = append(from, why.Given("mains judged at", volts(float64(b.Mains)), m.in.Mains.Record),
		why.Given("rests on", why.Text(b.Basis.String()), "circuit sheet"))
	// The supply behind a new tube was matched all the same.
	if n := m.in.Circuit.matchedTo(); len(n.From) > 0 {
		from = append(from, n)
	}
	if l := m.lawNode(b.Ref); l != nil {
		from = append(from, l)
	}
	if b.Assumed {
		from = append(from, why.Given("assumed where nobody measured", why.Text("see the spread table"), "shop sheet, spread_..."))
	}
	return why.Found(RuleCircuit, "by the amp's own circuit", unit.Quantity{Amount: b.High, Unit: b.Unit}, from...)
}

func share(part float64) unit.Quantity { return unit.Quantity{Amount: 100 * part, Unit: unit.Percent} }

// Chosen returns what the state means for the circuit; missing says why it
// cannot be told.
func (m *Model) Chosen() (ch circuit.Choice, missing string) {
	a := m.circuitAfter()
	return a.choice, a.missing
}

// ScenarioOf returns the circuit's scenario of a situation, as its name is.
func (m *Model) ScenarioOf(name string, mains unit.Voltage) circuit.Scenario {
	a := m.circuitAfter()
	return circuit.Scenario{Name: name, Low: mains, High: mains, Ratio: a.choice.Ratio, Cold: name == Cold, Standby: name == Standby}
}

// A Failure is a state in which something has failed, or of full signal.
type Failure struct {
	Name   string
	Mains  unit.Voltage
	Faults []circuit.Fault
	Drive  []circuit.DriveShare
}

// Failing returns what every judged position would bear in a failure; missing
// says why nothing is known of it.
func (m *Model) Failing(f Failure) (all []Stress, missing string) {
	c, a := m.in.Circuit, m.circuitAfter()
	if a.missing != "" {
		return nil, a.missing
	}
	sc := circuit.Scenario{Name: f.Name, Low: f.Mains, High: f.Mains, Faults: f.Faults, Drive: f.Drive, Fault: len(f.Faults) > 0}
	bands := c.Matched.Bands(a.choice, []circuit.Scenario{sc}, c.ask(Top), c.Laws, nil)
	for i := range bands {
		b := &bands[i]
		if b.Missing != "" {
			missing = b.Missing
			continue
		}
		all = append(all, Stress{Subject: b.Ref, Quantity: b.Quantity, Scenario: f.Name, Mains: f.Mains, Interval: b.Interval, Unit: b.Unit,
			Tier: 1, Doubt: b.Doubt, Inherited: b.High, Band: b, Node: m.circuitNode(b)})
	}
	if len(all) > 0 {
		missing = ""
	}
	return all, missing
}
