package job_test

import (
	"math"
	"testing"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/tube"
)

// demo derives the job the program ships with, on the books it ships with.
func demo(t testing.TB) *job.Result {
	t.Helper()
	var files []job.File
	for _, f := range catalogs.Shop() {
		files = append(files, job.File{Name: f.Name, Data: f.Data})
	}
	c, err := job.OpenCase("demo.job.json", catalogs.Demo, files)
	if err != nil {
		t.Fatal(err)
	}
	cards, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	j, b := c.Open(cards)
	return job.Derive(j, b, "2026-01-05")
}

// Whoever starts the program for the first time sees a whole job and no
// complaint.
func TestDemoHasNoProblems(t *testing.T) {
	r := demo(t)
	for _, p := range r.Problems {
		t.Error(p)
	}
	for _, o := range r.Options {
		for _, p := range o.Problems {
			t.Errorf("option %s: %s", o.Option.ID, p)
		}
	}
	if len(r.Findings) != 10 || len(r.Sets) != 3 || r.Force < 0 {
		t.Fatalf("%d findings, %d sets, in force %d: want 10, 3 and one in force", len(r.Findings), len(r.Sets), r.Force)
	}
	files, warnings, err := r.OrderFiles()
	if err != nil || len(warnings) > 0 || len(files) != 2 {
		t.Errorf("%d order files, warnings %v, error %v: want 2 and none", len(files), warnings, err)
	}
	if _, err := r.EstimateHTML(); err != nil {
		t.Error(err)
	}
}

// The totals, added by hand from the printed lines: labor 75.00 an hour by
// task, parts at landed cost × 1.25 each rounded once, fee 75.00, tax 8 % on
// parts.
func TestDemoPrices(t *testing.T) {
	want := map[string]string{
		"Safety only":   "406.20", // 300.00 + 28.89 + 75.00 + 2.31
		"Friday nights": "546.19", // 407.50 + 58.97 + 75.00 + 4.72
		"As it was":     "706.19", // 391.25 + 92.07 + 140.50 + 75.00 + 7.37
	}
	for _, s := range demo(t).Sets {
		if s.Err != "" {
			t.Errorf("%s: %s", s.Name, s.Err)
			continue
		}
		if got := s.Bill.Currency.Format(s.Bill.Total); got != want[s.Name] {
			t.Errorf("%s comes to %s, want %s", s.Name, got, want[s.Name])
		}
	}
}

func TestDemoShowsEveryVerdict(t *testing.T) {
	seen := map[rating.Verdict]int{}
	for _, row := range demo(t).Rows() {
		seen[row.Kind]++
		if row.HasLimit && row.Limit.Mark == limit.Memory && (row.Kind == rating.Within || row.Kind == rating.BelowReserve) {
			t.Errorf("%s %s is %v on a limit from memory", row.Subject, row.Quantity, row.Kind)
		}
		if row.Kind == rating.OverWorsened && row.Offered && row.Part != "" {
			t.Errorf("%s is offered for %s though over: %s", row.Part, row.Subject, row.Reason())
		}
	}
	for _, v := range []rating.Verdict{rating.NotEnoughData, rating.NotProven, rating.OverWorsened, rating.OverInherited, rating.BelowReserve, rating.Within} {
		if seen[v] == 0 {
			t.Errorf("no verdict %q in the demo job", v)
		}
	}
}

// The filter's worst voltage by hand: 285 V · √2 · 124/117 · 1.01 = 431.44 V;
// with the reserve of 5 % 453.01 V are wanted.
func TestDemoFilter(t *testing.T) {
	const tolerance = 0.01 // V, one in the last place printed
	for _, j := range demo(t).Found {
		if j.Subject != "C1a" || j.Quantity != limit.DCVolts {
			continue
		}
		if math.Abs(j.Worst-431.44) > tolerance || math.Abs(j.Wanted-453.01) > tolerance {
			t.Errorf("C1a bears %.3f V, %.3f V are wanted; want 431.44 and 453.01", j.Worst, j.Wanted)
		}
		if j.Kind != rating.BelowReserve {
			t.Errorf("a 450 V part there is %v, want below reserve", j.Kind)
		}
		return
	}
	t.Error("C1a is not judged")
}
