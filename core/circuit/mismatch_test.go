package circuit

import (
	"math"
	"testing"
)

// Two tubes read each by itself: the band of how far they differ holds how
// far they truly do, part = |Ik1 − Ik2| ÷ mean. Two on one resistor say
// nothing of each other.
func TestMismatchHoldsTheTruth(t *testing.T) {
	for file, read := range map[string]bool{"corvane": true, "estrick": true, "garrowin": false} {
		a := loadAmp(t, "../../testdata/amps/"+file+".csv")
		for seed := range uint64(5) {
			s := a.specimen(t, seed)
			c, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: s.chart(true), Laws: fittedLaws, Alike: !read, Meter: trialMeterError, Known: true})
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			outputs := outputsOf(s.sheet)
			ms := c.Mismatches(outputs)
			if len(ms) != 1 {
				t.Fatalf("%s: %d pairs, want 1", file, len(ms))
			}
			m := ms[0]
			if m.Read != read {
				t.Errorf("%s: read apart %v, want %v", file, m.Read, read)
			}
			x, _ := s.truth.Tube(outputs[0])
			y, _ := s.truth.Tube(outputs[1])
			is := 2 * math.Abs(x.Total-y.Total) / (x.Total + y.Total)
			if read && (is < m.Part.Low || is > m.Part.High) {
				t.Errorf("%s: truly %.4f apart, band %.4f to %.4f", file, is, m.Part.Low, m.Part.High)
			}
			t.Logf("%s: %s and %s %.2f mA, %.1f %% (%.1f to %.1f), truly %.1f", file, m.A, m.B, 1000*m.Amps, 100*m.Part.Expected, 100*m.Part.Low, 100*m.Part.High, 100*is)
		}
	}
}
