package circuit

import (
	"math"
	"strings"
)

// Solve solves one state. warm, if not nil, is a solution of a Net with the
// same topology to start from; the answer does not depend on it beyond the
// last steps of the search (1e-6 of the volts). The error is an *Unsolved.
func (n *Net) Solve(v Values, s State, warm *Solution) (*Solution, error) {
	return n.run(v, s, warm, false)
}

// SolveNear solves one state with the ripple correction and the ripple of a
// solution nearby: for corners, where the full answer differs from it by
// little. Volts are within some 0.2 % of what Solve gives.
func (n *Net) SolveNear(v Values, s State, near *Solution) (*Solution, error) {
	return n.run(v, s, near, near != nil)
}

func (n *Net) run(v Values, s State, warm *Solution, hold bool) (*Solution, error) {
	p, u := n.setUp(v, s)
	if u != nil {
		return nil, u
	}
	adrift, u := p.drifting()
	if u != nil {
		return nil, u
	}
	w := newWork(p)
	if warm != nil && len(warm.x) == len(w.x) && len(warm.delta) == len(w.delta) {
		copy(w.x, warm.x)
		copy(w.delta, warm.delta)
	}
	if u := w.rest(); u != nil {
		return nil, u
	}
	sol := &Solution{point: point{setup: p}, adrift: adrift}
	if hold {
		sol.cycle, sol.swell = warm.cycle, warm.swell
	} else if u := w.supply(sol, warm); u != nil {
		return nil, u
	}
	if u := w.finish(sol); u != nil {
		return nil, u
	}
	return sol, nil
}

func (p *setup) unsolved(say string, refs ...string) *Unsolved {
	return &Unsolved{State: p.state.Name, Say: say, Refs: refs}
}

// rest finds the volts at rest: from where the search is, from nothing, and
// by letting the circuit settle.
func (w *work) rest() *Unsolved {
	if w.newton(60) {
		return nil
	}
	clear(w.x)
	if w.newton(60) || w.relax() {
		return nil
	}
	return w.unsolved("no steady state was found")
}

// Bounds a solution must keep.
const (
	leastResidual = 1e-9 // A
	residualPart  = 1e-6 // of the greatest current
	balancePart   = 1e-3 // of the watts supplied
	balanceLeast  = 1e-6 // W
	driftPart     = 1e-2 // of a node's volts, when the leak is a hundred times as large
	driftLeast    = 2e-2 // V
	quiet         = 1e-6 // A: a tube that draws less does nothing
)

// finish checks the search's last point and makes a solution of it.
func (w *work) finish(sol *Solution) *Unsolved {
	sol.Residual = w.look(w.x)
	if !(sol.Residual <= leastResidual+residualPart*w.most) {
		return w.unsolved("the currents do not add up at every node")
	}
	sol.x = append([]float64(nil), w.x...)
	sol.into = append([]float64(nil), w.into...)
	sol.delta = append([]float64(nil), w.delta...)
	for _, v := range sol.x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return w.unsolved("no steady state was found")
		}
	}
	sol.slopes = append([]float64(nil), w.a...)
	factor(w.net.prog, sol.slopes)
	sol.allTubes()
	if u := w.findDrift(sol); u != nil {
		return u
	}
	if u := sol.balance(); u != nil {
		return u
	}
	sol.Doubt = strings.Join(sol.doubts(), "; ")
	return nil
}

// balance holds the watts of all parts against those of the ports.
func (s *Solution) balance() *Unsolved {
	given, taken := 0.0, 0.0
	for i := range s.net.supply.ports {
		q := &s.net.supply.ports[i]
		given += s.into[i] * (s.x[q.plus] - s.x[q.minus])
	}
	for i := range s.net.parts {
		taken += s.partWatts(i)
	}
	for _, v := range s.x {
		taken += leak * v * v
	}
	off := math.Abs(given - taken)
	if given > 0 {
		s.Balance = off / given
	}
	if !(off <= balancePart*math.Abs(given)+balanceLeast) {
		return s.unsolved("the watts of the parts are not those of the supply")
	}
	return nil
}

// partWatts is what one part turns into heat at rest.
func (p *point) partWatts(i int) float64 {
	q := &p.net.parts[i]
	sum := 0.0
	for k := q.links[0]; k < q.links[1]; k++ {
		if l := &p.net.links[k]; l.a >= 0 && l.b >= 0 {
			v := p.x[l.a] - p.x[l.b]
			sum += v * v * p.g[k]
		}
	}
	if q.kind == isTube {
		t := p.tubeAt(q.tube)
		sum += t.Plate*t.PlateAmps + t.Screen*t.ScreenAmps + t.Grid*t.GridAmps
	}
	return sum
}

// doubts says what this solution rests on that nobody stated or published.
func (s *Solution) doubts() []string {
	out := append([]string(nil), s.net.Doubts...)
	for i := range s.net.parts {
		q := &s.net.parts[i]
		if q.kind == isPot && q.loose && s.fault[i].Kind == 0 && s.acrossPot(i) > 0.1 {
			out = append(out, q.ref+": where its wiper stands is not stated (turn=), and volts stand across it")
		}
	}
	for i := range s.net.tubes {
		if t := &s.net.tubes[i]; t.doubt != "" {
			out = append(out, s.net.parts[t.part].ref+": "+t.doubt)
		}
		if say := s.outside(i); say != "" {
			out = append(out, say)
		}
	}
	for i := range s.net.rects {
		if r := &s.net.rects[i]; r.doubt != "" {
			out = append(out, s.net.parts[r.part].ref+": "+r.doubt)
		}
	}
	return out
}

func (s *Solution) acrossPot(i int) float64 {
	n := s.net.parts[i].nodes
	least, most := math.Inf(1), math.Inf(-1)
	for _, k := range n {
		if k >= 0 {
			least, most = min(least, s.x[k]), max(most, s.x[k])
		}
	}
	return most - least
}

// outside says that a tube works where its law rests on no published point.
func (s *Solution) outside(i int) string {
	t, at := &s.net.tubes[i], s.tubeAt(i)
	if s.off[i] || at.Total < quiet || t.law.Most == 0 {
		return ""
	}
	what, v := "plate", at.Plate
	if t.screened {
		what, v = "screen", at.Screen
	}
	if v >= 0.5*t.law.Least && v <= 1.6*t.law.Most {
		return ""
	}
	return s.net.parts[t.part].ref + ": its " + what + " volts are far from those the law of " + t.law.Type + " rests on"
}
