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
func slopes(n *Net, v Values, st State, s *Solution, ds []direction, ts []*target) ([][]float64, error) {
	const part = 1e-3
	out := make([][]float64, len(ds))
	base := make([]float64, len(ts))
	for i, t := range ts {
		base[i], _ = t.of(s)
	}
	for k := range ds {
		w := append(Values(nil), v...)
		ds[k].to(w, part, n.Knobs)
		moved, err := n.SolveNear(w, st, s)
		if err != nil {
			return nil, err
		}
		out[k] = make([]float64, len(ts))
		for i, t := range ts {
			y, _ := t.of(moved)
			out[k][i] = (y - base[i]) / part
		}
	}
	return out, nil
}
