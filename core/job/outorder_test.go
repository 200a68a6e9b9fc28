package job_test

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// Both whole jobs name every offer, so that the cheapest order is the plan.
//
//	drover  K 9.50 + 5×0.60 + 3×5.20 + 10×0.75 + 3×1.40 + 54.00 + 1.20 = 95.00 USD
//	tern    E (2×4.20 + 4×1.30) 13.60 EUR × 0.86 = 11.696
//	        U (5×0.36 + 5.20 + 1.10 + 0.60 + 52.00 + 2.10) 62.80 × 1.2 = 75.36   87.056 GBP
func TestOrderingOfTheWholeJobs(t *testing.T) {
	for _, c := range []struct {
		name, cost string
		parcels    int
		says       string
	}{
		{"drover", "95", 1, "carriage not stated by K: the bound holds without it"},
		{"tern", "87.056", 2, "carriage not stated by U: the bound holds without it"},
	} {
		r := derived(t, c.name)
		out := r.OutOrdering(cheapest(t, ordering(t, r), order.Limits{}))
		if *out.Cost != c.cost || *out.Planned != c.cost || *out.Lower != c.cost || !out.Proven || out.Parcels != c.parcels || len(out.Swaps) != 0 {
			t.Errorf("%s: %+v, want %s", c.name, out, c.cost)
		}
		if !strings.Contains(strings.Join(out.Assumed, "\n"), c.says) {
			t.Errorf("%s: assumed %q", c.name, out.Assumed)
		}
	}
}

// Carriage free from 77.50 at M: all seven lines there come to 77.10, with
// 6.00 carriage to 83.10, with 0.40 of spares to 77.50. The next best is the
// pair at M and the rest as planned: 49.70 + 6.00 + 22.11 = 77.81.
func TestOrderingTellsOfATopUp(t *testing.T) {
	terms := "list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage\n" +
		"M,USD,1,no,0,.,Pack,Lead days,,6.00; 0 from 77.50\nN,EUR,1.10,no,0,\",\",Per,Tage,,1.50\nP,USD,1,no,0,.,Pack,,10.00,5.00\n"
	j, b := marten(t, job.File{Name: "terms.csv", Data: []byte(terms)})
	r := job.Derive(j, b, "")
	out := r.OutOrdering(cheapest(t, ordering(t, r), order.Limits{}))
	if *out.Cost != "77.5" || len(out.TopUps) != 1 {
		t.Fatalf("%+v, %s", out, *out.Cost)
	}
	if u := out.TopUps[0]; u.Supplier != "M" || u.Amount != "0.40" || u.Carriage != "0.00" || u.Saves != "5.60" || u.Part != "M-60" || u.Packs != 1 || u.Adds != "1.20" {
		t.Errorf("%+v", u)
	}
	// The spare bought: 77.10 + 1.20 = 78.30, no carriage, and it is on the
	// part's own line.
	next := bought(t, j, `{"swaps":[{"option":"T2b","list":"M","number":"M-20"},{"option":"T3/film","list":"M","number":"M-30"},{"option":"T4","list":"M","number":"M-40"},{"option":"T6","list":"M","number":"M-50"}],"spares":[{"list":"M","number":"M-60","packs":"1"},{"list":"N","number":"N-20","packs":"2"}]}`)
	full := job.Derive(next, b, "")
	if len(full.Problems) != 1 || !strings.Contains(full.Problems[0].Error(), "N N-20 is not bought as spares") || len(full.Buy.Baskets) != 1 {
		t.Fatalf("%v %+v", full.Problems, full.Buy)
	}
	if k := full.Buy.Baskets[0]; k.Goods != 7830 || k.Carriage != 0 || k.Total != 7830 || k.TopUp.Amount != 0 {
		t.Errorf("%+v", k)
	}
	no := *j
	no.Pick = ""
	if job.Derive(&no, b, "").OutOrdering(order.Answer{}) != nil {
		t.Error("an ordering of no choice")
	}
}
