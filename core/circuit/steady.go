package circuit

import (
	"math"

	"lugworth/core/tube"
)

// How little the correction of the averaged law may still move, in volts and
// as a part of the port's volts. Each round leaves a few percent of the last
// one's error, so what is left is well under a tenth of this.
const (
	deltaLeast = 1e-3
	deltaPart  = 5e-6
)

// supply corrects the averaged law until every port's mean volts are those
// of a cycle in steady state, and finds the ripple.
func (w *work) supply(sol, warm *Solution) *Unsolved {
	if len(w.net.supply.ports) == 0 {
		return nil
	}
	a := newPhasors(w.setup)
	start := make([]float64, len(w.delta))
	for k := range start {
		q := &w.net.supply.ports[k]
		start[k] = w.x[q.plus] - w.x[q.minus] + w.lean(warm, k)
	}
	for range 12 {
		a.take(w.setup, w.x)
		r, u := w.begin(a.inputs())
		if u != nil {
			return u
		}
		if !r.shoot(start) {
			return w.unsolved("the supply finds no steady cycle")
		}
		moved := w.correct(r)
		if u := w.rest(); u != nil {
			return u
		}
		if !moved {
			sol.cycle = r.record(start)
			sol.swell = a.swell(w.setup, sol.cycle)
			return nil
		}
	}
	return w.unsolved("mean volts and ripple of the supply do not come to rest")
}

// lean is how far the volts at the start of a cycle stood from the mean.
func (w *work) lean(warm *Solution, k int) float64 {
	if warm == nil || warm.cycle == nil || k >= len(warm.cycle.start) {
		return 0
	}
	lean := warm.cycle.start[k] - warm.cycle.volts[k]
	if was := warm.cycle.into[k]; was > 0 {
		lean *= w.into[k] / was
	}
	return lean
}

// correct sets each port's correction to what the cycle says, and reports
// whether one moved.
func (w *work) correct(r *runner) bool {
	moved := false
	for k := range w.delta {
		if r.idle[k] {
			moved = moved || w.delta[k] != 0
			w.delta[k] = 0
			continue
		}
		q := &w.net.supply.ports[k]
		volts := w.x[q.plus] - w.x[q.minus]
		step := r.mean[k] - volts
		if math.Abs(step) > deltaLeast+deltaPart*math.Abs(volts) {
			moved = true
		}
		w.delta[k] += step
	}
	return moved
}

// record runs the steady cycle once more and keeps what it carries.
func (r *runner) record(start []float64) *cycle {
	n := len(start)
	c := &cycle{
		into: append([]float64(nil), r.into...), volts: append([]float64(nil), r.mean...), start: append([]float64(nil), start...),
		peak: r.peak, legs: make([]legCycle, len(r.legs)), rest: make([]float64, n), harmony: make([][]complex128, n),
	}
	wave := make([]float64, n*r.steps)
	square := make([]float64, n)
	r.once(start, make([]float64, n), func(j int) {
		for i := range r.legs {
			l, k := &c.legs[i], r.net.supply.legs[i].port
			a := r.amps[i]
			l.mean += a
			l.rms += a * a
			l.peak = max(l.peak, a)
			l.inverse = max(l.inverse, r.v[k]-r.legs[i].n*r.core)
			wave[k*r.steps+j] += a
		}
		for k := range square {
			square[k] += wave[k*r.steps+j] * wave[k*r.steps+j]
		}
	})
	for i := range c.legs {
		c.legs[i].mean /= float64(r.steps)
		c.legs[i].rms = math.Sqrt(c.legs[i].rms / float64(r.steps))
	}
	for k := range c.harmony {
		c.harmony[k] = r.spectrum(wave[k*r.steps:(k+1)*r.steps], r.net.harmonics(r.setup, k))
		c.rest[k] = square[k] / float64(r.steps)
		for h, z := range c.harmony[k] {
			part := real(z)*real(z) + imag(z)*imag(z)
			if h > 0 {
				part /= 2
			}
			c.rest[k] -= part
		}
		c.rest[k] = max(c.rest[k], 0)
	}
	return c
}

// Harmonics of the ripple that are followed: so many of its own frequency.
const harmonics = 20

// harmonics lists which harmonics of the mains a port's current has. One
// charged alike in both half cycles has even ones only.
func (n *Net) harmonics(p *setup, k int) []bool {
	q := &n.supply.ports[k]
	top, alike := harmonics, false
	if q.full {
		top = 2 * harmonics
		alike = len(q.legs) == 2 && p.legs[q.legs[0]].like(&p.legs[q.legs[1]]) && !p.legs[q.legs[0]].dead
	}
	has := make([]bool, top+1)
	for h := range has {
		has[h] = h == 0 || !alike || h%2 == 0
	}
	return has
}

// spectrum gives the phasors of a wave: wave(t) = c0 + sum re(c·exp(j·h·t)).
func (r *runner) spectrum(wave []float64, has []bool) []complex128 {
	out := make([]complex128, len(has))
	n := len(wave)
	for h := range out {
		if !has[h] {
			continue
		}
		re, im := 0.0, 0.0
		at, quarter := 0, n/4
		for _, a := range wave {
			if a != 0 {
				re += a * r.sine[(at+quarter)%n]
				im -= a * r.sine[at]
			}
			at = (at + h) % n
		}
		scale := 2 / float64(n)
		if h == 0 {
			scale = 1 / float64(n)
		}
		out[h] = complex(re*scale, im*scale)
	}
	return out
}

// phasors solves the circuit linearized about its rest, at one frequency.
type phasors struct {
	*setup
	a, b   []complex128
	slopes []tube.Slopes
}

func newPhasors(p *setup) *phasors {
	return &phasors{
		setup: p, a: make([]complex128, p.net.prog.size), b: make([]complex128, len(p.net.names)+1), slopes: make([]tube.Slopes, len(p.net.tubes)),
	}
}

// take notes the slopes of all tubes at volts x.
func (a *phasors) take(p *setup, x []float64) {
	for i := range a.slopes {
		if !p.off[i] {
			_, a.slopes[i] = p.currents(i, x)
		}
	}
}

// at makes the matrix at so many radians a second and factors it.
func (a *phasors) at(omega float64) {
	n := a.net
	clear(a.a)
	for _, d := range n.diag {
		a.a[d] = leak
	}
	for i := range n.links {
		if l := &n.links[i]; l.a >= 0 && l.b >= 0 {
			if y := a.admittance(i, omega); y != 0 {
				stampPhasor(a.a, &l.at, y)
			}
		}
	}
	for i := range n.tubes {
		if a.off[i] {
			continue
		}
		t, s := &n.tubes[i], &a.slopes[i]
		for e, row := range [3]*[3]float64{&s.Plate, &s.Screen, &s.Grid} {
			sum := 0.0
			for j, v := range row {
				sum += v
				a.a[t.at[4*e+j]] += complex(v, 0)
				a.a[t.at[12+j]] -= complex(v, 0)
			}
			a.a[t.at[4*e+3]] -= complex(sum, 0)
			a.a[t.at[15]] += complex(sum, 0)
		}
	}
	factor(n.prog, a.a)
}

func stampPhasor(a []complex128, at *[4]int32, y complex128) {
	a[at[0]] += y
	a[at[1]] += y
	a[at[2]] -= y
	a[at[3]] -= y
}

// admittance of a link at so many radians a second.
func (p *setup) admittance(i int, omega float64) complex128 {
	l := &p.net.links[i]
	g := complex(p.g[i], 0)
	whole := p.fault[l.part].Kind == 0
	switch {
	case l.sort == linkFarads && p.fault[l.part].Kind != Open:
		return g + complex(0, omega*p.value(l.part, 0))
	case l.sort == linkChoke && whole:
		return 1 / complex(1/p.g[i], omega*p.value(l.part, 0))
	}
	return g
}

// inputs returns what every port looks like at its own ripple frequency.
func (a *phasors) inputs() []complex128 {
	ports := a.net.supply.ports
	out := make([]complex128, len(ports))
	for _, full := range [2]bool{false, true} {
		ready := false
		for k := range ports {
			if ports[k].full != full {
				continue
			}
			if !ready {
				omega := a.omega
				if full {
					omega *= 2
				}
				a.at(omega)
				ready = true
			}
			out[k] = a.input(&ports[k])
		}
	}
	return out
}

func (a *phasors) input(q *port) complex128 {
	n := len(a.net.names)
	clear(a.b)
	a.b[q.plus]++
	a.b[q.minus]--
	solve(a.net.prog, a.a, a.b)
	a.b[n] = 0
	return 1 / (a.b[q.plus] - a.b[q.minus])
}
