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

import "lugworth/core/unit"

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
)

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
