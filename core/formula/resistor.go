package formula

import (
	"math"

	"lugworth/core/unit"
)

// BurstPower returns the power a resistor takes in the first instant across
// a voltage: what a bleeder must survive.
//
//	P = V²/R
func BurstPower(v unit.Voltage, r unit.Resistance) (unit.Power, error) {
	if err := finite("burst power", volts("voltage", v)); err != nil {
		return 0, err
	}
	if err := positive("burst power", ohms("resistor", r)); err != nil {
		return 0, err
	}
	return unit.Power(float64(v) * float64(v) / float64(r)), nil
}

// MaxContinuousVolts returns the voltage a resistor may bear for ever: what
// its watts allow, or what its style allows, whichever is less. The voltage
// limit of the style must be known; no default stands in for it.
//
//	V = min(√(P·R), style)
//
// Source: MIL-R-10509J and MIL-PRF-39005G for film and wirewound
// (second-hand transcription); the same rule for composition, from memory.
// Errors: an argument that is zero, negative, infinite or not a number.
func MaxContinuousVolts(p unit.Power, r unit.Resistance, style unit.Voltage) (unit.Voltage, error) {
	if err := positive("continuous volts", watts("rated power", p), ohms("resistor", r), volts("voltage limit of the style", style)); err != nil {
		return 0, err
	}
	return min(unit.Voltage(math.Sqrt(float64(p)*float64(r))), style), nil
}

// CriticalOhms returns the resistance at which the watts and the voltage
// limit of a style meet: above it the volts rule.
//
//	R = V²/P
func CriticalOhms(p unit.Power, style unit.Voltage) (unit.Resistance, error) {
	if err := positive("critical resistance", watts("rated power", p), volts("voltage limit of the style", style)); err != nil {
		return 0, err
	}
	return unit.Resistance(float64(style) * float64(style) / float64(p)), nil
}

// Derating is the line on which a resistor loses its rated power: all of it
// up to Full, none at Zero, straight between.
type Derating struct{ Full, Zero Celsius }

// The derating lines of the usual kinds.
//
// Sources: composition after a carbon-composition data sheet against
// MIL-R-11F (second-hand transcription, end point; 70 °C from memory); metal
// film and metal oxide, commercial, from memory; wirewound after MIL-R-39007
// (second-hand transcription of the title text).
var (
	CompositionDerating = Derating{70, 130}
	FilmDerating        = Derating{70, 155}
	OxideDerating       = Derating{70, 235}
	WirewoundDerating   = Derating{25, 275}
)

// Derated returns what a resistor may dissipate in air of a temperature.
//
//	P = rated · (zero - at)/(zero - full), not above rated nor below 0
//
// Errors: a rated power that is zero, negative, infinite or not a number; a
// line whose ends are not in order.
func Derated(rated unit.Power, at Celsius, line Derating) (unit.Power, error) {
	const call = "derated power"
	if err := positive(call, watts("rated power", rated), plain("degrees from full to zero", float64(line.Zero-line.Full))); err != nil {
		return 0, err
	}
	if err := finite(call, plain("temperature", float64(at))); err != nil {
		return 0, err
	}
	part := float64((line.Zero - at) / (line.Zero - line.Full))
	return rated * unit.Power(min(1, max(0, part))), nil
}

// ParallelOhms returns the resistance of resistors or loudspeakers in
// parallel.
//
//	1/R = 1/R1 + 1/R2 + ...
//
// Errors: none given; one that is zero, negative, infinite or not a number.
func ParallelOhms(rs ...unit.Resistance) (unit.Resistance, error) {
	const call = "parallel resistance"
	if err := positive(call, plain("count", float64(len(rs)))); err != nil {
		return 0, err
	}
	var sum unit.Resistance
	for _, r := range rs {
		if err := positive(call, ohms("resistance", r)); err != nil {
			return 0, err
		}
		sum += 1 / r
	}
	return 1 / sum, nil
}

// TrackCurrent returns the current a potentiometer's track may carry at any
// point of it: the rating is for the whole track.
//
//	I = √(P/R)
func TrackCurrent(rated unit.Power, r unit.Resistance) (unit.Current, error) {
	if err := positive("track current", watts("rated power", rated), ohms("track", r)); err != nil {
		return 0, err
	}
	return unit.Current(math.Sqrt(float64(rated) / float64(r))), nil
}
