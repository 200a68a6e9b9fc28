package app

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
	"lugworth/wasm/port"
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
	key := b.m.FactsKey()
	b.press("accept", "T9", "", "")
	if b.m.FactsKey() != key {
		t.Error("a yes makes the best choice stale")
	}
	b.change("set", "", "bounds/ceiling", "600.00")
	if b.m.FactsKey() == key {
		t.Error("a new ceiling leaves the best choice as it was")
	}
}

// weigh turns to Call and lets every piece be done, as the browser does.
func (b *bench) weigh() *Weigh {
	b.t.Helper()
	b.press("posture", "call", "", "")
	for range 10_000 {
		if b.m.Weigh().idle() {
			return b.m.Weigh()
		}
		b.send(port.Elapsed{Tag: tagWeigh})
	}
	b.t.Fatal("weighing does not come to an end")
	return nil
}

// The touring player's best is musts, T5 and T9 at 432.37; told 460.00 on the
// telephone, T7 comes too at 456.37. The record stays until it is put there.
func TestBestAsItIsSaid(t *testing.T) {
	b := atBench(t, "tern")
	best, wrong := b.weigh().Best()
	if wrong != "" || best.Total != 43237 || !best.Proven {
		t.Fatalf("%+v %s", best, wrong)
	}
	if len(b.form("best", "", "ceiling", "460", "day", "the 20th")) == 0 {
		t.Error("nothing is weighed anew")
	}
	w := b.weigh()
	best, _ = w.Best()
	if best.Total != 45637 || best.Say != "raise the ceiling by 68.37 and T8 comes too" || w.Limits.Days != 18 { // 2 to 20 March
		t.Errorf("%+v, day %d", best, w.Limits.Days)
	}
	if got := b.m.Open.Job.Bounds; got.Ceiling != "450.00" || got.Days != "21" {
		t.Errorf("the record changed: %+v", got)
	}
	b.press("take-best", "", "", "")
	if b.total() != 45637 {
		t.Errorf("taken: %d", b.total())
	}
	b.press("best-agree", "", "", "")
	if got := b.m.Open.Job.Bounds; got.Ceiling != "460.00" || got.Days != "18" || b.m.Screen.Said.Asked {
		t.Errorf("put on record: %+v", got)
	}
	b.form("best", "", "ceiling", "a lot", "day", "")
	if _, wrong := b.weigh().Best(); !strings.Contains(wrong, "a lot") {
		t.Errorf("%q", wrong)
	}
	b.press("best-record", "", "", "")
	if _, wrong := b.weigh().Best(); wrong != "" {
		t.Error(wrong)
	}
}

// A search that takes long is ended and says what it knows; it blocks nothing.
func TestBestIsStopped(t *testing.T) {
	b := atBench(t, "tern")
	b.press("posture", "call", "", "")
	b.press("best-stop", "", "", "")
	w := b.m.Weigh()
	if best, wrong := w.Best(); w.Seeking() || w.Fronting() || wrong != "" || !best.Proven && !strings.HasPrefix(best.Say, "not proven") {
		t.Errorf("%+v %q", best, wrong)
	}
}

// Turns: T9 is 18.00 and 3.02, and alone brings both set-ups, 90.00; a yes to
// it is worked out once for each choice.
func TestTurnsFromThePresentChoice(t *testing.T) {
	b := atBench(t, "tern")
	w := b.weigh()
	turn, ok := w.Turn("T9")
	alone, okA := w.Alone("T9")
	if !ok || !okA || turn.Total != -2102 || alone.Total != 2102+9000 {
		t.Errorf("%+v %+v", turn, alone)
	}
	b.press("accept", "T9", "", "")
	if turn, ok := b.m.Weigh().Turn("T9"); !ok || turn.Total != 2102 {
		t.Errorf("before the page is drawn: %v %+v", ok, turn)
	}
	if b.m.Weigh() != w || len(w.turns) != 2 {
		t.Errorf("%d choices kept", len(w.turns))
	}
	// The finding last pressed stands first: B9 is last of the shoulds.
	if got := nearest(b.m.Open.Result, "B9")[0]; got != "T9" {
		t.Errorf("nearest %s", got)
	}
}

// The tern's least is one way of each must; taking it leaves T5 and T9 out.
func TestTakeLeast(t *testing.T) {
	b := atBench(t, "tern")
	l, wrong := b.weigh().Least()
	if wrong != "" || len(l.Points) != 1 || len(b.m.Weigh().Levers()) != 1 {
		t.Fatalf("%+v %s", l, wrong)
	}
	b.press("take-least", strings.Join(l.Points[0].Accept, " "), "", "")
	if b.total() != 32447 {
		t.Errorf("total %d", b.total())
	}
	if saves(b.press("take-least", "T1", "", "")) {
		t.Error("a choice that is none of them is taken")
	}
}

func TestSaidDay(t *testing.T) {
	for said, want := range map[string]int{"21": 21, "21 days": 21, "by the 20th": 18, "the 1st": 30, "2nd": 0, "2026-04-02": 31} {
		if n, err := SaidDay(said, "2026-03-02"); err != nil || n != want {
			t.Errorf("%q: %d, %v; want %d", said, n, err, want)
		}
	}
	for _, said := range []string{"soon", "-3", "the 32nd", "2025-01-01", "20h"} {
		if n, err := SaidDay(said, "2026-03-02"); err == nil {
			t.Errorf("%q: %d", said, n)
		}
	}
}
