package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/tube"
)

// Laws looks a tube, rectifier or diode type up; doubt says why no verdict
// resting on it may be better than not proven ("" if none).
type Laws func(typeNumber string) (law tube.Law, doubt string, ok bool)

// A Net is the circuit of one amp: its elements, unknown nodes, order of
// elimination and knobs. It does not change once made and may be shared.
type Net struct {
	Knobs []Knob
	// unexported: elements, nodes, supply ports, elimination program
}

// Compile makes the circuit of a sheet. The error joins every reason why it
// cannot be solved, each an *Unsolved that names positions: a floating node,
// a supply of a kind not covered, a tube without a law, a part without a
// value. Positions without nodes take no part.
func Compile(sheet []amp.Position, laws Laws) (*Net, error) { panic("not written") }

// Sheet returns the values as the sheet states them.
func (n *Net) Sheet() Values { panic("not written") }

// Knob returns the index of a knob.
func (n *Net) Knob(ref string, p Property) (int, bool) { panic("not written") }

// Fit returns the circuit with another tube or rectifier type in some
// positions; topology and knob indexes stay.
func (n *Net) Fit(types map[string]string, laws Laws) (*Net, error) { panic("not written") }

// Figures lists every figure a solution of this circuit can give, in the
// order of the sheet.
func (n *Net) Figures() []Figure { panic("not written") }

// Nodes lists the names of all nodes, chassis left out, in the order of the
// sheet.
func (n *Net) Nodes() []string { panic("not written") }

// A Solution is one state of one specimen of the amp.
type Solution struct {
	Residual float64 // greatest sum of currents at a node, A
	Balance  float64 // |supply watts − part watts| ÷ supply watts
}

// Solve solves one state. warm, if not nil, is a solution of the same Net to
// start from; the answer does not depend on it. The error is an *Unsolved.
func (n *Net) Solve(v Values, s State, warm *Solution) (*Solution, error) { panic("not written") }

// Node returns the mean volts of a node to the chassis.
func (s *Solution) Node(name string) (float64, bool) { panic("not written") }

// Ripple returns the peak-to-peak ripple volts of a node.
func (s *Solution) Ripple(name string) (float64, bool) { panic("not written") }

// A Point is the operating point of one tube: volts to the cathode, amps.
type Point struct {
	Plate, Screen, Grid, Cathode           float64 // volts; Cathode is to the chassis
	PlateAmps, ScreenAmps, GridAmps, Total float64 // Total is cathode current
}

// Tube returns the operating point of a tube.
func (s *Solution) Tube(ref string) (Point, bool) { panic("not written") }

// Figure returns one figure in SI units: plate and screen volts to the
// cathode, watts, cathode current; of a two-lead part its volts (limit.DCVolts,
// ripple peak included), watts, amps; of a rectifier mean and peak current
// and inverse volts; of a reservoir its ripple current.
func (s *Solution) Figure(f Figure) (float64, bool) { panic("not written") }

// A Leg is one rectifier's conduction.
type Leg struct{ Mean, Peak, Inverse float64 } // amps, amps, volts

// Leg returns the currents of a rectifier position.
func (s *Solution) Leg(ref string) (Leg, bool) { panic("not written") }

// Gradient returns, for each figure, d(figure)/d(knob) and d(figure)/d(mains)
// at a solution, by one linear solve for each knob that moves anything. The
// supply's ripple correction is held.
func (s *Solution) Gradient(fs []Figure) (byKnob [][]float64, byMains []float64, err error) {
	panic("not written")
}
