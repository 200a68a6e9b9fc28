// Package limit holds what a maker says a part may bear: a number, what it
// is a limit of, the rating system it belongs to, and how well the source is
// known.
//
//	6V6GT plate volts <= 315 V, design center, second-hand
//	EL84 heater volts 5.67 V to 6.93 V, unstated, user
//
// It judges nothing. Rating systems are never mixed, and a limit nobody saw
// on paper never lets a part pass; the methods here say which is which.
package limit

import (
	"math"

	"lugworth/core/unit"
)

// A Quantity names what is limited, in the words of a data sheet.
type Quantity string

// The limited quantities the program knows. Plate and screen volts are to
// the cathode. Other names may stand in a card; they are kept and shown, and
// nothing is judged by them.
const (
	PlateVolts     Quantity = "plate volts"
	ScreenVolts    Quantity = "screen volts"
	PlateWatts     Quantity = "plate watts"
	ScreenWatts    Quantity = "screen watts"
	CathodeCurrent Quantity = "cathode current"
	HeaterVolts    Quantity = "heater volts"
	GridOhms       Quantity = "grid circuit ohms"
	FirstCapacitor Quantity = "first capacitor"
	InverseVolts   Quantity = "inverse volts"
	PeakCurrent    Quantity = "peak current"
	OutputCurrent  Quantity = "output current"
	DCVolts        Quantity = "dc volts"
	Watts          Quantity = "watts"
	FuseCurrent    Quantity = "fuse current"

	// Sheets often give two figures for the grid circuit, one for each way
	// of biasing, and one figure for plate and screen together.
	GridOhmsFixed   Quantity = "grid circuit ohms fixed bias"
	GridOhmsCathode Quantity = "grid circuit ohms cathode bias"
	BothWatts       Quantity = "plate and screen watts"
)

var units = map[Quantity]unit.Unit{
	PlateVolts: unit.Volt, ScreenVolts: unit.Volt, HeaterVolts: unit.Volt, InverseVolts: unit.Volt, DCVolts: unit.Volt,
	PlateWatts: unit.Watt, ScreenWatts: unit.Watt, BothWatts: unit.Watt, Watts: unit.Watt,
	CathodeCurrent: unit.Ampere, PeakCurrent: unit.Ampere, OutputCurrent: unit.Ampere, FuseCurrent: unit.Ampere,
	GridOhms: unit.Ohm, GridOhmsFixed: unit.Ohm, GridOhmsCathode: unit.Ohm, FirstCapacitor: unit.Farad,
}

// UnitOf returns the unit a quantity is limited in; false for a quantity the
// program does not judge by.
func UnitOf(q Quantity) (unit.Unit, bool) {
	u, ok := units[q]
	return u, ok
}

// A Limit is one rating of one type or part. Low and High are in SI base
// amounts of Unit; a side without a number is open.
type Limit struct {
	Subject  string // type number or part: "6V6GT", "can 20+20+20"
	Quantity Quantity
	Low      float64
	High     float64
	HasLow   bool
	HasHigh  bool
	Unit     unit.Unit
	System   System
	Source   string // publisher, type, date; "scenario"; the user's own words
	Mark     Mark
}

// Usable reports whether the limit may let a part pass: whether a value
// inside it may be judged within, or below reserve. A limit from memory may
// not: inside it the answer is "not proven", outside it is still "over".
func (l Limit) Usable() bool { return l.Mark != Memory && (l.HasLow || l.HasHigh) }

// String returns the limit on one line, for a list or a test:
// "6V6GT plate volts <= 315 V, design center, second-hand".
func (l Limit) String() string {
	return l.Subject + " " + string(l.Quantity) + l.Range() + ", " + l.System.String() + ", " + l.Mark.String()
}

// Range returns the two ends: " <= 315 V", " >= 50 Ω", " 5.67 V to 6.93 V",
// or " not stated".
func (l Limit) Range() string {
	low, high := unit.Short(l.Low, l.Unit), unit.Short(l.High, l.Unit)
	switch {
	case l.HasLow && l.HasHigh:
		return " " + low + " to " + high
	case l.HasHigh:
		return " <= " + high
	case l.HasLow:
		return " >= " + low
	}
	return " not stated"
}

// Holds reports whether a value, in SI base amounts, is inside the limit; a
// value equal to an end is inside. A limit without a number holds nothing.
func (l Limit) Holds(v float64) bool {
	if math.IsNaN(v) || (!l.HasLow && !l.HasHigh) {
		return false
	}
	return (!l.HasLow || v >= l.Low) && (!l.HasHigh || v <= l.High)
}

// Margin returns how far inside a value is, as a fraction of the end it is
// nearer to: 0.1 is ten percent inside, -0.03 three percent over. The bool
// is false where there is no number, or the nearer end is zero.
//
//	high end: (high - v)/high    low end: (v - low)/low
func (l Limit) Margin(v float64) (float64, bool) {
	margin, any := math.Inf(1), false
	if l.HasHigh && l.High != 0 {
		margin, any = (l.High-v)/l.High, true
	}
	if l.HasLow && l.Low != 0 {
		margin, any = math.Min(margin, (v-l.Low)/l.Low), true
	}
	if !any || math.IsNaN(margin) {
		return 0, false
	}
	return margin, true
}
