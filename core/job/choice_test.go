package job_test

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
)

// altered derives the small whole job with texts of its job.json replaced.
func altered(t *testing.T, pairs ...string) *job.Result {
	t.Helper()
	a, err := txtar.ParseFile("../../testdata/bad/base.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for i := range a.Files {
		for k := 0; k < len(pairs); k += 2 {
			a.Files[i].Data = []byte(strings.Replace(string(a.Files[i].Data), pairs[k], pairs[k+1], 1))
		}
	}
	c, err := job.OpenCase("base", txtar.Format(a), nil)
	if err != nil {
		t.Fatal(err)
	}
	j, b := c.Open(nil)
	return job.Derive(j, b, "2026-01-05")
}

// watts are the plate verdicts at the top of the range of what stands after
// an option.
func watts(after []rating.Judgment) []rating.Verdict {
	var out []rating.Verdict
	for _, j := range after {
		if j.Quantity == limit.PlateWatts && j.Scenario == stress.Top {
			out = append(out, j.Kind)
		}
	}
	return out
}

// Two pieces in one resistor's place, two choices for one resistor, or a
// value nobody can tell: the stage is not proven, whatever the tubes.
func TestUnclearResistorProvesNothing(t *testing.T) {
	for _, c := range []struct{ name, old, new string }{
		{"two pieces in one place", `"qty":"1","is":"wirewound 300R"`, `"qty":"2","is":"wirewound 300R"`},
		{"no value", `"is":"wirewound 300R","for":["R20"],"list":"K","number":"K-3"`, `"is":"wirewound","for":["R20"]`},
		{"a capacitor named", `"list":"K","number":"K-3"`, `"list":"K","number":"K-1"`},
	} {
		r := altered(t, c.old, c.new)
		if got := watts(option(t, r, "T4").Apart.After); len(got) == 0 || slices.Contains(got, rating.Within) {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	if got := watts(option(t, altered(t), "T4").Apart.After); len(got) == 0 || !slices.Contains(got, rating.Within) {
		t.Errorf("as it should be: %v, want within", got)
	}
}

// A check reading that does not agree with its prediction takes the verdicts
// of the place away.
func TestFailedCheckProvesNothing(t *testing.T) {
	found := func(r *job.Result) (within bool) {
		for _, j := range r.Found {
			within = within || j.Quantity == limit.PlateWatts && j.Kind == rating.Within
		}
		return within
	}
	a := altered(t)
	if !found(a) {
		t.Fatal("nothing within to begin with")
	}
	j := *a.Job
	for _, r := range a.Job.Amp.Readings {
		if r.Mains > 0 && r.Quantity == amp.Volts {
			r.ID, r.State, r.Mains = r.ID+"c", []string{"check"}, r.Mains*1.03
			if strings.Contains(r.At, "cathode") || r.At == "K" {
				r.Amount *= 1.3 // runs away
			}
			j.Amp.Readings = append(j.Amp.Readings, r)
		}
		if r.Quantity == amp.Current {
			r.ID, r.State, r.Mains = r.ID+"c", []string{"check"}, r.Mains*1.03
			j.Amp.Readings = append(j.Amp.Readings, r)
		}
	}
	r := job.Derive(&j, a.Books, "2026-01-05")
	if !slices.ContainsFunc(r.Checks, func(c job.Check) bool { return !c.Agrees }) {
		t.Fatal("no check fails")
	}
	if found(r) {
		t.Error("plate watts within, though their check fails")
	}
}

// Moving the mains tap down takes the capacitors that stay over their
// rating: 270 · √2 · 253/240 = 402.5 V, and on the 220 tap 439.1 V against
// 415 V. The option is not put to the owner.
func TestTapDownReachesPartsThatStay(t *testing.T) {
	mains := `{"kind":"mains","body":{"measured":"240","low":"230","high":"253"}}`
	r := altered(t,
		`{"kind":"mains","body":{"measured":"120","low":"114","high":"127","how":"owner's meter"}}`, mains,
		`"bias":"cathode","alike":true`, `"bias":"cathode","alike":true,"tap":"240","taps":["220","240"]`,
		`"say":"recone","low":"0.1"`, `"say":"recone","tap":"220","low":"0.1"`,
	)
	j := *r.Job
	for i := range j.Amp.Readings {
		if x := &j.Amp.Readings[i]; x.Mains > 0 {
			x.Mains = 240
			if x.At == "HT" {
				x.Amount = 270
			}
		}
	}
	for i := range j.Amp.Positions {
		if p := &j.Amp.Positions[i]; p.Ref == "C1" {
			p.Spec.Volts = 415
		}
	}
	j.Pick = "none"
	r = job.Derive(&j, r.Books, "2026-01-05")
	for _, f := range r.Found {
		if f.Subject == "C1" && f.Quantity == limit.DCVolts && f.Kind.Over() {
			t.Fatalf("C1 is over as found: %s", f.Reason())
		}
	}
	e := option(t, r, "T3").Apart.Effect
	if !slices.ContainsFunc(e.Breaks, func(b rating.Judgment) bool { return b.Subject == "C1" && b.Quantity == limit.DCVolts }) {
		t.Errorf("C1 is not named among what the tap takes over: %+v", e.Breaks)
	}
}
