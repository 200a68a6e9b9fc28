package circuit

import "lugworth/core/linear"

// ways lists all that may be otherwise and still agree with the readings:
// each knob with a spread, with the pins that follow it, and the error of
// each reading that was matched to.
func (c *Calibration) ways(m *matcher, f *fit) []direction {
	ds := c.free(m, f)
	ts := m.targets()
	if len(m.pins) == 0 {
		return ds
	}
	cols := slopes(f.sol, ds, ts)
	jac := m.jacobian(f.x, f.sol)
	for k := range ds {
		c.hold(m, f, jac, &ds[k], cols[k])
	}
	for i, p := range m.pins {
		t := &m.ts[p.target]
		d := direction{ref: t.reading.At}
		miss := make([]float64, len(m.pins))
		miss[i] = -t.err
		c.hold(m, f, jac, &d, miss)
		if t.err > 0 && len(d.moves) > 0 {
			ds = append(ds, d)
		}
	}
	return ds
}

// free lists the knobs with a spread that no pin holds. Of a tube whose
// current was read, current and grid volts are what the two explanations set
// between them; tubes read together and not stated alike may still differ
// among themselves.
func (c *Calibration) free(m *matcher, f *fit) []direction {
	held := c.held(m.pins)
	var ds []direction
	for i, h := range c.halves {
		if h.width == 0 || held[i] {
			continue
		}
		k := c.Net.Knobs[i]
		width := h.width
		if fromRow := h.assumed || h.why == "sheet"; fromRow && k.Value != 0 && k.Property != Turn {
			width *= f.values[i] / k.Value // of the part as matched, not as marked
		}
		ds = append(ds, direction{ref: k.Ref, property: k.Property, assumed: h.assumed, moves: []delta{{i, width}}})
	}
	return ds
}

// held are the knobs that readings settle.
func (c *Calibration) held(pins []pin) map[int]bool {
	held := map[int]bool{}
	for _, p := range pins {
		alike := c.alike(p.tubes)
		for _, ref := range p.tubes {
			if p.screen {
				continue
			}
			for _, q := range []Property{Perveance, Shift} {
				if k, ok := c.Net.Knob(ref, q); ok {
					held[k] = true
				}
			}
		}
		for _, mv := range p.moves {
			held[mv.knob] = alike
		}
	}
	return held
}

// alike reports whether tubes read together draw the same.
func (c *Calibration) alike(refs []string) bool {
	for _, ref := range refs {
		if len(refs) > 1 && !(c.bench.Alike && c.outputTube(ref)) {
			return false
		}
	}
	return true
}

// hold adds to a direction what the pins must do so that the readings stay.
func (c *Calibration) hold(m *matcher, f *fit, jac [][]float64, d *direction, change []float64) {
	rhs := make([]float64, len(m.pins))
	for i, p := range m.pins {
		rhs[i] = change[i] / m.scale(&m.ts[p.target])
	}
	dx, ok := linear.Solve(jac, rhs)
	if !ok {
		return
	}
	for i, p := range m.pins {
		if f.at[i] {
			continue
		}
		for _, mv := range p.moves {
			if by := mv.delta(f.values, -dx[i]); by != 0 {
				d.moves = append(d.moves, delta{mv.knob, by})
			}
		}
	}
}
