package rating

import (
	"strconv"

	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// At returns the mains at which limits of a rating system are judged.
//
// Design-center limits already allow for the usual mains spread, so they are
// judged at nominal: the marked supply of the tap in use, or the owner's
// measured mains where that is higher. A declared range that reaches more
// than 10 % above the marked supply has used that allowance up, and a job
// without a marked supply or without a measurement cannot claim it: both are
// judged at the top of the range. All other systems are judged at the top.
//
// Source: IEC 60134:1961 and EIA RS-239-A, meaning of the systems; the 10 %
// rule is our own judgment.
//
// ok is false where no range is declared.
func At(sys limit.System, m intake.Mains, tap string) (v unit.Voltage, scenario string, ok bool) {
	if !m.Declared() {
		return 0, "", false
	}
	if !sys.AtNominal() {
		return m.High, stress.Top, true
	}
	marked := Marked(m, tap)
	if marked == 0 || m.Measured == 0 || float64(m.High) > 1.1*float64(marked)*(1+touch) {
		return m.High, stress.Top, true
	}
	return max(marked, m.Measured), stress.Nominal, true
}

// Marked returns the marked supply: the tap in use, else the label's; 0 if
// neither is known.
func Marked(m intake.Mains, tap string) unit.Voltage {
	if v, err := strconv.ParseFloat(tap, 64); err == nil && v > 0 && v <= 1000 {
		return unit.Voltage(v)
	}
	return m.Marked
}
