package job_test

import (
	"fmt"
	"runtime"
	"slices"
	"testing"
	"time"

	"lugworth/core/job"
	"lugworth/core/shop"
)

// datedBooks are the books of the large job with the shop's hours stated.
func datedBooks() *job.Books {
	b := largeBooks()
	for _, row := range [][2]string{{"bench_hours", "4"}, {"open_days", "mon-fri"}, {"holidays", "none"}, {"answer_days", "0/1/4"}, {"carriage_days", "1/2/4"}, {"date_test", string(shop.P80)}} {
		b.Sheet = b.Sheet.Set(row[0], row[1], "own")
	}
	return b
}

// BenchmarkDateOfTheLargeJob is the date of a choice of 60 tasks that was not
// asked for before, as a yes or no asks for it.
func BenchmarkDateOfTheLargeJob(b *testing.B) {
	r := job.Derive(largeJob(b), datedBooks(), "2026-03-09")
	accept := slices.Clone(r.Accepted())
	if d := r.DatesOf(accept); !d.Ok() {
		b.Fatal(d.Missing)
	}
	i, most := 0, time.Duration(0)
	for b.Loop() {
		i++
		accept[i%len(accept)] = fmt.Sprintf("F%d/%d", i%len(accept), i/len(accept)%largeOptions)
		start := time.Now()
		r.ReadyP80(accept)
		most = max(most, time.Since(start))
	}
	took := b.Elapsed() / time.Duration(i)
	verdict := "met"
	if took > 16*time.Millisecond {
		verdict = "missed"
	}
	fmt.Printf("figure | date of a choice of 60 tasks, %s | %.1f ms | target 16 ms | %s | worst %.1f ms\n", runtime.GOOS, took.Seconds()*1e3, verdict, most.Seconds()*1e3)
}
