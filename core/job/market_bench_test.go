package job_test

import (
	"fmt"
	"reflect"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// openLarge is the large job with options that name no offer: every line may
// be bought from eight suppliers.
func openLarge(tb testing.TB) *job.Job {
	j := largeJob(tb)
	for i := range j.Sets[0].Accept {
		j.Sets[0].Accept[i] = fmt.Sprintf("F%d/1", i)
	}
	return j
}

// What is remembered from one Result to the next changes nothing of the
// market: it is the one a first Result gives.
func TestTheMarketForgetsNoToggle(t *testing.T) {
	j, b := marten(t)
	set := j.Sets[0].Accept
	var r *job.Result
	for i := range 2 * len(set) {
		next := *j
		next.Sets = []job.Set{{Name: j.Sets[0].Name}}
		for k, id := range set {
			if (i+k)%3 != 0 {
				next.Sets[0].Accept = append(next.Sets[0].Accept, id)
			}
		}
		r = job.Again(r, &next, b, "")
		again, plain := ordering(t, r), ordering(t, job.Derive(&next, b, ""))
		if !reflect.DeepEqual(again.Market, plain.Market) || !reflect.DeepEqual(again.Assumed, plain.Assumed) || len(again.Market.Wants) == 0 {
			t.Fatalf("%v:\nagain %+v\nplain %+v", next.Sets[0].Accept, again.Market, plain.Market)
		}
		if a, p := cheapest(t, again, order.Limits{}), cheapest(t, plain, order.Limits{}); !reflect.DeepEqual(a, p) {
			t.Fatalf("%v: again %+v, plain %+v", next.Sets[0].Accept, a, p)
		}
	}
}

// BenchmarkOrdering makes the market of the large job after a toggle: 60 needs,
// eight lists of 5,000 rows.
func BenchmarkOrdering(b *testing.B) {
	j, books := openLarge(b), largeBooks()
	r := job.Derive(j, books, "")
	ordering(b, r)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		b.StopTimer()
		j.Sets[0].Accept[30] = fmt.Sprintf("F30/%d", i%largeOptions)
		r = job.Again(r, j, books, "")
		b.StartTimer()
		ordering(b, r)
	}
}

// BenchmarkOrderingAnew is the first market after facts or books changed.
func BenchmarkOrderingAnew(b *testing.B) {
	j, books := openLarge(b), largeBooks()
	for range b.N {
		b.StopTimer()
		r := job.Derive(j, books, "")
		b.StartTimer()
		ordering(b, r)
	}
}

// BenchmarkNear lists the near misses of one opened need.
func BenchmarkNear(b *testing.B) {
	j, books := openLarge(b), largeBooks()
	o := ordering(b, job.Derive(j, books, ""))
	o.Near(order.Limits{}, 0)
	for b.Loop() {
		o.Near(order.Limits{}, 0)
	}
}
