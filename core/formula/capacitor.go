package formula

import (
	"math"
	"time"

	"lugworth/core/unit"
)

// DischargeTime returns how long a resistor takes to bring a charged
// capacitor from one voltage to another. It does not say that the node is
// dead: old capacitors recover charge, so measure, wait and measure again.
//
//	t = R·C·ln(from/to)
//
// Source: exponential discharge; no table needed.
// Errors: an argument that is zero, negative, infinite or not a number; a
// goal above the start; more than a year.
func DischargeTime(r unit.Resistance, c unit.Capacitance, from, to unit.Voltage) (time.Duration, error) {
	const call = "discharge time"
	err := positive(call, ohms("resistor", r), farads("capacitor", c), volts("start", from), volts("goal", to))
	if err != nil {
		return 0, err
	}
	if err := notNegative(call, volts("start less goal", from-to)); err != nil {
		return 0, err
	}
	seconds := float64(r) * float64(c) * math.Log(float64(from/to))
	const year = 365 * 24 * 3600
	if err := notNegative(call, plain("year less seconds", year-seconds)); err != nil {
		return 0, err
	}
	return time.Duration(seconds * float64(time.Second)), nil
}

// StoredEnergy returns what a charged capacitor holds.
//
//	E = ½·C·V²
func StoredEnergy(c unit.Capacitance, v unit.Voltage) (Energy, error) {
	if err := positive("stored energy", farads("capacitor", c)); err != nil {
		return 0, err
	}
	if err := finite("stored energy", volts("voltage", v)); err != nil {
		return 0, err
	}
	return Energy(0.5 * float64(c) * float64(v) * float64(v)), nil
}

// SeriesCaps returns the capacitance of capacitors in series. Their rated
// volts add only where resistors share the voltage.
//
//	1/C = 1/C1 + 1/C2 + ...
//
// Errors: none given; one that is zero, negative, infinite or not a number.
func SeriesCaps(cs ...unit.Capacitance) (unit.Capacitance, error) {
	if err := some("series capacitors", cs); err != nil {
		return 0, err
	}
	var sum unit.Capacitance
	for _, c := range cs {
		sum += 1 / c
	}
	return 1 / sum, nil
}

// ParallelCaps returns the capacitance of capacitors in parallel; the least
// rated volts among them rule.
//
//	C = C1 + C2 + ...
func ParallelCaps(cs ...unit.Capacitance) (unit.Capacitance, error) {
	if err := some("parallel capacitors", cs); err != nil {
		return 0, err
	}
	var sum unit.Capacitance
	for _, c := range cs {
		sum += c
	}
	return sum, nil
}

func some(call string, cs []unit.Capacitance) error {
	if err := positive(call, plain("count", float64(len(cs)))); err != nil {
		return err
	}
	for _, c := range cs {
		if err := positive(call, farads("capacitor", c)); err != nil {
			return err
		}
	}
	return nil
}

// Reactance returns the ohms of a capacitor to alternating current.
//
//	X = 1/(2π·f·C)
func Reactance(f unit.Frequency, c unit.Capacitance) (unit.Resistance, error) {
	if err := positive("reactance", hertz("frequency", f), farads("capacitor", c)); err != nil {
		return 0, err
	}
	return unit.Resistance(1 / (2 * math.Pi * float64(f) * float64(c))), nil
}

// CapacitorCurrent returns the rms current a sound capacitor passes on AC:
// what one from mains to chassis sends through whoever touches the chassis.
//
//	I = 2π·f·C·V
func CapacitorCurrent(f unit.Frequency, c unit.Capacitance, v unit.Voltage) (unit.Current, error) {
	x, err := Reactance(f, c)
	if err != nil {
		return 0, err
	}
	if err := notNegative("capacitor current", volts("voltage", v)); err != nil {
		return 0, err
	}
	return unit.Current(float64(v) / float64(x)), nil
}

// ElectrolyticHours returns the life of an electrolytic with its core at
// another temperature: it doubles for each 10 °C less. It agrees with the
// rate law about 70 to 90 °C and departs from it below 60 and above 105 °C.
//
//	h = rated · 2^((ratedAt - core)/10)
//
// Source: capacitor makers' technical notes (second-hand transcription).
func ElectrolyticHours(rated unit.Hours, ratedAt, core Celsius) (unit.Hours, error) {
	const call = "electrolytic life"
	if err := positive(call, plain("rated hours", float64(rated))); err != nil {
		return 0, err
	}
	if err := finite(call, plain("rated at", float64(ratedAt)), plain("core", float64(core))); err != nil {
		return 0, err
	}
	return rated * unit.Hours(math.Exp2(float64(ratedAt-core)/10)), nil
}

// SurgeVolts returns the surge voltage of an electrolytic by its rated
// volts. It is for reading old labels; a surge figure is never a rating.
//
//	1.15 · rated up to 315 V, 1.10 · rated above
//
// Source: IEC 60384-4, from memory.
func SurgeVolts(rated unit.Voltage) (unit.Voltage, error) {
	if err := positive("surge volts", volts("rated", rated)); err != nil {
		return 0, err
	}
	if rated <= 315 {
		return 1.15 * rated, nil
	}
	return 1.10 * rated, nil
}

// ImpulseVolts returns the impulse a class X capacitor is tested with, by
// its class figure (X1 4 kV, X2 2.5 kV) and capacitance.
//
//	V = class                for C up to 1 µF
//	V = class / √(C/1 µF)    above
//
// Source: IEC 60384-14 (second-hand transcription).
func ImpulseVolts(class unit.Voltage, c unit.Capacitance) (unit.Voltage, error) {
	if err := positive("impulse volts", volts("class", class), farads("capacitor", c)); err != nil {
		return 0, err
	}
	return class / unit.Voltage(math.Sqrt(max(1, float64(c)/1e-6))), nil
}
