package quote

import (
	"testing"

	"lugworth/core/money"
)

func TestReckon(t *testing.T) {
	usd := currency("USD")
	eight := money.Whole(8)
	tests := []struct {
		name                string
		p                   Policy
		labor, parts, other money.Amount
		want                money.Amount
		err                 bool
	}{
		// By hand: 352.00 + 36.64 + 80.00 + round(36.64 × 8 %) = 2.93 → 471.57.
		{"tax on parts", Policy{Fee: 8000, Tax: TaxRule{Percent: eight, On: []Class{Parts}}}, 35200, 3664, 0, 47157, false},
		// By hand: (352.00 + 36.64 + 140.50 + 80.00) × 1.08 = 657.87.
		{"tax on all", Policy{Fee: 8000, Tax: TaxRule{Percent: eight, On: []Class{Labor, Parts, Other, Fee}}}, 35200, 3664, 14050, 65787, false},
		{"no tax", Policy{Fee: 6000}, 24000, 2447, 0, 32447, false},
		{"nothing but the fee", Policy{Fee: 8000, FeeCredited: true}, 0, 0, 0, 8000, false},
		// The credit stops at what the work is worth: 80.00 − 6.52 + 6.52.
		{"fee credited in part", Policy{Fee: 8000, FeeCredited: true}, 600, 52, 0, 8000, false},
		{"fee credited whole", Policy{Fee: 8000, FeeCredited: true}, 35200, 3664, 0, 38864, false},
		// By hand: parts are 36.64 of 468.64 = 7.8 %: not more than 10 %, no tax.
		{"parts below their share", Policy{Fee: 8000, Tax: TaxRule{Percent: eight, On: []Class{Parts}, HasShare: true, ShareOver: money.Whole(10)}}, 35200, 3664, 0, 46864, false},
		{"parts above their share", Policy{Fee: 8000, Tax: TaxRule{Percent: eight, On: []Class{Parts}, HasShare: true, ShareOver: money.Whole(5)}}, 35200, 3664, 0, 47157, false},
		{"negative fee", Policy{Fee: -1}, 100, 0, 0, 0, true},
		{"a sum too large", Policy{}, 1<<63 - 1, 1, 0, 0, true},
	}
	for _, tt := range tests {
		tt.p.Currency = usd
		got, err := tt.p.Reckon(tt.labor, tt.parts, tt.other)
		if got != tt.want && !tt.err || (err != nil) != tt.err {
			t.Errorf("%s: %d, %v; want %d", tt.name, got, err, tt.want)
		}
	}
}
