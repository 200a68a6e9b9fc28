package plan

import (
	"math"

	"lugworth/core/unit"
)

// The arithmetic of pieces that stand together. Every function gives the
// exact worst over all specimens inside their tolerance: each is monotone in
// every value, the others held, or its one inner turn is looked at too.

// sumOf is the interval of values that add up: ohms in series, farads side by
// side.
func sumOf(bodies []unit.Interval) unit.Interval {
	var s unit.Interval
	for _, b := range bodies {
		s = s.Plus(b)
	}
	return s
}

// reciprocalOf is the interval of values whose reciprocals add up: farads in
// series, ohms side by side. It rises with every one of them.
//
//	two 68 µF ±20 %: 54.4/2 = 27.2 to 81.6/2 = 40.8 µF
func reciprocalOf(bodies []unit.Interval) unit.Interval {
	var low, expected, high float64
	for _, b := range bodies {
		low, expected, high = low+1/b.Low, expected+1/b.Expected, high+1/b.High
	}
	return unit.Interval{Low: 1 / low, Expected: 1 / expected, High: 1 / high}
}

// joined is the interval of the whole.
func (w Way) joined(bodies []unit.Interval, u unit.Unit) unit.Interval {
	if adds(w, u) {
		return sumOf(bodies)
	}
	return reciprocalOf(bodies)
}

// chargeShare is the greatest part of the volts that capacitor i of a chain
// takes while the chain charges: the charge is the same in each, so volts
// fall as farads rise. The least of it stands against the greatest of the
// others.
//
//	two 68 µF ±20 %: 81.6 ÷ (54.4 + 81.6) = 0.6
func chargeShare(farads []unit.Interval, i int) float64 {
	own, rest := 1/farads[i].Low, 0.0
	for j, c := range farads {
		if j != i {
			rest += 1 / c.High
		}
	}
	return own / (own + rest)
}

// settledVolts is the greatest voltage over piece i of a chain across v volts
// in the long run, each piece with its balancing resistor and leaking anything
// from nothing to leak amperes. The current through the chain is the same
// everywhere, I = (V + Σ Rj·Ij) ÷ ΣRj, so that
//
//	Vi = Ri · (V + Σ Rj·(Ij − Ii)) ÷ ΣR, j ≠ i
//
// It is greatest where piece i leaks nothing and the others all they may; in
// each resistor it rises or falls throughout, so it is looked for at their
// ends. What leaks has volts across it: no piece ever gets more than v.
func settledVolts(ohms []unit.Interval, leak, v float64, i int) float64 {
	worst := 0.0
	for corner := range 1 << len(ohms) {
		whole, pushed, own := 0.0, v, 0.0
		for j, r := range ohms {
			end := r.Low
			if corner>>j&1 == 1 {
				end = r.High
			}
			whole += end
			if j == i {
				own = end
			} else {
				pushed += end * leak
			}
		}
		worst = math.Max(worst, own*pushed/whole)
	}
	return math.Min(worst, v)
}

// wattShare is the greatest part of a place's watts that resistor i takes,
// whatever feeds the place: a source of volts, of current, or anything
// between. weights are ohms in series, siemens side by side; made is that of
// the part the place's watts were reckoned with.
//
// Fed with current its share is w ÷ made, fed with volts made·w ÷ W² with W
// the sum; any linear source lies between the two. The second has one inner
// turn, at w equal to the rest.
//
//	two 50 kΩ ±5 % for 100 kΩ: 0.25 ÷ 0.475 = 0.5263
func wattShare(weights []unit.Interval, made float64, i int) float64 {
	own, rest := weights[i], 0.0
	for j, w := range weights {
		if j != i {
			rest += w.Low
		}
	}
	worst := own.High / made
	for _, w := range []float64{own.Low, own.High, math.Min(math.Max(rest, own.Low), own.High)} {
		worst = math.Max(worst, made*w/((w+rest)*(w+rest)))
	}
	return worst
}

// voltShare is the greatest part of a place's volts across resistor i of a
// chain, whatever feeds the place; as wattShare.
func voltShare(ohms []unit.Interval, made float64, i int) float64 {
	rest := 0.0
	for j, r := range ohms {
		if j != i {
			rest += r.Low
		}
	}
	return math.Max(ohms[i].High/made, ohms[i].High/(ohms[i].High+rest))
}

// siemens turns ohms over.
func siemens(ohms []unit.Interval) []unit.Interval {
	out := make([]unit.Interval, len(ohms))
	for i, r := range ohms {
		out[i] = unit.Interval{Low: 1 / r.High, Expected: 1 / r.Expected, High: 1 / r.Low}
	}
	return out
}

// alike is n pieces of one interval.
func alike(n int, of unit.Interval) []unit.Interval {
	out := make([]unit.Interval, n)
	for i := range out {
		out[i] = of
	}
	return out
}
