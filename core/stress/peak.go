package stress

import (
	"cmp"

	"lugworth/core/amp"
	"lugworth/core/formula"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// Peak returns the no-load peak at the given mains.
func (m *Model) Peak(mains unit.Voltage) Stress {
	s := Stress{Quantity: limit.DCVolts, Scenario: Cold, Mains: mains, Unit: unit.Volt}
	m.peak(&s, mains)
	return s
}

func (m *Model) peak(s *Stress, mains unit.Voltage) {
	if r := m.switchOn(); r != nil {
		m.scaled(s, m.take(r, "highest at switch-on"), mains, 1, RuleSwitchOn)
		return
	}
	m.noLoadPeak(s, mains)
}

// noLoadPeak fills s from the winding that gives the most.
func (m *Model) noLoadPeak(s *Stress, mains unit.Voltage) {
	start, found, unread := *s, false, ""
	for _, w := range m.index.windings {
		of := start
		m.windingPeak(&of, w, mains)
		switch {
		case of.Missing != "":
			unread = of.Missing
		case !found || of.High > s.High:
			*s, found = of, true
		}
	}
	switch {
	case !found:
		s.Missing = cmp.Or(unread, "the high winding was not read without load")
	case unread != "":
		s.Doubt = "of another high winding: " + unread
	}
}

// windingPeak fills s with the no-load peak behind one winding.
func (m *Model) windingPeak(s *Stress, w *amp.Position, mains unit.Voltage) {
	r := m.index.noload[key{w.Ref, amp.RMSVolts}]
	if r == nil {
		s.Missing = "the high winding was not read without load"
		return
	}
	times, missing := m.times(w)
	if missing != "" {
		s.Missing = missing
		return
	}
	m.scaled(s, m.take(r, "one side of the high winding, no load, rms"), mains, float64(formula.PeakOf(1))*times, RulePeak)
}

// times is how often the peak of one side counts: 2 behind a doubler, or a
// bridge over both sides, where the sheet says so; 1 behind other rectifiers.
func (m *Model) times(w *amp.Position) (n float64, missing string) {
	switch w.Extra["times"] {
	case "1":
		return 1, ""
	case "2":
		return 2, ""
	case "":
		if m.bridged(w) {
			return 0, "a rectifier's cathode stands on " + w.Ref + ", as in a bridge: say times=1 or times=2 with the winding"
		}
		return 1, ""
	}
	return 0, "times=" + w.Extra["times"] + " of " + w.Ref + " is neither 1 nor 2"
}

// bridged reports whether a rectifier feeds an outer lead of a winding that
// has a center tap: then one side may be half of what the capacitors see.
func (m *Model) bridged(w *amp.Position) bool {
	if _, tapped := w.Node("ct"); !tapped {
		return false
	}
	for i := range m.in.Amp.Positions {
		p := &m.in.Amp.Positions[i]
		k, ok := p.Node("cathode")
		if !ok || p.Kind != "diode" && p.Role != amp.RectifierTube {
			continue
		}
		for _, n := range w.Nodes {
			if n.Role != "ct" && n.Name == k {
				return true
			}
		}
	}
	return false
}

// switchOn returns the recorded highest switch-on reading where the rectifier
// heats slowly and no standby switch can hold the tubes off. It holds for the
// load it was taken under: with other tubes or resistors it says nothing.
func (m *Model) switchOn() *amp.Reading {
	if m.in.Amp.Standby || !m.slowRectifier() || len(m.state.Resistors)+len(m.state.Tubes) > 0 {
		return nil
	}
	for _, p := range m.in.Amp.WithRole(amp.Reservoir) {
		if n, ok := p.Node("plus"); ok {
			if r := m.index.highest[key{n, amp.Volts}]; r != nil {
				return r
			}
		}
		if r := m.index.highest[key{p.Ref, amp.Volts}]; r != nil {
			return r
		}
	}
	return nil
}

func (m *Model) slowRectifier() bool {
	found := false
	for _, p := range m.in.Amp.WithRole(amp.RectifierTube) {
		c, ok := m.in.Cards(p.Type)
		if !ok || c.Heating != tube.Slow || !trusted(c, "heating") {
			return false
		}
		found = true
	}
	return found
}
