package app

import (
	"strings"
	"testing"

	triage "lugworth/core/bench"
	"lugworth/wasm/port"
)

// From the last test to the report: the amp is held back until tests are
// written down, the final chart is read and each old part has a place.
func TestTheAmpLeaves(t *testing.T) {
	b := atBench(t, "tern")
	if rel := b.m.Open.Result.Release(); rel.Free {
		t.Fatal("released before anything was tested")
	}
	for _, c := range triage.Finals {
		if c.ID == "chart" {
			continue
		}
		b.press("final", c.ID, "", "passed")
		b.send(port.Changed{Where: port.Where{Act: "set", ID: c.ID, K: "final/say"}, Fresh: b.fresh(), Value: "0.1 ohms"})
	}
	for _, p := range b.m.Open.Result.OldParts() {
		b.press("old-part", p.Option, "", "given back")
	}
	b.press("final-chart", "", "", "")
	if b.m.Screen.Bench != "readings" || !strings.Contains(b.m.Screen.Entry.State, "final") {
		t.Errorf("the chart is %q in state %q", b.m.Screen.Bench, b.m.Screen.Entry.State)
	}
	r := b.m.Open.Job.Amp.Readings[0]
	b.reads(Entry{At: r.At, Quantity: r.Quantity, Value: "300", Unit: "V", Mains: "243.0", State: "final"})
	if b.m.Screen.Ask != "" {
		b.press("reading-anyway", "", "", "")
	}
	rel := b.m.Open.Result.Release()
	for _, n := range rel.Never { // a must that the choice leaves out keeps it back
		if !strings.HasPrefix(n, "not done:") {
			t.Error(n)
		}
	}
	if len(rel.Wants)+len(rel.OldOpen) > 0 {
		t.Error(rel.Say())
	}
	b.press("hand-back", "", "", "")
	if s, err := b.m.Sheet(); err != nil || b.m.Screen.Posture != "papers" || len(s.Blocks) < 5 {
		t.Errorf("%v, %d blocks", err, len(s.Blocks))
	}
}

// One press notes every old part where its option means it to go, and leaves
// alone what was noted otherwise before.
func TestOldPartsAsMeant(t *testing.T) {
	b := atBench(t, "tern")
	parts := b.m.Open.Result.OldParts()
	if len(parts) < 2 {
		t.Fatalf("%d old parts: nothing is tested", len(parts))
	}
	other := triage.Places[3]
	b.press("old-part", parts[0].Option, "", other)
	b.press("old-parts-meant", "", "", "")
	for i, p := range b.m.Open.Result.OldParts() {
		want := MeantPlace(p)
		if i == 0 {
			want = other
		}
		if p.Place != want {
			t.Errorf("%s is %q, want %q", p.Option, p.Place, want)
		}
	}
}
