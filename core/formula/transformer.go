package formula

import (
	"math"

	"lugworth/core/unit"
)

// TurnsRatio returns primary to secondary turns from the two impedances.
//
//	N = √(Zp/Zs)
func TurnsRatio(primary, secondary unit.Resistance) (float64, error) {
	if err := positive("turns ratio", ohms("primary", primary), ohms("secondary", secondary)); err != nil {
		return 0, err
	}
	return math.Sqrt(float64(primary / secondary)), nil
}

// ReflectedLoad returns what a loudspeaker looks like from the primary, from
// the voltages of a low-voltage test of the transformer. Half the load
// reflects as half.
//
//	Zp = load · (Vp/Vs)²
//
// The test is made unplugged and discharged, from an isolating low-voltage
// transformer, hands off.
func ReflectedLoad(load unit.Resistance, primary, secondary unit.Voltage) (unit.Resistance, error) {
	if err := positive("reflected load", ohms("load", load), volts("primary", primary), volts("secondary", secondary)); err != nil {
		return 0, err
	}
	n := float64(primary / secondary)
	return load * unit.Resistance(n*n), nil
}

// copperAlpha is the rise of copper's resistance per degree, at 20 °C.
//
// Source: 0.393 %/K, as IEC 60028 has it, from memory.
const copperAlpha = 0.00393

// CopperTemp returns the temperature of a winding from its resistance cold
// and hot, cold being measured with the winding at that temperature.
//
//	T = (hot/cold)·(K + at) - K    K = 1/0.00393 - 20 = 234.5
//
// Errors: a resistance that is zero, negative, infinite or not a number.
func CopperTemp(cold, hot unit.Resistance, at Celsius) (Celsius, error) {
	if err := positive("copper temperature", ohms("cold", cold), ohms("hot", hot), plain("degrees above -234", copperK+float64(at))); err != nil {
		return 0, err
	}
	return Celsius(float64(hot/cold)*(copperK+float64(at)) - copperK), nil
}

const copperK = 1/copperAlpha - 20

// CopperOhms returns a winding's resistance at another temperature: from 20
// to 60 °C it rises 15.7 %, and a current worked out with the cold figure is
// too high by that.
//
//	R = cold · (K + to)/(K + from)    K = 234.5
func CopperOhms(cold unit.Resistance, from, to Celsius) (unit.Resistance, error) {
	if err := positive("copper resistance", ohms("cold", cold), plain("degrees above -234", copperK+float64(from)), plain("degrees above -234", copperK+float64(to))); err != nil {
		return 0, err
	}
	return cold * unit.Resistance((copperK+float64(to))/(copperK+float64(from))), nil
}

// SupplyOhms returns the supply impedance for each plate of a rectifier: its
// half of the secondary, the primary's resistance carried over, and any
// resistor put in.
//
//	Rs = secondary + N²·primary + added    N = half volts/primary volts
//
// Source: O. H. Schade, "Analysis of Rectifier Operation", Proc. IRE, July
// 1943, from memory.
func SupplyOhms(secondary, primary, added unit.Resistance, half, mains unit.Voltage) (unit.Resistance, error) {
	const call = "supply impedance"
	if err := notNegative(call, ohms("half secondary", secondary), ohms("primary", primary), ohms("added", added)); err != nil {
		return 0, err
	}
	if err := positive(call, volts("half winding", half), volts("primary volts", mains)); err != nil {
		return 0, err
	}
	n := float64(half / mains)
	return secondary + primary*unit.Resistance(n*n) + added, nil
}
