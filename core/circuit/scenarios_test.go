package circuit

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A scenarioAmp is one of the two whole jobs, as sheet and readings.
type scenarioAmp struct {
	net      *Net
	sheet    []amp.Position
	readings []amp.Reading
	tap      string
}

func scenario(t testing.TB, name, tap string) scenarioAmp {
	t.Helper()
	a, err := txtar.ParseFile("../../testdata/jobs/" + name)
	if err != nil {
		t.Fatal(err)
	}
	s := scenarioAmp{tap: tap}
	for _, f := range a.Files {
		switch f.Name {
		case "sheet.csv":
			sheet, problems := amp.ReadSheet(f.Name, bytes.Clone(f.Data))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			s.sheet = sheet
		case "readings.csv":
			rs, problems := amp.ReadReadings(f.Name, bytes.Clone(f.Data))
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			s.readings = rs
		}
	}
	if s.net, err = Compile(s.sheet, fittedLaws); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s scenarioAmp) match(t testing.TB, rs []amp.Reading) *Calibration {
	t.Helper()
	c, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: rs, Laws: fittedLaws, Tap: s.tap, Alike: true, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// without leaves out readings.
func (s scenarioAmp) without(leave func(amp.Reading) bool) []amp.Reading {
	return slices.DeleteFunc(slices.Clone(s.readings), leave)
}

func at(name string, v unit.Voltage) Scenario { return Scenario{Name: name, Low: v, High: v} }

// The first amp was read at 117 V and, to check, at 124 V. First-order rules
// put its plate watts at 11.34 to 11.67 W at 124 V and at 11.89 to 12.39 W at
// 127 V; what the circuit expects lies inside, and every check reading inside
// the circuit's own band.
func TestFirstAmp(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	c := s.match(t, s.readings)
	if c.Doubt != "" || len(c.Explained) != 2 || c.Mains != 117 {
		t.Fatalf("doubt %q, %d explanations at %v", c.Doubt, len(c.Explained), c.Mains)
	}
	checks := 0
	for _, r := range c.Residuals {
		if r.Why != "" {
			continue
		}
		if !r.Agrees {
			t.Errorf("%s %s at %v: read %g, the circuit has %.4g to %.4g", r.Reading.At, r.Reading.Quantity, r.Reading.Mains, r.Reading.Amount, r.Model.Low, r.Model.High)
		}
		if r.Reading.Has(amp.Check) {
			if checks++; r.Used {
				t.Errorf("%s: a check reading was used", r.Reading.At)
			}
		}
	}
	if checks != 5 {
		t.Errorf("%d check readings compared, want 5", checks)
	}
	want := map[string][2]float64{"at 124": {11.34, 11.67}, "at 127": {11.89, 12.39}}
	for _, b := range c.Bands(Choice{}, []Scenario{at("at 124", 124), at("at 127", 127)}, []Figure{{"V3", limit.PlateWatts}, {"V4", limit.PlateWatts}}, fittedLaws, nil) {
		t.Logf("%s %s: %.2f to %.2f W, expected %.2f W", b.Ref, b.Scenario, b.Low, b.High, b.Expected)
		if w := want[b.Scenario]; b.Missing != "" || b.Expected < w[0] || b.Expected > w[1] || b.Basis != Anchored {
			t.Errorf("%s: expected %.3f %s, %s; want inside %v", b.Scenario, b.Expected, b.Basis, b.Missing, w)
		}
	}
}

// limitsA are the limits of the first amp's card and of its filter capacitors.
func limitsA(f Figure) (float64, float64, bool) {
	most, ok := map[limit.Quantity]float64{limit.PlateVolts: 315, limit.ScreenVolts: 285, limit.PlateWatts: 12, limit.ScreenWatts: 2, limit.DCVolts: 450}[f.Quantity]
	return math.Inf(-1), most, ok
}

// Without its screen currents and the volts of its open secondary, these are
// what the first amp should be asked before all else; with them, verdicts
// that were open are settled.
func TestNextOnFirstAmp(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	fewer := s.without(func(r amp.Reading) bool {
		return r.Quantity == amp.Current || r.Quantity == amp.RMSVolts && r.At == "HT"
	})
	var fs []Figure
	for _, ref := range []string{"V3", "V4"} {
		for _, q := range []limit.Quantity{limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts} {
			fs = append(fs, Figure{ref, q})
		}
	}
	for _, ref := range []string{"C1a", "C1b", "C1c"} {
		fs = append(fs, Figure{ref, limit.DCVolts})
	}
	cold := at("cold", 127)
	cold.Cold = true
	scenarios := []Scenario{at("at 124", 124), at("at 127", 127), cold}
	c := s.match(t, fewer)
	ms, err := c.Next(Choice{}, scenarios, fs, fittedLaws, limitsA)
	if err != nil {
		t.Fatal(err)
	}
	var first []string
	for i, m := range ms {
		t.Logf("%s %s %s: %.2f %% of the limit, %s %s %s", m.At, m.Quantity, m.State, 100*m.Gain, m.Figure.Ref, m.Figure.Quantity, m.Scenario)
		if m.Live == (m.Caution() == "") {
			t.Errorf("%s: live %v, caution %q", m.At, m.Live, m.Caution())
		}
		if i < 3 {
			first = append(first, m.At)
		}
	}
	slices.Sort(first)
	if strings.Join(first, " ") != "HT V3:screen V4:screen" {
		t.Errorf("asks first for %v, want the screen currents and the open secondary", first)
	}
	open := func(c *Calibration) (n int) {
		for _, b := range c.Bands(Choice{}, scenarios, fs, fittedLaws, limitsA) {
			if _, high, _ := limitsA(b.Figure); b.Missing != "" || b.Doubt != "" || b.Low <= high && b.High > high {
				n++
			}
		}
		return n
	}
	before, after := open(c), open(s.match(t, s.readings))
	t.Logf("%d open figures before, %d after", before, after)
	if after >= before {
		t.Errorf("%d figures open before, %d after reading them", before, after)
	}
}

// Held against the sheet as marked, the first amp's chart is that of parts
// inside their spreads: nothing is suspect. A cathode resistor gone to 390 Ω
// is named, alone and first.
func TestSuspectsOfFirstAmp(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	ask := func(rs []amp.Reading) *Inquest {
		q, err := Suspects(s.net, Inquiry{Bench: Bench{Sheet: s.sheet, Readings: rs, Laws: fittedLaws, Known: true}, Slack: 1})
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	if q := ask(s.readings); !q.Fine {
		t.Errorf("%s%s", q.Say, firstOf(q))
	}
	c := s.match(t, s.readings)
	v := slices.Clone(c.Explained[0].Values)
	k, _ := s.net.Knob("R20", Ohms)
	v[k] = 390
	sol, err := s.net.Solve(v, State{Mains: 117}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var rs []amp.Reading
	for _, r := range s.readings {
		t0 := targetOf(&Bench{Sheet: s.sheet}, newJoints(s.sheet), r, 117)
		if y, ok := t0.of(sol); ok && t0.bench {
			r.Amount = y
			rs = append(rs, r)
		}
	}
	q := ask(rs)
	if q.Fine || len(q.Accounts) == 0 || Says(q.Accounts[0].Sets[0]) == "" || !strings.HasPrefix(Says(q.Accounts[0].Sets[0]), "R20 resistance × 1.") {
		t.Errorf("fine %v, %s%s", q.Fine, q.Say, firstOf(q))
	}
}
