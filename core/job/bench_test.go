package job_test

import (
	"fmt"
	"testing"

	"lugworth/core/job"
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
