package formula

import (
	"math"

	"lugworth/core/unit"
)

// PeakOf returns the peak of a sine wave.
//
//	peak = √2 · rms
//
// Source: peak of a sine wave; no table needed.
func PeakOf(rms unit.Voltage) unit.Voltage { return math.Sqrt2 * rms }

// RMSOf returns the rms of a sine wave of that peak.
//
//	rms = peak / √2
func RMSOf(peak unit.Voltage) unit.Voltage { return peak / math.Sqrt2 }

// ReservoirPeak returns the voltage the first filter capacitor can reach
// before the output tubes draw current: the peak of the unloaded winding,
// carried to the top of the declared mains range. Use it behind every
// rectifier; a slow-heating one without a standby switch has one exception.
//
//	peak = √2 · half · top/read
//
// half is one half of the high-tension winding, rms, no load, measured with
// the mains at read. A sine supply is assumed; a peaky one gives more.
//
// Source: peak of a sine wave; no table needed.
// Errors: any argument that is zero, negative, infinite or not a number.
func ReservoirPeak(half, read, top unit.Voltage) (unit.Voltage, error) {
	err := positive("reservoir peak", volts("half winding", half), volts("mains at the reading", read), volts("top of the range", top))
	if err != nil {
		return 0, err
	}
	return PeakOf(half) * top / read, nil
}

// ScaleVolts carries a voltage read at one mains to another, in proportion:
// right for every unloaded winding, first order for the voltages of a
// cathode-biased stage. v may be negative (a bias).
//
//	V = v · at/read
//
// Errors: a mains that is zero, negative, infinite or not a number.
func ScaleVolts(v, read, at unit.Voltage) (unit.Voltage, error) {
	const call = "scale volts"
	if err := finite(call, volts("voltage", v)); err != nil {
		return 0, err
	}
	if err := positive(call, volts("mains at the reading", read), volts("mains asked for", at)); err != nil {
		return 0, err
	}
	return v * at / read, nil
}

// HeaterAt returns the heater voltage at another mains: the winding scales
// with the mains, and the load of the heaters is taken to scale with it.
//
//	V = v · at/read
//
// Source: transformer ratio; no table needed.
func HeaterAt(v, read, at unit.Voltage) (unit.Voltage, error) {
	if err := positive("heater volts", volts("heater reading", v)); err != nil {
		return 0, err
	}
	return ScaleVolts(v, read, at)
}

// DissipationEnds returns the two ends of the factor by which plate or
// screen dissipation follows the mains, r being new mains over old: between
// current in proportion to voltage and the three-halves law of the tube.
//
//	low, high = r², r^2.5, the smaller first
//
// It holds where the grid bias follows the mains: cathode bias, or an
// unregulated bias supply from the same transformer.
//
// Source: the two ends are a judgment between Ohm's law and the
// three-halves-power law (Child 1911, Langmuir 1913, from memory).
// Errors: r zero, negative, infinite or not a number.
func DissipationEnds(r float64) (low, high float64, err error) {
	if err := positive("dissipation ends", plain("mains ratio", r)); err != nil {
		return 0, 0, err
	}
	a, b := r*r, math.Pow(r, 2.5)
	return min(a, b), max(a, b), nil
}

// IdleAt returns the ends of the idle current at another mains, on the same
// grounds as DissipationEnds: an output stage idles hotter on more mains.
//
//	low, high = i·r, i·r^1.5, the smaller first; r = at/read
func IdleAt(i unit.Current, read, at unit.Voltage) (low, high unit.Current, err error) {
	err = positive("idle current", amps("idle reading", i), volts("mains at the reading", read), volts("mains asked for", at))
	if err != nil {
		return 0, 0, err
	}
	r := float64(at / read)
	a, b := i*unit.Current(r), i*unit.Current(math.Pow(r, 1.5))
	return min(a, b), max(a, b), nil
}

// Spread returns the ends of a nominal amount and its tolerance: 230 V
// ±10 % is 207 V to 253 V, 22 µF +20 % is up to 26.4 µF. A tolerance that is
// not stated spreads nothing; the caller knows what the trade assumes.
//
//	low = v·(1 - minus), high = v·(1 + plus)
//
// Errors: v zero, negative, infinite or not a number; a tolerance below zero
// or a minus of 100 % or more.
func Spread(v float64, t unit.Tolerance) (unit.Interval, error) {
	const call = "spread"
	if err := positive(call, plain("amount", v)); err != nil {
		return unit.Interval{}, err
	}
	if err := notNegative(call, plain("minus", t.Minus), plain("plus", t.Plus)); err != nil {
		return unit.Interval{}, err
	}
	if err := positive(call, plain("1 - minus", 1-t.Minus)); err != nil {
		return unit.Interval{}, err
	}
	return unit.Interval{Low: v * (1 - t.Minus), Expected: v, High: v * (1 + t.Plus)}, nil
}
