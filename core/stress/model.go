package stress

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"lugworth/core/amp"
	"lugworth/core/intake"
	"lugworth/core/tube"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Input is what the first-order rules work from.
type Input struct {
	Amp        *amp.Amp
	Mains      intake.Mains
	Cards      func(tubeType string) (tube.Card, bool)
	Meter      float64 // the shop's stated meter error for readings without one
	MeterKnown bool
	Circuit    *Circuit          // the amp's own circuit, nil where it does not answer
	Against    map[string]string // by position: why its check readings speak against its figures
}

// A Model answers for one amp in one state. It is cheap to make: readings
// are indexed once, in New, and shared by the models of other states.
type Model struct {
	in    Input
	state State
	index *index
	base  *Model // of the amp as found; nil if this is it
	after *after // what the circuit gives, once asked
	from  *Model // what its figures moved from, once asked
}

// New returns the model of the amp as found.
func New(in Input) *Model {
	return &Model{in: in, index: newIndex(in.Amp)}
}

// With returns the model of the same amp after a choice.
func (m *Model) With(s State) *Model {
	base := m
	if m.base != nil {
		base = m.base
	}
	if s.TapBy == "" && len(s.Resistors)+len(s.Tubes) == 0 {
		return base
	}
	return &Model{in: m.in, state: s, index: m.index, base: base}
}

// State returns the choice the model stands for.
func (m *Model) State() State { return m.state }

type key struct{ at, quantity string }

// index finds readings and the tubes of the output stage.
type index struct {
	loaded, noload, highest map[key]*amp.Reading
	chart                   unit.Voltage // the mains of the as-found chart
	nodes                   map[string]string
	windings                []*amp.Position
	tubes                   []*amp.Position       // output tubes
	cathodes                []*amp.Position       // resistors under their cathodes
	odd                     map[*amp.Reading]bool // read more than once, and not alike
	grids                   *grids
}

func newIndex(a *amp.Amp) *index {
	x := &index{
		loaded: map[key]*amp.Reading{}, noload: map[key]*amp.Reading{}, highest: map[key]*amp.Reading{},
		nodes: map[string]string{}, windings: a.WithRole(amp.HighWinding),
		tubes: a.WithRole(amp.OutputTube), cathodes: a.WithRole(amp.CathodeResistor),
		odd: map[*amp.Reading]bool{}, grids: newGrids(a),
	}
	for i := range a.Positions {
		p := &a.Positions[i]
		for _, n := range p.Nodes {
			x.nodes[p.Ref+":"+n.Role] = n.Name
		}
	}
	x.chart = chartMains(a)
	for i := range a.Readings {
		x.add(&a.Readings[i])
	}
	return x
}

// chartMains is the mains at which most as-found readings were taken, the
// lower one if two are equal: predictions start from one chart.
func chartMains(a *amp.Amp) unit.Voltage {
	count := map[unit.Voltage]int{}
	var best unit.Voltage
	for _, r := range a.Readings {
		if r.Mains <= 0 || !begins(&r) {
			continue
		}
		count[r.Mains]++
		c := count[r.Mains]
		if c > count[best] || c == count[best] && r.Mains < best {
			best = r.Mains
		}
	}
	return best
}

// begins reports whether a prediction may start from a reading: one of the
// as-found chart, with the full mains on the amp. Behind a lamp limiter the
// amp sees less than the mains that was noted.
func begins(r *amp.Reading) bool {
	return !r.Has(amp.Check) && !r.Has(amp.Final) && !r.Has(amp.Soak) && !r.Has(amp.LimiterIn)
}

func (x *index) add(r *amp.Reading) {
	if !begins(r) || r.Has(amp.Off) && r.Quantity != amp.Ohms {
		return
	}
	m := x.loaded
	switch {
	case r.Has(amp.Highest):
		m = x.highest
	case r.Has(amp.NoLoad), r.Has(amp.TubesOut), r.Has(amp.Standby):
		m = x.noload
	}
	for _, k := range x.keys(r) {
		old, ok := m[k]
		if ok && old.Mains == x.chart && r.Mains != x.chart {
			continue
		}
		if ok && apart(old, r) {
			x.odd[r] = true
		}
		m[k] = r
	}
}

// apart reports whether two readings of one thing at one mains differ by more
// than their meters and last figures allow, and one percent.
func apart(a, b *amp.Reading) bool {
	if a.Mains != b.Mains || a.Tap != b.Tap {
		return false
	}
	room := math.Abs(a.Amount)*(a.Meter+0.005) + math.Abs(b.Amount)*(b.Meter+0.005) + a.Step + b.Step
	return math.Abs(a.Amount-b.Amount) > room
}

// keys gives the names a reading answers to: as written, and for volts the
// node it was taken on.
func (x *index) keys(r *amp.Reading) []key {
	ks := []key{{r.At, r.Quantity}}
	if r.Quantity == amp.Volts {
		if n, ok := x.nodes[r.At]; ok && n != r.At {
			ks = append(ks, key{n, r.Quantity})
		}
	}
	return ks
}

// read returns a loaded reading of one electrode, or of the node it is on.
func (m *Model) read(ref, electrode, quantity string) *amp.Reading {
	at := ref
	if electrode != "" {
		at = ref + ":" + electrode
	}
	if r := m.index.loaded[key{at, quantity}]; r != nil {
		return r
	}
	if n, ok := m.index.nodes[at]; ok {
		return m.index.loaded[key{n, quantity}]
	}
	return nil
}

// figure is a reading, or a sum made of readings, on its way to a stress.
type figure struct {
	amount  float64
	err     float64 // relative error by the meter
	known   bool    // whether that error was stated anywhere
	odd     string  // why nothing better than not proven may rest on it
	reading *amp.Reading
	node    *why.Node
	missing string
}

func lacking(format string, args ...any) figure {
	return figure{missing: fmt.Sprintf(format, args...)}
}

// take turns a reading into a figure, with the meter error it carries.
func (m *Model) take(r *amp.Reading, label string) figure {
	f := figure{amount: r.Amount, reading: r, err: r.Meter, known: r.Stated}
	if !r.Stated {
		f.err, f.known = m.in.Meter, m.in.MeterKnown
	}
	if m.index.odd[r] {
		f.odd = r.At + " was read more than once at this mains, and not alike: keep the reading that holds"
	}
	f.node = why.Given(label, unit.Quantity{Amount: r.Amount, Unit: r.Unit}, "reading "+r.ID)
	return f
}

// working is take for what must read above nothing in a stage that works.
func (m *Model) working(r *amp.Reading, label string) figure {
	if r.Amount <= 0 {
		return lacking("%s of %s was read as %s: no working figure, read it again", label, r.At, unit.Quantity{Amount: r.Amount, Unit: r.Unit})
	}
	return m.take(r, label)
}

// rest gives a figure what it inherits from those it is made of.
func (f *figure) rest(on ...figure) {
	f.known = true
	for _, o := range on {
		f.known = f.known && o.known
		if f.odd == "" {
			f.odd = o.odd
		}
	}
}

// together reports whether two readings were taken at one mains on one tap.
func (m *Model) together(a, b *amp.Reading) bool {
	return a.Mains == b.Mains && m.tapAt(a.Tap) == m.tapAt(b.Tap)
}

// ratio carries a reading from its own mains and tap to another mains on the
// tap in use.
func (m *Model) ratio(r *amp.Reading, mains unit.Voltage) (float64, *why.Node, string) {
	if r.Mains <= 0 {
		return 0, nil, fmt.Sprintf("reading %s has no mains beside it", r.ID)
	}
	at, now, err := m.tapPair(r.Tap)
	if err != "" {
		return 0, nil, err
	}
	ratio := (float64(mains) / now) / (float64(r.Mains) / at)
	return ratio, m.ratioNode(r, mains, ratio), ""
}

func (m *Model) ratioNode(r *amp.Reading, mains unit.Voltage, ratio float64) *why.Node {
	from := []*why.Node{
		why.Given("mains judged at", volts(float64(mains)), m.in.Mains.Record),
		why.Given("mains at the reading", volts(float64(r.Mains)), "reading "+r.ID),
	}
	if m.in.Amp.Tap != "" {
		from = append(from, why.Given("tap in use", why.Text(m.tapNow()), m.state.TapBy),
			why.Given("tap at the reading", why.Text(m.tapAt(r.Tap)), "reading "+r.ID))
	}
	return why.Found(RuleRatio, "mains ratio", plain(ratio), from...)
}

func (m *Model) tapAt(tap string) string {
	if tap != "" {
		return tap
	}
	return m.in.Amp.Tap
}

func (m *Model) tapNow() string { return m.tapAt(m.state.Tap) }

// tapPair returns the volts of the tap at a reading and of the tap in use.
// One that is known beside one that is not gives no ratio.
func (m *Model) tapPair(tap string) (at, now float64, missing string) {
	if (m.tapAt(tap) == "") != (m.tapNow() == "") {
		return 0, 0, "the mains tap as found is not known"
	}
	if at, missing = m.tapVolts(tap); missing != "" {
		return 0, 0, missing
	}
	now, missing = m.tapVolts(m.state.Tap)
	return at, now, missing
}

// tapVolts returns the volts a tap is marked for, 1 where the amp has none.
// Only a tap the amp is said to have counts: a mistyped one would scale every
// figure down.
func (m *Model) tapVolts(tap string) (float64, string) {
	tap = m.tapAt(tap)
	if tap == "" {
		if len(m.in.Amp.Taps) > 0 {
			return 0, "the mains tap in use is not known"
		}
		return 1, ""
	}
	v, err := strconv.ParseFloat(tap, 64)
	if err != nil || !(v > 0 && v <= 1000) {
		return 0, fmt.Sprintf("mains tap %q is not a voltage", tap)
	}
	if tap != m.in.Amp.Tap && !slices.Contains(m.in.Amp.Taps, tap) {
		return 0, fmt.Sprintf("mains tap %q is not among the taps of the amp", tap)
	}
	return v, ""
}

func volts(v float64) unit.Quantity { return unit.Quantity{Amount: v, Unit: unit.Volt} }

// plain is a bare ratio or factor; it is formatted only when shown.
type plain float64

func (p plain) String() string { return strconv.FormatFloat(float64(p), 'f', 4, 64) }

// Chart returns the mains of the as-found chart, 0 if nothing was read.
func (m *Model) Chart() unit.Voltage { return m.index.chart }

// Of returns the as-found model of another chart under the same owner's mains
// and cards.
func (m *Model) Of(a *amp.Amp) *Model {
	in := m.in
	in.Amp, in.Circuit = a, nil
	return New(in)
}
