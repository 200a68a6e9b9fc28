package tube

import (
	"math"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// scale is what one of a unit cell's unit is in SI base amounts.
type scale struct {
	unit unit.Unit
	of   float64
}

// scales reads the unit column. A data sheet's transconductance is in mA/V
// or in micromhos.
var scales = map[string]scale{
	"": {unit.None, 1}, "%": {unit.Percent, 1},
	"v": {unit.Volt, 1}, "kv": {unit.Volt, 1e3}, "mv": {unit.Volt, 1e-3}, "volts": {unit.Volt, 1}, "volt": {unit.Volt, 1},
	"a": {unit.Ampere, 1}, "ma": {unit.Ampere, 1e-3}, "µa": {unit.Ampere, 1e-6}, "ua": {unit.Ampere, 1e-6},
	"w": {unit.Watt, 1}, "mw": {unit.Watt, 1e-3}, "watts": {unit.Watt, 1}, "watt": {unit.Watt, 1},
	"ω": {unit.Ohm, 1}, "ohm": {unit.Ohm, 1}, "ohms": {unit.Ohm, 1}, "kω": {unit.Ohm, 1e3}, "k": {unit.Ohm, 1e3}, "kohm": {unit.Ohm, 1e3}, "kohms": {unit.Ohm, 1e3},
	"f": {unit.Farad, 1}, "µf": {unit.Farad, 1e-6}, "uf": {unit.Farad, 1e-6}, "mfd": {unit.Farad, 1e-6}, "nf": {unit.Farad, 1e-9}, "pf": {unit.Farad, 1e-12},
	"s": {unit.Siemens, 1}, "a/v": {unit.Siemens, 1}, "ma/v": {unit.Siemens, 1e-3}, "ms": {unit.Siemens, 1e-3},
	"µs": {unit.Siemens, 1e-6}, "us": {unit.Siemens, 1e-6}, "µa/v": {unit.Siemens, 1e-6}, "µmho": {unit.Siemens, 1e-6}, "umho": {unit.Siemens, 1e-6}, "µmhos": {unit.Siemens, 1e-6},
	"hz": {unit.Hertz, 1}, "h": {unit.Henry, 1},
}

// scaleOf returns what a unit cell stands for. Capital M is mega in front
// of ohms and never milli.
func scaleOf(cell string) (scale, bool) {
	t := strings.NewReplacer("\u03bc", "\u00b5", "\u2126", "\u03a9", " ", "").Replace(strings.TrimSpace(cell))
	switch t {
	case "MΩ", "Mohm", "Mohms", "MEG", "meg", "Meg", "megohm", "megohms":
		return scale{unit.Ohm, 1e6}, true
	case "mΩ", "mohm":
		return scale{unit.Ohm, 1e-3}, true
	}
	if strings.HasPrefix(t, "M") && t != "MFD" {
		return scale{}, false
	}
	s, ok := scales[strings.ToLower(t)]
	return s, ok
}

// number reads a plain decimal number, with a point or a comma before the
// decimals: 315, -12.5, 0,45, 2.69e-4. Grouped thousands are not read.
func number(text string) (float64, bool) {
	t := strings.NewReplacer("−", "-", "\u00a0", "").Replace(strings.TrimSpace(text))
	if strings.ContainsAny(t, "xX_pPnN") { // no hexadecimal, no inf, no nan
		return 0, false
	}
	if strings.Count(t, ",") == 1 && !strings.Contains(t, ".") {
		t = strings.Replace(t, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(t, 64)
	return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

// within reads "6.3 ±10%" as its middle and the fraction to either side.
func within(text string) (middle, fraction float64, ok bool) {
	t := strings.NewReplacer("+/-", "±", "+-", "±").Replace(text)
	left, right, found := strings.Cut(t, "±")
	if !found {
		return 0, 0, false
	}
	percent, isPercent := strings.CutSuffix(strings.TrimSpace(right), "%")
	m, okM := number(left)
	f, okF := number(percent)
	return m, f / 100, isPercent && okM && okF && f >= 0 && f < 100
}
