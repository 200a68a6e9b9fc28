package main

import (
	"encoding/json"
	"fmt"
	"io"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/unit"
)

// solved is what the verb answers, and its JSON.
type solved struct {
	Solved    bool               `json:"solved"`
	Reason    string             `json:"reason"`
	Mains     float64            `json:"mains"`
	Scenario  string             `json:"scenario"`
	Nodes     map[string]figures `json:"nodes"`
	Positions map[string]figures `json:"positions"`
	Legs      map[string]figures `json:"legs"`
	Residual  float64            `json:"residual"`
	Balance   float64            `json:"power_balance"`
}

// figures are the numbers of one node, position or leg, by name.
type figures map[string]figure

// A figure is one number, or, from a matched circuit, the ends it lies
// between.
type figure struct {
	unit.Interval
	band bool
}

func exactly(v float64) figure { return figure{Interval: unit.Exactly(v)} }

// MarshalJSON writes a number, or an object of low, expected and high.
func (f figure) MarshalJSON() ([]byte, error) {
	if !f.band {
		return json.Marshal(f.Expected)
	}
	return json.Marshal(struct {
		Low      float64 `json:"low"`
		Expected float64 `json:"expected"`
		High     float64 `json:"high"`
	}{f.Low, f.Expected, f.High})
}

// answer compiles the sheet and solves it as the sheet states it, or as the
// readings say it is.
func (ask *solveAsk) answer(notes io.Writer) *solved {
	if ask.matched {
		return ask.matchedAnswer(notes)
	}
	net, err := circuit.Compile(ask.sheet, ask.laws)
	if err != nil {
		return ask.unsolved(err)
	}
	values := net.Sheet()
	s, err := net.Solve(values, ask.state(), nil)
	if err != nil {
		return ask.unsolved(err)
	}
	a := &solved{Solved: true, Mains: ask.mains, Scenario: ask.scenario(), Residual: s.Residual, Balance: s.Balance}
	a.Nodes, a.Positions, a.Legs = ask.read(net, values, s)
	if s.Doubt != "" {
		fmt.Fprintln(notes, "doubtful: "+s.Doubt)
	}
	for _, r := range circuit.CheckVolts(ask.sheet, s.Node) {
		fmt.Fprintln(notes, r)
	}
	return a
}

func (ask *solveAsk) state() circuit.State {
	return circuit.State{Name: ask.scenario(), Mains: ask.mains, Cold: ask.cold}
}

// read takes every figure from a solution.
func (ask *solveAsk) read(net *circuit.Net, v circuit.Values, s *circuit.Solution) (nodes, positions, legs map[string]figures) {
	nodes, positions, legs = map[string]figures{}, map[string]figures{}, map[string]figures{}
	for _, n := range net.Nodes() {
		volts, ok := s.Node(n)
		if !ok {
			continue
		}
		nodes[n] = figures{"volts": exactly(volts)}
		if ripple, ok := s.Ripple(n); ok {
			nodes[n]["ripple_pp"] = exactly(ripple)
		}
	}
	for i := range ask.sheet {
		p := &ask.sheet[i]
		if f := positionFigures(p, net, v, s); f != nil {
			positions[p.Ref] = f
		}
		if leg, ok := s.Leg(p.Ref); ok {
			legs[p.Ref] = figures{"mean_amps": exactly(leg.Mean), "peak_amps": exactly(leg.Peak)}
		}
	}
	return nodes, positions, legs
}

// positionFigures are the direct volts, amps and watts of a part; nil where
// it has none.
func positionFigures(p *amp.Position, net *circuit.Net, v circuit.Values, s *circuit.Solution) figures {
	if pt, ok := s.Tube(p.Ref); ok {
		plate, screen := pt.Plate*pt.PlateAmps, pt.Screen*pt.ScreenAmps
		return figures{
			"volts": exactly(pt.Plate), "amps": exactly(pt.Total), "watts": exactly(plate + screen),
			"plate_amps": exactly(pt.PlateAmps), "screen_amps": exactly(pt.ScreenAmps),
			"plate_watts": exactly(plate), "screen_watts": exactly(screen),
		}
	}
	volts, ok := voltsAcross(p, s)
	if !ok {
		return nil
	}
	amps, watts := 0.0, 0.0
	switch p.Kind {
	case "resistor":
		amps, ok = through(volts, p.Ref, circuit.Ohms, net, v)
		watts = volts * amps
	case "choke":
		amps, ok = through(volts, p.Ref, circuit.Copper, net, v)
		watts = volts * amps
	case "pot":
		amps, watts, ok = potCurrent(p, net, v, s)
	}
	if !ok {
		return figures{"volts": exactly(volts)}
	}
	return figures{"volts": exactly(volts), "amps": exactly(amps), "watts": exactly(watts)}
}

// voltsAcross are the mean volts from the first lead of a two-lead part to
// its second. Windings and rectifiers have none worth the name.
func voltsAcross(p *amp.Position, s *circuit.Solution) (float64, bool) {
	switch p.Kind {
	case "resistor", "pot", "choke", "electrolytic", "capacitor", "film capacitor", "paper capacitor", "ceramic capacitor", "mica capacitor":
	default:
		return 0, false
	}
	a, okA := leadVolts(p, s, "a", "plus")
	b, okB := leadVolts(p, s, "b", "minus")
	return a - b, okA && okB
}

func leadVolts(p *amp.Position, s *circuit.Solution, leads ...string) (float64, bool) {
	for _, l := range leads {
		switch n, ok := p.Node(l); {
		case ok && n == "0":
			return 0, true
		case ok:
			return s.Node(n)
		}
	}
	return 0, false
}

// through is the current that volts drive through an ohmic property.
func through(volts float64, ref string, of circuit.Property, net *circuit.Net, v circuit.Values) (float64, bool) {
	k, ok := net.Knob(ref, of)
	if !ok || !(v[k] > 0) {
		return 0, false
	}
	return volts / v[k], true
}

// potCurrent is the current into a pot's first lead, and the watts of both
// parts of its track.
func potCurrent(p *amp.Position, net *circuit.Net, v circuit.Values, s *circuit.Solution) (amps, watts float64, ok bool) {
	track, okT := net.Knob(p.Ref, circuit.Ohms)
	turn, okW := net.Knob(p.Ref, circuit.Turn)
	a, okA := leadVolts(p, s, "a")
	w, okM := leadVolts(p, s, "wiper")
	b, okB := leadVolts(p, s, "b")
	if !(okT && okW && okA && okM && okB) {
		return 0, 0, false
	}
	upper, lower := v[track]*v[turn], v[track]*(1-v[turn])
	if upper > 0 {
		amps = (a - w) / upper
		watts += (a - w) * amps
	}
	if lower > 0 {
		watts += (w - b) * (w - b) / lower
	}
	return amps, watts, upper > 0
}
