package circuit

import (
	"errors"
	"math"

	"lugworth/core/linear"
)

// matcher moves the numbers of the pins until the circuit reads what the
// meter read.
type matcher struct {
	net   *Net
	base  Values
	state State
	pins  []pin
	ts    []target
}

// values is the specimen at pin numbers x.
func (m *matcher) values(x []float64) Values {
	v := append(Values(nil), m.base...)
	for i, p := range m.pins {
		for _, mv := range p.moves {
			mv.apply(v, x[i])
		}
	}
	return v
}

// read asks a solution for every pin's reading.
func (m *matcher) read(s *Solution) ([]float64, error) {
	out := make([]float64, len(m.pins))
	for i, p := range m.pins {
		v, ok := m.ts[p.target].of(s)
		if !ok || math.IsNaN(v) {
			return nil, &Unsolved{State: m.state.Name, Say: "the circuit gives no figure for the reading at " + m.ts[p.target].reading.At}
		}
		out[i] = v
	}
	return out, nil
}

// off is how far the circuit is from the readings, each in parts of what was
// read.
func (m *matcher) off(got []float64) []float64 {
	out := make([]float64, len(got))
	for i, p := range m.pins {
		t := &m.ts[p.target]
		out[i] = (got[i] - t.amount) / m.scale(t)
	}
	return out
}

func (m *matcher) scale(t *target) float64 {
	least := 0.1
	if t.kind == readCurrent {
		least = 1e-4
	}
	return max(math.Abs(t.amount), least)
}

// A match is a specimen found, with what is needed to move from it.
type match struct {
	x      []float64
	values Values
	sol    *Solution
	at     []bool // pins at their limit
}

const (
	matchRounds = 30
	matchedTo   = 2e-6
)

// begin are the numbers to start from: those another explanation came to,
// where a pin moves the same knobs.
func (m *matcher) begin(from *fit) []float64 {
	x := make([]float64, len(m.pins))
	for i, p := range m.pins {
		if from == nil || p.moves[0].add {
			continue
		}
		for k, o := range from.pins {
			if o.target == p.target && o.moves[0] == p.moves[0] {
				x[i] = from.x[k]
			}
		}
	}
	return x
}

// run matches by Newton's method; a pin stops at its limit, and the reading
// it was to meet then stands against the sheet.
func (m *matcher) run(x []float64, warm *Solution) (match, error) {
	v := m.values(x)
	s, err := m.net.Solve(v, m.state, warm)
	if err != nil {
		return match{}, err
	}
	var last float64 = math.Inf(1)
	for round := 0; round < matchRounds; round++ {
		got, err := m.read(s)
		if err != nil {
			return match{}, err
		}
		off := m.off(got)
		at := m.atLimit(x)
		worst := m.worst(off, at)
		if worst < matchedTo || round > 6 && worst > 0.9*last && worst < 1e-4 {
			return match{x: x, values: v, sol: s, at: at}, nil
		}
		last = worst
		if x, v, s, err = m.step(x, off, s); err != nil {
			return match{}, err
		}
	}
	return m.settle(x, v, s)
}

// settle takes what Newton came to when it did not end: pins whose readings
// are not met show so in the residuals.
func (m *matcher) settle(x []float64, v Values, s *Solution) (match, error) {
	got, err := m.read(s)
	if err != nil {
		return match{}, err
	}
	at := m.atLimit(x)
	for i, o := range m.off(got) {
		if math.Abs(o) > 1e-3 {
			at[i] = true
		}
	}
	return match{x: x, values: v, sol: s, at: at}, nil
}

func (m *matcher) atLimit(x []float64) []bool {
	at := make([]bool, len(x))
	for i := range x {
		at[i] = math.Abs(x[i]) >= m.pins[i].limit*(1-1e-9)
	}
	return at
}

// worst is the greatest miss of a pin that may still move.
func (m *matcher) worst(off []float64, at []bool) float64 {
	w := 0.0
	for i := range off {
		if !at[i] {
			w = max(w, math.Abs(off[i]))
		}
	}
	return w
}

// step goes one Newton step, half of it where the circuit has no solution
// there.
func (m *matcher) step(x, off []float64, s *Solution) ([]float64, Values, *Solution, error) {
	d, ok := solveFree(m.jacobian(x, s), off, m.atLimit(x))
	if !ok {
		return nil, nil, nil, &Unsolved{State: m.state.Name, Say: "the readings do not tell apart what they are matched to"}
	}
	far := 0.0
	for i := range d {
		far = max(far, math.Abs(d[i])/m.bound(i))
	}
	k := 1.0
	if far > 1 {
		k = 1 / far
	}
	for try := 0; try < 5; try++ {
		next := make([]float64, len(x))
		for i := range x {
			next[i] = min(max(x[i]-k*d[i], -m.pins[i].limit), m.pins[i].limit)
		}
		v := m.values(next)
		if sol, err := m.net.Solve(v, m.state, s); err == nil {
			return next, v, sol, nil
		}
		k /= 3
	}
	return nil, nil, nil, errors.New("no specimen near the readings has a solution")
}

// solveFree solves for the pins that may still move; the others stay.
func solveFree(jac [][]float64, off []float64, at []bool) ([]float64, bool) {
	var free []int
	for i := range at {
		if !at[i] {
			free = append(free, i)
		}
	}
	a, b := make([][]float64, len(free)), make([]float64, len(free))
	for r, i := range free {
		b[r] = off[i]
		for _, k := range free {
			a[r] = append(a[r], jac[i][k])
		}
	}
	short, ok := linear.Solve(a, b)
	d := make([]float64, len(off))
	for r, i := range free {
		if ok {
			d[i] = short[r]
		}
	}
	return d, ok
}

// bound is the longest single step of a pin.
func (m *matcher) bound(i int) float64 {
	if m.pins[i].moves[0].add {
		return 3
	}
	return max(0.5, m.pins[i].limit/2)
}

// jacobian is d(off)/d(x).
func (m *matcher) jacobian(x []float64, s *Solution) [][]float64 {
	v := m.values(x)
	var ds []direction
	for _, p := range m.pins {
		var d direction
		for _, mv := range p.moves {
			d.moves = append(d.moves, delta{mv.knob, mv.delta(v, 1)})
		}
		ds = append(ds, d)
	}
	cols := slopes(s, ds, m.targets())
	out := make([][]float64, len(m.pins))
	for i := range out {
		out[i] = make([]float64, len(m.pins))
		for k := range m.pins {
			out[i][k] = cols[k][i] / m.scale(&m.ts[m.pins[i].target])
		}
	}
	return out
}

func (m *matcher) targets() []*target {
	out := make([]*target, len(m.pins))
	for i, p := range m.pins {
		out[i] = &m.ts[p.target]
	}
	return out
}
