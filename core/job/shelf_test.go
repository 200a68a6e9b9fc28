package job_test

import (
	"reflect"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// The shop's shelf costs an order nothing, and is used before anything is
// bought. By hand, in USD, with N at 1.10:
//
//	3 of M-20 on the shelf  M 13.70 + 36.00 + 6.00 = 55.70, N (2.40 + 3.00 + 1.50)·1.1 = 7.59   63.29
//	                        all at M: 13.70 + 36.00 + 6.40 + 5.40 = 61.50, free                 61.50
//	2 of M-20 on the shelf  do not serve three places and stay there            72.89
//	2 of N-20 on the shelf  the plan's own part: 2 are taken, the third is the same part,
//	                        N (4.40 + 1.50)·1.1 = 6.49, M 61.50 as above, free  67.99
//	3 of N-20 on the shelf  nothing left to buy of it                           61.50
func TestTheShelfIsUsedFirst(t *testing.T) {
	for _, c := range []struct {
		rows, cost string
		swaps      int
		taken      int
	}{
		{"M,M-20,3", "61.5", 4, 3},
		{"M,M-20,2", "72.89", 2, 0},
		{"N,N-20,2", "67.99", 3, 2},
		{"N,N-20,3", "61.5", 3, 3},
	} {
		j, b := marten(t, job.File{Name: "stock.csv", Data: []byte("list,number,pieces\n" + c.rows + "\n")})
		r := job.Derive(j, b, "")
		if len(r.Problems) > 0 {
			t.Errorf("%s: %v", c.rows, r.Problems)
		}
		o := ordering(t, r)
		a := cheapest(t, o, order.Limits{})
		if got := order.Exact(a.Cost, a.Places+2); got != c.cost || len(o.Swaps(a)) != c.swaps {
			t.Errorf("%s: costs %s with swaps %v, want %s with %d", c.rows, got, o.Swaps(a), c.cost, c.swaps)
		}
		got, err := r.BuyOf(o, a)
		sum := 0
		for _, s := range got.Stock {
			sum += s.Pieces
		}
		if err != nil || sum != c.taken {
			t.Errorf("%s: from stock %+v, %v, want %d pieces", c.rows, got.Stock, err, c.taken)
		}
		sameCost(t, 0, o, a, got)
		next := *j
		next.Buying.Swaps = o.Swaps(a)
		if again := job.Derive(&next, b, ""); !reflect.DeepEqual(again.Buy, got) || len(again.Problems) > 0 {
			t.Errorf("%s: recorded, bought %+v, want %+v: %v", c.rows, again.Buy, got, again.Problems)
		}
	}
}
