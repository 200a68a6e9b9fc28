package job

import (
	"lugworth/core/unit"
)

// Figures says a finding's worked figures in words, one to a line.
func (f FindingResult) Figures() []string {
	out := []string{}
	for _, d := range f.Drifts {
		out = append(out, d.At+": "+d.Reason)
	}
	for _, l := range f.Leaks {
		out = append(out, l.At+": "+unit.FormatAmount(float64(l.Current), unit.Ampere, -1)+" through "+unit.FormatAmount(float64(l.Resistance), unit.Ohm, -1)+"; "+l.Effect)
	}
	return out
}
