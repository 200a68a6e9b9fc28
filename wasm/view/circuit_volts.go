package view

import (
	"math"
	"strings"

	"lugworth/core/circuit"
	"lugworth/core/intake"
	"lugworth/core/unit"
)

// A reckoned is a circuit ready to be asked: every specimen of the amp that
// agrees with its readings, the mains they were read at, and the owner's.
type reckoned struct {
	net       *circuit.Net
	specimens []circuit.Values
	bench     unit.Voltage
	owner     intake.Mains
	ratio     float64 // as circuit.State.Ratio, of the tap at the owner's
}

// volts gives each node its expected volts at the mains of the chart, and the
// greatest it comes to at either end of the owner's range, warm and at
// switch-on. A state that has no solution gives none.
func (r reckoned) volts(out map[string]nodeVolts) {
	sums, most := map[string]float64{}, map[string]float64{}
	for _, v := range r.specimens {
		at, err := r.net.Solve(v, circuit.State{Mains: float64(r.bench)}, nil)
		if err != nil {
			return
		}
		r.each(at, func(node string, volts float64) { sums[node] += volts / float64(len(r.specimens)) })
		r.worst(v, at, most)
	}
	for node, v := range sums {
		n := out[node]
		n.Expected = nodeSays(v)
		if w, ok := most[node]; ok {
			n.Worst = nodeSays(w)
		}
		out[node] = n
	}
}

// worst notes the greatest volts of one specimen over the owner's range.
func (r reckoned) worst(v circuit.Values, warm *circuit.Solution, most map[string]float64) {
	if !r.owner.Declared() {
		return
	}
	for _, s := range []circuit.State{{Mains: float64(r.owner.Low)}, {Mains: float64(r.owner.High)}, {Mains: float64(r.owner.High), Cold: true}} {
		s.Ratio = r.ratio
		at, err := r.net.Solve(v, s, warm)
		if err != nil {
			clear(most) // half of a worst case is none
			return
		}
		r.each(at, func(node string, volts float64) {
			if math.Abs(volts) > math.Abs(most[node]) {
				most[node] = volts
			}
		})
	}
}

func (r reckoned) each(s *circuit.Solution, do func(node string, volts float64)) {
	for _, node := range r.net.Nodes() {
		if v, ok := s.Node(node); ok {
			do(node, v)
		}
	}
}

// nodeSays prints the volts of a node: one decimal, as a bench meter shows
// them, and nothing below its last figure.
func nodeSays(v float64) string {
	if math.Abs(v) < 0.05 {
		return "0.0 V"
	}
	return strings.Replace(unit.FormatAmount(v, unit.Volt, 1), "-", "−", 1)
}
