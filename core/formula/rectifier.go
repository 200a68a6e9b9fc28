package formula

import (
	"math"

	"lugworth/core/unit"
)

// A Supply is how a rectifier is connected, with a capacitor behind it.
type Supply uint8

const (
	FullWave Supply = iota // two plates, center-tapped winding
	Bridge
	HalfWave
)

// InverseVolts returns the peak inverse voltage on each rectifier. rms is
// half the winding for FullWave, all of it otherwise; take it at the top of
// the mains range, without load.
//
//	full wave 2√2·rms    bridge √2·rms    half wave 2√2·rms
//
// Source: the winding's peak against the charged capacitor; from memory.
func InverseVolts(s Supply, rms unit.Voltage) (unit.Voltage, error) {
	if err := positive("inverse volts", volts("winding", rms)); err != nil {
		return 0, err
	}
	if s == Bridge {
		return PeakOf(rms), nil
	}
	return 2 * PeakOf(rms), nil
}

// Perveance returns the constant of a vacuum rectifier's three-halves law
// from one published drop, A/V^1.5. A pure three-halves law reads low near
// the origin; a mercury vapor rectifier does not follow it.
//
//	P = I/V^1.5
func Perveance(drop unit.Voltage, i unit.Current) (float64, error) {
	if err := positive("rectifier constant", volts("drop", drop), amps("current", i)); err != nil {
		return 0, err
	}
	return float64(i) / math.Pow(float64(drop), 1.5), nil
}

// RectifierDrop returns the drop of a vacuum rectifier with that constant.
//
//	V = (I/P)^(2/3)
func RectifierDrop(perveance float64, i unit.Current) (unit.Voltage, error) {
	const call = "rectifier drop"
	if err := positive(call, plain("rectifier constant", perveance)); err != nil {
		return 0, err
	}
	if err := notNegative(call, amps("current", i)); err != nil {
		return 0, err
	}
	return unit.Voltage(math.Cbrt(math.Pow(float64(i)/perveance, 2))), nil
}

// SmoothedSupply returns what an ideal rectifier with series ohms gives into
// a capacitor so large that it has no ripple: the DC volts as a part of the
// winding's peak, and the angle in radians for which each rectifier
// conducts.
//
//	tan φ - φ = π·Rs/(2R) full wave, π·Rs/R half wave
//	DC/peak = cos φ    conduction = 2φ
//
// Rs is the supply's series ohms (for each plate), R the load. Rectifier drop
// is left out.
//
// Source: closed form of the limit of large ωCR in O. H. Schade, "Analysis of
// Rectifier Operation", Proc. IRE, July 1943, from memory; checked against a
// periodic solution of our own.
// Errors: an argument that is zero, negative, infinite or not a number.
func SmoothedSupply(s Supply, series, load unit.Resistance) (part, conduction float64, err error) {
	if err := positive("smoothed supply", ohms("series", series), ohms("load", load)); err != nil {
		return 0, 0, err
	}
	want := math.Pi * float64(series/load)
	if s != HalfWave {
		want /= 2
	}
	phi := halfConduction(want)
	return math.Cos(phi), 2 * phi, nil
}

// halfConduction solves tan φ - φ = want for φ between 0 and π/2 by
// bisection: the left side rises all the way.
func halfConduction(want float64) float64 {
	low, high := 0.0, math.Pi/2
	for range 60 {
		mid := (low + high) / 2
		if math.Tan(mid)-mid < want {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// RippleAtMost returns an upper figure for the peak-to-peak ripple on the
// first filter capacitor: the capacitor feeds the load for the whole time
// between two peaks.
//
//	I/(2·f·C) full wave and bridge, I/(f·C) half wave; f of the mains
//
// Source: charge balance; no table needed.
func RippleAtMost(s Supply, i unit.Current, f unit.Frequency, c unit.Capacitance) (unit.Voltage, error) {
	if err := positive("ripple", amps("current", i), hertz("mains frequency", f), farads("capacitor", c)); err != nil {
		return 0, err
	}
	pp := unit.Voltage(float64(i) / float64(f) / float64(c))
	if s != HalfWave {
		pp /= 2
	}
	return pp, nil
}

// RippleRMS returns the rms of a ripple that rises and falls in straight
// lines.
//
//	rms = pp/(2√3)
func RippleRMS(pp unit.Voltage) unit.Voltage { return pp / (2 * unit.Voltage(math.Sqrt(3))) }

// CapacitorRipple returns the rms ripple current of the first capacitor of a
// full-wave supply, k being rms over average of one rectifier's current
// (about 2.1 to 3.3).
//
//	Ic = √((Idc·k/√2)² - Idc²)
//
// The load's own ripple current is left out.
// Errors: a current or k that is zero, negative, infinite or not a number; a
// k below √2, which no full-wave supply has.
func CapacitorRipple(dc unit.Current, k float64) (unit.Current, error) {
	const call = "capacitor ripple"
	if err := positive(call, amps("direct current", dc)); err != nil {
		return 0, err
	}
	if err := notNegative(call, plain("rms over average, less √2", k-math.Sqrt2)); err != nil {
		return 0, err
	}
	return dc * unit.Current(math.Sqrt(max(0, k*k/2-1))), nil
}
