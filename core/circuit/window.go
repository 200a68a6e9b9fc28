package circuit

import (
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A Window says between which currents an output tube may be set to idle.
type Window struct {
	Ref     string
	Type    string
	Mains   unit.Voltage // the mains it is dialed at
	Current unit.Interval
	Least   string   // what sets the lower end
	Most    string   // what sets the upper end: limit, with source and mark
	Dial    []Dial   // what the meter must show, by method
	Ways    []string // ways to a set point: "bias pot to ...", "R20 = 300 Ω"
	Missing string
	Doubt   string
}

// A Dial is the meter reading to set by one method.
type Dial struct {
	Method    string    // "cathode resistor", "1-ohm resistor", "winding drop"
	At        string    // where the meter goes
	Low, High float64   // reading at the ends, SI
	Unit      unit.Unit // volts or amps
	Error     float64   // of the method, a fraction of the current
	Terms     []string  // what the error is made of
	Caution   string    // live work
	Limit     limit.Quantity
}
