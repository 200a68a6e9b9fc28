package proof_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"lugworth/core/proof"
)

// A draw is one amp that the facts allow: each reading off by no more than
// its meter, the tubes' law and transconductance anywhere between their ends.
type draw struct {
	vp, vs, vk, r, ig2, ht float64 // true values behind the readings
	mains, power, g        float64 // mains at home, power of the current's law, A/V of the pair
}

// A quarter of the draws stand in a corner.
func drawn(rng *rand.Rand, meter float64) draw {
	corner := rng.IntN(4) == 0
	between := func(low, high float64) float64 {
		if corner {
			return []float64{low, high}[rng.IntN(2)]
		}
		return low + rng.Float64()*(high-low)
	}
	off := func(v float64) float64 { return v * between(1-meter, 1+meter) }
	return draw{vp: off(318), vs: off(300), vk: off(19), r: off(262), ig2: off(0.0025), ht: off(290),
		mains: between(114, 127), power: between(1, 1.5), g: between(0.006, 0.010)}
}

// figures works the draw by hand formulas: volts rise with the mains, current
// with its power, the peak of the unloaded winding is √2 of its rms.
func (d draw) figures() map[string]float64 {
	k := d.mains / 117
	i := math.Pow(k, d.power)
	return map[string]float64{
		"plate volts": (d.vp - d.vk) * k, "screen volts": (d.vs - d.vk) * k,
		"plate watts":  (d.vp - d.vk) * k * (d.vk/d.r/2 - d.ig2) * i,
		"screen watts": (d.vs - d.vk) * k * d.ig2 * i,
		"dc volts":     math.Sqrt2 * d.ht * k,
	}
}

// 10,000 random amps that the facts allow, a quarter in a corner, never pass
// the certified upper end at the top of the range, and at that mains never
// fall below the lower end either.
func TestRandomCasesNeverPassTheCertifiedBound(t *testing.T) {
	const meter = 0.015
	c := opened(t, certified(t, "drover", ",as found,0,10M", ",as found,1.5,10M", ",as found,0,\n", ",as found,1.5,\n"))
	low, high := map[string]float64{}, map[string]float64{}
	for _, v := range c.Verdicts {
		if first := v.Subject == "V3" || v.Subject == "C1a"; first && v.Set == "" && v.Option == "" && (v.Scenario == proof.AtTop || v.Scenario == proof.AtCold) {
			low[v.Quantity], high[v.Quantity] = float(t, v.Low), float(t, v.High)
		}
	}
	rng := rand.New(rand.NewPCG(1957, 6))
	closest := map[string]float64{}
	for n := range 10000 {
		d := drawn(rng, meter)
		if n%2 == 0 {
			d.mains = 127
		}
		got := d.figures()
		for q, v := range got {
			closest[q] = max(closest[q], v/high[q])
			if v > high[q]*(1+1e-9) || d.mains == 127 && v < low[q]*(1-1e-9) {
				t.Fatalf("%s: %g is outside %g to %g: %+v", q, v, low[q], high[q], d)
			}
		}
	}
	if len(closest) != 5 {
		t.Errorf("%d quantities, want 5", len(closest))
	}
	for q, v := range closest {
		if v < 0.97 || v > 1+1e-9 {
			t.Errorf("%s: the closest call is %.4f of the bound: a bound far off tests nothing", q, v)
		}
		t.Logf("%s: the closest call of 10,000 is %.4f of the certified bound", q, v)
	}
}

// The figures of a whole job as worked with a pencil: readings at 117 V,
// judged at 127 V.
//
//	√2 · 290 · 127/117                                     = 445.178 V
//	(318 − 19) · 127/117                                   = 324.556 V
//	(318 − 19) · (19/262/2 − 0.0025) · (127/117)²          = 11.8933 W
//	the same, to the power of 2.5                          = 12.3912 W
//	6.25 · 114/117                                         = 6.08974 V
func TestPencilFigures(t *testing.T) {
	c := opened(t, certificate(t, "drover.txtar"))
	for _, tt := range []struct {
		subject, quantity, scenario string
		low, high                   float64 // to 1e-5 of each
	}{
		{"C1a", "dc volts", proof.AtCold, 445.178, 445.178},
		{"V3", "plate volts", proof.AtTop, 324.556, 324.556},
		{"V3", "plate watts", proof.AtTop, 11.8933, 12.3912},
		{"LV", "heater volts", proof.AtBottom, 6.08974, 6.08974},
	} {
		v := find(t, &c, func(v *proof.Verdict) bool {
			return v.Subject == tt.subject && v.Quantity == tt.quantity && v.Scenario == tt.scenario
		})
		if l, h := float(t, v.Low), float(t, v.High); math.Abs(l/tt.low-1) > 1e-5 || math.Abs(h/tt.high-1) > 1e-5 {
			t.Errorf("%s %s: %g to %g, want %g to %g", tt.subject, tt.quantity, l, h, tt.low, tt.high)
		}
	}
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
