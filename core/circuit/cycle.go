package circuit

import (
	"math"
)

// A cycle is one cycle of the mains in steady state: what every leg carries
// and how far the mean of a port lies from what the averaged law says.
type cycle struct {
	into    []float64 // mean current by port it was run with
	volts   []float64 // mean volts by port
	start   []float64 // volts by port where the mains crosses zero, rising
	peak    float64   // of the core, nothing drawn
	legs    []legCycle
	rest    []float64      // by port: rms of the current beyond the harmonics, squared
	harmony [][]complex128 // by port: phasors (peak) of the current, by harmonic 0..top
}

// A legCycle is what one leg carries.
type legCycle struct{ mean, peak, rms, inverse float64 }

// runner steps through cycles; all its numbers are made once.
type runner struct {
	*work
	c, g         []float64 // by port: what it looks like at its ripple
	idle, fired  []bool    // ports that draw too little to ripple; that were charged in this cycle
	steps        int
	h            float64
	mean         []float64
	v, next      []float64
	first, then  []float64 // dv/dt at both ends of a step
	fall, drop   []float64 // d(dv/dt)/dv at both ends
	turn, tilt   []float64 // d(v)/d(v at the start), d(v)/d(mean), as the cycle goes on
	turns, tilts []float64 // their means over the cycle
	amps, slope  []float64 // by leg
	sine         []float64
	core         float64
}

const (
	leastSteps = 256
	mostSteps  = 4096
	steady     = 2e-5 // V: how well a cycle must close
)

// begin makes a runner for the volts the search stands at. y is what each
// port looks like at its ripple frequency.
func (w *work) begin(y []complex128) (*runner, *Unsolved) {
	n := len(w.net.supply.ports)
	many := make([]float64, 13*n)
	cut := func() []float64 {
		s := many[:n:n]
		many = many[n:]
		return s
	}
	r := &runner{
		work: w, c: cut(), g: cut(), mean: cut(), v: cut(), next: cut(), first: cut(), then: cut(), fall: cut(), drop: cut(),
		turn: cut(), tilt: cut(), turns: cut(), tilts: cut(), idle: make([]bool, n), fired: make([]bool, n), amps: make([]float64, len(w.legs)), slope: make([]float64, len(w.legs)),
	}
	for k := range r.c {
		if u := r.size(k, y[k]); u != nil {
			return nil, u
		}
	}
	r.pace()
	r.sine = sines(r.steps)
	return r, nil
}

// size finds a port's reservoir and judges whether it is one.
func (r *runner) size(k int, y complex128) *Unsolved {
	q := &r.net.supply.ports[k]
	omega := r.omega
	if q.full {
		omega *= 2
	}
	volts := r.x[q.plus] - r.x[q.minus]
	// An amp may feed its ripple back so that a port looks like less than
	// nothing at one frequency; taken for all frequencies that would run away.
	r.c[k], r.g[k] = imag(y)/omega, max(real(y), 0)
	r.mean[k] = volts
	r.idle[k] = r.into[k] < quiet
	if r.idle[k] {
		return nil
	}
	fall := r.into[k] * 2 * math.Pi / omega // charge drawn between two pulses
	if !(r.c[k] > 0) || fall > 3*r.c[k]*math.Abs(volts) {
		names := r.net.portNames(q)
		return r.unsolved("the rectifiers at "+names+" charge no reservoir worth the name: choke input, or the first capacitor is missing or too small; such a supply is not covered", names)
	}
	return nil
}

func (n *Net) portNames(q *port) string {
	for _, i := range [2]int{q.plus, q.minus} {
		if i < len(n.names) {
			return n.names[i]
		}
	}
	return chassisNode
}

// pace chooses steps short against the time in which a leg fills its
// reservoir.
func (r *runner) pace() {
	cycle := 2 * math.Pi / r.omega
	r.steps = leastSteps
	for i := range r.legs {
		l, k := &r.legs[i], r.net.supply.legs[i].port
		if l.dead || r.idle[k] {
			continue
		}
		fill := (l.r + l.n*l.n*r.back) * r.c[k]
		if l.vacuum {
			fill += r.c[k] / (1.5 * math.Cbrt(l.law.Pv*l.law.Pv*8*r.into[k]))
		}
		for r.steps < mostSteps && cycle/float64(r.steps) > 0.25*fill {
			r.steps *= 2
		}
	}
	r.h = cycle / float64(r.steps)
}

// sines are those of one turn in so many steps.
func sines(steps int) []float64 {
	s := make([]float64, steps)
	for i := range s {
		s[i] = math.Sin(2 * math.Pi * float64(i) / float64(steps))
	}
	return s
}

// currents of all legs with the source at so many volts. The core's volts
// are those at which every leg's current has pulled it down:
//
//	e = source − back·sum(n·i(n·e − v))
//
// which has one root, found from the source's own volts.
func (r *runner) pull(source float64, v []float64) {
	e := source
	for range 60 {
		sum, steep := 0.0, 0.0
		for i := range r.legs {
			l := &r.legs[i]
			r.amps[i], r.slope[i] = 0, 0
			if l.dead {
				continue
			}
			u := l.n*e - v[r.net.supply.legs[i].port]
			if u <= l.vf || r.idle[r.net.supply.legs[i].port] {
				continue
			}
			r.amps[i], r.slope[i] = l.at(u, l.r)
			sum += l.n * r.amps[i]
			steep += l.n * l.n * r.slope[i]
		}
		off := e - source + r.back*sum
		r.core = e
		if math.Abs(off) <= 1e-9*(1+math.Abs(source)) {
			break
		}
		e -= off / (1 + r.back*steep)
	}
}

// rate gives dv/dt of every port, and how it falls with its volts.
func (r *runner) rate(source float64, v, out, fall []float64) {
	r.pull(source, v)
	steep := 1.0
	for i := range r.legs {
		steep += r.back * r.legs[i].n * r.legs[i].n * r.slope[i]
	}
	for k := range out {
		if r.idle[k] {
			out[k], fall[k] = 0, 0
			continue
		}
		amps, g := -r.into[k]-r.g[k]*(v[k]-r.mean[k]), r.g[k]
		for _, i := range r.net.supply.ports[k].legs {
			amps += r.amps[i]
			r.fired[k] = r.fired[k] || r.amps[i] > 0
			s := r.slope[i]
			g += s * (1 - r.back*r.legs[i].n*r.legs[i].n*s/steep)
		}
		out[k], fall[k] = amps/r.c[k], -g/r.c[k]
	}
}

// once runs one cycle from volts start; see is called with the index of each
// step, at its beginning. It leaves the end in r.v and the new mean in mean.
func (r *runner) once(start, mean []float64, see func(step int)) {
	copy(r.v, start)
	clear(mean)
	clear(r.tilt)
	clear(r.turns)
	clear(r.tilts)
	clear(r.fired)
	for k := range r.turn {
		r.turn[k] = 1
	}
	for j := range r.steps {
		r.rate(r.peak*r.sine[j], r.v, r.first, r.fall)
		if see != nil {
			see(j)
		}
		for k, v := range r.v {
			mean[k] += v
			r.turns[k] += r.turn[k]
			r.tilts[k] += r.tilt[k]
			r.next[k] = v + r.h*r.first[k]
		}
		r.rate(r.peak*r.sine[(j+1)%r.steps], r.next, r.then, r.drop)
		for k := range r.v {
			r.v[k] += r.h / 2 * (r.first[k] + r.then[k])
			grow := r.h / 2 * (r.fall[k] + r.drop[k]*(1+r.h*r.fall[k]))
			r.turn[k] *= 1 + grow
			r.tilt[k] += grow*r.tilt[k] + r.h*r.g[k]/r.c[k]
		}
	}
	for k := range mean {
		mean[k] /= float64(r.steps)
	}
}

// shoot looks for the volts from which a cycle comes back to itself, with a
// mean that is the one it was run with: after each cycle, Newton's step on
// what both miss by.
//
// A cycle in which nothing conducts says little about where to go, so a step
// is no longer than a tenth of the volts, and shorter each time it turns back.
func (r *runner) shoot(start []float64) bool {
	mean := make([]float64, len(start))
	last := make([]float64, 2*len(start)) // step before, longest step
	for k := range start {
		last[2*k+1] = 0.1*math.Abs(r.mean[k]) + 0.1
	}
	for range 60 {
		r.once(start, mean, nil)
		done := true
		for k := range start {
			if r.idle[k] {
				continue
			}
			miss, off := r.v[k]-start[k], mean[k]-r.mean[k]
			if !(math.Abs(miss) <= steady) || !(math.Abs(off) <= steady) {
				done = false
			}
			first, second := r.aim(k, miss, off)
			if !r.fired[k] { // the volts stand above every peak
				first, second = -math.Inf(1), off
			}
			before, most := &last[2*k], &last[2*k+1]
			switch {
			case first**before >= 0:
				*most = min(1.5**most, 0.1*math.Abs(r.mean[k])+0.1)
			case math.Abs(first) > math.Abs(*before)/2:
				*most = max(math.Abs(*before)/2, steady)
			}
			*before = max(min(first, *most), -*most)
			start[k] += *before
			r.mean[k] += max(min(second, *most), -*most)
			if math.IsNaN(start[k]) || math.IsNaN(r.mean[k]) {
				return false
			}
		}
		if done {
			return true
		}
	}
	return false
}

// aim solves for the changes of start and mean that undo both misses:
//
//	(turn − 1)·start + tilt·mean = −miss
//	turns·start + (tilts − 1)·mean = −off
func (r *runner) aim(k int, miss, off float64) (start, mean float64) {
	n := float64(r.steps)
	a, b := r.turn[k]-1, r.tilt[k]
	c, d := r.turns[k]/n, r.tilts[k]/n-1
	det := a*d - b*c
	return (-miss*d + off*b) / det, (-off*a + miss*c) / det
}
