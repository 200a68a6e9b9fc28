package app

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/wasm/port"
)

const twoRows = "ref,kind,type,value,rating,tolerance,nodes,place,note,extra\nR1,resistor,,2.7k,2W,10%,a=B1 b=B2,board,,\nR20,resistor,,270,5W,10%,a=K b=0,output cathodes,,role=cathode-resistor\n"

// A file chosen as a circuit sheet is one whatever it is called; a row whose
// reference is known takes that one's place.
func TestLoadASheetByFile(t *testing.T) {
	b := atBench(t, "drover")
	before := len(b.m.Positions())
	effects := b.press("sheet-file", "", "", "")
	if open, ok := effects[0].(port.OpenFile); len(effects) != 1 || !ok || open.For != sheetFile {
		t.Fatalf("pressed: %v", effects)
	}
	b.send(port.FileOpened{Fresh: b.fresh(), For: sheetFile, Files: []port.File{{Name: "my drover.csv", Bytes: []byte(twoRows)}}})
	if len(b.m.Screen.Problems) > 0 {
		t.Fatal(b.m.Screen.Problems)
	}
	if got := len(b.m.Positions()); got != before+1 {
		t.Errorf("%d positions, want %d: one is new, one takes a place", got, before+1)
	}
	if p, _ := b.m.Open.Job.Amp.Find("R20"); p == nil || p.Value != "270" {
		t.Errorf("R20 is %+v", p)
	}
	if len(b.m.PriceLists()) != 2 {
		t.Error("the sheet was taken for a price list")
	}
}

func TestAddAStage(t *testing.T) {
	b := atBench(t, "drover")
	before := len(b.m.Positions())
	b.change("block-choose", "", "", "triode stage")
	if b.m.Block().Name != "triode stage" {
		t.Fatalf("open: %s", b.m.Block().Name)
	}
	b.form("block-add", "triode stage", "prefix", "7", "p:load", "120k")
	if len(b.m.Screen.Circuit.Wrong) > 0 {
		t.Fatal(b.m.Screen.Circuit.Wrong)
	}
	added := b.m.Positions()[before:]
	if len(added) < 4 || !slices.ContainsFunc(added, func(p amp.Position) bool { return p.Value == "120k" }) {
		t.Errorf("added %d parts: %+v", len(added), added)
	}
	if !strings.Contains(b.m.Screen.Toast.Say, "triode stage") || !b.m.Screen.Toast.Undo {
		t.Errorf("said %+v", b.m.Screen.Toast)
	}
	all := len(b.m.Positions())
	b.form("block-add", "triode stage", "prefix", "7")
	if len(b.m.Positions()) != all || len(b.m.Screen.Circuit.Wrong) == 0 || !strings.Contains(b.m.Screen.Circuit.Wrong[0], "is there already") {
		t.Errorf("the same names again: %d positions, said %v", len(b.m.Positions()), b.m.Screen.Circuit.Wrong)
	}
	b.press("undo", "", "", "")
	if len(b.m.Positions()) != before {
		t.Errorf("undone: %d positions, want %d", len(b.m.Positions()), before)
	}
}

func TestAStageSaysWhatItLacks(t *testing.T) {
	b := atBench(t, "drover")
	before := len(b.m.Positions())
	b.form("block-add", "mains", "prefix", "8")
	if len(b.m.Positions()) != before || len(b.m.Screen.Circuit.Wrong) != 1 || !strings.HasSuffix(b.m.Screen.Circuit.Wrong[0], "is not filled in") {
		t.Errorf("%d positions, said %v", len(b.m.Positions()), b.m.Screen.Circuit.Wrong)
	}
}

// By hand: the drover has R5 to R8, R10, R11 and R20, C1a to C11 and C20, V3
// to V5 and F1: names that begin with 1 to 8; 9 is taken by C9.
func TestFreeNumberForAStage(t *testing.T) {
	if got := atBench(t, "drover").m.BlockPrefix(); got != "12" {
		t.Errorf("number %s, want 12: 1 to 9, 10 and 11 begin names that are there", got)
	}
}

func TestMainsAtTheBench(t *testing.T) {
	b := atBench(t, "drover")
	if v, ok := b.m.BenchMains(); !ok || v < 116.9 || v > 117.1 {
		t.Errorf("%v %v, want the 117.0 V of the chart and not the check's 124.0 V", v, ok)
	}
	b.change("idle-mains", "", "", "120.5")
	if v, ok := b.m.BenchMains(); !ok || v < 120.49 || v > 120.51 {
		t.Errorf("%v %v, want 120.5 V as typed", v, ok)
	}
	b.change("idle-mains", "", "", "a lot")
	if v, ok := b.m.BenchMains(); ok {
		t.Errorf("%v was read from no number", v)
	}
}

func TestFromTheListToTheChart(t *testing.T) {
	b := atBench(t, "drover")
	b.press("measure-this", "V3:screen", amp.Current, "")
	if n := b.m.Screen.Entry; b.m.Screen.Posture != "bench" || b.m.Screen.Bench != "readings" || n.At != "V3:screen" || n.Unit != "mA" {
		t.Errorf("at %s %s with %+v", b.m.Screen.Posture, b.m.Screen.Bench, n)
	}
}

func TestFromAVerdictToTheSpreads(t *testing.T) {
	b := atBench(t, "drover")
	b.press("circuit-spreads", "", "", "")
	if s := b.m.Screen; s.Posture != "plan" || s.Desk.Leaf != LeafCircuit || s.Circuit.Place != CircuitSpreads {
		t.Errorf("at %s, %s, %s", s.Posture, s.Desk.Leaf, s.Circuit.Place)
	}
}

// The tern was found on the 220 V tap; a choice that moves it to 240 V is
// dialed there: 220 ÷ 240.
func TestDialedOnTheTapOfTheChoice(t *testing.T) {
	b := atBench(t, "tern-sheet")
	accepted := false
	for _, o := range b.m.Open.Result.Options {
		accepted = accepted || o.Accepted && o.Option.Tap == "240"
	}
	ratio, tap := b.m.tapRatio()
	if !accepted || tap != "240" || ratio < 220.0/240-1e-9 || ratio > 220.0/240+1e-9 {
		t.Errorf("accepted %v, tap %q, ratio %g", accepted, tap, ratio)
	}
}

// A spread is a key of the shop sheet: an amount of one's own counts at once,
// and its source stands beside it. By hand: 10 percent is 0.10.
func TestASpreadOfOnesOwnCounts(t *testing.T) {
	b := atBench(t, "drover-sheet")
	amount := func() (float64, string) {
		for _, r := range b.m.Open.Result.Circuit.Spreads {
			if r.Key == "spread_copper" {
				return r.Amount, r.Source
			}
		}
		return 0, ""
	}
	if v, _ := amount(); v < 0.199 || v > 0.201 {
		t.Fatalf("the program's own is %g", v)
	}
	b.change("sheet-value", "spread_copper", "", "10")
	b.change("sheet-source", "spread_copper", "", "our own windings, 2026")
	if v, source := amount(); v < 0.0999 || v > 0.1001 || source != "our own windings, 2026" {
		t.Errorf("%g from %q", v, source)
	}
	for _, k := range b.m.Open.Books.Sheet.Unknown {
		if k == "spread_copper" {
			t.Error("the sheet calls the key unknown")
		}
	}
}
