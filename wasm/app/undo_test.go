package app

import (
	"testing"

	"lugworth/core/record"
	"lugworth/wasm/port"
)

// Undo outlives the page: after it is loaded anew, presses are taken back one
// by one, and not what was taken back before, what came with a file or what
// was frozen.
func TestUndoOutlivesThePage(t *testing.T) {
	b := empty(t)
	if b.m.MayUndo() {
		t.Error("that there is a job can be undone")
	}
	b.press("finding-new", "", "", "")
	b.press("finding-new", "", "", "")
	b.press("finding-new", "", "", "")
	b.press("undo", "", "", "")
	id, file := b.m.Open.ID, b.m.Open.Log.File().Write()

	again := &bench{t: t, m: Start(), n: b.n + 1000}
	again.m.Screen.Tab.Writer = true
	again.send(port.Loaded{Device: "d1", Fresh: again.fresh(), Jobs: []port.Job{{ID: id, Snapshot: file}}})
	if n := len(again.m.Open.Job.Findings); n != 2 || !again.m.MayUndo() {
		t.Fatalf("%d findings, may undo %v", n, again.m.MayUndo())
	}
	again.press("undo", "", "", "")
	if n := len(again.m.Open.Job.Findings); n != 1 {
		t.Errorf("%d findings after one undo, want 1", n)
	}
	again.press("redo", "", "", "")
	if n := len(again.m.Open.Job.Findings); n != 2 {
		t.Errorf("%d findings done again, want 2", n)
	}

	other := &bench{t: t, m: Start(), n: b.n + 2000}
	other.m.Screen.Tab.Writer = true
	other.send(port.Loaded{Device: "another", Fresh: other.fresh(), Jobs: []port.Job{{ID: id, Snapshot: file}}})
	if other.m.MayUndo() {
		t.Error("another device's presses can be undone")
	}
	yes := []record.Record{{ID: "c", Device: "phone", Kind: record.Consent, N: 3}}
	if n := len(undoable(append([]record.Record{{ID: "a", Device: "d1", Kind: "finding", N: 2}}, yes...), record.State{}, "d1")); n != 0 {
		t.Error("what an answer taken on another device was given of can be undone")
	}
	if demo := started(t); demo.m.MayUndo() {
		t.Error("the demo can be undone away")
	}
}
