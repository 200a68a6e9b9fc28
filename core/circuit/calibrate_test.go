package circuit

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// changed returns readings with those of one place changed.
func changed(rs []amp.Reading, at string, change func(*amp.Reading)) []amp.Reading {
	rs = slices.Clone(rs)
	for i := range rs {
		if rs[i].At == at {
			change(&rs[i])
		}
	}
	return rs
}

// Both explanations read what the meter read, at the bench point exactly.
func TestMatchMeetsReadings(t *testing.T) {
	for _, s := range []scenarioAmp{scenario(t, "drover-sheet.txtar", ""), scenario(t, "tern-sheet.txtar", "220")} {
		c := s.match(t, s.readings)
		if len(c.fits) != 2 {
			t.Fatalf("%d explanations", len(c.fits))
		}
		for i, f := range c.fits {
			for k, p := range f.pins {
				got, _ := c.targets[p.target].of(f.sol)
				if want := c.targets[p.target].amount; math.Abs(got/want-1) > 1e-5 || f.at[k] {
					t.Errorf("%s %s: %.6g, read %.6g", c.Explained[i].Name, c.targets[p.target].reading.At, got, want)
				}
			}
		}
	}
}

// By hand, at 117 V: 19.0 V over 262 Ω for two tubes alike is 36.26 mA each,
// 318 − 19 = 299 V plate to cathode; less 2.5 mA of screen, 10.09 W.
func TestBenchFiguresOfFirstAmp(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	c := s.match(t, s.readings)
	for _, b := range c.Bands(Choice{}, []Scenario{at("as read", 117)}, []Figure{
		{"V3", limit.CathodeCurrent}, {"V3", limit.PlateVolts}, {"V3", limit.PlateWatts}, {"V3", limit.ScreenWatts},
	}, fittedLaws, nil) {
		want := map[limit.Quantity]float64{
			limit.CathodeCurrent: 19.0 / 262 / 2, limit.PlateVolts: 299, limit.PlateWatts: 299 * (19.0/262/2 - 0.0025), limit.ScreenWatts: 281 * 0.0025,
		}[b.Quantity]
		if math.Abs(b.Expected/want-1) > 2e-3 || b.Low > want || b.High < want {
			t.Errorf("%s: %.5g between %.5g and %.5g, by hand %.5g", b.Quantity, b.Expected, b.Low, b.High, want)
		}
	}
}

// What is lacking is said, and never made up.
func TestReadingsLacking(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	for _, c := range []struct {
		name     string
		readings []amp.Reading
		known    bool
		alike    bool
		doubt    string // in the calibration
		band     string // in the plate watts
		basis    Basis
		explains int
	}{
		{"all", s.readings, true, true, "", "", Anchored, 2},
		{"no reading at all", nil, true, true, "nothing was read", "nothing was read", FromType, 1},
		{"no cathode reading", s.without(func(r amp.Reading) bool { return r.At == "K" }), true, true, "", "no reading tells the current of V3", Calibrated, 2},
		{"not stated alike", s.readings, true, false, "", "not stated to draw alike", Calibrated, 2},
		{"a meter of unknown error", changed(s.readings, "B1", func(r *amp.Reading) { r.Stated = false }), false, true, "error of the meter is not stated", "", Anchored, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			cal, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: c.readings, Laws: fittedLaws, Alike: c.alike, Known: c.known})
			if err != nil {
				t.Fatal(err)
			}
			if (c.doubt == "") != (cal.Doubt == "") || !strings.Contains(cal.Doubt, c.doubt) || len(cal.Explained) != c.explains {
				t.Errorf("doubt %q, %d explanations", cal.Doubt, len(cal.Explained))
			}
			b := cal.Bands(Choice{}, []Scenario{at("at 124", 124)}, []Figure{{"V3", limit.PlateWatts}}, fittedLaws, nil)[0]
			if b.Missing != "" || b.Basis != c.basis || c.band != "" && !strings.Contains(b.Doubt, c.band) || c.doubt != "" && b.Doubt == "" {
				t.Errorf("%s to %v, %s, doubt %q, %s", c.name, b.Interval, b.Basis, b.Doubt, b.Missing)
			}
			if !(b.Low < 11.43 && b.High > 11.43) {
				t.Errorf("%.2f to %.2f W does not hold what all readings give", b.Low, b.High)
			}
		})
	}
}

// A reading that no likely part explains stands as a contradiction; the
// circuit is not bent to it.
func TestContradictionShows(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	for _, c := range []struct {
		at   string
		amps func(*amp.Reading)
	}{
		{"B2", func(r *amp.Reading) { r.Amount = 200 }},                            // 125 V over 2.7 kΩ that carry 8 mA
		{"B1", func(r *amp.Reading) { r.Amount = 410 }},                            // more than the open secondary can give
		{"K", func(r *amp.Reading) { r.Amount = 42 }},                              // 160 mA through two tubes
		{"K", func(r *amp.Reading) { r.Amount *= b2f(!r.Has(amp.Check), 1, 1.1) }}, // a check reading 10 % off
	} {
		cal := s.match(t, changed(s.readings, c.at, c.amps))
		bad := ""
		for _, r := range cal.Residuals {
			if !r.Agrees && r.Model != (unit.Interval{}) {
				bad += r.Reading.At + " "
			}
		}
		if bad == "" {
			t.Errorf("%s: every reading agrees", c.at)
		}
	}
}

func b2f(b bool, yes, no float64) float64 {
	if b {
		return yes
	}
	return no
}

// Found on the 220 tap: readings there match; on the 240 tap everything
// stands lower by the ratio of the taps.
func TestTaps(t *testing.T) {
	s := scenario(t, "tern-sheet.txtar", "220")
	c := s.match(t, s.readings)
	var ref string
	for i := range s.sheet {
		if isOutput(&s.sheet[i]) {
			ref = s.sheet[i].Ref
		}
	}
	f := []Figure{{ref, limit.PlateVolts}}
	as := c.Bands(Choice{}, []Scenario{at("found", 220)}, f, fittedLaws, nil)[0]
	moved := c.Bands(Choice{Ratio: 220.0 / 240}, []Scenario{at("moved", 240)}, f, fittedLaws, nil)[0]
	if math.Abs(as.Expected/moved.Expected-1) > 5e-3 { // the primary's ohms are those of its turns
		t.Errorf("%.3f V at 220 on the 220 tap, %.3f V at 240 on the 240 tap", as.Expected, moved.Expected)
	}
	lower := c.Bands(Choice{Ratio: 220.0 / 240}, []Scenario{at("moved", 220)}, f, fittedLaws, nil)[0]
	if r := lower.Expected / as.Expected; r > 0.94 || r < 0.90 {
		t.Errorf("the other tap gives %.3f of the volts", r)
	}
}

// Heaters beyond a tenth off their rated volts leave emission unknown.
func TestHeatersOff(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	c := s.match(t, s.readings)
	for _, x := range []struct {
		mains unit.Voltage
		doubt bool
	}{{117, false}, {127, false}, {131, true}, {100, true}} {
		b := c.Bands(Choice{}, []Scenario{at("x", x.mains)}, []Figure{{"V3", limit.PlateWatts}}, fittedLaws, nil)[0]
		if strings.Contains(b.Doubt, "heaters at") != x.doubt {
			t.Errorf("%v: doubt %q", x.mains, b.Doubt)
		}
	}
}

// Fixed bias read, the tubes' current not: the bias supply is matched and its
// figures count, what the tubes draw is as wide as tubes of the type differ
// and says that no reading tells it.
func TestBiasReadCurrentNot(t *testing.T) {
	a := loadAmp(t, "../../testdata/amps/corvane.csv")
	s := a.specimen(t, 3)
	rs := slices.DeleteFunc(s.chart(false), func(r amp.Reading) bool {
		return strings.HasSuffix(r.At, ":cathode") || r.Quantity == amp.Ohms
	})
	c, err := Calibrate(a.net, Bench{Sheet: a.sheet, Readings: rs, Laws: fittedLaws, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	if c.Doubt != "" {
		t.Errorf("doubt on everything: %s", c.Doubt)
	}
	top := Scenario{Name: "range", Low: 114, High: 126}
	fs := []Figure{{"C302", limit.DCVolts}, {"V3", limit.PlateWatts}}
	bs := c.Bands(Choice{}, []Scenario{top}, fs, fittedLaws, nil)
	if b := bs[0]; b.Basis != Anchored || b.Doubt != "" || (b.High-b.Low)/b.Expected > 0.2 {
		t.Errorf("bias: %v, %s, doubt %q", b.Interval, b.Basis, b.Doubt)
	}
	if b := bs[1]; b.Basis != Calibrated || !strings.Contains(b.Doubt, "no reading tells the current of V3") || (b.High-b.Low)/b.Expected < 0.5 {
		t.Errorf("plate: %v, %s, doubt %q", b.Interval, b.Basis, b.Doubt)
	}
	// The corners of a range name the mains they stand at.
	low, high, err := c.Corners(Choice{}, top, fs[0], fittedLaws)
	if err != nil || low.State.Mains != 114 || high.State.Mains != 126 || low.End < bs[0].Low-1e-9 || high.End > bs[0].High+1e-9 {
		t.Errorf("corners at %v and %v, %.4f to %.4f of %v (%v)", low.State.Mains, high.State.Mains, low.End, high.End, bs[0].Interval, err)
	}
}
