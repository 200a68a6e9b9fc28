package circuit

import (
	"math"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// By hand, a 10 MΩ meter: a grid over 1.5 kΩ and a 220 kΩ leak reads
// 10/(10 + 0.2215) of its bias, so 44.0 V read is 44.97 V; a plate on 100 kΩ
// may read low by up to 100 k/(10 M + 100 k) = 0.99 %; a plate on a choke by
// nothing.
func TestMeterLoads(t *testing.T) {
	a := loadAmp(t, "../../testdata/amps/corvane.csv")
	for _, c := range []struct {
		at           string
		read, amount float64
		err          float64
	}{
		{"V3:grid", -44, -44 * (1 + 0.2215/10), 0.44 * (1 + 0.02215)},
		{"V1a:plate", 180, 180, 1.8 + 180*0.1/10.1},
		{"V3:plate", 380, 380, 3.8},
		{"V3:cathode", 0.035, 0.035, 0.00035 + 0.035*1/(1e7+1)},
	} {
		r := amp.Reading{ID: "1", At: c.at, Quantity: amp.Volts, Unit: unit.Volt, Amount: c.read, Mains: 120, Meter: 0.01, Stated: true, Ohms: 10e6}
		g := targetOf(&Bench{Sheet: a.sheet}, newJoints(a.sheet), r, 120)
		if math.Abs(g.amount-c.amount) > 1e-9 || math.Abs(g.err-c.err) > 1e-9 {
			t.Errorf("%s: %.6g ± %.6g, by hand %.6g ± %.6g", c.at, g.amount, g.err, c.amount, c.err)
		}
	}
}
