package main

import (
	"fmt"
	"io"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
)

// fill puts every banded figure into the answer, and says what rests on a
// doubt.
func (m *matchedAmp) fill(a *solved, notes io.Writer) {
	a.Nodes, a.Positions, a.Legs = map[string]figures{}, map[string]figures{}, map[string]figures{}
	for _, n := range m.net.Nodes() {
		if f := m.node(n); f != nil {
			a.Nodes[n] = f
		}
	}
	for i := range m.sheet {
		p := &m.sheet[i]
		if f := m.position(p); len(f) > 0 {
			a.Positions[p.Ref] = f
		}
		if f := m.leg(p.Ref); f != nil {
			a.Legs[p.Ref] = f
		}
	}
	var doubts []string
	for _, f := range m.net.Figures() {
		if d := m.bands[f].Doubt; d != "" && !slices.Contains(doubts, d) && d != m.c.Doubt {
			doubts = append(doubts, d)
			fmt.Fprintln(notes, "doubtful: "+d)
		}
	}
}

func (m *matchedAmp) node(name string) figures {
	f, ok := m.banded(probeRef(name), limit.DCVolts, func(s *circuit.Solution) (float64, bool) { return s.Node(name) })
	if !ok {
		return nil
	}
	out := figures{"volts": f}
	if ripple, ok := hull(m.swells, func(s *circuit.Solution) (float64, bool) { return s.Ripple(name) }); ok {
		out["ripple_pp"] = ripple
	}
	return out
}

func (m *matchedAmp) leg(ref string) figures {
	mean, ok := m.banded(ref, limit.OutputCurrent, legOf(ref, func(l circuit.Leg) float64 { return l.Mean }))
	if !ok {
		return nil
	}
	out := figures{"mean_amps": mean}
	if peak, ok := m.banded(ref, limit.PeakCurrent, legOf(ref, func(l circuit.Leg) float64 { return l.Peak })); ok {
		out["peak_amps"] = peak
	}
	return out
}

func legOf(ref string, of func(circuit.Leg) float64) func(*circuit.Solution) (float64, bool) {
	return func(s *circuit.Solution) (float64, bool) {
		l, ok := s.Leg(ref)
		return of(l), ok
	}
}

// position bands the figures that the answer without readings gives.
func (m *matchedAmp) position(p *amp.Position) figures {
	plain := make([]figures, len(m.sols))
	for i, s := range m.sols {
		plain[i] = positionFigures(p, m.net, m.c.Explained[i].Values, s)
	}
	as := func(key string) func(*circuit.Solution) (float64, bool) {
		return func(s *circuit.Solution) (float64, bool) {
			f, ok := plain[slices.Index(m.sols, s)][key]
			return f.Expected, ok
		}
	}
	out := figures{}
	for key, q := range bandOf(p, plain[0]) {
		if q == none {
			out[key] = scaled(0, figure{})
		} else if f, ok := m.banded(p.Ref, q, as(key)); ok {
			out[key] = f
		}
	}
	for _, e := range []string{"plate", "screen"} {
		if amps, ok := hull(m.sols, as(e+"_amps")); ok && out[e+"_watts"].band {
			watts, _ := hull(m.sols, as(e+"_watts"))
			amps := amps.Expected
			if watts.Expected > 0 {
				amps *= out[e+"_watts"].Expected / watts.Expected
			}
			out[e+"_amps"] = scaled(amps, out[e+"_watts"])
		}
	}
	return out
}

// none is the quantity of a figure that is nothing, whatever the specimen.
const none limit.Quantity = ""

// bandOf names the quantity behind each figure of a part.
func bandOf(p *amp.Position, plain figures) map[string]limit.Quantity {
	_, isTube := plain["plate_amps"]
	switch {
	case isTube && p.Kind == "triode":
		return map[string]limit.Quantity{"volts": limit.PlateVolts, "amps": limit.CathodeCurrent, "watts": limit.PlateWatts, "plate_watts": limit.PlateWatts, "screen_watts": none}
	case isTube:
		return map[string]limit.Quantity{"volts": limit.PlateVolts, "amps": limit.CathodeCurrent, "watts": limit.BothWatts,
			"plate_watts": limit.PlateWatts, "screen_watts": limit.ScreenWatts}
	case plain == nil:
		return nil
	case p.Kind == "resistor", p.Kind == "choke", p.Kind == "pot":
		return map[string]limit.Quantity{"volts": limit.DCVolts, "amps": circuit.Current, "watts": limit.Watts}
	}
	return map[string]limit.Quantity{"volts": limit.DCVolts, "amps": none, "watts": none}
}
