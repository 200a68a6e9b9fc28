//go:build !js

package circuit_test

import (
	"math"
	"testing"

	"lugworth/core/unit"
)

// A reckoning works out a rectifier supply by itself: the state of its
// reservoirs stepped through mains cycles until they repeat. It is a second
// way to reservoir volts, for amps whose truth must not come from our solver;
// the simulator polices it (TestOracleReckoning).
type reckoning struct {
	peak, ohms, heater float64 // primary: volts peak, ohms, load conductance at the core
	hertz              float64
	legs               []reckonLeg
	farads, load       []float64 // by reservoir: F, and mean amps drawn out of its node
	slip               []float64 // by reservoir: A/V by which more is drawn at the crest of the ripple
	about              []float64 // means of the cycle before
}

// A reckonLeg is one rectifier with its winding: it conducts when
// toward × (turns × core − reservoir) exceeds its drop.
type reckonLeg struct {
	port          int
	turns, toward float64 // turns signed; toward +1 charges the node upward
	ohms          float64
	pv, vf        float64 // vacuum constant, or forward volts of a diode
}

// current is what flows at u volts over leg and ohms.
func (l reckonLeg) current(u float64) float64 {
	if l.pv == 0 {
		return max(u-l.vf, 0) / l.ohms
	}
	if u <= 0 {
		return 0
	}
	x := math.Sqrt(u) // v = x², u = x² + ohms pv x³
	for range 6 {
		x -= (x*x + l.ohms*l.pv*x*x*x - u) / (2*x + 3*l.ohms*l.pv*x*x)
	}
	return l.pv * x * x * x
}

// core finds the core's volts at one moment: the source less what the
// conducting legs drop in the primary. The function rises, so that halving
// and the secant together cannot miss it.
func (r *reckoning) core(source float64, v []float64) float64 {
	gain := 1 / (1 + r.heater*r.ohms)
	back := func(e float64) float64 {
		sum := 0.0
		for _, l := range r.legs {
			sum += l.turns * l.toward * l.current(l.toward*(l.turns*e-v[l.port]))
		}
		return e - gain*source + gain*r.ohms*sum
	}
	e := gain * source
	f := back(e)
	if math.Abs(f) < 1e-12 {
		return e
	}
	a, b, fa, fb := e-f, e, 0.0, f // the answer lies between, for what the legs draw falls as e comes nearer zero
	fa = back(a)
	for range 60 {
		m := a - fa*(b-a)/(fb-fa)
		fm := back(m)
		if math.Abs(fm) < 1e-10 {
			return m
		}
		if fm*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = m, fm
	}
	return b
}

// slope is dv/dt of every reservoir.
func (r *reckoning) slope(t float64, v, out []float64) {
	e := r.core(r.peak*math.Sin(2*math.Pi*r.hertz*t), v)
	for i := range out {
		out[i] = -(r.load[i] + r.slip[i]*(v[i]-r.about[i])) / r.farads[i]
	}
	for _, l := range r.legs {
		out[l.port] += l.toward * l.current(l.toward*(l.turns*e-v[l.port])) / r.farads[l.port]
	}
}

// cycle steps one mains cycle from v (Heun, 800 steps) and returns its means.
func (r *reckoning) cycle(v []float64) []float64 {
	const steps = 800
	n := len(v)
	h := 1 / r.hertz / steps
	mean, k1, k2, w := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range steps {
		r.slope(float64(i)*h, v, k1)
		for j := range v {
			w[j] = v[j] + h*k1[j]
		}
		r.slope(float64(i+1)*h, w, k2)
		for j := range v {
			mean[j] += (v[j] + h*k1[j]/2) / steps
			v[j] += h * (k1[j] + k2[j]) / 2
		}
	}
	return mean
}

// means returns the mean volts of the reservoirs in the steady state, from a
// guess of volts at the zero of the mains.
func (r *reckoning) means(t testing.TB, guess []float64) []float64 {
	t.Helper()
	v := append([]float64(nil), guess...)
	r.about = append([]float64(nil), guess...)
	last, moved := make([]float64, len(v)), make([]float64, len(v))
	for round := range 200 {
		from := append([]float64(nil), v...)
		mean := r.cycle(v)
		worst := 0.0
		for j := range v {
			d := v[j] - from[j]
			worst = max(worst, math.Abs(d)/math.Abs(mean[j]), math.Abs(mean[j]-r.about[j])/math.Abs(mean[j]))
			jump := d
			if round > 0 && from[j] != last[j] { // the change of a cycle falls in a line as the start comes nearer
				if s := (d - moved[j]) / (from[j] - last[j]); s < -1e-4 {
					jump = -d / s
				}
			}
			last[j], moved[j] = from[j], d
			v[j] = from[j] + max(-20, min(20, jump))
		}
		r.about = mean
		if worst < 1e-6 {
			return mean
		}
	}
	t.Fatal("the reckoning does not settle")
	return nil
}

// The reckoning against the run in time of an amp whose laws come from a
// card file: the same load, the same volts to 0.05 %.
func TestOracleReckoning(t *testing.T) {
	for _, c := range liveCases(t) {
		if c.file != "single" {
			continue
		}
		l := c.kept(t)
		d := c.draw()
		m, w := d.mainsRow(), mustFind(t, d, "T1h")
		nominal := m.Spec.Value()
		law, _ := d.law("5Y3GT")
		half := w.Spec.Value() / 2 / nominal
		leg := reckonLeg{0, half, 1, number(w, "dcr", unit.Ohm, 0) / 2, law.Pv * number(mustFind(t, d, "V4a"), "conduct", unit.None, 1), 0}
		other := leg
		other.turns = -half
		r := reckoning{
			peak: c.mains * math.Sqrt2, ohms: number(m, "rs", unit.Ohm, 0), heater: number(m, "heater", unit.Watt, 0) / nominal / nominal,
			hertz: d.hertz(), legs: []reckonLeg{leg, other}, farads: []float64{mustFind(t, d, "C1").Spec.Value()},
			load: []float64{l.Flow["V4a"] + l.Flow["V4b"]}, slip: []float64{1 / mustFind(t, d, "R1").Spec.Value()},
		}
		got := r.means(t, []float64{300})[0]
		if math.Abs(got/l.Mean["B1"]-1) > 5e-4 {
			t.Errorf("reservoir %.4f V, the simulator says %.4f V", got, l.Mean["B1"])
		}
		t.Logf("reservoir %.4f V, the simulator says %.4f V", got, l.Mean["B1"])
		return
	}
	t.Fatal("no case named single")
}
