package job

import (
	"slices"

	"lugworth/core/amp"
	"lugworth/core/finding"
	"lugworth/core/rating"
)

// CautionList returns the cautions that apply to the job as it stands. What
// nobody stated counts as so: a caution is left out only for a known reason.
func (r *Result) CautionList() []finding.Caution {
	a := &r.Job.Amp
	w := finding.Planned{
		Grounded: a.Grounded, Transformer: len(a.WithRole(amp.HighWinding)) > 0,
		LineToChassis: len(a.WithRole(amp.LineToChassis)) > 0, Tested: true, Limits: len(r.Found) > 0,
		Inherited: slices.ContainsFunc(r.Found, func(j rating.Judgment) bool { return j.Kind.Over() }),
	}
	return finding.Cautions(w.Known(a, r.Job.Findings, r.slow()))
}

// Cautions returns the standing line and the cautions, as printed.
func (r *Result) Cautions() []string {
	out := []string{finding.Standing}
	for _, c := range r.CautionList() {
		out = append(out, c.Title+": "+c.Say)
	}
	return out
}

// slow reports whether every rectifier fitted heats slowly.
func (r *Result) slow() bool {
	found := false
	for _, p := range r.Job.Amp.WithRole(amp.RectifierTube) {
		c, ok := r.Books.Cards.Find(p.Type)
		if !ok || c.Heating != "slow" {
			return false
		}
		found = true
	}
	return found
}
