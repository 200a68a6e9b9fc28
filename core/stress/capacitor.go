package stress

import (
	"fmt"
	"math"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Blocking returns the volts a capacitor in the given position must bear at
// the given mains.
//
// Filter capacitors bear the no-load peak √2 · rms · r, whatever the
// rectifier; only behind a slow-heating rectifier without a standby switch may
// a recorded switch-on reading stand in its place. A coupler adds the negative
// bias on its far side. A cathode bypass bears the cathode's volts. Other
// places have no first-order rule and are returned with the reason.
func (m *Model) Blocking(p *amp.Position, mains unit.Voltage, scenario string) Stress {
	s := Stress{Subject: p.Ref, Quantity: limit.DCVolts, Scenario: scenario, Mains: mains, Unit: unit.Volt}
	switch p.Role {
	case amp.Reservoir, amp.Smoothing:
		m.peak(&s, mains)
	case amp.Coupler:
		m.peak(&s, mains)
		m.addBias(&s, p, mains)
	case amp.Bypass:
		m.bypass(&s, p, mains)
	default:
		s.Missing = "no first-order rule says what this place must bear"
	}
	return s
}

// scaled fills s with factor · figure · r.
func (m *Model) scaled(s *Stress, f figure, mains unit.Voltage, factor float64, rule *why.Rule) {
	r, node, missing := m.ratio(f.reading, mains)
	if missing == "" && f.amount <= 0 {
		missing = fmt.Sprintf("%s was read as %s: no working figure, read it again", f.node.Label, f.node.Value)
	}
	if missing != "" {
		s.Missing = missing
		return
	}
	if rule != RulePeak {
		s.doubtFar(r)
	}
	v := factor * f.amount * r
	s.Interval = unit.Interval{Low: v * (1 - f.err), Expected: v, High: v * (1 + f.err)}
	m.inherit(s, 1)
	m.doubtMeter(s, f)
	s.Node = why.Found(rule, "volts to bear", volts(s.High), f.node, node)
}

// inherit notes what the figure would be without the choice: the same, unless
// the choice moved the mains tap down, which raises it by the given power of
// the tap ratio.
func (m *Model) inherit(s *Stress, power float64) {
	s.Inherited = s.High
	if m.state.Tap == "" {
		return
	}
	now, _ := m.tapVolts(m.state.Tap)
	was, missing := m.tapVolts("")
	if missing == "" && now < was {
		s.Inherited = s.High * math.Pow(now/was, power)
		s.Cause = m.state.TapBy
	}
}

// A loaded reading is carried this far and no farther: beyond it the supply's
// own losses and the tubes' curves are no longer first order. Our own
// judgment, no source.
const (
	leastRatio    = 0.75
	greatestRatio = 1.3
)

// doubtFar marks a loaded figure carried too far from where it was read. The
// unloaded winding is exempt: it follows the mains.
func (s *Stress) doubtFar(r float64) {
	if r < leastRatio || r > greatestRatio {
		s.Doubt = tooFar
	}
}

// doubtMeter marks a figure whose meter error nobody stated, or with a doubt
// of its own.
func (m *Model) doubtMeter(s *Stress, f figure) {
	if f.odd != "" {
		s.Doubt = f.odd
	}
	if !f.known {
		s.Doubt = "no meter error is stated with the reading or in the shop sheet"
	}
}

// addBias adds the negative bias found on either side of a coupler.
func (m *Model) addBias(s *Stress, p *amp.Position, mains unit.Voltage) {
	if s.Missing != "" {
		return
	}
	for _, n := range p.Nodes {
		r := m.index.loaded[key{n.Name, amp.Volts}]
		if r == nil || r.Amount >= 0 {
			continue
		}
		f := m.take(r, "negative bias on the far side")
		k, _, missing := m.ratio(r, mains)
		if missing != "" {
			s.Missing = missing
			return
		}
		b := math.Abs(f.amount) * k
		s.Low, s.Expected, s.High = s.Low+b*(1-f.err), s.Expected+b, s.High+b*(1+f.err)
		m.doubtMeter(s, f)
		m.inherit(s, 1)
		s.Node = why.Found(RuleCoupler, "volts to bear", volts(s.High), s.Node, f.node)
		return
	}
	if m.in.Amp.Bias != CathodeBias && !m.index.grids.clear(p) {
		s.Doubt = farBias
	}
}

// bypass fills s with the volts of the cathode the capacitor stands on.
func (m *Model) bypass(s *Stress, p *amp.Position, mains unit.Voltage) {
	n, ok := cathodeOf(p)
	r := m.index.loaded[key{n, amp.Volts}]
	if !ok || r == nil {
		s.Missing = "the cathode this capacitor stands on was not read"
		return
	}
	m.scaled(s, m.take(r, "cathode volts"), mains, 1, RuleVolts)
	if s.Missing != "" {
		return
	}
	for _, t := range m.outputTubes() {
		if c, _ := t.Node("cathode"); c == n {
			m.bypassAfter(s, t)
			return
		}
	}
}

// cathodeOf returns the one node of a bypass that is not the chassis. Between
// two live nodes no single reading says what it bears.
func cathodeOf(p *amp.Position) (node string, ok bool) {
	for _, n := range p.Nodes {
		if n.Name == chassis {
			continue
		}
		if ok {
			return "", false
		}
		node, ok = n.Name, true
	}
	return node, ok
}

// bypassAfter carries the cathode volts to a changed cathode resistor: the
// current falls by f, the resistance rises.
func (m *Model) bypassAfter(s *Stress, t *amp.Position) {
	if m.replaced() {
		s.Doubt = m.endedBy()
		return
	}
	d, ok, missing := m.cathodeChange(t)
	switch {
	case missing != "":
		s.Doubt = missing
	case ok:
		up := d.ohms / d.was
		s.Low, s.High = s.Low*d.least*up, s.High*d.most*up
		s.Expected = (s.Low + s.High) / 2
		s.Cause = d.option
		s.Node = why.Found(RuleBigger, "cathode volts after the change", volts(s.High), s.Node, d.node)
	}
}
