package app

import (
	"strings"
	"testing"

	"lugworth/core/order"
	"lugworth/wasm/port"
)

// An order is noted as sent once as it stands; pieces are counted as they
// come; a late line is late until it is all there.
func TestAnOrderIsAwaited(t *testing.T) {
	b := atBench(t, "drover")
	b.press("placed", "K", "", "")
	b.press("placed", "nobody", "", "")
	j := b.m.Open.Job
	if len(j.Placed) != 1 || !strings.HasPrefix(j.Placed[0].ID, "K-1-") || len(j.Placed[0].Lines) == 0 {
		t.Fatalf("%+v", j.Placed)
	}
	due := b.m.Open.Result.Waiting()
	key := due[0].Key
	b.send(port.Changed{Where: port.Where{Act: "came", ID: key}, Fresh: b.fresh(), Value: "some"})
	if len(b.m.Open.Job.Arrivals) != 0 || b.m.Screen.Toast.Say == "" {
		t.Error("a word is taken for a number")
	}
	b.send(port.Changed{Where: port.Where{Act: "came", ID: key}, Fresh: b.fresh(), Value: "1"})
	b.press("all-came", due[1].Key, "", "99")
	here := 0
	for _, d := range b.m.Open.Result.Waiting() {
		if d.Status == order.Here {
			here++
		}
		if d.Key == key && d.Came != 1 {
			t.Errorf("%+v", d)
		}
	}
	if here < 1 {
		t.Error("nothing has come")
	}
	b.press("placed", "K", "", "")
	if len(b.m.Open.Job.Placed) != 1 {
		t.Errorf("what was sent is sent again: %+v", b.m.Open.Job.Placed)
	}
	b.press("undo", "", "", "")
	b.press("undo", "", "", "")
	b.press("undo", "", "", "")
	if len(b.m.Open.Job.Placed) != 0 {
		t.Error("undo leaves it")
	}
}
