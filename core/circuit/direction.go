package circuit

// A direction is one thing that may be other than taken, and how every knob
// goes with it at its far end: a resistor that nobody measured moves the
// current of the tube that was matched over it.
type direction struct {
	ref      string
	property Property // 0 for a reading's error
	assumed  bool     // nobody measured it
	law      bool     // what the tube law or the heaters may do: no part of the amp
	fresh    bool     // of a part the choice puts in
	ripple   bool     // not a knob: what the ripple may do
	moves    []delta
}

// A delta is a change of one knob, in the knob's own unit.
type delta struct {
	knob int
	by   float64
}

// to moves values along the direction: t = 1 is its far end. Nothing that
// must stay above zero is taken below a twentieth of itself.
func (d *direction) to(v Values, t float64, knobs []Knob) {
	for _, m := range d.moves {
		was := v[m.knob]
		v[m.knob] += t * m.by
		if knobs[m.knob].Property != Shift && was > 0 && v[m.knob] < was/20 {
			v[m.knob] = was / 20
		}
	}
}

// along is the slope of a figure along the direction, from its slopes by
// knob.
func (d *direction) along(byKnob []float64) float64 {
	sum := 0.0
	for _, m := range d.moves {
		sum += byKnob[m.knob] * m.by
	}
	return sum
}

// slopes returns, for each direction, how each target changes along it.
func slopes(s *Solution, ds []direction, ts []*target) [][]float64 {
	wanted := make([]bool, len(s.v))
	for k := range ds {
		for _, m := range ds[k].moves {
			wanted[m.knob] = true
		}
	}
	byKnob := s.targetSlopes(ts, wanted)
	out := make([][]float64, len(ds))
	for k := range ds {
		out[k] = make([]float64, len(ts))
		for i := range ts {
			out[k][i] = ds[k].along(byKnob[i])
		}
	}
	return out
}

// targetSlopes is Gradient for readings: of each target, by knob, zero for
// the knobs that are not wanted.
func (s *Solution) targetSlopes(ts []*target, wanted []bool) [][]float64 {
	t := newTilt(s, nil)
	out := make([][]float64, len(ts))
	was := make([]float64, len(ts))
	for i := range out {
		out[i] = make([]float64, len(s.v))
		was[i], _ = ts[i].at(&t.to)
	}
	for i := range s.net.parts {
		last := len(s.v)
		if i+1 < len(s.net.parts) {
			last = s.net.parts[i+1].first
		}
		for k := s.net.parts[i].first; k < last; k++ {
			if !wanted[k] || !t.moves(i, k) {
				continue
			}
			h := t.turnKnob(i, k)
			t.read(i, h, nil) // no figures asked for: only where the nodes go
			for m := range ts {
				is, _ := ts[m].at(&t.to)
				out[m][k] = (is - was[m]) / h
			}
			t.restore(i, k)
		}
	}
	return out
}
