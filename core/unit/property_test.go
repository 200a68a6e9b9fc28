package unit

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestRandomMarkings joins scraps of markings at random: whatever is read
// must print to a form that reads back alike.
func TestRandomMarkings(t *testing.T) {
	scraps := []string{"20", "450", "0.1", ".022", "223", "1,5", "22 000", "½", "1/2", "4k7", "R47", "2n2", "uF", "mfd", "pF", "n",
		"K", "M", "Ω", "R", "V", "W", "A", "T", "T2A", "%", "±10%", "-20/+80%", "@", "/", "-", "+", ",", " ", " ", "x", "VAC", "525SV",
		"axial", "slow", "H", "5", "8", "16", "mm", "C", "per 5", "(", ")", "meg", "mF", "6V6GT", "e-9", "\u00a0", "−"}
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 40_000 {
		var b strings.Builder
		for range 1 + rnd.IntN(6) {
			b.WriteString(scraps[rnd.IntN(len(scraps))])
		}
		stable(t, b.String())
		if t.Failed() {
			return
		}
	}
}

// TestCanonicalRoundTrip builds specs at random, prints and reads them.
func TestCanonicalRoundTrip(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 10))
	for range 20_000 {
		s := randomSpec(rnd)
		got, err := ReadSpec(s.Canonical(), s.Unit)
		if err != nil || !alike(got, s) {
			t.Fatalf("%+v prints %q, which reads as %+v, %v", s, s.Canonical(), got, err)
		}
	}
}

func randomSpec(rnd *rand.Rand) Spec {
	pick := func(v ...float64) float64 { return v[rnd.IntN(len(v))] }
	decade := func(low, high int) float64 {
		return scaled(E192.Value(rnd.IntN(192)), low+rnd.IntN(high-low))
	}
	tol := pick(0, 0.01, 0.05, 0.1, 0.2)
	s := Spec{Tolerance: Tolerance{tol, tol, tol > 0}, Volts: pick(0, 6.3, 25, 450, 630, 1600)}
	switch rnd.IntN(3) {
	case 0:
		s.Unit, s.Values = Farad, []float64{decade(-12, -2)}
		for len(s.Values) < 6 && rnd.IntN(2) == 0 {
			s.Values = append(s.Values, s.Values[0])
		}
		s.AC = s.Volts > 0 && rnd.IntN(4) == 0
	case 1:
		s.Unit, s.Values, s.Watts = Ohm, []float64{decade(-2, 8)}, pick(0, 0.05, 0.25, 0.5, 5, 50)
	default:
		s.Unit, s.Values, s.Speed = Ampere, []float64{decade(-2, 2)}, []string{"", "T", "F"}[rnd.IntN(3)]
	}
	return s
}

// alike compares to one part in 10^6, the figures Canonical prints.
func alike(a, b Spec) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-6*math.Abs(y) }
	if a.Unit != b.Unit || len(a.Values) != len(b.Values) || a.Speed != b.Speed || a.AC != b.AC || a.Tolerance.Stated != b.Tolerance.Stated {
		return false
	}
	for i := range a.Values {
		if !near(a.Values[i], b.Values[i]) {
			return false
		}
	}
	return near(a.Volts, b.Volts) && near(a.Watts, b.Watts) && near(a.Tolerance.Minus, b.Tolerance.Minus) && near(a.Tolerance.Plus, b.Tolerance.Plus)
}
