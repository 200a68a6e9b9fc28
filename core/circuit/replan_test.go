package circuit

import (
	"math"
	"testing"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// replan is what a page asks after one choice: the figures of the output
// tubes and the capacitors at two mains, a bias or cathode resistor changed.
func (s *specimenAmp) replan(t testing.TB) (cal *Calibration, ask func(need Need) []Band) {
	t.Helper()
	cal, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: s.chart(true), Laws: fittedLaws, Alike: true, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	var fs []Figure
	ch := Choice{Values: map[Figured]Marked{}}
	for i := range s.sheet {
		p := &s.sheet[i]
		switch {
		case isOutput(p):
			for _, q := range []limit.Quantity{limit.PlateVolts, limit.PlateWatts, limit.ScreenVolts, limit.ScreenWatts} {
				fs = append(fs, Figure{p.Ref, q})
			}
		case p.Kind == "electrolytic":
			fs = append(fs, Figure{p.Ref, limit.DCVolts})
		case p.Kind == "resistor" && len(ch.Values) == 0:
			ch.Values[Figured{p.Ref, Ohms}] = Marked{p.Spec.Value() * 1.2, 0.1}
		}
	}
	high := unit.Voltage(s.mains * 1.05)
	low := unit.Voltage(s.mains * 0.95)
	two := []Scenario{{Name: "top", Low: high, High: high}, {Name: "bottom", Low: low, High: low}}
	return cal, func(need Need) []Band { return cal.Bands(ch, two, fs, fittedLaws, need) }
}

// A re-plan: two scenarios, their sensitivities, and twenty corners. Target:
// at most 3 ms at 40 nodes on a quiet machine.
func BenchmarkChoice(b *testing.B) {
	for _, a := range benchAmps(b) {
		s := a.specimen(b, 1)
		_, ask := s.replan(b)
		corners := 0
		need := func(f Figure) (float64, float64, bool) { // ten figures with a limit inside the band
			if f.Quantity != limit.DCVolts && corners < 10 {
				corners++
				return math.Inf(-1), 0, true
			}
			return math.Inf(-1), math.Inf(1), true
		}
		b.Run(a.name, func(b *testing.B) {
			b.ReportMetric(float64(len(s.net.Nodes())), "nodes")
			for b.Loop() {
				corners = 0
				ask(need)
			}
		})
	}
}

// Matching an amp to its chart: once for each new reading.
func BenchmarkCalibrate(b *testing.B) {
	for _, a := range benchAmps(b) {
		s := a.specimen(b, 1)
		rs := s.chart(true)
		b.Run(a.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: rs, Laws: fittedLaws, Alike: true, Known: true}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// One choice in the first amp at four states, as a job asks for it.
func BenchmarkBandsOfFirstAmp(b *testing.B) {
	s := scenario(b, "drover-sheet.txtar", "")
	c := s.match(b, s.readings)
	cold := at("cold", 127)
	cold.Cold = true
	scenarios := []Scenario{at("117", 117), at("124", 124), at("127", 127), cold}
	ch := Choice{Values: map[Figured]Marked{{"R20", Ohms}: {Value: 300, Tolerance: 0.05}}}
	var fs []Figure
	for _, f := range s.net.Figures() {
		if _, _, ok := limitsA(f); ok && (f.Quantity != limit.DCVolts || f.Ref[0] == 'C') {
			fs = append(fs, f)
		}
	}
	b.Logf("%d figures", len(fs))
	for b.Loop() {
		c.Bands(ch, scenarios, fs, fittedLaws, limitsA)
	}
}
