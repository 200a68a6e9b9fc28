package app

import (
	"strings"
	"testing"

	"lugworth/wasm/port"
)

// What a reading lacks is said in the words of the form.
func TestReadingSaysWhatItLacks(t *testing.T) {
	tests := []struct {
		at, value, mains, want string
	}{
		{"B1", "325", "", "mains at that moment is not entered"},
		{"B1", "", "117.0", "What does it read?"},
		{"", "325", "117.0", "Where is it read?"},
		{"B1", "3x5", "117.0", "3x5"},
	}
	for _, tt := range tests {
		b := started(t)
		b.press("job-new", "", "", "")
		b.form("reading", "", "at", tt.at, "quantity", "volts", "value", tt.value, "unit", "V", "mains", tt.mains)
		if !strings.Contains(b.m.Screen.Ask, tt.want) || len(b.m.Open.Job.Amp.Readings) > 0 {
			t.Errorf("%+v: asks %q, want %q", tt, b.m.Screen.Ask, tt.want)
		}
	}
}

// Undo and redo follow each other, by press and by key; a key before anything
// is open does nothing.
func TestUndoAndRedo(t *testing.T) {
	Update(Start(), port.Keyed{Key: "Ctrl+z"})
	Update(Start(), port.Keyed{Key: "Ctrl+y"})
	b := started(t)
	b.press("job-new", "", "", "")
	b.press("finding-new", "", "", "")
	if !b.m.MayUndo() || b.m.MayRedo() {
		t.Fatalf("after a press: undo %v, redo %v", b.m.MayUndo(), b.m.MayRedo())
	}
	b.press("undo", "", "", "")
	if n := len(b.m.Open.Job.Findings); n != 0 || !b.m.MayRedo() {
		t.Errorf("undone: %d findings, redo %v", n, b.m.MayRedo())
	}
	b.press("redo", "", "", "")
	if n := len(b.m.Open.Job.Findings); n != 1 || b.m.MayRedo() {
		t.Errorf("done again: %d findings, redo %v", n, b.m.MayRedo())
	}
}

// Typing takes the toast away: it must not lie over the form.
func TestTypingClosesTheToast(t *testing.T) {
	b := started(t)
	b.press("job-new", "", "", "")
	b.press("finding-new", "", "", "")
	if b.m.Screen.Toast.Say == "" {
		t.Fatal("nothing was said")
	}
	m, _ := Update(b.m, port.Typed{Where: port.Where{Act: "set", ID: "F1", K: "finding/seen"}, Value: "h"})
	if m.Screen.Toast.Say != "" {
		t.Errorf("the toast says %q while one types", m.Screen.Toast.Say)
	}
}
