package app

import (
	"slices"
	"testing"

	"lugworth/core/money"
)

func (b *bench) total() money.Amount {
	r := b.m.Open.Result
	return r.Sets[r.Force].Bill.Total
}

// 836.26 without T7a: 0.40 h at 80.00, recone 95.00 + 10 %, carriage 36.00
// are 172.50 less.
func TestDeclineLeavesEveryWayOut(t *testing.T) {
	b := atBench(t, "drover")
	b.press("decline", "A7", "", "")
	if b.total() != 66376 {
		t.Errorf("total %d", b.total())
	}
	if slices.Contains(b.m.Open.Result.Accepted(), "T7a") {
		t.Error("T7a is still in")
	}
	if saves(b.press("decline", "A7", "", "")) {
		t.Error("a second no makes a record")
	}
	b.press("undo", "", "", "")
	if b.total() != 83626 {
		t.Errorf("total after undo %d", b.total())
	}
}

func TestAYesSwapsTheOtherWay(t *testing.T) {
	b := atBench(t, "drover")
	b.press("accept", "T2a", "", "")
	if b.total() != 85050 { // 836.26 + 14.24
		t.Errorf("total %d", b.total())
	}
	if slices.Contains(b.m.Open.Result.Accepted(), "T2b") {
		t.Error("both ways are in")
	}
}

func TestDeclineWithoutAChoiceDoesNothing(t *testing.T) {
	b := empty(t)
	b.press("finding-new", "", "", "must")
	if saves(b.press("decline", b.m.Screen.Finding, "", "")) {
		t.Error("a no without a choice makes a record")
	}
}

func TestFactsKeyOutlastsAYesAndNotAFact(t *testing.T) {
	b := atBench(t, "drover")
	b.press("best", "", "", "")
	if b.m.Screen.Best != b.m.FactsKey() {
		t.Fatal("not asked for")
	}
	b.press("accept", "T9", "", "")
	if b.m.Screen.Best != b.m.FactsKey() {
		t.Error("a yes makes the best choice stale")
	}
	b.change("set", "", "bounds/ceiling", "600.00")
	if b.m.Screen.Best == b.m.FactsKey() {
		t.Error("a new ceiling leaves the best choice as it was")
	}
}
