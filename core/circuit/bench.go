package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A Bench is what is known of one amp: its sheet, what was read on it, and
// with what. The sheet is the one its Net was compiled from: it says on which
// node an electrode stands, and what hangs between two readings.
type Bench struct {
	Sheet    []amp.Position
	Readings []amp.Reading
	Laws     Laws
	Tap      string  // mains tap as found, volts as marked; "" where there are none
	Alike    bool    // the output tubes are stated to draw alike
	Meter    float64 // error where a reading states none, as a fraction
	Known    bool    // whether the shop states one
	Spreads  Spreads // nil is the built-in table
}

// An Explanation is one specimen of the amp that agrees with the readings.
type Explanation struct {
	Name   string // "current" (tubes draw more or less), "bias" (tubes need another grid voltage), "type" (no tube was read)
	Values Values
	Bench  *Solution // at the bench mains
}

// A Calibration is a circuit matched to the readings of one amp. It does not
// change once made and may be shared.
type Calibration struct {
	Net       *Net
	Mains     unit.Voltage // of the chart it was matched to
	Explained []Explanation
	Readings  []amp.Reading
	Residuals []Residual
	Spreads   Spreads // the assumptions it rests on
	Doubt     string  // why figures from it are never better than not proven

	*matching
}

// A Residual is one reading against the matched circuit.
type Residual struct {
	Reading amp.Reading
	Model   unit.Interval
	Agrees  bool   // within meter error and the spread table
	Used    bool   // matched to, not only compared with
	Why     string // why it could not be compared (Model is then zero), or what it would take to agree
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

// A Need says between which ends a figure must lie for its verdict, in SI; an
// end that nothing asks for is an infinity. A band that is surely inside
// needs no closer look; ok is false for a figure that nobody judges.
type Need func(Figure) (low, high float64, ok bool)
