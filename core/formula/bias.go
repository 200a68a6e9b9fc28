package formula

import (
	"math"

	"lugworth/core/unit"
)

// CathodeCurrent returns what one of n tubes sharing a cathode resistor
// draws, plate and screen together. With n above one it is an average unless
// the tubes are known to draw alike. Measure the resistor: it drifts.
//
//	Ik = Vk / (Rk · n)
//
// Errors: an argument that is zero, negative, infinite or not a number.
func CathodeCurrent(vk unit.Voltage, rk unit.Resistance, n int) (unit.Current, error) {
	if err := positive("cathode current", volts("cathode", vk), ohms("cathode resistor", rk), plain("tubes", float64(n))); err != nil {
		return 0, err
	}
	return unit.Current(float64(vk) / float64(rk) / float64(n)), nil
}

// DropCurrent returns the current through a part from the voltage across it:
// plate current from half a primary, screen current from its resistor.
//
//	I = V / R
//
// A winding measured cold and read hot gives too much current by the rise of
// copper, 0.393 %/K (CopperOhms). Both leads are at full B+.
func DropCurrent(drop unit.Voltage, r unit.Resistance) (unit.Current, error) {
	if err := notNegative("drop current", volts("drop", drop)); err != nil {
		return 0, err
	}
	if err := positive("drop current", ohms("resistance", r)); err != nil {
		return 0, err
	}
	return unit.Current(float64(drop) / float64(r)), nil
}

// Dissipation returns the power a plate or screen turns to heat.
//
//	P = (V - Vk) · I
//
// v is to ground, as the cathode is. I is that electrode's own current: with
// cathode current in its place the figure reads high by the screen's share.
func Dissipation(v, vk unit.Voltage, i unit.Current) (unit.Power, error) {
	const call = "dissipation"
	if err := finite(call, volts("electrode", v), volts("cathode", vk)); err != nil {
		return 0, err
	}
	if err := notNegative(call, volts("electrode to cathode", v-vk), amps("current", i)); err != nil {
		return 0, err
	}
	return unit.Power(float64(v-vk) * float64(i)), nil
}

// CathodeResistorFactor returns the factor on a stage's current when its
// cathode resistor changes from r0 (as measured) to r1 (as marked), g being
// the transconductance of all tubes on that resistor together.
//
//	f = (1 + g·r0) / (1 + g·r1)
//
// First order: it leaves out that the supply recovers under a lighter load.
// With r1 above r0 the smaller g gives the greater f.
//
// Source: a cathode follower's feedback, 1 + gR; common practice, no source.
// Errors: an argument that is zero, negative, infinite or not a number.
func CathodeResistorFactor(g unit.Conductance, r0, r1 unit.Resistance) (float64, error) {
	err := positive("cathode resistor factor", siemens("transconductance", g), ohms("resistor as measured", r0), ohms("new resistor", r1))
	if err != nil {
		return 0, err
	}
	return (1 + float64(g)*float64(r0)) / (1 + float64(g)*float64(r1)), nil
}

// CathodeResistorFor returns the resistor that brings the current factor to
// f: CathodeResistorFactor solved for r1, the least value for which a
// verdict holds.
//
//	r1 = ((1 + g·r0)/f - 1) / g
//
// Errors: an argument that is zero, negative, infinite or not a number, or a
// factor no resistor reaches (at or above 1 + g·r0).
func CathodeResistorFor(g unit.Conductance, r0 unit.Resistance, f float64) (unit.Resistance, error) {
	const call = "cathode resistor"
	if err := positive(call, siemens("transconductance", g), ohms("resistor as measured", r0), plain("factor", f)); err != nil {
		return 0, err
	}
	r1 := unit.Resistance(((1+float64(g)*float64(r0))/f - 1) / float64(g))
	if err := positive(call, ohms("resistor that gives the factor", r1)); err != nil {
		return 0, err
	}
	return r1, nil
}

// LeakFromShift returns what a leaking coupling capacitor passes, and the
// resistance it stands for: shift is the change of grid voltage it causes on
// the grid leak, source the voltage behind the capacitor, both to the other
// end of the grid leak.
//
//	I = shift/Rg    Rleak = (source - shift)/I
//
// Errors: an argument that is zero, negative, infinite or not a number; a
// shift as great as the source.
func LeakFromShift(shift unit.Voltage, gridLeak unit.Resistance, source unit.Voltage) (unit.Current, unit.Resistance, error) {
	err := positive("leak from shift", volts("shift", shift), ohms("grid leak", gridLeak), volts("source", source), volts("source less shift", source-shift))
	if err != nil {
		return 0, 0, err
	}
	i := float64(shift) / float64(gridLeak)
	return unit.Current(i), unit.Resistance(float64(source-shift) / i), nil
}

// GridWithLeak returns the grid voltage a leaking coupling capacitor leaves.
//
//	Vg = bias + (source - bias) · Rg/(Rg + Rleak)
//
// bias is the voltage the grid leak returns to, negative or zero; source the
// voltage behind the capacitor. No grid current is counted.
func GridWithLeak(bias, source unit.Voltage, gridLeak, leak unit.Resistance) (unit.Voltage, error) {
	const call = "grid with leak"
	if err := finite(call, volts("bias", bias), volts("source", source)); err != nil {
		return 0, err
	}
	if err := positive(call, ohms("grid leak", gridLeak), ohms("leak", leak)); err != nil {
		return 0, err
	}
	return bias + (source-bias)*unit.Voltage(gridLeak/(gridLeak+leak)), nil
}

// A Match says how alike two tubes of a pair draw. The zero value claims
// nothing.
type Match uint8

const (
	Unmatched      Match = iota // apart
	ApartButUsable              // within 10 %, or within 5 mA
	Close                       // within 5 %
)

var matchWords = [...]string{"apart", "apart but usable", "close"}

// String returns the words: "close", "apart but usable", "apart".
func (m Match) String() string {
	if int(m) < len(matchWords) {
		return matchWords[m]
	}
	return matchWords[Unmatched]
}

// usableApart is the difference that does no harm however small the
// currents are.
const usableApart unit.Current = 0.005

// PairMatch compares two idle currents of a push-pull pair read at the same
// mains, and returns their spread as a fraction of the mean.
//
//	spread = |i1 - i2| / ((i1 + i2)/2)
//
// Up to 5 % is Close; up to 10 %, or 5 mA, is ApartButUsable; the transformer
// may want less, a toroid more so. Common practice, no source.
// Errors: a current that is zero, negative, infinite or not a number.
func PairMatch(i1, i2 unit.Current) (spread float64, m Match, err error) {
	if err := positive("pair match", amps("first tube", i1), amps("second tube", i2)); err != nil {
		return 0, Unmatched, err
	}
	apart := unit.Current(math.Abs(float64(i1 - i2)))
	spread = float64(apart / ((i1 + i2) / 2))
	switch {
	case spread <= 0.05:
		return spread, Close, nil
	case spread <= 0.10 || apart <= usableApart:
		return spread, ApartButUsable, nil
	}
	return spread, Unmatched, nil
}
