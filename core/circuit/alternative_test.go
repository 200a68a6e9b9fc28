package circuit

import (
	"testing"

	"lugworth/core/unit"
)

// A bigger cathode resistor takes watts away; a type with its own law gives
// figures of its own, wider than those of tubes that were read.
func TestAlternatives(t *testing.T) {
	a := loadAmp(t, "../../testdata/amps/garrowin.csv")
	outputs := outputsOf(a.sheet)
	c, err := Calibrate(a.net, Bench{Sheet: a.sheet, Readings: readOf(t, a, 117, outputs...), Laws: fittedLaws, Alike: true, Meter: 0.005, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	sc := Scenario{Name: "top of the range", Low: unit.Voltage(117), High: unit.Voltage(124)}
	as := c.Alternatives(outputs, []string{"6L6GC", "KT66", "no such tube"}, []float64{300, 360}, sc, fittedLaws)
	if len(as) != 9 {
		t.Fatalf("%d alternatives, want 9", len(as))
	}
	for _, x := range as {
		t.Logf("%s %s %.0f Ω: plate %.1f to %.1f W, expected %.1f, %s %s", x.Type, x.Ref, x.Ohms, x.Plate.Low, x.Plate.High, x.Plate.Expected, x.Plate.Basis, x.Plate.Missing)
	}
	if !as[0].Now || as[1].Now || as[3].Now {
		t.Error("the first alternative, and it alone, is the amp as it stands")
	}
	if !(as[2].Plate.Expected < as[1].Plate.Expected && as[1].Plate.Expected < as[0].Plate.Expected) {
		t.Error("a bigger resistor must take watts away")
	}
	width := func(b Band) float64 { return (b.High - b.Low) / b.Expected }
	if width(as[3].Plate) <= width(as[0].Plate) {
		t.Errorf("tubes nobody read: %.2f wide, those read %.2f", width(as[3].Plate), width(as[0].Plate))
	}
	if as[6].Plate.Missing == "" {
		t.Error("a type without a law has no figure")
	}
}
