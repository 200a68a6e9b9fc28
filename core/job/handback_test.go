package job_test

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	triage "lugworth/core/bench"
	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/unit"
)

func tested() []triage.Answer {
	var out []triage.Answer
	for _, c := range triage.Finals {
		out = append(out, triage.Answer{ID: c.ID, Result: triage.Passed, Say: "0.1 ohms, limit 0.5"})
	}
	return out
}

// An amp leaves once musts are done, tests are written down, a final chart is
// there and each old part has a place; a declined must keeps it back.
func TestHandBack(t *testing.T) {
	j, books := agreed(t, "450.00")
	r := job.Derive(j, books, "2026-04-02")
	if rel := r.Release(); rel.Free || len(rel.Never) == 0 {
		t.Fatalf("released with nothing tested: %s", rel.Say())
	}
	j.Finals = tested()
	first := j.Amp.Readings[slices.IndexFunc(j.Amp.Readings, func(x amp.Reading) bool { return x.Mains > 0 && x.Quantity == amp.Volts })]
	final := first
	final.ID, final.State, final.Mains, final.Amount = "f1", []string{amp.Final}, first.Mains*1.02, first.Amount*1.02
	j.Amp.Readings = append(j.Amp.Readings, final)
	for _, o := range r.OldParts() {
		j.OldParts = append(j.OldParts, triage.OldPart{ID: o.Option, Place: "given back"})
	}
	r = job.Derive(j, books, "2026-04-02")
	if rel := r.Release(); !rel.Free {
		t.Fatal(rel.Say())
	}
	s, err := r.HandBack()
	html := string(s.HTML())
	for _, want := range []string{"Released after the tests", "given back", "Left as it is", "As found and now", unit.FormatAmount(final.Amount, final.Unit, 1), "+0.0 %", "0.1 ohms, limit 0.5"} {
		if err != nil || !strings.Contains(html, want) {
			t.Errorf("%v: the report lacks %q", err, want)
		}
	}
	for _, never := range []string{"safe", "guarantee", "complies", "450.00", "432.37"} {
		if strings.Contains(strings.ToLower(html), never) && !strings.Contains(strings.ToLower(strings.Join(s.Cautions, " ")), never) {
			t.Errorf("the report says %q", never)
		}
	}
	// A must taken out of what was agreed: not released, whatever is tested.
	must := ""
	for _, f := range r.Findings {
		for _, i := range f.Options {
			if f.Finding.Pile == "must" && r.Options[i].Accepted {
				must = r.Options[i].Option.ID
			}
		}
	}
	last := &j.Consents[len(j.Consents)-1]
	last.Accept = slices.DeleteFunc(slices.Clone(last.Accept), func(id string) bool { return id == must })
	if rel := job.Derive(j, books, "2026-04-02").Release(); rel.Free || !strings.HasPrefix(rel.Say(), "Not released for use") {
		t.Errorf("without %s: %s", must, rel.Say())
	}
}

// What only stands beside other work, or is done if something is found, mends
// no must: agreed to alone it does not let the amp leave.
func TestAnExtraMendsNoMust(t *testing.T) {
	for _, harm := range []func(*job.Job, int){
		func(j *job.Job, i int) { j.Options[i].Both = true },
		func(j *job.Job, i int) { j.Options[i].Chance = 20 },
	} {
		j, books := agreed(t, "450.00")
		j.Finals = tested()
		way := slices.IndexFunc(j.Findings, func(f finding.Finding) bool { return f.Pile == "must" })
		i := -1
		for k, o := range j.Options {
			if o.Finding == j.Findings[way].ID && slices.Contains(j.Consents[0].Accept, o.ID) {
				i = k
			}
		}
		before := len(job.Derive(j, books, "2026-04-02").Leaving().Declined)
		other := j.Options[i] // a way that nobody agreed to
		other.ID, other.Both, other.Chance = "TX", false, 0
		j.Options = append(slices.Clone(j.Options), other)
		harm(j, i)
		if n := len(job.Derive(j, books, "2026-04-02").Leaving().Declined); n != before+1 {
			t.Errorf("%d musts are not done, want %d", n, before+1)
		}
	}
}
