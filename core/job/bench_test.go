package job_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/plan"
)

// The large job is as large as it says, and holds no problem that would make
// its figures cheap.
func TestLargeJob(t *testing.T) {
	j, b := largeJob(t), largeBooks()
	if len(j.Findings) != largeFindings || len(j.Options) != largeFindings*largeOptions || len(j.Amp.Positions) != largePositions || len(b.Lists) != largeLists {
		t.Fatalf("%d findings, %d options, %d positions, %d lists", len(j.Findings), len(j.Options), len(j.Amp.Positions), len(b.Lists))
	}
	for _, l := range b.Lists {
		if len(l.Offers) != largeRows {
			t.Fatalf("%s: %d offers, want %d: %v", l.Name, len(l.Offers), largeRows, l.Aside[:min(3, len(l.Aside))])
		}
	}
	if dir := os.Getenv("LUGWORTH_LARGE"); dir != "" { // for the browser's benchmark
		for _, f := range append(largeFiles(), job.File{Name: "large.job.json", Data: largeRecords(t)}) {
			if err := os.WriteFile(filepath.Join(dir, filepath.Base(f.Name)), f.Data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
	r := job.Derive(j, b, "")
	if len(r.Problems) > 0 || r.Sets[0].Err != "" || r.Sets[0].Bill.Total == 0 {
		t.Errorf("problems %v, set %q, total %d", r.Problems, r.Sets[0].Err, r.Sets[0].Bill.Total)
	}
}

// BenchmarkDerive is the whole chain after one toggle, best choice and deltas
// left out.
func BenchmarkDerive(b *testing.B) {
	j, books := largeJob(b), largeBooks()
	j.Sets[0].Accept = append([]string(nil), j.Sets[0].Accept...)
	job.Derive(j, books, "")
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		j.Sets[0].Accept[30] = fmt.Sprintf("F30/%d", i%largeOptions)
		if r := job.Derive(j, books, ""); r.Sets[0].Err != "" {
			b.Fatal(r.Sets[0].Err)
		}
	}
}

// BenchmarkAgain is the same toggle as the page does it: the Result goes on
// from the one before.
func BenchmarkAgain(b *testing.B) {
	j, books := largeJob(b), largeBooks()
	j.Sets[0].Accept = append([]string(nil), j.Sets[0].Accept...)
	r := job.Derive(j, books, "")
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		j.Sets[0].Accept[30] = fmt.Sprintf("F30/%d", i%largeOptions)
		if r = job.Again(r, j, books, ""); r.Sets[0].Err != "" {
			b.Fatal(r.Sets[0].Err)
		}
	}
}

// BenchmarkAgainWithCircuit turns one option that changes the circuit over, on
// the whole jobs with sheets, between states already met.
func BenchmarkAgainWithCircuit(b *testing.B) {
	for _, c := range []struct{ name, option string }{{"drover-sheet", "T6r"}, {"tern-sheet", "T4"}} {
		b.Run(c.name, func(b *testing.B) {
			j, books := opened(b, c.name)
			r := job.Derive(j, books, "")
			for range b.N {
				j.Sets[0].Accept = r.Turn(c.option)
				j.Pick = j.Sets[0].Name
				r = job.Again(r, j, books, "")
			}
		})
	}
}

// BenchmarkDeriveWithCircuit is the whole chain from the facts on: what a
// reading costs.
func BenchmarkDeriveWithCircuit(b *testing.B) {
	for _, name := range sheetJobs {
		b.Run(name, func(b *testing.B) {
			j, books := opened(b, name)
			for range b.N {
				job.Derive(j, books, "")
			}
		})
	}
}

// openJob is the large job cut down to the most choices Best weighs: 20
// findings settled, 16 open, each with one way to do it.
func openJob(t testing.TB) *job.Job {
	j := largeJob(t)
	var options []plan.Option
	for _, o := range j.Options {
		var f int
		fmt.Sscanf(o.Finding, "F%d", &f)
		if strings.HasSuffix(o.ID, "/0") && f < largeMusts+largeUndecided {
			options = append(options, o)
		}
	}
	j.Options = options
	j.Sets[0].Accept = nil
	for _, o := range options {
		j.Sets[0].Accept = append(j.Sets[0].Accept, o.ID)
	}
	return j
}

// BenchmarkBest weighs all 65,536 choices of 16 undecided options: the
// ceiling lets none pass, so that none is spared.
func BenchmarkBest(b *testing.B) {
	j, books := openJob(b), largeBooks()
	j.Bounds.Ceiling = "1.00"
	r := job.Derive(j, books, "")
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		best, err := r.Best()
		if err != nil || best.Found {
			b.Fatal(best, err)
		}
	}
}

// BenchmarkDeltas prices the turn of each of 300 options.
func BenchmarkDeltas(b *testing.B) {
	r := job.Derive(largeJob(b), largeBooks(), "")
	b.ResetTimer()
	for range b.N {
		if _, err := r.Deltas(); err != nil {
			b.Fatal(err)
		}
	}
}

// Best by the ledger and best by whole bills name the same choice.
func TestBestOfTheLedger(t *testing.T) {
	j := openJob(t)
	var kept []plan.Option // 6 undecided: whole bills are slow
	for i, o := range j.Options {
		if i < largeMusts+6 {
			kept = append(kept, o)
		}
	}
	j.Options = kept
	j.Sets[0].Accept = j.Sets[0].Accept[:len(kept)]
	for _, ceiling := range []string{"1.00", "1000.00", "1400.00", "1500.00", "1600.00", "99999.00"} {
		j.Bounds.Ceiling = ceiling
		r := job.Derive(j, largeBooks(), "")
		quick, err := r.Best()
		if err != nil {
			t.Fatal(err)
		}
		m, err := r.Model()
		if err != nil {
			t.Fatal(err)
		}
		m.Price = func(accept []string) (decision.Price, error) {
			b, err := r.Bill(accept)
			return decision.Price{Total: b.Total, Hours: float64(b.Hours), ReadyDays: b.ReadyDays, NoLead: b.NoLead}, err
		}
		slow, err := m.Best()
		if err != nil || !slices.Equal(quick.Accept, slow.Accept) || quick.Total != slow.Total || quick.Say != slow.Say {
			t.Errorf("ceiling %s: %v %d %q, by bills %v %d %q, %v", ceiling, quick.Accept, quick.Total, quick.Say, slow.Accept, slow.Total, slow.Say, err)
		}
	}
}
