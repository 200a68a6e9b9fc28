package job_test

import (
	"strings"
	"testing"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/money"
)

// One piece at 4,20 EUR and a rate of 0.86: 3.612, printed 3.61.
func TestOnePieceInAnotherCurrency(t *testing.T) {
	terms, problems := catalog.ReadTerms("terms.csv", []byte("list,currency,rate,tax_in_price,tax_not_reclaimed,rate_date\nE,EUR,0.86,no,0,2026-01-02\nF,EUR,0.86,no,0,yesterday\n"))
	if len(terms) != 2 || terms[0].RateDate != "2026-01-02" || terms[1].RateDate != "" || len(problems) != 1 || !strings.Contains(problems[0].Error(), "yesterday") {
		t.Fatalf("%+v %v", terms, problems)
	}
	gbp, err := money.CurrencyOf("GBP")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ rate, want string }{{"0.86", "3.61"}, {"0.817", "3.43"}, {"0.903", "3.79"}} {
		terms[0].Rate = money.MustDecimal(c.rate)
		d, err := catalog.Landed(catalog.Offer{Price: money.MustDecimal("4.20"), Priced: true, Currency: "EUR"}, terms[0])
		if err != nil {
			t.Fatal(err)
		}
		a, err := d.Round(gbp, money.HalfUp)
		if err != nil || gbp.Format(a) != c.want {
			t.Errorf("4.20 EUR at %s comes to %s, want %s: %v", c.rate, gbp.Format(a), c.want, err)
		}
	}
}

// The second whole job buys 13.60 EUR at 0.86, and in its own currency 62.80
// with 20 % tax: 11.70 + 75.36 = 87.06. At 0.817: 11.11 + 75.36 = 86.47; at
// 0.903: 12.28 + 75.36 = 87.64.
//
// The owner pays, with the shop's mark-up of 20 %, a piece of E-77 at 4.20 and
// of E-81 at 1.30, rounded once each:
//
//	0.860  4.33 (4.3344) and 1.34 (1.3416): 2 × 4.33 + 4 × 1.34 = 14.02
//	0.817  4.12 (4.11768) and 1.27 (1.27452): 13.32, 0.70 less
//	0.903  4.55 (4.55112) and 1.41 (1.40868): 14.74, 0.72 more
func TestExposure(t *testing.T) {
	r := derived(t, "tern")
	got, err := r.Exposure(money.Whole(5))
	if err != nil || len(got) != 1 {
		t.Fatalf("%+v, %v", got, err)
	}
	e := got[0]
	if e.Currency != "EUR" || e.Rate.String() != "0.86" || e.Date != "" || len(e.Lists) != 1 || e.Lists[0] != "E" {
		t.Errorf("%+v", e)
	}
	if e.Order != (job.Moved{Now: 8706, Less: 8647, More: 8764}) {
		t.Errorf("the order moves %+v", e.Order)
	}
	now := r.Sets[r.Force].Bill.Total
	if e.Owner.Now != now || e.Owner.Less-now != -70 || e.Owner.More-now != 72 {
		t.Errorf("the owner's total moves %d and %d from %d", e.Owner.Less-now, e.Owner.More-now, now)
	}
	if none, err := derived(t, "drover").Exposure(money.Whole(5)); err != nil || len(none) != 0 {
		t.Errorf("an order at home is exposed: %+v, %v", none, err)
	}
	if _, err := r.Exposure(money.Whole(101)); err == nil {
		t.Error("a currency falls by more than all it is worth")
	}
}
