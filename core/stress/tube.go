package stress

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// The reasons on every figure of an output stage whose tubes change.
const (
	ended     = "other output tubes are fitted: read the stage again"
	endedFeed = "another rectifier is fitted: read the stage again"
)

func (m *Model) outputTubes() []*amp.Position { return m.index.tubes }

// replaced reports whether other tubes are fitted that the figures of the
// stage rest on: one output tube moves the bias and the supply of all, another
// rectifier the supply.
func (m *Model) replaced() bool { return len(m.state.Tubes) > 0 }

// endedBy says which tubes ended the figures.
func (m *Model) endedBy() string {
	for ref := range m.state.Tubes {
		if p, ok := m.in.Amp.Find(ref); ok && p.Role == amp.OutputTube {
			return ended
		}
	}
	return endedFeed
}

// Tube returns one figure of an output tube at the given mains: plate volts,
// screen volts, plate watts, screen watts or cathode current.
//
// Volts are to the cathode and follow the mains. Dissipation lies between the
// square and the two-and-a-half power of the mains ratio where the bias
// follows the mains, and is in doubt where it does not. A changed cathode
// resistor acts by RuleBigger and RuleRise. Fitting other tubes ends the
// figures.
func (m *Model) Tube(t *amp.Position, q limit.Quantity, mains unit.Voltage, scenario string) Stress {
	s := Stress{Subject: t.Ref, Quantity: q, Scenario: scenario, Mains: mains}
	switch q {
	case limit.PlateVolts:
		s.Unit = unit.Volt
		m.tubeVolts(&s, t, "plate", mains)
	case limit.ScreenVolts:
		s.Unit = unit.Volt
		m.tubeVolts(&s, t, "screen", mains)
	case limit.PlateWatts:
		s.Unit = unit.Watt
		m.tubeWatts(&s, t, "plate", mains)
	case limit.ScreenWatts:
		s.Unit = unit.Watt
		m.tubeWatts(&s, t, "screen", mains)
	case limit.BothWatts:
		s.Unit = unit.Watt
		m.bothWatts(&s, t, mains)
	case limit.CathodeCurrent:
		s.Unit = unit.Ampere
		m.tubeCurrent(&s, t, mains)
	default:
		s.Missing = "no reading says this"
	}
	if s.Missing == "" && s.Doubt == "" {
		s.Doubt = cmp.Or(m.otherwise(), m.in.Against[t.Ref])
	}
	if s.Missing == "" && m.replaced() {
		s.Doubt, s.Cause = m.endedBy(), ""
		s.Interval, s.Inherited = unit.Interval{}, 0
		s.Missing = s.Doubt
	}
	return s
}

// otherwise says which change of the stage no first-order rule follows.
func (m *Model) otherwise() string {
	for _, ref := range sortedRefs(m.state.Resistors) {
		if p, ok := m.in.Amp.Find(ref); ok && p.Role != amp.CathodeResistor {
			return ref + otherValue
		}
	}
	return ""
}

func sortedRefs(m map[string]Change) []string { return slices.Sorted(maps.Keys(m)) }

// Ended reports whether a figure ended because other tubes are fitted.
func (s Stress) Ended() bool { return Ends(s.Missing) }

// Ends reports whether a reason is that other tubes are fitted.
func Ends(reason string) bool { return reason == ended || reason == endedFeed }

// toCathode returns the volts of an electrode to the cathode, as read.
func (m *Model) toCathode(t *amp.Position, electrode string) (figure, figure) {
	r := m.read(t.Ref, electrode, amp.Volts)
	if r == nil {
		return lacking("%s volts of %s were not read", electrode, t.Ref), figure{}
	}
	k := m.cathodeVolts(t, r)
	if k.missing != "" {
		return k, k
	}
	e := m.take(r, electrode+" volts")
	if k.reading != nil && !m.together(k.reading, r) {
		return lacking("%s and cathode of %s were read at different mains", electrode, t.Ref), k
	}
	d := figure{amount: e.amount - k.amount, reading: r}
	d.rest(e, k)
	if d.amount <= 0 {
		return lacking("the %s of %s reads no higher than its cathode: read both again", electrode, t.Ref), k
	}
	d.err = (math.Abs(e.amount)*e.err + math.Abs(k.amount)*k.err) / math.Abs(d.amount)
	d.node = why.Found(RuleDifference, electrode+" to cathode as read", volts(d.amount), e.node, k.node)
	return d, k
}

// cathodeVolts returns the cathode's volts to the chassis: read, or zero on
// the chassis itself.
func (m *Model) cathodeVolts(t *amp.Position, with *amp.Reading) figure {
	if n, ok := t.Node("cathode"); ok && n == "0" {
		return figure{known: true, reading: with, node: why.Given("cathode on the chassis", volts(0), "sheet "+t.Ref)}
	}
	r := m.read(t.Ref, "cathode", amp.Volts)
	if r == nil {
		return lacking("cathode volts of %s were not read", t.Ref)
	}
	return m.take(r, "cathode volts")
}

func (m *Model) tubeVolts(s *Stress, t *amp.Position, electrode string, mains unit.Voltage) {
	f, _ := m.toCathode(t, electrode)
	if f.missing != "" {
		s.Missing = f.missing
		return
	}
	m.scaled(s, f, mains, 1, RuleVolts)
	if s.Missing != "" {
		return
	}
	d, ok, missing := m.cathodeChange(t)
	if missing != "" {
		s.Doubt = missing
		return
	}
	if ok {
		m.rise(s, t, electrode, d, mains)
	}
}

// rise adds what the supply recovers under the lighter load.
func (m *Model) rise(s *Stress, t *amp.Position, electrode string, d change, mains unit.Voltage) {
	peak := Stress{Quantity: limit.DCVolts, Scenario: Cold, Mains: mains, Unit: unit.Volt}
	m.noLoadPeak(&peak, mains)
	r := m.read(t.Ref, electrode, amp.Volts)
	if peak.Missing != "" {
		s.Doubt = recovers + peak.Missing
		return
	}
	s.Doubt = cmp.Or(s.Doubt, peak.Doubt)
	k, _, _ := m.ratio(r, mains)
	up := (1 - d.least) * (peak.High - r.Amount*k)
	if up <= 0 {
		return
	}
	s.High += up
	s.Expected += up / 2
	s.Cause = d.option
	from := why.Found(RuleRise, "rise at most", volts(up), d.node, peak.Node, why.Given(electrode+" volts", volts(r.Amount), "reading "+r.ID))
	s.Node = why.Found(RuleRise, "volts after the change", volts(s.High), s.Node, from)
}

func amps(a float64) unit.Quantity  { return unit.Quantity{Amount: a, Unit: unit.Ampere} }
func watts(w float64) unit.Quantity { return unit.Quantity{Amount: w, Unit: unit.Watt} }

// screenCurrent returns the screen current as read.
func (m *Model) screenCurrent(t *amp.Position) figure {
	r := m.read(t.Ref, "screen", amp.Current)
	if r == nil {
		return lacking("screen current of %s was not read", t.Ref)
	}
	return m.working(r, "screen current")
}

// dissipation returns plate or screen watts at the reading.
func (m *Model) dissipation(t *amp.Position, electrode string) (f figure, average bool) {
	v, _ := m.toCathode(t, electrode)
	if v.missing != "" {
		return v, false
	}
	g2 := m.screenCurrent(t)
	if electrode == "screen" {
		if g2.missing != "" {
			return g2, false
		}
		if !m.together(v.reading, g2.reading) {
			return lacking("screen volts and screen current of %s were read at different mains", t.Ref), false
		}
		return product(v, g2, RuleScreenWatts, "screen dissipation as read"), false
	}
	k, average := m.current(t)
	if k.missing != "" {
		return k, false
	}
	if !m.together(v.reading, k.reading) || g2.missing == "" && !m.together(v.reading, g2.reading) {
		return lacking("volts and currents of %s were read at different mains", t.Ref), false
	}
	i := k
	if g2.missing == "" {
		i.amount -= g2.amount
		if i.amount <= 0 {
			return lacking("the screen current of %s reads no less than its cathode current: read both again", t.Ref), false
		}
		i.err = (k.amount*k.err + g2.amount*g2.err) / i.amount
		i.rest(k, g2)
	}
	f = product(v, i, RulePlateWatts, "plate dissipation as read")
	f.node.From = append(f.node.From[:1:1], k.node)
	if g2.missing == "" {
		f.node.From = append(f.node.From, g2.node)
	} else {
		f.missing = g2.missing
	}
	return f, average
}

func product(v, i figure, rule *why.Rule, label string) figure {
	w := figure{amount: v.amount * i.amount, err: productErr(v.err, i.err), reading: v.reading}
	w.rest(v, i)
	w.node = why.Found(rule, label, watts(w.amount), v.node, i.node)
	return w
}

// productErr and quotientErr are the greatest relative errors of a·b and a/b,
// not only their first order: (1+a)(1+b) − 1 and (1+a)/(1−b) − 1.
// A divisor that may be nothing leaves no upper end.
func productErr(a, b float64) float64 { return a + b + a*b }

func quotientErr(a, b float64) float64 {
	if b >= 1 {
		return math.Inf(1)
	}
	return (a + b) / (1 - b)
}

// tubeWatts fills s with the ends of dissipation at the given mains.
func (m *Model) tubeWatts(s *Stress, t *amp.Position, electrode string, mains unit.Voltage) {
	f, average := m.dissipation(t, electrode)
	if f.node == nil || f.missing != "" {
		s.Missing = f.missing
		return
	}
	m.ends(s, t, f, mains, 2, 2.5, RuleWattsEnds)
	if average && s.Doubt == "" {
		s.Doubt = anAverage
	}
}

// bothWatts fills s with plate and screen watts together.
func (m *Model) bothWatts(s *Stress, t *amp.Position, mains unit.Voltage) {
	plate := Stress{Subject: t.Ref, Unit: unit.Watt}
	screen := plate
	m.tubeWatts(&plate, t, "plate", mains)
	m.tubeWatts(&screen, t, "screen", mains)
	s.Missing, s.Doubt = cmp.Or(plate.Missing, screen.Missing), cmp.Or(plate.Doubt, screen.Doubt)
	if s.Missing != "" {
		return
	}
	s.Low, s.Expected, s.High = plate.Low+screen.Low, plate.Expected+screen.Expected, plate.High+screen.High
	s.Inherited, s.Cause = plate.Inherited+screen.Inherited, plate.Cause
	s.Node = why.Found(RuleBothWatts, "plate and screen watts", watts(s.High), plate.Node, screen.Node)
}

func (m *Model) tubeCurrent(s *Stress, t *amp.Position, mains unit.Voltage) {
	f, average := m.current(t)
	if f.missing != "" {
		s.Missing = f.missing
		return
	}
	m.ends(s, t, f, mains, 1, 1.5, RuleCurrentEnds)
	if average && s.Doubt == "" {
		s.Doubt = anAverage
	}
}

// ends fills s with figure · r^p … figure · r^q, then with the effect of a
// changed cathode resistor.
func (m *Model) ends(s *Stress, t *amp.Position, f figure, mains unit.Voltage, p, q float64, rule *why.Rule) {
	r, ratio, missing := m.ratio(f.reading, mains)
	if missing != "" {
		s.Missing = missing
		return
	}
	a, b := f.amount*math.Pow(r, p), f.amount*math.Pow(r, q)
	lo, hi := math.Min(a, b)*(1-f.err), math.Max(a, b)*(1+f.err)
	s.Interval = unit.Interval{Low: lo, Expected: f.amount * math.Pow(r, (p+q)/2), High: hi}
	m.inherit(s, q)
	s.doubtFar(r)
	m.doubtMeter(s, f)
	if !m.biasFollows() && math.Abs(r-1) > 1e-9 {
		s.Doubt = unfollowed
	}
	s.Node = why.Found(rule, "at this mains", unit.Quantity{Amount: hi, Unit: s.Unit}, f.node, ratio)
	d, ok, missing := m.cathodeChange(t)
	switch {
	case missing != "":
		s.Doubt = missing
	case ok:
		s.Low, s.High = s.Low*d.least, s.High*d.most
		s.Expected *= (d.least + d.most) / 2
		s.Cause = d.option
		s.Node = why.Found(RuleBigger, "after the change", unit.Quantity{Amount: s.High, Unit: s.Unit}, s.Node, d.node)
	}
}

// Bias kinds under which the grid bias follows the mains.
const (
	CathodeBias = "cathode"
	FollowsBias = "fixed, from the same transformer"
)

func (m *Model) biasFollows() bool {
	return m.in.Amp.Bias == CathodeBias || m.in.Amp.Bias == FollowsBias
}
