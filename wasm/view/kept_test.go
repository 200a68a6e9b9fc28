package view

import (
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/port"
)

// html is the whole page.
func html(m app.Model) string {
	s := ""
	for _, n := range Page(m).Nodes {
		s += n.HTML()
	}
	return s
}

// What is kept from one drawing to the next is what would be drawn anew: after
// every press on Call and on Plan, a reason, a range, a part chosen, a change of books.
func TestKeptRowsAreAsNew(t *testing.T) {
	for _, at := range [][2]string{{"drover", "call"}, {"tern", "call"}, {"drover", "plan"}, {"tern", "plan"}} {
		name := at[0]
		m := press(opened(t, name), "posture", at[1], "")
		same := func(when string) {
			t.Helper()
			kept := html(m)
			fresh := m
			fresh.Screen.Rows = &app.Rows{}
			if anew := html(fresh); kept != anew {
				t.Fatalf("%s, %s: a row is kept that would be drawn otherwise", name, when)
			}
		}
		same("opened")
		for _, o := range m.Open.Result.Options {
			m = press(m, "accept", o.Option.ID, "")
			same(o.Option.ID + " pressed")
			m, _ = app.Update(m, port.Elapsed{Tag: "weigh", Fresh: fresh})
			same(o.Option.ID + " weighed")
			m = press(m, "plan-open", o.Option.ID, "")
			same(o.Option.ID + " opened")
		}
		for i := len(m.Open.Result.Options) - 1; i >= 0; i-- {
			id := m.Open.Result.Options[i].Option.ID
			m = press(m, "accept", id, "")
			same(id + " pressed again")
		}
		m, _ = app.Update(m, port.Changed{Where: port.Where{Act: "set", K: "mains/high"}, Fresh: fresh, Value: "126"})
		same("another range")
		id := m.Open.Result.Options[0].Option.ID
		m, _ = app.Update(m, port.Changed{Where: port.Where{Act: "reason", ID: id}, Fresh: fresh, Value: "seen and weighed"})
		same("a reason")
		m, _ = app.Update(m, port.Typed{Where: port.Where{Act: "reason", ID: id}, Value: "seen"})
		same("a reason being typed")
		m = press(m, "undo", "", "")
		same("undone")
	}
	var none *app.Rows
	none.Put("x", 1)
	if none.Get("x") != nil {
		t.Error("nothing keeps something")
	}
}
