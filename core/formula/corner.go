package formula

import (
	"math"

	"lugworth/core/unit"
)

// Corner returns the frequency at which a capacitor and the resistance
// around it stand 3 dB down.
//
//	f = 1/(2π·R·C)
//
// For a coupler R is what drives it and the grid leak together, the source
// being plate load and plate resistance in parallel.
func Corner(r unit.Resistance, c unit.Capacitance) (unit.Frequency, error) {
	if err := positive("corner frequency", ohms("resistance", r), farads("capacitor", c)); err != nil {
		return 0, err
	}
	return unit.Frequency(1 / (2 * math.Pi * float64(r) * float64(c))), nil
}

// CathodeOhms returns the resistance a triode shows at its cathode.
//
//	rk' = (ra + RL)/(µ + 1)
//
// For a pentode stage use 1/gm of the cathode.
func CathodeOhms(ra, load unit.Resistance, mu float64) (unit.Resistance, error) {
	const call = "cathode resistance"
	if err := positive(call, ohms("plate resistance", ra), plain("amplification factor", mu)); err != nil {
		return 0, err
	}
	if err := notNegative(call, ohms("plate load", load)); err != nil {
		return 0, err
	}
	return (ra + load) / unit.Resistance(mu+1), nil
}

// BypassCorners returns the two corners of a bypassed cathode: gain rises
// from low, below which the resistor is as good as bare, to high, above
// which it is bypassed.
//
//	low = 1/(2π·Rk·Ck)    high = 1/(2π·(Rk ‖ rk')·Ck)
func BypassCorners(rk, inner unit.Resistance, ck unit.Capacitance) (low, high unit.Frequency, err error) {
	both, err := ParallelOhms(rk, inner)
	if err != nil {
		return 0, 0, err
	}
	if low, err = Corner(rk, ck); err != nil {
		return 0, 0, err
	}
	high, err = Corner(both, ck)
	return low, high, err
}

// BypassStep returns how many decibels the bypass capacitor adds.
//
//	20·log10(1 + Rk/rk')
func BypassStep(rk, inner unit.Resistance) (float64, error) {
	if err := positive("bypass step", ohms("cathode resistor", rk), ohms("cathode resistance of the tube", inner)); err != nil {
		return 0, err
	}
	return 20 * math.Log10(1+float64(rk/inner)), nil
}

// StageGain returns the voltage gain of a triode stage; bare is the part of
// the cathode resistor that is not bypassed, 0 for a bypassed one. load is
// plate load and next grid leak in parallel.
//
//	A = µ·RL/(ra + RL + (µ+1)·Rk)
//
// Source: the bypassed form second-hand, the other from memory; both follow
// from the equivalent circuit of a triode.
func StageGain(mu float64, ra, load, bare unit.Resistance) (float64, error) {
	const call = "stage gain"
	if err := positive(call, plain("amplification factor", mu), ohms("plate resistance", ra), ohms("plate load", load)); err != nil {
		return 0, err
	}
	if err := notNegative(call, ohms("cathode resistor", bare)); err != nil {
		return 0, err
	}
	return mu * float64(load) / (float64(ra) + float64(load) + (mu+1)*float64(bare)), nil
}
