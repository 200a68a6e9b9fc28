package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/unit"
)

// An Explanation is one specimen of the amp that agrees with the readings.
type Explanation struct {
	Name   string // "current" (tubes draw more or less), "bias" (tubes need another grid voltage)
	Values Values
	Bench  *Solution // at the bench mains
}

// A Calibration is a circuit matched to the readings of one amp.
type Calibration struct {
	Net       *Net
	Mains     unit.Voltage // of the chart it was matched to
	Explained []Explanation
	Readings  []amp.Reading
	Residuals []Residual
	Doubt     string // why figures from it are never better than not proven
	// unexported: what each figure is anchored on
}

// A Residual is one reading against the matched circuit.
type Residual struct {
	Reading amp.Reading
	Model   unit.Interval
	Agrees  bool // within meter error and the spread table
	Used    bool // matched to, not only compared with
}

// Calibrate matches a circuit to readings. meter is the error taken where a
// reading states none, as a fraction; known says whether the shop states one.
// Readings marked as checks, final or soak are compared, not used.
func Calibrate(n *Net, readings []amp.Reading, meter float64, known bool) (*Calibration, error) {
	panic("not written")
}

// A Scenario is a set of states between which a figure's band is taken.
type Scenario struct {
	Name          string
	Low, High     unit.Voltage // mains
	Ratio         float64      // as State.Ratio
	Cold, Standby bool
	Faults        []Fault
	Drive         []DriveShare
	Fault         bool // reported apart: what a failure would do, never a reason for "over" of what is fitted
}

// A Choice is what is changed in the amp before it is judged.
type Choice struct {
	Ratio  float64            // volts of the tap as found over those of the tap chosen; 0 is 1
	Values map[Figured]Marked // new parts: marked value and tolerance
	Types  map[string]string  // new tubes, by position: their type
	Fresh  map[string]bool    // new tubes of any type, whose specimen nobody has read
}

// Figured names a property of a position.
type Figured struct {
	Ref      string
	Property Property
}

// Marked is a part as it will be bought.
type Marked struct{ Value, Tolerance float64 }

// Bands answers figures under scenarios after a choice: every specimen that
// agrees with the readings, every corner of what stays open. For each figure
// and scenario one band; one that cannot be had says why.
func (c *Calibration) Bands(ch Choice, scenarios []Scenario, fs []Figure, laws Laws) []Band {
	panic("not written")
}

// A SpreadRow is one assumption about how far a part may be from its marking
// or a tube from its type.
type SpreadRow struct {
	Key    string // "resistor", "electrolytic", "tube perveance", ...
	Says   string
	Amount float64 // fraction, or volts for shifts
	Volts  bool
	Source string
}
