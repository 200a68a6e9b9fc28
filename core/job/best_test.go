package job_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/rating"
)

// The mains tap of the tern is a free action that touches nothing: alone it
// brings the heater from +15.0 % to +5.4 % of 6.3 V at 253 V, inside ±10 %.
// With it a coupler blocks 399.5 V in place of 435.9 V, so that the film of
// 400 V at 0.57, 0.55 · 0.86 · 1.2, may serve with a recorded reason where the
// film of 630 V at 1.34 must: 4 · 0.77 = 3.08 less. A filter of 450 V wants
// 419.5 V in place of 457.7 V.
func TestTapIsALever(t *testing.T) {
	r := derived(t, "tern")
	least, err := r.Least()
	if err != nil || !least.Proven {
		t.Fatal(err, least.Proven)
	}
	// The new can is late; all else is one way of each must.
	if got := pointsOf(least); !slices.Equal(got, []string{"T1 T2 T3ii T4 T6: 32447 day 4 {301 301 4}"}) {
		t.Errorf("%q", got)
	}
	levers := r.Levers(least.Points[0].Accept)
	if len(levers) != 1 || levers[0].Option != "T1" || levers[0].Adds != 652 {
		t.Fatalf("%+v", levers)
	}
	l := levers[0]
	if len(l.Lifts) != 1 || l.Lifts[0] != (job.Lift{Subject: "LV", Quantity: "heater volts", From: rating.OverInherited, To: rating.Within}) {
		t.Errorf("lifts %+v", l.Lifts)
	}
	want := []job.Lift{{Subject: "T3ii trial filter-450", Quantity: "dc volts", From: rating.BelowReserve, To: rating.Within}, {Subject: "T6 trial film-400", Quantity: "dc volts", From: rating.OverWorsened, To: rating.BelowReserve}}
	if !slices.Equal(l.Parts, want) {
		t.Errorf("parts %+v", l.Parts)
	}
	if len(l.Cheaper) != 1 || l.Cheaper[0] != (job.Cheaper{Option: "T6", From: "E E-81", To: "E E-82", Saves: 308, NeedsReason: true}) {
		t.Errorf("cheaper %+v", l.Cheaper)
	}
}

func pointsOf(l decision.Least) []string {
	var out []string
	for _, p := range l.Points {
		out = append(out, fmt.Sprintf("%s: %d day %d %v", strings.Join(p.Accept, " "), p.Total, p.Day(), p.Touch))
	}
	return out
}

// The drover's three ways with the can against two kinds of coupler, by hand
// from the lines: 471.57 is safety only; paper-look for film adds 4 · (17.50 −
// 0.94) = 66.24, taxed 71.54, and no lead is stated for it. A new can for
// three axials adds 14.24; the can rebuilt costs 72.00 more than the axials
// and uses the original up.
func TestLeastOfTheDrover(t *testing.T) {
	least, err := derived(t, "drover").Least()
	want := []string{
		"T1 T2b T3/paper-look: 54311 day 1073741824 {201 102 3}",
		"T1 T2b T3/film: 47157 day 2 {201 201 3}",
		"T1 T2a T3/paper-look: 55735 day 1073741824 {300 3 3}",
		"T1 T2a T3/film: 48581 day 2 {300 102 3}",
		"T1 T2c T3/paper-look: 61511 day 1073741824 {10200 2 10002}",
		"T1 T2c T3/film: 54357 day 2 {10200 101 10002}",
	}
	if got := pointsOf(least); err != nil || !least.Proven || !slices.Equal(got, want) {
		t.Errorf("proven %v, %v\n got %s\nwant %s", least.Proven, err, strings.Join(got, "\n     "), strings.Join(want, "\n     "))
	}
	matter, look, undo := job.TouchWords(decision.Touch{Matter: 10203, Look: 102, Undo: 0})
	if matter != "1 used up, 2 handed back, 3 out of use in place" || look != "1 modern to the eye, 2 close to as made" || undo != "nothing to undo" {
		t.Errorf("%q %q %q", matter, look, undo)
	}
}

// Whole jobs priced by the ledger, their state of the amp changed by their own
// options, against every choice held to every other.
func TestLeastOfJobs(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 9))
	points, compared := 0, 0
	for round := range 10 {
		j := bestJob(t, random, 5, 2, round%5 == 4)
		for i := range j.Findings {
			if i != 0 {
				j.Findings[i].Pile = "must"
			}
		}
		unnamed(j)
		r := job.Derive(j, largeBooks(), "")
		got, err := r.Least()
		if err != nil {
			t.Fatal(err)
		}
		m, err := r.Model()
		if err != nil {
			t.Fatal(err)
		}
		m.Floor = nil
		slow, err := m.Least()
		if err != nil {
			t.Fatal(err)
		}
		if barred(r) { // without floors nothing keeps a part out that may not be ordered
			continue
		}
		compared++
		if !slices.Equal(pointsOf(got), pointsOf(slow)) {
			t.Errorf("round %d:\n got %s\nwant %s", round, pointsOf(got), pointsOf(slow))
		}
		points += len(got.Points)
	}
	if compared < 5 || points < 10 {
		t.Errorf("%d jobs compared, %d points: too tame", compared, points)
	}
}

// unnamed takes the names of offers off the parts, but of the resistor of the
// output stage: the plan then takes the cheapest that passes.
func unnamed(j *job.Job) {
	for i := range j.Options {
		for k := range j.Options[i].Parts {
			if p := &j.Options[i].Parts[k]; p.Number != "L1-0002" {
				p.List, p.Number = "", ""
			}
		}
	}
}

// barred reports whether an option of the job fits a part that may not be
// ordered.
func barred(r *job.Result) bool {
	return slices.ContainsFunc(r.Options, func(o job.OptionResult) bool {
		for _, l := range append(slices.Clone(o.Lines), o.Alone...) {
			if l.Chosen != nil && !l.Chosen.Offered() {
				return true
			}
		}
		return false
	})
}

// The date of the best choice is by the test the shop asks for, said beside
// it: with the bench at 2 hours a day, parts on the road and an owner who
// takes up to 4 days, the tern's musts are not ready in 9 days in eight of ten
// cases, though the longest lead is 4.
func TestBestByTheShopsDate(t *testing.T) {
	swap := func(r *job.Result) *job.Result {
		b := *r.Books
		b.Sheet.DateTest = "P80"
		return job.Derive(r.Job, &b, r.Now)
	}
	plain := dated(t, "tern", stated)
	if b, err := plain.Best(); err != nil || plain.Simulated() || b.Simulated || b.ReadyDays != 4 {
		t.Errorf("by the longest lead: %v, %+v", err, b)
	}
	r := swap(plain)
	b, err := r.Best()
	day, ok := r.ReadyP80(b.Accept)
	if err != nil || !r.Simulated() || !b.Simulated || !b.Proven || !ok || b.ReadyDays != day || day <= 4 || !b.FitsDate {
		t.Errorf("by eight of ten draws: %v, %+v, day %d %v", err, b, day, ok)
	}
	r.Job.Bounds.Days = "9"
	r = swap(r)
	if b, err := r.Best(); err != nil || b.Found || !strings.HasPrefix(b.Say, "nothing fits: the soonest is day ") {
		t.Errorf("in 9 days: %v, %+v", err, b)
	}
	// A shop that asks for it and does not state its hours goes by the lead.
	if r := swap(dated(t, "tern", "")); r.Simulated() {
		t.Error("simulated without the shop's hours")
	}
}

// The answers are the same bytes wherever they are worked out, the core
// running natively and in the page: held by one file for both.
func TestBestIsTheSameEverywhere(t *testing.T) {
	var b strings.Builder
	random := rand.New(rand.NewPCG(17, 17))
	for i := range 6 {
		j := bestJob(t, random, 14, 4, i == 5)
		unnamed(j)
		for k := range j.Findings {
			if k >= 10 {
				j.Findings[k].Pile = "must"
			}
		}
		bounded(t, j, 0.55+0.08*float64(i), 12+3*(i%3))
		r := job.Derive(j, largeBooks(), "2026-01-05")
		best, err := r.Best()
		fmt.Fprintf(&b, "best %v %d worth %d, %v\n%s\n", best.Accept, best.Total, best.Value, err, best.Say)
		if best.RunnerUp != nil {
			fmt.Fprintf(&b, "then %v %d\n", best.RunnerUp.Accept, best.RunnerUp.Total)
		}
		least, err := r.Least()
		fmt.Fprintf(&b, "least %v %v\n%s\n\n", least.Proven, err, strings.Join(pointsOf(least), "\n"))
	}
	const file = "testdata/best.txt"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	differ(t, file, b.String(), string(want))
}
