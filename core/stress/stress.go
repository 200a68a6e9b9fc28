// Package stress says what each position must bear, from the readings taken
// on this amp and the mains its owner has.
//
//	290 V a side, no load, at 117.0 V; range up to 127 V → first capacitor must bear 445.2 V
//	299 V × 33.8 mA at 117 V                             → plate 11.9 to 12.4 W at 127 V
//
// These are first-order bounds: readings scaled by the mains, with no model
// of the circuit behind them. A figure that cannot be had carries the reason
// in place of a number.
package stress

import (
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A Stress is what one position bears in one quantity under one condition.
// Low, Expected and High are SI amounts of Unit. Where Missing is not empty
// there is no figure and the three are zero.
type Stress struct {
	Subject  string // position
	Quantity limit.Quantity
	Scenario string // "top of the range", "no load at the top of the range"
	Mains    unit.Voltage
	unit.Interval
	Unit unit.Unit
	Tier int

	Inherited float64 // the worst value that would stand without the choice that moved it
	Cause     string  // the option that moved it, "" if none did
	Missing   string  // why there is no figure
	Doubt     string  // why no verdict on it may be better than not proven
	Node      *why.Node
	Fresh     bool          // rests on tubes nobody has read
	Movers    string        // the options that change the circuit, besides those that fit tubes of the same type
	Band      *circuit.Band // where the amp's own circuit gave the figure
}

// Moved reports whether a choice made the worst value higher than it would
// have been without it.
func (s Stress) Moved() bool { return s.Cause != "" && s.High > s.Inherited*(1+1e-12) }

// A Change says which option altered a position, and to what.
type Change struct {
	Option    string
	Ohms      float64 // new marked resistance, for a resistor
	Tolerance float64 // of the new part, a fraction
	Stated    bool    // whether its row states one
}

// A State is the amp after a choice. The zero State is the amp as found.
type State struct {
	Tap       string            // mains tap after the choice, "" as found
	TapBy     string            // the option that moves it
	Resistors map[string]Change // by position: resistors of the output stage
	Tubes     map[string]string // by position: the option that fits other output tubes
	Types     map[string]string // by position: their type, where it is another
}

// Scenario names. A verdict names the one that decides.
const (
	Bench    = "at the reading"
	Measured = "measured at the owner's"
	Top      = "top of the range"
	Bottom   = "bottom of the range"
	Nominal  = "nominal mains"
	Cold     = "no load, top of the range"
	Standby  = "standby, top of the range"
)
