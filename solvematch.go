package main

import (
	"fmt"
	"io"
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// matchedAnswer matches the circuit to the readings and gives every figure
// with the ends it lies between.
//
// Ends are those of the bands a verdict rests on. A band is kept of volts
// across a part, current, watts; the amps of a tube's plate and screen take
// the relative ends of their watts. A node's volts are banded as those of a
// capacitor too small to matter from the node to the chassis, with the peak
// of the ripple taken off again. Ripple lies between what it is with every
// capacitor at either end of its spread.
func (ask *solveAsk) matchedAnswer(notes io.Writer) *solved {
	net, err := circuit.Compile(ask.sheet, ask.laws)
	if err != nil {
		return ask.unsolved(err)
	}
	sheet := probed(ask.sheet, net)
	if net, err = circuit.Compile(sheet, ask.laws); err != nil {
		return ask.unsolved(err)
	}
	c, err := circuit.Calibrate(net, circuit.Bench{Sheet: sheet, Readings: ask.readings, Laws: ask.laws, Alike: pairsMatched(sheet)})
	if err != nil {
		return ask.unsolved(err)
	}
	tellResiduals(notes, c)
	m := matchedAmp{solveAsk: ask, net: net, c: c}
	if err := m.solve(); err != nil {
		return ask.unsolved(err)
	}
	a := &solved{Solved: true, Mains: ask.mains, Scenario: ask.scenario()}
	for _, s := range m.sols {
		a.Residual, a.Balance = max(a.Residual, s.Residual), max(a.Balance, s.Balance)
	}
	m.fill(a, notes)
	return a
}

// probeRef names the capacitor that stands for a node.
func probeRef(node string) string { return "~" + node }

// probed adds to a sheet one capacitor too small to matter at every node
// that has mean volts.
func probed(sheet []amp.Position, net *circuit.Net) []amp.Position {
	out := slices.Clone(sheet)
	for _, name := range net.Nodes() {
		out = append(out, amp.Position{Ref: probeRef(name), Kind: "capacitor",
			Spec:  unit.Spec{Unit: unit.Farad, Values: []float64{1e-18}},
			Nodes: []amp.Node{{Role: "a", Name: name}, {Role: "b", Name: "0"}}})
	}
	return out
}

// pairsMatched reports whether every output tube is stated to match another:
// only then do two on one resistor share its current alike.
func pairsMatched(sheet []amp.Position) bool {
	found := false
	for i := range sheet {
		if sheet[i].Role != amp.OutputTube {
			continue
		}
		if found = sheet[i].Extra["matched"] != ""; !found {
			return false
		}
	}
	return found
}

// tellResiduals says which readings the matched circuit does not agree with.
func tellResiduals(notes io.Writer, c *circuit.Calibration) {
	if c.Doubt != "" {
		fmt.Fprintln(notes, "doubtful: "+c.Doubt)
	}
	for _, r := range c.Residuals {
		at := r.Reading.At + ", " + r.Reading.Quantity
		switch {
		case r.Why != "":
			fmt.Fprintf(notes, "note: reading %s is not compared: %s\n", at, r.Why)
		case !r.Agrees:
			fmt.Fprintf(notes, "doubtful: reading %s of %s does not agree with the circuit, which gives %s\n", at,
				unit.FormatAmount(r.Reading.Amount, r.Reading.Unit, 2), unit.FormatInterval(r.Model, r.Reading.Unit, 2))
		}
	}
}

// A matchedAmp is every specimen that agrees with the readings, solved at
// the state asked for.
type matchedAmp struct {
	*solveAsk
	net    *circuit.Net
	c      *circuit.Calibration
	sols   []*circuit.Solution
	swells []*circuit.Solution // the same with capacitors at the ends of their spread
	bands  map[circuit.Figure]circuit.Band
}

func (m *matchedAmp) solve() error {
	for _, e := range m.c.Explained {
		s, err := m.net.Solve(e.Values, m.state(), nil)
		if err != nil {
			return err
		}
		m.sols = append(m.sols, s)
		for _, sign := range []float64{-1, 1} {
			s, err := m.net.Solve(m.stretched(e.Values, sign), m.state(), s)
			if err != nil {
				return err
			}
			m.swells = append(m.swells, s)
		}
	}
	mains := unit.Voltage(m.mains)
	fs := m.net.Figures()
	sc := []circuit.Scenario{{Name: m.scenario(), Low: mains, High: mains, Cold: m.cold}}
	m.bands = map[circuit.Figure]circuit.Band{}
	for _, b := range m.c.Bands(circuit.Choice{}, sc, fs, m.laws, nil) {
		m.bands[b.Figure] = b
	}
	return nil
}

// stretched puts every capacitor at one end of its spread.
func (m *matchedAmp) stretched(v circuit.Values, sign float64) circuit.Values {
	out := slices.Clone(v)
	for i, k := range m.net.Knobs {
		if k.Property == circuit.Farads {
			out[i] *= 1 + sign*k.Spread
		}
	}
	return out
}

// hull is where a number lies over solutions.
func hull(sols []*circuit.Solution, of func(*circuit.Solution) (float64, bool)) (figure, bool) {
	f := figure{Interval: unit.Interval{Low: math.Inf(1), High: math.Inf(-1)}, band: true}
	for _, s := range sols {
		v, ok := of(s)
		if !ok {
			return f, false
		}
		f.Low, f.High = min(f.Low, v), max(f.High, v)
		f.Expected += v / float64(len(sols))
	}
	return f, len(sols) > 0
}

// banded is the band of a figure, with the sign and less the crest that a
// figure of volts leaves out.
func (m *matchedAmp) banded(ref string, q limit.Quantity, of func(*circuit.Solution) (float64, bool)) (figure, bool) {
	b, ok := m.bands[circuit.Figure{Ref: ref, Quantity: q}]
	mean, has := hull(m.sols, of)
	if !ok || !has || b.Missing != "" || math.IsInf(b.Low, 0) || math.IsInf(b.High, 0) || math.IsNaN(b.Low+b.High) {
		return figure{}, false
	}
	f := figure{Interval: b.Interval, band: true}
	if q == limit.DCVolts {
		crest, _ := hull(m.sols, func(s *circuit.Solution) (float64, bool) {
			with, ok := s.Figure(b.Figure)
			v, _ := of(s)
			return with - math.Abs(v), ok
		})
		f.Low, f.Expected, f.High = f.Low-crest.Expected, f.Expected-crest.Expected, f.High-crest.Expected
	}
	if mean.Expected < 0 {
		f.Low, f.Expected, f.High = -f.High, -f.Expected, -f.Low
	}
	return f, true
}

// scaled gives a number the relative ends of another's band.
func scaled(v float64, like figure) figure {
	if like.Expected == 0 {
		return figure{Interval: unit.Exactly(v), band: true}
	}
	k := v / like.Expected
	return figure{Interval: unit.Interval{Low: like.Low * k, Expected: v, High: like.High * k}, band: true}
}
