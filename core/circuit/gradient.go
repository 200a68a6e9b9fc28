package circuit

import (
	"math"

	"lugworth/core/limit"
)

// Gradient returns, for each figure, d(figure)/d(knob) and d(figure)/d(mains)
// at a solution, by one linear solve for each knob that moves anything. The
// supply's ripple correction and the ripple itself are held. Rows follow fs;
// a figure that cannot be had has a row of zeros.
func (s *Solution) Gradient(fs []Figure) (byKnob [][]float64, byMains []float64, err error) {
	t := newTilt(s, fs)
	byKnob = make([][]float64, len(fs))
	all := make([]float64, len(fs)*len(s.v))
	for i := range byKnob {
		byKnob[i] = all[i*len(s.v) : (i+1)*len(s.v)]
	}
	byMains = make([]float64, len(fs))
	for i := range s.net.parts {
		last := len(s.v)
		if i+1 < len(s.net.parts) {
			last = s.net.parts[i+1].first
		}
		for k := s.net.parts[i].first; k < last; k++ {
			if !t.moves(i, k) {
				continue
			}
			h := t.turnKnob(i, k)
			t.read(i, h, func(f int, slope float64) { byKnob[f][k] = slope })
			t.restore(i, k)
		}
	}
	if s.state.Mains > 0 {
		h := 1e-5 * s.state.Mains
		t.state.Mains += h
		t.takeSupply()
		t.read(-1, h, func(f int, slope float64) { byMains[f] = slope })
	}
	return byKnob, byMains, nil
}

// A tilt turns one knob at a time a little and reads what every figure does.
type tilt struct {
	*work
	from  *Solution
	to    point
	fs    []Figure
	parts []int     // of each figure, -1 for a whole rectifier
	was   []float64 // of each figure
	ok    []bool
	swell []float64 // of each figure that is a ripple current, what it is
	step  []float64

	square []float64 // of each figure that is watts, the mean square of the ripple
}

func newTilt(s *Solution, fs []Figure) *tilt {
	p := *s.setup
	p.v = append(Values(nil), s.v...)
	p.g = append([]float64(nil), s.g...)
	p.spec = append(p.spec[:0:0], s.spec...)
	p.legs = append([]legNow(nil), s.legs...)
	t := &tilt{work: newWork(&p), from: s, fs: fs, parts: make([]int, len(fs)), was: make([]float64, len(fs)), ok: make([]bool, len(fs)), swell: make([]float64, len(fs)), square: make([]float64, len(fs))}
	copy(t.delta, s.delta)
	copy(t.into, s.into)
	t.step = make([]float64, len(s.x))
	t.to = point{setup: &p, x: make([]float64, len(s.x)), into: t.into, cycle: s.cycle, swell: s.swell}
	copy(t.to.x, s.x)
	t.to.allTubes()
	for i, f := range fs {
		t.parts[i] = -1
		if k, known := s.net.byRef[f.Ref]; known {
			t.parts[i] = k
			_, t.ok[i] = s.Figure(f)
		} else {
			_, t.ok[i] = s.wholeRectifier(f)
		}
		if t.ok[i] {
			t.swell[i], _ = s.Figure(f)
			if f.Quantity == limit.Watts {
				t.square[i] = s.rippleSquare(t.parts[i])
			}
			t.was[i] = t.value(i)
		}
	}
	return t
}

// value of a figure at the point tilted to, the ripple's peak left out.
func (t *tilt) value(i int) float64 {
	if t.parts[i] < 0 {
		v, _ := t.to.wholeOutput(t.fs[i].Ref)
		return v
	}
	if t.fs[i].Quantity == RippleCurrent {
		// The ripple is held; it goes with what the supply brings.
		return t.swell[i] * t.to.draw(t.parts[i]) / t.from.draw(t.parts[i])
	}
	v, _ := t.to.figure(t.parts[i], t.fs[i].Quantity)
	if t.square[i] > 0 {
		v += t.square[i] * t.to.g[t.net.parts[t.parts[i]].links[0]] // of the ripple, which is held
	}
	return v
}

// moves reports whether a knob moves anything at rest.
func (t *tilt) moves(part, k int) bool {
	switch t.net.Knobs[k].Property {
	case Farads, Henries:
		return false
	case Perveance, Shift, Share:
		return !t.off[t.net.parts[part].tube]
	}
	return true
}

// turnKnob moves one knob and everything that hangs on it. It returns by how
// much.
func (t *tilt) turnKnob(part, k int) float64 {
	h := 1e-5 * math.Abs(t.v[k])
	switch t.net.Knobs[k].Property {
	case Shift:
		h = 1e-5
	case Turn:
		h = 1e-6
		if t.v[k] > 0.5 {
			h = -h
		}
	case Copper, HeaterLoad:
		h += 1e-6
	}
	t.v[k] += h
	t.apply(part)
	return h
}

func (t *tilt) restore(part, k int) {
	t.v[k] = t.from.v[k]
	t.apply(part)
}

// apply reckons anew what hangs on a part's knobs.
func (t *tilt) apply(part int) {
	q := &t.net.parts[part]
	supply := q.kind == isRectifier || q.kind == isWinding || q.kind == isMains
	for i := q.links[0]; i < q.links[1]; i++ {
		l := &t.net.links[i]
		t.g[i] = t.conductance(i)
		supply = supply || l.a < 0 || l.b < 0
	}
	if q.kind == isTube {
		u := &t.net.tubes[q.tube]
		t.spec[q.tube].P, t.spec[q.tube].Shift = t.setup.value(part, 0), t.setup.value(part, 1)+t.state.Shift
		if u.screened {
			t.spec[q.tube].Share = t.setup.value(part, 2)
		}
	}
	if supply {
		t.takeSupply()
	}
}

// change reckons by how much the sums of currents at the solution are less
// after the turn of a part's knob, into t.step. Only what hangs on the knob
// is looked at; part -1 is the mains.
func (t *tilt) change(part int) {
	clear(t.step)
	x, supply := t.from.x, part < 0
	leave := func(a, b int, amps float64) {
		t.step[a] -= amps
		t.step[b] += amps
	}
	if !supply {
		q := &t.net.parts[part]
		supply = q.kind == isRectifier || q.kind == isWinding || q.kind == isMains
		for i := q.links[0]; i < q.links[1]; i++ {
			l := &t.net.links[i]
			if l.a < 0 || l.b < 0 {
				supply = true
				continue
			}
			leave(l.a, l.b, (t.g[i]-t.from.g[i])*(x[l.a]-x[l.b]))
		}
		if q.kind == isTube {
			u, was := &t.net.tubes[q.tube], t.from.tubes[q.tube]
			now, _ := t.currents(q.tube, x)
			leave(u.plate, u.cathode, now.Plate-was.Plate)
			leave(u.screen, u.cathode, now.Screen-was.Screen)
			leave(u.grid, u.cathode, now.Grid-was.Grid)
		}
	}
	for k := range t.net.supply.ports {
		if q := &t.net.supply.ports[k]; supply {
			amps, _ := t.average(q, x[q.plus]-x[q.minus]-t.delta[k])
			leave(q.minus, q.plus, amps-t.from.into[k])
		}
	}
}

// read finds where the nodes go and what every figure does.
func (t *tilt) read(part int, h float64, into func(f int, slope float64)) {
	n := len(t.net.names)
	t.change(part)
	solve(t.net.prog, t.from.slopes, t.step)
	for i := range n {
		t.to.x[i] = t.from.x[i] + t.step[i]
	}
	for k := range t.net.supply.ports {
		q := &t.net.supply.ports[k]
		t.into[k], _ = t.average(q, t.to.x[q.plus]-t.to.x[q.minus]-t.delta[k])
	}
	t.to.allTubes()
	for i := range t.fs {
		if t.ok[i] {
			into(i, (t.value(i)-t.was[i])/h)
		}
	}
}
