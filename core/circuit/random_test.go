package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
)

// Random specimens of the invented amps, parts and tubes far from their
// marking, solved from nothing and from random volts: no crash, a number for
// every figure, and the same answer. 99.5 % at least are solved.
func TestRandomCircuits(t *testing.T) {
	each := 250
	if runtime.GOOS == "js" {
		each = 40
	}
	r := rand.New(rand.NewPCG(7, 1959))
	tried, solved := 0, 0
	for _, a := range benchAmps(t) {
		for range each {
			tried++
			if randomCase(t, a, r) {
				solved++
			}
		}
	}
	t.Logf("%d circuits, %d solved", tried, solved)
	if 1000*solved < 995*tried {
		t.Errorf("%d of %d solved", solved, tried)
	}
}

func randomCase(t *testing.T, a benchAmp, r *rand.Rand) bool {
	t.Helper()
	v := a.net.Sheet()
	for k, knob := range a.net.Knobs {
		switch knob.Property {
		case Shift:
			v[k] += r.NormFloat64()
		case Turn:
			v[k] = r.Float64()
		case Ohms, Farads:
			v[k] *= math.Exp(0.5 * r.NormFloat64())
		default:
			v[k] *= math.Exp(0.25 * r.NormFloat64())
		}
	}
	st := State{Mains: a.net.supply.nominal * (0.7 + 0.6*r.Float64()), Cold: r.IntN(8) == 0}
	s, err := a.net.Solve(v, st, nil)
	from := &Solution{delta: make([]float64, len(a.net.supply.ports))}
	from.x = make([]float64, len(a.net.names)+1)
	for i := range a.net.names {
		from.x[i] = 600*r.Float64() - 100
	}
	again, err2 := a.net.Solve(v, st, from)
	if (err == nil) != (err2 == nil) {
		t.Errorf("%s: %v from nothing, %v from random volts", a.name, err, err2)
		return false
	}
	if err != nil {
		var u *Unsolved
		if !errors.As(err, &u) {
			t.Errorf("%s: %v is no *Unsolved", a.name, err)
		}
		t.Log(a.name, err)
		return false
	}
	sameVolts(t, a.name, s, again)
	allNumbers(t, a.name, s)
	return true
}
