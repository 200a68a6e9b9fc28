package stress

import (
	"testing"

	"lugworth/core/amp"
	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// clean reports whether a figure could lead to a verdict of within.
func clean(s Stress) bool { return s.Missing == "" && s.Doubt == "" }

func more(at, quantity string, v float64, u unit.Unit, mains unit.Voltage, state ...string) amp.Reading {
	return amp.Reading{ID: at, At: at, Quantity: quantity, Amount: v, Unit: u, Mains: mains, State: state, Stated: true}
}

// Every row takes away or confuses one thing a figure rests on: none of them
// may leave a figure that could be judged within.
func TestNothingUnclearIsClean(t *testing.T) {
	plate := func(m *Model, a *amp.Amp) Stress { return m.Tube(posOf(a, "V3"), limit.PlateWatts, 127, Top) }
	screen := func(m *Model, a *amp.Amp) Stress { return m.Tube(posOf(a, "V3"), limit.ScreenWatts, 127, Top) }
	volts := func(m *Model, a *amp.Amp) Stress { return m.Tube(posOf(a, "V3"), limit.PlateVolts, 127, Top) }
	peak := func(m *Model, a *amp.Amp) Stress { return m.Blocking(posOf(a, "C1"), 127, Cold) }
	coupler := func(m *Model, a *amp.Amp) Stress { return m.Blocking(posOf(a, "C5"), 127, Cold) }
	bypass := func(m *Model, a *amp.Amp) Stress { return m.Blocking(posOf(a, "C9"), 127, Top) }
	heater := func(m *Model, a *amp.Amp) Stress { return m.Heater(posOf(a, "LV"), 127, Top) }
	watts := func(m *Model, a *amp.Amp) Stress { return m.Resistor(posOf(a, "R20"), 127, Top) }
	for _, c := range []struct {
		name   string
		change func(*amp.Amp)
		state  State
		figure func(*Model, *amp.Amp) Stress
	}{
		{"tap chosen, none known as found", func(a *amp.Amp) {}, State{Tap: "240", TapBy: "T1"}, peak},
		{"tap chosen that the amp has not", func(a *amp.Amp) { a.Tap, a.Taps = "117", []string{"117", "125"} }, State{Tap: "240", TapBy: "T1"}, peak},
		{"tap at the reading that the amp has not", func(a *amp.Amp) {
			a.Tap, a.Taps = "117", []string{"110", "117"}
			reading(a, "HT").Tap = "11"
		}, State{}, peak},
		{"tap is no voltage", func(a *amp.Amp) { a.Tap, a.Taps = "HI", []string{"HI", "LO"} }, State{}, peak},
		{"plate and cathode read on two taps", func(a *amp.Amp) {
			a.Tap, a.Taps = "117", []string{"110", "117"}
			reading(a, "P3").Tap = "110"
		}, State{}, volts},
		{"screen current read at other mains", func(a *amp.Amp) { reading(a, "V3:screen").Mains = 100 }, State{}, plate},
		{"screen current read at other mains, screen", func(a *amp.Amp) { reading(a, "V3:screen").Mains = 100 }, State{}, screen},
		{"cathode current read at other mains", func(a *amp.Amp) {
			a.Readings = append(a.Readings, more("V3:cathode", amp.Current, 0.025, unit.Ampere, 100))
		}, State{}, plate},
		{"screen current reads nothing", func(a *amp.Amp) { reading(a, "V3:screen").Amount = 0 }, State{}, screen},
		{"volts read with the power off", func(a *amp.Amp) {
			a.Readings = append(a.Readings, more("P3", amp.Volts, 25, unit.Volt, 117, amp.Off))
			reading(a, "P3").At = "P9"
		}, State{}, volts},
		{"cathode current reads nothing", func(a *amp.Amp) {
			a.Readings = append(a.Readings, more("V3:cathode", amp.Current, 0, unit.Ampere, 117))
		}, State{}, func(m *Model, a *amp.Amp) Stress { return m.Tube(posOf(a, "V3"), limit.CathodeCurrent, 127, Top) }},
		{"a second cathode resistor in parallel", func(a *amp.Amp) {
			p := *posOf(a, "R20")
			p.Ref = "R21"
			a.Positions = append(a.Positions, p)
		}, State{}, plate},
		{"a resistor of another role in parallel", func(a *amp.Amp) {
			p := *posOf(a, "R20")
			p.Ref, p.Role = "R21", ""
			a.Positions = append(a.Positions, p)
		}, State{}, plate},
		{"a second cathode resistor in parallel, its watts", func(a *amp.Amp) {
			p := *posOf(a, "R20")
			p.Ref = "R21"
			a.Positions = append(a.Positions, p)
		}, State{Resistors: map[string]Change{"R20": {Option: "T", Ohms: 300}}}, watts},
		{"the cathode resistor does not end on the chassis", func(a *amp.Amp) { posOf(a, "R20").Nodes[1].Name = "N" }, State{}, plate},
		{"the cathode resistor was not measured", func(a *amp.Amp) {
			drop(a, "R20")
			posOf(a, "R20").Spec.Tolerance = unit.Tolerance{Plus: .05, Minus: .05, Stated: true}
		}, State{}, plate},
		{"only the other tube is changed", func(a *amp.Amp) {}, State{Tubes: map[string]string{"V4": "T6"}}, plate},
		{"only the other tube is changed, its resistor", func(a *amp.Amp) {}, State{Tubes: map[string]string{"V4": "T6"}}, watts},
		{"another rectifier is fitted", func(a *amp.Amp) {}, State{Tubes: map[string]string{"V5": "T7"}}, volts},
		{"a coupler without nodes, fixed bias", func(a *amp.Amp) { a.Bias = FollowsBias; posOf(a, "C5").Nodes = nil }, State{}, coupler},
		{"a coupler behind a grid stopper, fixed bias", func(a *amp.Amp) {
			a.Bias = FollowsBias
			posOf(a, "C5").Nodes[1].Name = "X3"
			a.Positions = append(a.Positions, amp.Position{Ref: "R30", Kind: "resistor", Spec: unit.Spec{Unit: unit.Ohm, Values: []float64{1500}},
				Nodes: []amp.Node{{Role: "a", Name: "X3"}, {Role: "b", Name: "G3"}}})
		}, State{}, coupler},
		{"a coupler whose bias reads above zero", func(a *amp.Amp) {
			a.Bias = FollowsBias
			a.Readings = append(a.Readings, more("G3", amp.Volts, 2, unit.Volt, 117))
		}, State{}, coupler},
		{"a bypass between two live nodes", func(a *amp.Amp) { posOf(a, "C9").Nodes[1].Name = "NEG" }, State{}, bypass},
		{"a winding marked three times", func(a *amp.Amp) { posOf(a, "HT").Extra = map[string]string{"times": "3"} }, State{}, peak},
		{"a bridge on a tapped winding", func(a *amp.Amp) {
			a.Positions = append(a.Positions,
				amp.Position{Ref: "D1", Kind: "diode", Nodes: []amp.Node{{Role: "plate", Name: "HA"}, {Role: "cathode", Name: "B1"}}},
				amp.Position{Ref: "D2", Kind: "diode", Nodes: []amp.Node{{Role: "plate", Name: "0"}, {Role: "cathode", Name: "HA"}}})
		}, State{}, peak},
		{"two high windings, one read", func(a *amp.Amp) {
			a.Positions = append(a.Positions, amp.Position{Ref: "HT2", Role: amp.HighWinding})
		}, State{}, peak},
		{"one node read twice, apart", func(a *amp.Amp) {
			a.Readings = append(a.Readings, more("P3", amp.Volts, 280, unit.Volt, 117))
		}, State{}, volts},
		{"the heater read twice, apart", func(a *amp.Amp) {
			a.Readings = append(a.Readings, more("LV", amp.RMSVolts, 5.9, unit.Volt, 117))
		}, State{}, heater},
	} {
		a := with(c.change)
		s := c.figure(model(a).With(c.state), a)
		if clean(s) {
			t.Errorf("%s: %s %s is %.4g to %.4g with no doubt", c.name, s.Subject, s.Quantity, s.Low, s.High)
		}
	}
}

func posOf(a *amp.Amp, ref string) *amp.Position {
	p, ok := a.Find(ref)
	if !ok {
		panic(ref)
	}
	return p
}

// The greater of two windings rules, and a doubler is of its own winding:
// √2 · 330 · 127/117 = 506.6 V.
func TestGreatestWindingRules(t *testing.T) {
	a := with(func(a *amp.Amp) {
		a.Positions = append(a.Positions, amp.Position{Ref: "HT2", Role: amp.HighWinding})
		a.Readings = append(a.Readings, more("HT2", amp.RMSVolts, 330, unit.Volt, 117, amp.NoLoad))
	})
	holds(t, model(a).Peak(127), 506.58, 506.58, 0.01)
}

// A warm reading of a slow supply says nothing of a supply with other tubes
// or a bigger cathode resistor: the no-load peak counts, 445.17 V.
func TestSwitchOnOnlyAsFound(t *testing.T) {
	a := with(func(a *amp.Amp) {
		a.Readings = append(a.Readings, more("B1", amp.Volts, 350, unit.Volt, 117, amp.Highest))
	})
	slow := func(name string) (tube.Card, bool) {
		c, ok := cards(true)(name)
		c.Values = append(c.Values, tube.Value{Quantity: "heating", Text: "slow", Mark: limit.SecondHand})
		return c, ok
	}
	m := New(Input{Amp: a, Mains: intake.Mains{Measured: 124, Low: 114, High: 127}, Cards: slow})
	holds(t, m.Peak(127), 379.91, 379.91, 0.01)
	bigger := m.With(State{Resistors: map[string]Change{"R20": {Option: "T6r", Ohms: 300}}})
	holds(t, bigger.Peak(127), 445.17, 445.17, 0.01)
	holds(t, m.With(State{Tubes: map[string]string{"V3": "T6"}}).Peak(127), 445.17, 445.17, 0.01)
	// The supply recovers toward the no-load peak whatever the rectifier:
	// 324.55 + (1 − 0.9046)(445.17 − 345.18) = 334.1 V.
	s := bigger.Tube(posOf(a, "V3"), limit.PlateVolts, 127, Top)
	holds(t, s, 324.55, 334.09, 0.05)
}

// A heating known only from memory does not take the no-load peak away.
func TestHeatingFromMemory(t *testing.T) {
	a := with(func(a *amp.Amp) {
		a.Readings = append(a.Readings, more("B1", amp.Volts, 350, unit.Volt, 117, amp.Highest))
	})
	recalled := func(name string) (tube.Card, bool) {
		c, ok := cards(true)(name)
		c.Values = []tube.Value{{Quantity: "heating", Text: "slow", Mark: limit.Memory}}
		return c, ok
	}
	m := New(Input{Amp: a, Mains: intake.Mains{Low: 114, High: 127}, Cards: recalled})
	holds(t, m.Peak(127), 445.17, 445.17, 0.01)
}

// Transconductance from memory proves nothing.
func TestTransconductanceFromMemory(t *testing.T) {
	a := stage()
	for mark, want := range map[limit.Mark]bool{limit.Memory: false, limit.User: true} {
		by := func(name string) (tube.Card, bool) {
			c, ok := cards(false)(name)
			c.Values = []tube.Value{{Quantity: "gm low", Mark: mark}, {Quantity: "gm high", Mark: limit.User}}
			return c, ok
		}
		m := New(Input{Amp: a, Mains: intake.Mains{Low: 114, High: 127}, Cards: by}).With(State{Resistors: map[string]Change{"R20": {Option: "T", Ohms: 300}}})
		if s := m.Tube(posOf(a, "V3"), limit.PlateWatts, 127, Top); clean(s) != want {
			t.Errorf("gm by %s: clean %v, want %v (%s)", mark, clean(s), want, s.Doubt)
		}
	}
}
