package stress

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/formula"
	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

func TestPeak(t *testing.T) {
	m := model(stage())
	tests := []struct {
		mains unit.Voltage
		want  float64 // to 0.05 V
	}{
		// By hand: 290 × 1.414214 = 410.12 at 117; × 124/117 = 434.66; × 127/117 = 445.17.
		{117, 410.1}, {124, 434.7}, {127, 445.2},
	}
	for _, tt := range tests {
		s := m.Peak(tt.mains)
		holds(t, s, tt.want, tt.want, 0.05)
		same, err := formula.ReservoirPeak(290, 117, tt.mains)
		if err != nil || math.Abs(s.High-float64(same)) > 1e-9*s.High {
			t.Errorf("at %v: %g, the formula says %v, %v", tt.mains, s.High, same, err)
		}
	}
}

func TestBlocking(t *testing.T) {
	tests := []struct {
		name, ref string
		change    func(*amp.Amp)
		slow      bool
		want      float64 // to 0.05 V, at 127 V
		missing   string
	}{
		{"reservoir", "C1", nil, false, 445.2, ""},
		{"coupler, no bias", "C5", nil, false, 445.2, ""},
		// By hand: −30 V × 127/117 = 32.56 V more: 477.7.
		{"coupler with a negative grid", "C5", func(a *amp.Amp) {
			a.Readings = append(a.Readings, amp.Reading{ID: "g", At: "G3", Quantity: amp.Volts, Amount: -30, Mains: 117, Stated: true})
		}, false, 477.7, ""},
		// By hand: doubler: 2 × 445.17.
		{"doubler", "C1", func(a *amp.Amp) { a.Positions[0].Extra = map[string]string{"times": "2"} }, false, 890.35, ""},
		// By hand: 19 × 127/117 = 20.62.
		{"bypass of the stage", "C9", nil, false, 20.62, ""},
		{"bypass nobody read", "C10", nil, false, 0, "was not read"},
		{"no winding read", "C1", func(a *amp.Amp) { drop(a, "HT") }, false, 0, "not read without load"},
		{"reading without its mains", "C1", func(a *amp.Amp) { reading(a, "HT").Mains = 0 }, false, 0, "no mains beside it"},
		{"a place without a rule", "R5", nil, false, 0, "no first-order rule"},
		// By hand: 400 V seen from cold at 117: × 127/117 = 434.2.
		{"slow rectifier, no standby, switch-on seen", "C1", seenFromCold, true, 434.2, ""},
		{"directly heated: the peak stands", "C1", seenFromCold, false, 445.2, ""},
		{"slow, but a standby switch", "C1", func(a *amp.Amp) { seenFromCold(a); a.Standby = true }, true, 445.2, ""},
		{"slow, nothing seen", "C1", nil, true, 445.2, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := stage()
			if tt.change != nil {
				tt.change(a)
			}
			m := New(Input{Amp: a, Mains: intake.Mains{Low: 114, High: 127}, Cards: cards(tt.slow)})
			s := m.Blocking(find(t, a, tt.ref), 127, Cold)
			if tt.missing != "" {
				if !strings.Contains(s.Missing, tt.missing) || s.High != 0 {
					t.Errorf("missing %q, %g: want %q and no figure", s.Missing, s.High, tt.missing)
				}
				return
			}
			holds(t, s, tt.want, tt.want, 0.05)
		})
	}
}

func seenFromCold(a *amp.Amp) {
	a.Readings = append(a.Readings, amp.Reading{ID: "cold", At: "B1", Quantity: amp.Volts, Amount: 400, Mains: 117, State: []string{amp.Highest}, Stated: true})
}

func TestTube(t *testing.T) {
	a := stage()
	m := model(a)
	tests := []struct {
		q         limit.Quantity
		mains     unit.Voltage
		low, high float64
		tol       float64
	}{
		{limit.PlateVolts, 117, 299, 299, 1e-9},             // 318 − 19
		{limit.PlateVolts, 127, 324.56, 324.56, 0.005},      // × 1.08547
		{limit.ScreenVolts, 127, 305.02, 305.02, 0.005},     // 281 × 1.08547
		{limit.CathodeCurrent, 117, 0.03626, 0.03626, 5e-6}, // 19/262/2
		{limit.CathodeCurrent, 127, 0.03936, 0.04101, 5e-6}, // × 1.08547, ^1.5 = 1.13091
		{limit.PlateWatts, 117, 10.094, 10.094, 0.0005},     // 299 × (36.26 − 2.5) mA
		{limit.PlateWatts, 124, 11.338, 11.672, 0.001},      // × 1.05983² = 1.12324, ^2.5 = 1.15635
		{limit.PlateWatts, 127, 11.893, 12.391, 0.001},      // × 1.17825, ^2.5 = 1.22757
		{limit.ScreenWatts, 127, 0.8277, 0.8624, 0.0001},    // 281 × 2.5 mA = 0.7025
		{limit.PlateWatts, 110, 8.651, 8.922, 0.001},        // below the chart the square is the higher end: r 0.94017, r² 0.88392, r^2.5 0.85707
		{limit.GridOhms, 127, 0, 0, 0},                      // no reading says this
	}
	for _, tt := range tests {
		s := m.Tube(find(t, a, "V3"), tt.q, tt.mains, Top)
		if tt.q == limit.GridOhms {
			if s.Missing == "" {
				t.Errorf("%s has a figure", tt.q)
			}
			continue
		}
		holds(t, s, tt.low, tt.high, tt.tol)
		if s.Doubt != "" || s.Cause != "" {
			t.Errorf("%s at %v: doubt %q, cause %q", tt.q, tt.mains, s.Doubt, s.Cause)
		}
	}
}

// The ends at any mains are those of the formulas, used here as a second
// opinion.
func TestTubeAgreesWithFormulas(t *testing.T) {
	a := stage()
	m := model(a)
	v3 := find(t, a, "V3")
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		at := unit.Voltage(90 + 60*rng.Float64())
		low, high, err := formula.DissipationEnds(float64(at) / 117)
		if err != nil {
			t.Fatal(err)
		}
		w := m.Tube(v3, limit.PlateWatts, 117, Bench).High
		holds(t, m.Tube(v3, limit.PlateWatts, at, Top), w*low, w*high, 1e-9*w)
		k, err := formula.CathodeCurrent(19, 262, 2)
		if err != nil {
			t.Fatal(err)
		}
		i, j, err := formula.IdleAt(k, 117, at)
		if err != nil {
			t.Fatal(err)
		}
		holds(t, m.Tube(v3, limit.CathodeCurrent, at, Top), float64(i), float64(j), 1e-12)
		h, err := formula.HeaterAt(6.25, 117, at)
		if err != nil {
			t.Fatal(err)
		}
		holds(t, m.Heater(find(t, a, "LV"), at, Top), float64(h), float64(h), 1e-9)
	}
}

// The meter's error widens every band: a voltage counts twice in a
// dissipation, once as volts and once as the drop that gives the current.
func TestMeterError(t *testing.T) {
	a := with(func(a *amp.Amp) {
		for i := range a.Readings {
			if a.Readings[i].Quantity == amp.Volts || a.Readings[i].Quantity == amp.RMSVolts {
				a.Readings[i].Meter = 0.01
			}
		}
	})
	m := model(a)
	v3 := find(t, a, "V3")
	// By hand: 410.12 × 1.08547 = 445.17; ±1 %.
	holds(t, m.Peak(127), 440.72, 449.62, 0.01)
	// By hand: plate 318 ± 3.18, cathode 19 ± 0.19: 299 ± 3.37.
	holds(t, m.Tube(v3, limit.PlateVolts, 117, Bench), 295.63, 302.37, 0.005)
	// By hand: volts ±1.127 %; cathode current 36.26 mA ±1 % = ±0.3626 of plate
	// current 33.76 mA = ±1.074 %; together 1 + .01127 + .01074 + .00012 = 1.02213:
	// 10.094 × 1.02213 = 10.317, and as far below.
	holds(t, m.Tube(v3, limit.PlateWatts, 117, Bench), 9.871, 10.317, 0.001)
	holds(t, m.Heater(find(t, a, "LV"), 117, Bench), 6.1875, 6.3125, 1e-9)
	// A resistor read with ±2 %: 36.26 mA × (1 + .03/.98) = 37.37.
	reading(a, "R20").Meter = 0.02
	if s := model(a).Tube(v3, limit.CathodeCurrent, 117, Bench); math.Abs(s.High-0.03737) > 1e-5 {
		t.Errorf("cathode current up to %g, want 0.03737", s.High)
	}
}

func TestUnstatedMeterErrorIsADoubt(t *testing.T) {
	a := with(func(a *amp.Amp) { reading(a, "K").Stated = false })
	in := Input{Amp: a, Mains: intake.Mains{Low: 114, High: 127}, Cards: cards(false)}
	for _, q := range []limit.Quantity{limit.PlateVolts, limit.PlateWatts, limit.ScreenWatts, limit.CathodeCurrent} {
		if s := New(in).Tube(find(t, a, "V3"), q, 127, Top); !strings.Contains(s.Doubt, "meter error") {
			t.Errorf("%s: doubt %q", q, s.Doubt)
		}
	}
	// The shop sheet's default takes its place: ±0.5 % of 19 V.
	in.Meter, in.MeterKnown = 0.005, true
	s := New(in).Tube(find(t, a, "V3"), limit.PlateVolts, 117, Bench)
	if s.Doubt != "" {
		t.Errorf("doubt %q with a default", s.Doubt)
	}
	holds(t, s, 299-0.095, 299+0.095, 1e-6)
}

func TestDoubts(t *testing.T) {
	tests := []struct {
		name   string
		change func(*amp.Amp)
		q      limit.Quantity
		doubt  string
	}{
		{"not stated to draw alike", func(a *amp.Amp) { a.Alike = false }, limit.PlateWatts, "an average"},
		{"not alike, current", func(a *amp.Amp) { a.Alike = false }, limit.CathodeCurrent, "an average"},
		{"not alike, volts are not shared", func(a *amp.Amp) { a.Alike = false }, limit.PlateVolts, ""},
		{"bias of its own", func(a *amp.Amp) { a.Bias = "fixed, regulated" }, limit.PlateWatts, "does not follow"},
		{"bias of its own, volts", func(a *amp.Amp) { a.Bias = "fixed, regulated" }, limit.PlateVolts, ""},
		{"bias from the same transformer", func(a *amp.Amp) { a.Bias = FollowsBias }, limit.PlateWatts, ""},
		{"bias not known", func(a *amp.Amp) { a.Bias = "" }, limit.PlateWatts, "does not follow"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := with(tt.change)
			s := model(a).Tube(find(t, a, "V3"), tt.q, 127, Top)
			if s.Missing != "" || (s.Doubt == "") != (tt.doubt == "") || !strings.Contains(s.Doubt, tt.doubt) {
				t.Errorf("doubt %q, missing %q; want doubt %q", s.Doubt, s.Missing, tt.doubt)
			}
		})
	}
	// At the mains of the reading nothing is scaled, so no bias is in doubt.
	a := with(func(a *amp.Amp) { a.Bias = "" })
	if s := model(a).Tube(find(t, a, "V3"), limit.PlateWatts, 117, Bench); s.Doubt != "" {
		t.Errorf("doubt %q at the reading", s.Doubt)
	}
}

func TestMissing(t *testing.T) {
	tests := []struct {
		name   string
		change func(*amp.Amp)
		q      limit.Quantity
	}{
		{"no plate", func(a *amp.Amp) { drop(a, "P3") }, limit.PlateVolts},
		{"no cathode", func(a *amp.Amp) { drop(a, "K") }, limit.PlateWatts},
		{"no screen current", func(a *amp.Amp) { drop(a, "V3:screen") }, limit.PlateWatts},
		{"no screen current, screen", func(a *amp.Amp) { drop(a, "V3:screen") }, limit.ScreenWatts},
		{"resistor neither read nor of a known tolerance", func(a *amp.Amp) { drop(a, "R20") }, limit.CathodeCurrent},
		{"plate and cathode at different mains", func(a *amp.Amp) { reading(a, "P3").Mains = 120 }, limit.PlateVolts},
		{"taps, and none named", func(a *amp.Amp) { a.Taps = []string{"110", "117"} }, limit.PlateVolts},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a := with(tt.change)
			if s := model(a).Tube(find(t, a, "V3"), tt.q, 127, Top); s.Missing == "" || s.High != 0 {
				t.Errorf("%g, want none, with the reason", s.High)
			}
		})
	}
}

// A check reading tests a prediction and never starts one; the chart is the
// mains most readings were taken at.
func TestCheckReadingsStartNothing(t *testing.T) {
	a := stage()
	m := model(a)
	if m.Chart() != 117 {
		t.Errorf("chart at %v, want 117", m.Chart())
	}
	before := m.Tube(find(t, a, "V3"), limit.PlateWatts, 124, Measured)
	a.Readings = append(a.Readings, amp.Reading{ID: "x", At: "P3", Quantity: amp.Volts, Amount: 500, Mains: 124, State: []string{amp.Check}, Stated: true})
	if after := model(a).Tube(find(t, a, "V3"), limit.PlateWatts, 124, Measured); math.Abs(after.High-before.High) > 1e-12 {
		t.Errorf("a check reading moved the prediction from %g to %g", before.High, after.High)
	}
}

// fitted is the state with a new cathode resistor.
func fitted(ohms float64) State {
	return State{Resistors: map[string]Change{"R20": {Option: "T6r", Ohms: ohms}}}
}

func TestCathodeResistor(t *testing.T) {
	a := stage()
	m := model(a).With(fitted(300))
	v3 := find(t, a, "V3")
	// By hand: g 0.006…0.010 for the pair: f = 2.572/2.8 = 0.91857, 3.62/4 = 0.905.
	f, ok := m.Factor(v3)
	if !ok || math.Abs(f.Low-0.905) > 1e-9 || math.Abs(f.High-0.918571) > 1e-6 {
		t.Errorf("factor %+v, want 0.905 to 0.91857", f)
	}
	// By hand: 11.893 × 0.905 = 10.763; 12.391 × 0.91857 = 11.382.
	holds(t, m.Tube(v3, limit.PlateWatts, 127, Top), 10.763, 11.382, 0.001)
	// By hand: rise 0.095 × (445.17 − 318 × 1.08547) = 0.095 × 99.99 = 9.50.
	s := m.Tube(v3, limit.PlateVolts, 127, Top)
	holds(t, s, 324.56, 334.06, 0.01)
	if !s.Moved() || s.Cause != "T6r" || math.Abs(s.Inherited-324.56) > 0.01 {
		t.Errorf("plate volts: moved %v by %q from %g; want T6r from 324.56", s.Moved(), s.Cause, s.Inherited)
	}
	// By hand: 0.095 × (445.17 − 300 × 1.08547) = 11.35.
	holds(t, m.Tube(v3, limit.ScreenVolts, 127, Top), 305.02, 316.37, 0.01)
	// Dissipation falls: it has a cause, and did not move up.
	if w := m.Tube(v3, limit.PlateWatts, 127, Top); w.Moved() {
		t.Error("dissipation is said to rise")
	}
	// By hand: 20.624 × 300/262 × 0.905 = 21.372, × 0.91857 = 21.692.
	holds(t, m.Blocking(find(t, a, "C9"), 127, Cold), 21.372, 21.692, 0.001)
	// By hand: 19²/262 = 1.37786 W; × r² f² 300/262 = 1.5226; × r³ … = 1.7027.
	holds(t, m.Resistor(find(t, a, "R20"), 127, Top), 1.5226, 1.7027, 0.0005)
}

func TestLeastOhms(t *testing.T) {
	a := stage()
	m := model(a).With(fitted(300))
	// By hand: ((1 + 0.006·262) × 12.391/12 − 1)/0.006 = 275.97.
	r, ok := m.LeastOhms(find(t, a, "V3"), limit.PlateWatts, 127, 12)
	if !ok || math.Abs(r-275.97) > 0.02 {
		t.Fatalf("least %g, %v; want 275.97", r, ok)
	}
	// With just that resistor the limit is just met, with a little less not.
	at := func(ohms float64) float64 {
		return model(a).With(fitted(ohms)).Tube(find(t, a, "V3"), limit.PlateWatts, 127, Top).High
	}
	if w := at(r); math.Abs(w-12) > 1e-6 {
		t.Errorf("at the least resistance %g W, want 12", w)
	}
	if w := at(r - 0.5); w <= 12 {
		t.Errorf("below the least resistance %g W, want more than 12", w)
	}
	if _, ok := model(a).LeastOhms(find(t, a, "V3"), limit.PlateWatts, 127, 12); ok {
		t.Error("a least resistance where none is changed")
	}
}

func TestCathodeResistorInTheDark(t *testing.T) {
	a := stage()
	for name, m := range map[string]*Model{
		"no transconductance": New(Input{Amp: a, Cards: nobody}).With(fitted(300)),
		"no ohms":             model(a).With(fitted(0)),
	} {
		s := m.Tube(find(t, a, "V3"), limit.PlateWatts, 127, Top)
		if s.Doubt == "" {
			t.Errorf("%s: no doubt on %g W", name, s.High)
		}
	}
}

func nobody(string) (c tube.Card, ok bool) { return c, false }

func TestOtherTubesEndTheFigures(t *testing.T) {
	a := stage()
	m := model(a).With(State{Tubes: map[string]string{"V3": "T6"}})
	if s := m.Tube(find(t, a, "V3"), limit.PlateVolts, 127, Top); !s.Ended() || s.High != 0 {
		t.Errorf("plate volts %g, %q: want ended", s.High, s.Missing)
	}
	if s := m.Tube(find(t, a, "V4"), limit.PlateVolts, 127, Top); !s.Ended() {
		t.Error("the tube that stays shares bias and supply, and has not ended")
	}
	if s := m.Blocking(find(t, a, "C1"), 127, Cold); s.Missing != "" || s.Doubt != "" {
		t.Errorf("the no-load peak rests on no tube: %q %q", s.Missing, s.Doubt)
	}
}

func TestTaps(t *testing.T) {
	a := with(func(a *amp.Amp) {
		a.Tap, a.Taps = "220", []string{"200", "220", "240"}
		for i := range a.Readings {
			if a.Readings[i].Mains > 0 {
				a.Readings[i].Mains = 220
			}
		}
	})
	m := model(a)
	up, down := m.With(State{Tap: "240", TapBy: "T1"}), m.With(State{Tap: "200", TapBy: "T0"})
	// By hand: 410.12 × 253/220 = 471.64; on 240: × (253/240)/(220/220) = 432.34; on 200: × 1.265 = 518.81.
	holds(t, m.Peak(253), 471.64, 471.64, 0.01)
	holds(t, up.Peak(253), 432.34, 432.34, 0.01)
	holds(t, down.Peak(253), 518.81, 518.81, 0.01)
	if s := down.Peak(253); !s.Moved() || s.Cause != "T0" || math.Abs(s.Inherited-471.64) > 0.01 {
		t.Errorf("the lower tap: moved %v, %q, inherited %g; want T0 from 471.64", s.Moved(), s.Cause, s.Inherited)
	}
	if up.Peak(253).Moved() {
		t.Error("the higher tap is said to raise the peak")
	}
	// A reading taken on another tap says so.
	reading(a, "HT").Tap = "200"
	// By hand: 410.12 × (253/220)/(220/200) = 428.76.
	holds(t, model(a).Peak(253), 428.76, 428.76, 0.01)
}

// Every figure walks back to readings and to where each stands.
func TestFiguresHaveReasons(t *testing.T) {
	a := stage()
	m := model(a)
	for _, q := range []limit.Quantity{limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts, limit.CathodeCurrent} {
		s := m.Tube(find(t, a, "V3"), q, 127, Top)
		if s.Node == nil || len(s.Node.From) == 0 {
			t.Errorf("%s has no reason", q)
		}
	}
}
