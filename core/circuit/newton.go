package circuit

import (
	"math"

	"lugworth/core/tube"
)

// leak is the conductance from every node to the chassis, in siemens: what
// keeps a node that nothing holds from having no answer at all.
const leak = 1e-12

// A bench of numbers Newton's method works in. Nothing in it outlives a
// solve; nothing is allocated in a step.
type work struct {
	*setup
	base  []float64 // the matrix of all links and the leak
	a     []float64
	f     []float64 // sum of currents leaving each node
	trial []float64
	x     []float64 // volts of the nodes, and of the chassis
	delta []float64 // by port: mean volts less those the averaged law needs
	into  []float64 // by port: mean current
	steep []float64 // by port: d(into)/d(volts)
	leak  float64
	hold  float64 // conductance towards the held volts, of the fallback
	held  []float64
	most  float64 // greatest current seen in the last look
}

func newWork(p *setup) *work {
	n := len(p.net.names)
	w := &work{
		setup: p, base: make([]float64, p.net.prog.size), a: make([]float64, p.net.prog.size), f: make([]float64, n+1),
		trial: make([]float64, n+1), x: make([]float64, n+1), delta: make([]float64, len(p.net.supply.ports)),
		into: make([]float64, len(p.net.supply.ports)), steep: make([]float64, len(p.net.supply.ports)), leak: leak,
	}
	w.stampLinks()
	return w
}

// stampLinks puts the links at rest into the base matrix.
func (w *work) stampLinks() {
	clear(w.base)
	for i := range w.net.links {
		l := &w.net.links[i]
		if l.a < 0 || l.b < 0 {
			continue
		}
		stamp(w.base, &l.at, w.g[i])
	}
}

// stamp adds a conductance between two nodes.
func stamp(a []float64, at *[4]int32, g float64) {
	a[at[0]] += g
	a[at[1]] += g
	a[at[2]] -= g
	a[at[3]] -= g
}

// look reckons the sum of currents leaving every node at volts x, into w.f,
// and with it the matrix of slopes, into w.a. It returns the greatest sum.
func (w *work) look(x []float64) float64 {
	copy(w.a, w.base)
	for _, d := range w.net.diag {
		w.a[d] += w.leak + w.hold
	}
	w.sum(x)
	worst := 0.0
	for _, v := range w.f[:len(w.net.names)] {
		if v = math.Abs(v); !(v <= worst) {
			worst = v // a NaN stays
		}
	}
	return worst
}

// sum reckons the sums of currents, and adds the slopes of tubes and ports to
// whatever stands in w.a.
func (w *work) sum(x []float64) {
	w.most = 0
	for i := range w.net.names {
		w.f[i] = w.leak * x[i]
		if w.hold > 0 {
			w.f[i] += w.hold * (x[i] - w.held[i])
		}
	}
	w.f[len(w.net.names)] = 0
	for i := range w.net.links {
		l := &w.net.links[i]
		if l.a < 0 || l.b < 0 || w.g[i] == 0 {
			continue
		}
		w.flow(l.a, l.b, w.g[i]*(x[l.a]-x[l.b]))
	}
	for i := range w.net.tubes {
		w.tube(i, x)
	}
	for i := range w.net.supply.ports {
		w.port(i, x)
	}
}

// flow lets a current leave a for b.
func (w *work) flow(a, b int, amps float64) {
	w.f[a] += amps
	w.f[b] -= amps
	if amps = math.Abs(amps); amps > w.most {
		w.most = amps
	}
}

// currents of a tube at the volts of the nodes, drive included.
func (p *setup) currents(i int, x []float64) (tube.Currents, tube.Slopes) {
	t := &p.net.tubes[i]
	k := x[t.cathode]
	c, s := t.law.At(x[t.plate]-k, x[t.screen]-k, x[t.grid]-k, p.spec[i])
	c.Plate += p.drive[i].Plate
	c.Screen += p.drive[i].Screen
	return c, s
}

func (w *work) tube(i int, x []float64) {
	if w.off[i] {
		return
	}
	t := &w.net.tubes[i]
	c, s := w.currents(i, x)
	w.flow(t.plate, t.cathode, c.Plate)
	w.flow(t.screen, t.cathode, c.Screen)
	w.flow(t.grid, t.cathode, c.Grid)
	for e, slopes := range [3]*[3]float64{&s.Plate, &s.Screen, &s.Grid} {
		sum := 0.0
		for j, v := range slopes {
			sum += v
			w.a[t.at[4*e+j]] += v
			w.a[t.at[12+j]] -= v
		}
		w.a[t.at[4*e+3]] -= sum
		w.a[t.at[15]] += sum
	}
}

func (w *work) port(i int, x []float64) {
	q := &w.net.supply.ports[i]
	amps, slope := w.average(q, x[q.plus]-x[q.minus]-w.delta[i])
	w.into[i], w.steep[i] = amps, slope
	w.flow(q.minus, q.plus, amps)
	stamp(w.a, &q.at, -slope)
}

// Limits of Newton's method.
const (
	longest = 200.0 // volts a node may move in one step
	nearly  = 1e-7  // volts; a shorter step ends the search
	nothing = 1e-14 // A; sums that small say nothing more where only the leak holds a node
)

// newton searches from w.x, in so many steps at most.
func (w *work) newton(steps int) bool {
	n := len(w.net.names)
	now := w.look(w.x)
	for range steps {
		if math.IsNaN(now) || math.IsInf(now, 0) {
			return false
		}
		factor(w.net.prog, w.a)
		step := w.f
		solve(w.net.prog, w.a, step)
		most := 0.0
		for _, v := range step[:n] {
			if v = math.Abs(v); !(v <= most) {
				most = v
			}
		}
		if math.IsNaN(most) {
			return false
		}
		for i, v := range step[:n] {
			w.trial[i] = max(min(v, longest), -longest) // look writes over f
		}
		now = w.damped(now, n)
		if most < nearly || now < nothing && most < 1e-2 {
			return true
		}
	}
	return false
}

// damped takes the part of the step that does not make the sums of currents
// much greater.
func (w *work) damped(before float64, n int) float64 {
	step, part := w.trial, 1.0
	for i := range n {
		w.x[i] -= part * step[i]
	}
	for range 7 {
		now := w.look(w.x)
		if now <= 1.5*before || before == 0 {
			return now
		}
		part /= 2
		for i := range n {
			w.x[i] += part * step[i]
		}
	}
	return w.look(w.x)
}

// relax lets the circuit settle as if every node had a capacitor: slow first,
// then ever faster. It tries starts and tempers in a fixed order, so the
// answer does not depend on where the search was before.
func (w *work) relax() bool {
	w.held = make([]float64, len(w.x))
	for _, temper := range [2]struct{ hold, ease float64 }{{1e-3, 0.5}, {1e-1, 0.8}} {
		for _, start := range [3]float64{0, 100, 30} {
			for i := range w.held {
				w.x[i] = start
			}
			w.x[len(w.x)-1] = 0
			if w.settle(temper.hold, temper.ease) {
				return true
			}
		}
	}
	return false
}

func (w *work) settle(hold, ease float64) bool {
	defer func() { w.hold = 0 }()
	for range 400 {
		copy(w.held, w.x)
		w.hold = hold
		if w.newton(12) {
			hold *= ease
		} else {
			copy(w.x, w.held)
			hold *= 4
		}
		if hold < 1e-13 {
			break
		}
		if hold > 1e6 {
			return false
		}
	}
	w.hold = 0
	return w.newton(60)
}
