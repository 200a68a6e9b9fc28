package stress

import (
	"errors"

	"lugworth/core/amp"
	"lugworth/core/formula"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// change is what a new cathode resistor does to the stage.
type change struct {
	option      string
	was, ohms   float64 // ohms as measured before, as marked after
	least, most float64 // ends of the factor f on current
	node        *why.Node
}

// cathodeChange returns what the state does to the resistor this tube's
// cathode stands on. ok is false where it does nothing; missing says why the
// effect cannot be told.
func (m *Model) cathodeChange(t *amp.Position) (d change, ok bool, missing string) {
	p, n := m.cathodeResistor(t)
	if p == nil {
		return d, false, ""
	}
	c, changed := m.state.Resistors[p.Ref]
	if !changed {
		return d, false, ""
	}
	if c.Ohms <= 0 {
		return d, false, "the ohms of the new cathode resistor are not known"
	}
	low, high, source, missing := m.transconductance(t, n)
	if missing != "" {
		return d, false, missing
	}
	was := m.resistance(p)
	if was.missing != "" {
		return d, false, was.missing
	}
	if missing := m.alone(t, p); missing != "" {
		return d, false, missing
	}
	if was.odd != "" {
		return d, false, was.odd
	}
	f1, err1 := formula.CathodeResistorFactor(low, unit.Resistance(was.amount), unit.Resistance(c.Ohms))
	f2, err2 := formula.CathodeResistorFactor(high, unit.Resistance(was.amount), unit.Resistance(c.Ohms))
	if err := errors.Join(err1, err2); err != nil {
		return d, false, err.Error()
	}
	d = change{option: c.Option, was: was.amount, ohms: c.Ohms, least: min(f1, f2), most: max(f1, f2)}
	d.node = why.Found(RuleBigger, "current factor, ends", ends{d.least, d.most}, was.node,
		why.Given("new resistor, as marked", unit.Quantity{Amount: c.Ohms, Unit: unit.Ohm}, "option "+c.Option),
		why.Given("total transconductance, ends", span{float64(low), float64(high), unit.Siemens}, source))
	return d, true, ""
}

// transconductance returns the ends of the total of the n tubes that share
// the resistor, from the card.
func (m *Model) transconductance(t *amp.Position, n int) (low, high unit.Conductance, source, missing string) {
	c, ok := m.in.Cards(t.Type)
	if !ok || c.GmLow <= 0 || c.GmHigh < c.GmLow {
		return 0, 0, "", "the card of " + t.Type + " gives no ends of transconductance, so the effect of the resistor cannot be told"
	}
	if !trusted(c, "gm low") || !trusted(c, "gm high") {
		return 0, 0, "", "the transconductance of " + t.Type + " is from memory: enter it from a sheet you hold"
	}
	return unit.Conductance(c.GmLow * float64(n)), unit.Conductance(c.GmHigh * float64(n)), "card " + c.Type, ""
}

// trusted reports whether a card has a value from more than memory.
func trusted(c tube.Card, quantity string) bool {
	v, ok := c.Value(quantity)
	return ok && v.Mark != limit.Memory
}

// ends prints the two ends of a factor.
type ends struct{ low, high float64 }

func (e ends) String() string { return plain(e.low).String() + " … " + plain(e.high).String() }

// span prints two ends with a unit.
type span struct {
	low, high float64
	unit      unit.Unit
}

func (s span) String() string {
	return unit.Quantity{Amount: s.low, Unit: s.unit}.String() + " … " + unit.Quantity{Amount: s.high, Unit: s.unit}.String()
}

// LeastOhms returns the least resistance of a changed cathode resistor for
// which the tube's dissipation at the given mains stays inside max watts.
//
//	R1 ≥ ((1 + g·R0) · P/max − 1) ÷ g, with the lesser g
//
// ok is false where the state changes no resistor or a figure is missing.
func (m *Model) LeastOhms(t *amp.Position, q limit.Quantity, mains unit.Voltage, max float64) (float64, bool) {
	p, n := m.cathodeResistor(t)
	if p == nil {
		return 0, false
	}
	if _, changed := m.state.Resistors[p.Ref]; !changed {
		return 0, false
	}
	g, _, _, missing := m.transconductance(t, n)
	was := m.resistance(p)
	before := m.With(State{Tap: m.state.Tap, TapBy: m.state.TapBy}).Tube(t, q, mains, Top)
	if missing != "" || was.missing != "" || before.Missing != "" {
		return 0, false
	}
	r, err := formula.CathodeResistorFor(g, unit.Resistance(was.amount), max/before.High)
	return float64(r), err == nil
}

// Factor returns the ends of the factor on the tube's current that the
// state's cathode resistor makes; ok is false where it changes none.
func (m *Model) Factor(t *amp.Position) (f unit.Interval, ok bool) {
	d, ok, _ := m.cathodeChange(t)
	return unit.Interval{Low: d.least, Expected: (d.least + d.most) / 2, High: d.most}, ok
}

// Resistor returns the watts of a cathode resistor of the output stage at the
// given mains, before or after the state's change.
func (m *Model) Resistor(p *amp.Position, mains unit.Voltage, scenario string) Stress {
	s := Stress{Subject: p.Ref, Quantity: limit.Watts, Scenario: scenario, Mains: mains, Unit: unit.Watt}
	t := m.tubeOn(p)
	if p.Role != amp.CathodeResistor || t == nil {
		s.Missing = "no first-order rule says what this place must bear"
		return s
	}
	v := m.read(t.Ref, "cathode", amp.Volts)
	r := m.resistance(p)
	if v == nil || r.missing != "" {
		s.Missing = "the drop over " + p.Ref + " was not read"
		return s
	}
	fv := m.working(v, "cathode volts")
	if fv.missing != "" {
		s.Missing = fv.missing
		return s
	}
	f := product(fv, figure{amount: v.Amount / r.amount, err: quotientErr(fv.err, r.err), known: r.known, odd: r.odd, node: r.node}, RuleResistorWatts, "resistor dissipation as read")
	m.ends(&s, &amp.Position{}, f, mains, 2, 3, RuleWattsEnds)
	if d, ok, missing := m.cathodeChange(t); missing != "" {
		s.Doubt = missing
	} else if ok {
		up := d.ohms / d.was
		s.Low, s.High = s.Low*d.least*d.least*up, s.High*d.most*d.most*up
		s.Expected, s.Cause = (s.Low+s.High)/2, d.option
		s.Node = why.Found(RuleBigger, "after the change", watts(s.High), s.Node, d.node)
	}
	if m.replaced() {
		s.Doubt = m.endedBy()
	}
	return s
}

func (m *Model) tubeOn(p *amp.Position) *amp.Position {
	for _, t := range m.outputTubes() {
		if r, _ := m.cathodeResistor(t); r != nil && r.Ref == p.Ref {
			return t
		}
	}
	return nil
}

// Heater returns the volts of a heater winding at the given mains.
func (m *Model) Heater(p *amp.Position, mains unit.Voltage, scenario string) Stress {
	s := Stress{Subject: p.Ref, Quantity: limit.HeaterVolts, Scenario: scenario, Mains: mains, Unit: unit.Volt}
	r := m.index.loaded[key{p.Ref, amp.RMSVolts}]
	if r == nil {
		s.Missing = "the heater winding was not read"
		return s
	}
	m.scaled(&s, m.take(r, "heater volts, rms"), mains, 1, RuleVolts)
	if s.Missing == "" && s.Doubt == "" {
		s.Doubt = m.in.Against[p.Ref]
	}
	return s
}
