package rating

import (
	"strings"
	"testing"

	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// Twelve watts are the limit in every row.
func TestSettle(t *testing.T) {
	l := limit.Limit{Subject: "6V6GT", Quantity: limit.PlateWatts, High: 12, HasHigh: true, Unit: unit.Watt, Source: "card", Mark: limit.User}
	memory := l
	memory.Mark = limit.Memory
	fig := func(tier int, low, expected, high float64, doubt string) stress.Stress {
		s := stress.Stress{Subject: "V3", Quantity: limit.PlateWatts, Scenario: stress.Top, Unit: unit.Watt, Tier: tier,
			Interval: unit.Interval{Low: low, Expected: expected, High: high}, Inherited: high, Doubt: doubt}
		if tier == 1 {
			s.Band = &circuit.Band{Causes: []circuit.Cause{{Ref: "R20", Property: circuit.Ohms, Part: 0.6}}}
		}
		return s
	}
	none := func(tier int, why string) stress.Stress {
		return stress.Stress{Subject: "V3", Quantity: limit.PlateWatts, Scenario: stress.Top, Unit: unit.Watt, Tier: tier, Missing: why}
	}
	tests := []struct {
		name          string
		first, second stress.Stress
		limit         *limit.Limit
		kind          Verdict
		tier          int
		says          string
	}{
		{"both within: the circuit decides, though wider", fig(0, 10, 10.2, 10.4, ""), fig(1, 9, 10.3, 11.5, ""), &l, Within, 1, "inside by 4.2 %"},
		{"the circuit is narrower", fig(0, 9, 10.3, 11.9, ""), fig(1, 10, 10.3, 10.6, ""), &l, Within, 1, "inside by 11.7 %"},
		{"scaled within, circuit open: the circuit's, and what settles it", fig(0, 11, 11.2, 11.4, ""), fig(1, 10.8, 11.3, 12.2, ""), &l, NotProven, 1, "to settle it, measure R20"},
		{"scaled open, circuit within: the rule's", fig(0, 11.8, 12, 12.2, ""), fig(1, 11.7, 11.9, 11.95, ""), &l, NotProven, 0, "by the amp's own circuit within"},
		{"scaled over, circuit open", fig(0, 12.1, 12.2, 12.3, ""), fig(1, 11.9, 12.2, 12.5, ""), &l, OverInherited, 0, "by the amp's own circuit not proven"},
		{"no reading: the circuit alone", none(0, "screen current of V3 was not read"), fig(1, 10, 10.3, 10.6, ""), &l, Within, 1, "inside"},
		{"no rule: the circuit alone", fig(0, 10, 10, 10, "the bias does not follow the mains, so the reading cannot be scaled"), fig(1, 10, 10.3, 10.6, ""), &l, Within, 1, "inside"},
		{"a doubt about a reading stays", fig(0, 10, 10.2, 10.4, "V3:plate was read more than once at this mains, and not alike: keep the reading that holds"), fig(1, 10, 10.3, 10.6, ""), &l, NotProven, 0, "read more than once"},
		{"no circuit for it: the rule alone", fig(0, 10, 10.2, 10.4, ""), none(1, "no steady state was found"), &l, Within, 0, "inside"},
		{"a doubt of the circuit", fig(0, 10, 10.2, 10.4, ""), fig(1, 10, 10.3, 10.6, "the law is from memory"), &l, NotProven, 1, "the law is from memory; by readings scaled with the mains within"},
		{"a limit from memory", fig(0, 10, 10.2, 10.4, ""), fig(1, 10, 10.3, 10.6, ""), &memory, NotProven, 1, "from memory"},
		{"they contradict each other: 9.7 is 2 % below 9.9", fig(0, 9.9, 10, 10.1, ""), fig(1, 9.5, 9.69, 9.8, ""), &l, NotProven, 1, "contradict each other"},
		{"a contradiction makes nothing kinder", fig(0, 13, 13.1, 13.2, ""), fig(1, 12.2, 12.4, 12.6, ""), &l, OverInherited, 1, "over"},
		{"no limit", fig(0, 10, 10.2, 10.4, ""), fig(1, 10, 10.3, 10.6, ""), nil, NotEnoughData, 1, "no limit"},
		{"neither", none(0, "not read"), none(1, "not solved"), &l, NotEnoughData, 0, "not read"},
	}
	for _, tt := range tests {
		a, b := Judge(tt.first, tt.limit), Judge(tt.second, tt.limit)
		got := Settle(a, b)
		if got.Kind != tt.kind || got.Tier != tt.tier || !strings.Contains(got.Reason()+got.Against, tt.says) {
			t.Errorf("%s: %s by tier %d, %q; want %s by tier %d, in it %q", tt.name, got.Kind, got.Tier, got.Reason(), tt.kind, tt.tier, tt.says)
		}
		if quick := Settled(a, b); quick.Kind != got.Kind {
			t.Errorf("%s: without words %s, with them %s", tt.name, quick.Kind, got.Kind)
		}
		if b.HasFigure && a.HasFigure && !stress.Unruled(a.Detail) && (Less(a.Kind, got.Kind) || Less(b.Kind, got.Kind)) {
			t.Errorf("%s: %s is kinder than %s and %s", tt.name, got.Kind, a.Kind, b.Kind)
		}
	}
}
