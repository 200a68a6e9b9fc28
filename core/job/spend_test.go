package job_test

import (
	"testing"

	"lugworth/core/job"
	"lugworth/core/money"
)

// By hand, from the lists of each archive.
//
//	drover, Player: billed 11.88 + 2·0.75 + 3·6.50 + 4·0.94 + 3·1.75 + 67.50 + 1.50 = 110.89
//	  goods 9.50 + 5·0.60 + 3·5.20 + 10·0.75 + 3·1.40 + 54.00 + 1.20 = 95.00; of these
//	  3 fuses (1.80) and 6 films (4.50) to stock: 6.30
//	tern, musts T5 T9: supplier U in GBP with 20 % not reclaimed, E in EUR at 0.86, tax in the price
func TestSpend(t *testing.T) {
	for _, tt := range []struct {
		job                string
		owner, used, spare money.Amount
	}{
		{"drover", 11089, 8870, 630},
		// U: lead 5.20, fuse 5·0.36, r82 1.10, c220 0.60, quartet 52.00, jack 2.10 = 62.80 · 1.2 = 75.36
		// used: 4 fuses fewer: 61.36 · 1.2 = 73.632
		// E: 2·4.20 + 4·1.30 = 13.60 · 0.86 = 11.696
		{"tern", 10237, 7363 + 1170, 7536 - 7363},
	} {
		s, err := derived(t, tt.job).Spend()
		if err != nil {
			t.Fatalf("%s: %v", tt.job, err)
		}
		if s.Owner != tt.owner || s.Used != tt.used || s.Spare != tt.spare {
			t.Errorf("%s: owner %d, used %d, spare %d, want %d, %d, %d", tt.job, s.Owner, s.Used, s.Spare, tt.owner, tt.used, tt.spare)
		}
		if s.Order != s.Used+s.Spare+s.Carriage || s.Left != s.Owner-s.Order {
			t.Errorf("%s: %+v does not add up", tt.job, s)
		}
		if s.Why == nil || s.Why.Value.String() == "" {
			t.Errorf("%s: the difference gives no reason", tt.job)
		}
	}
}

func TestSpendNeedsAChoice(t *testing.T) {
	j, b := opened(t, "drover")
	j.Pick = ""
	if _, err := job.Derive(j, b, "2026-01-05").Spend(); err == nil {
		t.Error("no choice is in force and the order has a cost")
	}
}

func TestLaborOf(t *testing.T) {
	r := derived(t, "drover")
	e, err := r.LaborOf("T2b")
	if err != nil {
		t.Fatal(err)
	}
	// S1 .4/.6/1.4 = 0.70 h, S2 .8/1.0/1.8 = 1.10 h, T2b .8/1.0/1.8 = 1.10 h; at 80.00 an hour 56 + 88 + 88
	if len(e.Lines) != 3 || e.Amount != 23200 {
		t.Errorf("%d lines, %d, want 3 lines, 23200", len(e.Lines), e.Amount)
	}
	if none, err := r.LaborOf("no such option"); err != nil || len(none.Lines) != 0 {
		t.Errorf("an option the job has not: %v, %v", none.Lines, err)
	}
}
