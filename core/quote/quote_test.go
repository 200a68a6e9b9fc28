package quote

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// TestTotals: the sums of both invented jobs, by hand.
//
// Selling prices in USD at +25 %: kit 9.50→11.875→11.88, fuse .60→.75,
// axial 5.20→6.50, film .75→.9375→.94, 25 µF 1.40→1.75, pair 54→67.50,
// 300 Ω 1.20→1.50, paper-look 14→17.50.
// In GBP: price ·1.2 tax ·1.2 mark-up, or EUR price ·.86 ·1.2: can 20.88,
// quartet 74.88, r82 1.584→1.58, c220 .864→.86, fuse .5184→.52, lead
// 7.488→7.49, jack 3.024→3.02, c33 4.3344→4.33, c01 1.3416→1.34.
func TestTotals(t *testing.T) {
	tests := []struct {
		name, accept                   string
		bench                          bench
		hours                          unit.Hours // to 1e-9
		labor, parts, other, fee, tax  string
		total, withAllowance, estimate string
		days                           int
		noLead                         string
	}{
		// Parts: 11.88 + 2·.75 + 3·6.50 + 4·.94 = 36.64; tax 2.9312; 10 % of 352 = 35.20.
		{"safety only", "T1 T2b T3/film", drover, 4.4, "352.00", "36.64", "0.00", "80.00", "2.93", "471.57", "506.77", "471.57", 2, ""},
		// + 3·1.75 + 67.50 + 1.50 = 110.89; recone 95·1.1 + 36 = 140.50; tax 8.8712; 49.60.
		{"player", "T1 T2b T3/film T4 T6 T6r T7a T8 T10", drover, 6.2, "496.00", "110.89", "140.50", "80.00", "8.87", "836.26", "885.86", "836.26", 21, ""},
		// 13.38 + 19.50 + 4·17.50 + 5.25 + 1.50 = 109.63; tax 8.7704; 60.80. The paper-look list states no lead.
		{"collector", "T1 T2c T3/paper-look T4 T6r T7b T8 T9 T10", drover, 7.6, "608.00", "109.63", "0.00", "80.00", "8.77", "806.40", "867.20", "806.40", 2, "R-2301"},
		{"all declined", "", drover, 0, "0.00", "0.00", "0.00", "80.00", "0.00", "80.00", "80.00", "80.00", 0, ""},
		// Parts of the musts: .52 + 7.49 + 2·4.33 + 1.58 + .86 + 4·1.34 = 24.47.
		{"musts only", "T1 T2 T3ii T4 T6", tern, 4.0, "240.00", "24.47", "0.00", "60.00", "0.00", "324.47", "324.47", "324.47", 4, ""},
		// + 12.00 + 74.88 and 18.00 + 3.02.
		{"musts T5 T9", "T1 T2 T3ii T4 T6 T5 T9", tern, 4.5, "270.00", "102.37", "0.00", "60.00", "0.00", "432.37", "432.37", "432.37", 4, ""},
		// 324.47 + 86.88 + 24.00.
		{"musts T5 T7", "T1 T2 T3ii T4 T6 T5 T7", tern, 4.6, "276.00", "99.35", "0.00", "60.00", "0.00", "435.35", "435.35", "435.35", 4, ""},
		// 432.37 + 24.00.
		{"without T8", "T1 T2 T3ii T4 T6 T5 T7 T9", tern, 4.9, "294.00", "102.37", "0.00", "60.00", "0.00", "456.37", "456.37", "456.37", 4, ""},
		// − .4 h = 24.00; can 20.88 for 8.66.
		{"without T8, new can", "T1 T2 T3i T4 T6 T5 T7 T9", tern, 4.5, "270.00", "114.59", "0.00", "60.00", "0.00", "444.59", "444.59", "444.59", 35, ""},
		// 456.37 + 1.2 h.
		{"everything", "T1 T2 T3ii T4 T6 T5 T7 T8 T9", tern, 6.1, "366.00", "102.37", "0.00", "60.00", "0.00", "528.37", "528.37", "528.37", 4, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := tt.bench.bill(t, tt.accept)
			if math.Abs(float64(b.Hours-tt.hours)) > 1e-9 {
				t.Errorf("hours %v, want %v", float64(b.Hours), float64(tt.hours))
			}
			check := func(name string, got money.Amount, want string) {
				if s := b.Currency.Format(got); s != want {
					t.Errorf("%s %s, want %s", name, s, want)
				}
			}
			check("labor", b.Labor, tt.labor)
			check("parts", b.Parts, tt.parts)
			check("other", b.Other, tt.other)
			check("fee", b.Fee, tt.fee)
			check("tax", b.Tax, tt.tax)
			check("total", b.Total, tt.total)
			check("with allowance", b.WithAllowance, tt.withAllowance)
			check("estimate", b.Estimate, tt.estimate)
			if b.ReadyDays != tt.days || strings.Join(b.NoLead, " ") != tt.noLead {
				t.Errorf("ready in %d days, no lead %v; want %d, %q", b.ReadyDays, b.NoLead, tt.days, tt.noLead)
			}
			addsUp(t, b)
		})
	}
}

// addsUp adds the printed lines up, apart from the code under test.
func addsUp(t *testing.T, b Bill) {
	t.Helper()
	var all money.Amount
	class := map[Class]money.Amount{}
	for _, l := range b.Lines {
		all += l.Amount
		class[l.Class] += l.Amount
		if l.Class == Parts && l.Amount != l.Each*money.Amount(l.Pieces) {
			t.Errorf("line %s: %d × %d is not %d", l.ID, l.Pieces, l.Each, l.Amount)
		}
	}
	want := map[Class]money.Amount{Labor: b.Labor, Parts: b.Parts, Other: b.Other, Fee: b.Fee, Tax: b.Tax}
	for c, sum := range want {
		if class[c] != sum {
			t.Errorf("%s lines come to %d, total is %d", c, class[c], sum)
		}
	}
	if all != b.Total || b.Total != b.Payable || b.Deposit+b.Balance != b.Payable {
		t.Errorf("lines %d, total %d, payable %d, deposit %d, balance %d", all, b.Total, b.Payable, b.Deposit, b.Balance)
	}
}

// TestTapAlone: moving the tap bills a tenth of an hour and a fuse, beside the
// set-up that is due anyway: 6.00 + .52.
func TestTapAlone(t *testing.T) {
	with, without := tern.bill(t, "T2 T1"), tern.bill(t, "T2")
	if got := with.Total - without.Total; got != 652 {
		t.Errorf("the tap costs %d, want 652", got)
	}
}

// TestPeriodCanCostsMore: the rebuilt can is .9 h dearer than the three parts
// under the chassis: 72.00.
func TestPeriodCanCostsMore(t *testing.T) {
	b, c := drover.bill(t, "T1 T2b T3/film"), drover.bill(t, "T1 T2c T3/film")
	if got := c.Labor - b.Labor; got != 7200 {
		t.Errorf("T2c costs %d more labor than T2b, want 7200", got)
	}
}

// TestTaxRules: what is taxed, and which total tax stands in. One labor line
// of 100.00 − part, one part, no fee, so that the charge is 100.00.
func TestTaxRules(t *testing.T) {
	over10 := TaxRule{Percent: dec("8"), On: []Class{Parts}, HasShare: true, ShareOver: dec("10"), Outside: true,
		Source: "place rule as typed by the user", Date: "2024", Mark: "user"}
	all := TaxRule{Percent: dec("20"), On: []Class{Labor, Parts, Other, Fee}}
	tests := []struct {
		name                   string
		rule                   TaxRule
		part                   string
		tax, estimate, payable string
		note                   string
	}{
		{"9.9 % untaxed", over10, "9.90", "0.00", "100.00", "100.00", "parts are not more than 10 % of the charge before tax"},
		{"10.0 % is not over", over10, "10.00", "0.00", "100.00", "100.00", "not more than 10 %"},
		// 10.10 · 8 % = .808.
		{"10.1 % taxed", over10, "10.10", "0.81", "100.00", "100.81", "parts are more than 10 %"},
		{"outside says so", over10, "10.10", "0.81", "100.00", "100.81", "tax is outside the estimate total (place rule as typed by the user, 2024, user)"},
		{"all, inside", all, "10.10", "20.00", "120.00", "120.00", "tax is inside the estimate total"},
		{"not registered", TaxRule{}, "10.10", "0.00", "100.00", "100.00", "no tax is charged; check with your local tax authority"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b, err := Price(hundred(t, tt.rule, tt.part))
			if err != nil {
				t.Fatal(err)
			}
			c := b.Currency
			if c.Format(b.Tax) != tt.tax || c.Format(b.Estimate) != tt.estimate || c.Format(b.Payable) != tt.payable {
				t.Errorf("tax %s, estimate %s, payable %s; want %s, %s, %s",
					c.Format(b.Tax), c.Format(b.Estimate), c.Format(b.Payable), tt.tax, tt.estimate, tt.payable)
			}
			if notes := strings.Join(b.Notes, "\n"); !strings.Contains(notes, tt.note) || !strings.Contains(notes, "rounded to 0.01 USD, half up") {
				t.Errorf("notes\n%s\nwant %q and the rounding", notes, tt.note)
			}
			for _, l := range b.Lines {
				if taxed := b.Tax > 0 && slices.Contains(tt.rule.On, l.Class); l.Taxed != taxed {
					t.Errorf("line %s taxed %v, want %v", l.ID, l.Taxed, taxed)
				}
			}
			addsUp(t, b)
		})
	}
}

func hundred(t *testing.T, rule TaxRule, part string) Input {
	t.Helper()
	each := dollars(part)
	work := dollars("100.00") - each
	return Input{
		Policy: Policy{Currency: currency("USD"), Tax: rule},
		Labor:  labor.Estimate{Amount: work, Lines: []labor.Line{{ID: "T1", Amount: work}}},
		Parts:  []Part{{Number: "P", Pieces: 1, Selling: each}},
	}
}

// TestRounding: 0.5 % of 1.00 is half a cent.
func TestRounding(t *testing.T) {
	for r, want := range map[money.Rounding]money.Amount{money.HalfUp: 1, money.HalfEven: 0, money.Down: 0} {
		in := Input{Policy: Policy{Currency: currency("USD"), Rounding: r, Tax: TaxRule{Percent: dec("0.5"), On: []Class{Parts}}},
			Parts: []Part{{Number: "P", Pieces: 1, Selling: 100}}}
		b, err := Price(in)
		if err != nil || b.Tax != want || !strings.Contains(b.Notes[0], r.String()) {
			t.Errorf("%v: tax %d, notes %q, %v; want %d and the setting printed", r, b.Tax, b.Notes, err, want)
		}
	}
}

// TestFeeCredit: the fee comes off up to the work's worth, so work never makes
// a bill smaller.
func TestFeeCredit(t *testing.T) {
	tests := []struct {
		name  string
		work  money.Amount
		total money.Amount
	}{
		{"nothing accepted", 0, 8000},
		{"small work", 652, 8000},
		{"work worth the fee", 8000, 8000},
		{"more work", 35200, 35200},
	}
	for _, tt := range tests {
		in := Input{Policy: Policy{Currency: currency("USD"), Fee: 8000, FeeCredited: true}}
		if tt.work > 0 {
			in.Labor = labor.Estimate{Amount: tt.work, Lines: []labor.Line{{ID: "T1", Amount: tt.work}}}
		}
		b, err := Price(in)
		if err != nil || b.Total != tt.total {
			t.Errorf("%s: total %d, %v; want %d", tt.name, b.Total, err, tt.total)
		}
		addsUp(t, b)
	}
}

// TestDeposit: half of 471.57 is 235.785, and the balance is what is left.
func TestDeposit(t *testing.T) {
	in := drover.input(t, "T1 T2b T3/film")
	in.Policy.Deposit = dec("50")
	b, err := Price(in)
	if err != nil || b.Deposit != 23579 || b.Balance != 23578 {
		t.Errorf("deposit %d, balance %d, %v; want 23579, 23578", b.Deposit, b.Balance, err)
	}
}

// TestAddingNeverLowers: over every choice of one job and every option more,
// the total never falls, and the lines add up. (A share-of-bill test on parts
// is left out: there a little more labor can lift the tax off the parts.)
func TestAddingNeverLowers(t *testing.T) {
	ids := strings.Fields("T1 T2b T3/film T4 T5 T6 T7a T9")
	for _, credited := range []bool{false, true} {
		shop := drover
		shop.policy.FeeCredited = credited
		totals := make([]money.Amount, 1<<len(ids))
		for mask := range totals {
			var accept []string
			for i, id := range ids {
				if mask>>i&1 == 1 {
					accept = append(accept, id)
				}
			}
			b := shop.bill(t, strings.Join(accept, " "))
			addsUp(t, b)
			totals[mask] = b.Total
			for i, id := range ids {
				if mask>>i&1 == 1 && totals[mask] < totals[mask&^(1<<i)] {
					t.Fatalf("%v: adding %s lowers the total from %d to %d", accept, id, totals[mask&^(1<<i)], totals[mask])
				}
			}
		}
	}
}

func TestPriceRefuses(t *testing.T) {
	tests := []struct {
		name string
		in   Input
		want string
	}{
		{"no pieces", Input{Parts: []Part{{Option: "T1", Number: "P"}}}, "part P of T1: 0 pieces, want 1 or more"},
		{"negative price", Input{Parts: []Part{{Option: "T1", Number: "P", Pieces: 1, Selling: -1}}}, "part P of T1: the selling price is -1"},
		{"negative fee", Input{Policy: Policy{Fee: -1}}, "bench fee"},
		{"negative subcontract", Input{Subcontracts: []Subcontract{{Say: "recone", Option: "T7a", Price: dec("-1")}}}, "subcontract recone of T7a"},
		{"too large", Input{Parts: []Part{{Number: "P", Pieces: math.MaxInt, Selling: 1 << 40}}}, "part P"},
	}
	for _, tt := range tests {
		if _, err := Price(tt.in); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
}

// TestWhyReachesEveryLine: the total's reason holds each line's sum.
func TestWhyReachesEveryLine(t *testing.T) {
	b := drover.bill(t, "T1 T2b T3/film T7a")
	// 471.57 + .4 h · 80 + 140.50.
	if got := b.Why.Shown(); got != "644.07 USD" {
		t.Errorf("total %s, want 644.07 USD", got)
	}
	text := why.Print(b.Why)
	for _, l := range b.Lines {
		if l.Why == nil || !strings.Contains(text, l.Why.Shown()) {
			t.Errorf("line %s has no reason under the total", l.ID)
		}
	}
}
