// Package formula holds the electrical formulas of the trade, each on its
// own, each to be checked with a pencil.
//
//	ReservoirPeak(290, 117, 127)              -> 445.2 V
//	LeakFromShift(3.0, 220e3, 300)            -> 13.6 µA, 21.8 MΩ
//	CathodeResistorFactor(0.006, 262, 300)    -> 0.919
//	MaxContinuousVolts(0.5, 470e3, 350)       -> 350 V
//
// They judge nothing and know no limit. Amounts are in SI base units.
// A formula marked "common practice, no source" is what the bench does, not
// what a book says.
package formula

import (
	"fmt"
	"math"

	"lugworth/core/unit"
)

// Celsius is a temperature in degrees.
type Celsius float64

// String prints the temperature with one decimal: "85.0 °C".
func (c Celsius) String() string { return fmt.Sprintf("%.1f °C", float64(c)) }

// Energy is in joules.
type Energy float64

// String prints the energy as the bench says it: "10.1 J".
func (e Energy) String() string { return fmt.Sprintf("%.1f J", float64(e)) }

// given is one argument, named for its message.
type given struct {
	name string
	v    float64
	unit unit.Unit
}

func volts(name string, v unit.Voltage) given      { return given{name, float64(v), unit.Volt} }
func amps(name string, v unit.Current) given       { return given{name, float64(v), unit.Ampere} }
func ohms(name string, v unit.Resistance) given    { return given{name, float64(v), unit.Ohm} }
func farads(name string, v unit.Capacitance) given { return given{name, float64(v), unit.Farad} }
func watts(name string, v unit.Power) given        { return given{name, float64(v), unit.Watt} }
func hertz(name string, v unit.Frequency) given    { return given{name, float64(v), unit.Hertz} }
func siemens(name string, v unit.Conductance) given {
	return given{name, float64(v), unit.Siemens}
}
func plain(name string, v float64) given { return given{name, v, unit.None} }

// positive returns an error for the first argument that is not a finite
// amount above zero.
func positive(call string, args ...given) error {
	for _, a := range args {
		if !(a.v > 0) || math.IsInf(a.v, 0) {
			return a.unfit(call, "more than 0"+a.suffix())
		}
	}
	return nil
}

// notNegative returns an error for the first argument that is not a finite
// amount of zero or more.
func notNegative(call string, args ...given) error {
	for _, a := range args {
		if !(a.v >= 0) || math.IsInf(a.v, 0) {
			return a.unfit(call, "0"+a.suffix()+" or more")
		}
	}
	return nil
}

// finite returns an error for the first argument that is not a number.
func finite(call string, args ...given) error {
	for _, a := range args {
		if math.IsNaN(a.v) || math.IsInf(a.v, 0) {
			return a.unfit(call, "a number")
		}
	}
	return nil
}

func (a given) suffix() string {
	if a.unit == unit.None {
		return ""
	}
	return " " + a.unit.String()
}

func (a given) unfit(call, want string) error {
	return fmt.Errorf("%s: %s is %.1f%s, want %s", call, a.name, a.v, a.suffix(), want)
}
