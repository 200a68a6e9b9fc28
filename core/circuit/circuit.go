// Package circuit works out what the amp's own circuit does: node volts,
// currents, ripple, and the ends between which they lie over mains, part
// tolerances and tube spread, after matching the circuit to what was read on
// this very amp.
//
//	sheet of an amp, 117 V            → every node's volts, every tube's watts
//	the same, readings at 117 V, 127 V → plate 11.9 W, between 11.4 and 12.4 W
//	a grid with no way to the chassis → not solved, and which one
//
// Method: Kirchhoff's current law at every node, solved by damped Newton; the
// supply as the mean of a periodic steady state; ripple by linearizing the
// whole amp. Nothing here judges: a figure that cannot be had carries the
// reason in place of a number.
package circuit

import (
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A Property is one number of a position that the circuit depends on.
type Property uint8

// The properties. Factor properties are 1 for the type as published.
const (
	Ohms       Property = iota + 1 // resistor; whole track of a pot
	Turn                           // pot: part of the track between a and the wiper, 0 to 1
	Farads                         // capacitor
	Henries                        // choke
	Copper                         // ohms of a winding or choke, or of the mains source (at the primary)
	Volts                          // winding: volts rms, no load, the whole of it, at the primary's nominal mains
	Perveance                      // tube: factor on the type's current
	Shift                          // tube: volts added to the grid
	Share                          // screen tube: factor on the plate's share of the current against the screen's
	Conduct                        // rectifier: factor on its current at a given drop
	HeaterLoad                     // mains row: watts the heaters draw from the core, at nominal mains
)

// A Knob is one number of the circuit that may be other than the sheet says.
type Knob struct {
	Ref      string
	Property Property
	Value    float64 // as the sheet says, SI; 1 for factors, 0 for shifts
	Spread   float64 // half width assumed: a fraction of Value, volts for Shift
	Why      string  // where the spread comes from: "sheet", or the row of the spread table
}

// Values are the numbers of one specimen of the amp, by knob index of its
// Net. A copy may be changed freely.
type Values []float64

// A State is what is done to the amp from outside.
type State struct {
	Name    string       // scenario, as a verdict names it
	Mains   float64      // volts rms at the amp's mains entry
	Ratio   float64      // volts of the tap as found over volts of the tap in use; 0 is 1
	Cold    bool         // no amplifying tube conducts; every rectifier does, as behind a standby switch or a quick filament
	Standby bool         // switches with role standby are open
	Shift   float64      // volts added to the grid of every tube: heaters off nominal
	Faults  []Fault      // what has failed
	Drive   []DriveShare // extra mean currents at full signal
}

// A Fault is one thing that has failed.
type Fault struct {
	Kind FaultKind
	Ref  string  // position
	Ohms float64 // of a Leak
}

// FaultKind says how a position fails.
type FaultKind uint8

// Faults. Pulled is a tube out of its socket; Leak puts ohms across a
// capacitor; Open and Short do to any two-lead part what the words say. An
// open pot is one whose wiper has come off its track.
const (
	Open FaultKind = iota + 1
	Short
	Leak
	Pulled
)

// A DriveShare is extra mean current of one tube at full signal, in amps.
type DriveShare struct {
	Ref           string
	Plate, Screen float64
}

// A Figure names one number that a solution gives, and that a limit may be
// stated for.
type Figure struct {
	Ref      string
	Quantity limit.Quantity
}

// A Cause is one contributor to the width of a band.
type Cause struct {
	Ref      string
	Property Property
	Part     float64 // of the whole half width, 0 to 1
}

// A Band holds the ends of one figure, over what a scenario leaves open.
type Band struct {
	Figure
	unit.Interval
	Scenario string
	Mains    unit.Voltage // that gives High
	Unit     unit.Unit
	Causes   []Cause // greatest first, three at most
	Basis    Basis
	Assumed  bool   // rests on spreads nobody measured
	Missing  string // why there is no figure; the interval is then zero
	Doubt    string // why no verdict on it may be better than not proven
}

// Basis says what a band rests on.
type Basis uint8

// From the least to the best.
const (
	FromType   Basis = iota // published points of the tube type and marked parts only
	Calibrated              // the circuit matched to this amp's readings
	Anchored                // and the figure itself carried over from a reading
)

func (b Basis) String() string {
	return [...]string{"type data and marked parts", "circuit matched to the readings", "carried over from a reading by the circuit"}[b]
}

// An Unsolved says why a state of the amp has no solution that counts.
type Unsolved struct {
	State string
	Say   string   // in words a technician can act on
	Refs  []string // positions or nodes concerned
}

func (u *Unsolved) Error() string {
	if u.State == "" {
		return u.Say
	}
	return u.State + ": " + u.Say
}
