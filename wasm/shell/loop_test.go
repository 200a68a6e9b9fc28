package shell

import (
	"slices"
	"testing"

	"lugworth/wasm/port"
)

// A message sent by an effect waits until the one under way is done, and the
// page is asked for once.
func TestLoopHandlesNestedMessagesInOrder(t *testing.T) {
	var order []string
	drawn := 0
	l := Loop[int]{Drawn: func() { drawn++ }}
	l.Update = func(n int, msg port.Msg) (int, []port.Effect) {
		order = append(order, msg.(port.Elapsed).Tag)
		if n == 0 {
			return n + 1, []port.Effect{port.After{Tag: "second"}, port.After{Tag: "third"}}
		}
		return n + 1, nil
	}
	l.Run = func(e port.Effect) {
		l.Send(port.Elapsed{Tag: e.(port.After).Tag})
		order = append(order, "ran "+e.(port.After).Tag)
	}
	l.Send(port.Elapsed{Tag: "first"})
	want := []string{"first", "ran second", "ran third", "second", "third"}
	if !slices.Equal(order, want) {
		t.Errorf("order %q, want %q", order, want)
	}
	if l.Model != 3 || drawn != 1 {
		t.Errorf("model %d, drawn %d times, want 3 and 1", l.Model, drawn)
	}
}
