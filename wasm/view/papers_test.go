package view

import (
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

func paperFresh(id string) port.Fresh {
	return port.Fresh{At: "2026-03-02T09:15:00+01:00", Date: "2026-03-02", NewID: id, Salt: "00112233445566778899aabbccddeeff"}
}

// papersOpen is the page at its first start, on Papers.
func papersOpen(t *testing.T) app.Model {
	t.Helper()
	m := app.Start()
	m.Screen.Tab.Writer = true
	m, _ = app.Update(m, port.Loaded{Fresh: paperFresh("n0"), Device: "d1", Hash: "papers"})
	if m.Open == nil {
		t.Fatal("no job is open")
	}
	return m
}

func papersHTML(t *testing.T, m app.Model) string {
	t.Helper()
	tree := Page(m)
	for _, w := range keyed.Check(tree) {
		t.Error(w)
	}
	var b strings.Builder
	for _, n := range tree.Nodes {
		b.WriteString(n.HTML())
	}
	return b.String()
}

func holds(t *testing.T, html string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(html, w) {
			t.Errorf("the page does not say %q", w)
		}
	}
}

func TestPapersShowTheEstimate(t *testing.T) {
	html := papersHTML(t, papersOpen(t))
	holds(t, html, "What is agreed, in writing?", `<article class="paper">`, "None is frozen yet", "whole: ", "none has left this browser yet", "It hums, it cuts out")
	if strings.Contains(html, "To be looked at") {
		t.Error("there is nothing to look at, yet a heading for it")
	}
}

func TestPapersShowWhatWasFrozen(t *testing.T) {
	m := papersOpen(t)
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: "freeze"}, Fresh: paperFresh("n1")})
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: "frozen-drift", ID: "MA-0431-1"}, Fresh: paperFresh("n2")})
	holds(t, papersHTML(t, m), "as it was frozen", "Today it would come to the same.", "This estimate holds to 2026-04-01.")
}

func TestPapersWithoutAChoiceTeach(t *testing.T) {
	m := papersOpen(t)
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: "job-new"}, Fresh: paperFresh("n1")})
	m.Screen.Posture = "papers"
	holds(t, papersHTML(t, m), "No estimate yet", "no choice is in force")
}

// What two devices wrote, what this version does not know and what was taken
// out are each listed: nothing is dropped.
func TestPapersListWhatNeedsALook(t *testing.T) {
	m := papersOpen(t)
	base := m.Open.Log.File()
	other := record.NewLog(record.File{Format: base.Format, Records: append([]record.Record(nil), base.Records...)})
	add := func(l *record.Log, device, kind, id string, body map[string]any) record.Record {
		r, err := l.Append(kind, body, record.Meta{ID: id, At: "2026-03-02T10:00:00+01:00", Device: device, Salt: "00112233445566778899aabbccddeeff"})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	add(m.Open.Log, "d1", job.KindOwner, "a1", map[string]any{"phone": "1"})
	gone := add(m.Open.Log, "d1", "moon phase", "a2", map[string]any{"id": "m", "say": "full"})
	secret := add(m.Open.Log, "d1", job.KindOwner, "a3", map[string]any{"address": "hidden"})
	add(other, "d2", job.KindOwner, "b1", map[string]any{"phone": "2"})
	both, _ := record.Merge(m.Open.Log.File(), other.File())
	both, err := record.Redact(both, secret.ID)
	if err != nil {
		t.Fatal(err)
	}
	m.Open.State = record.Fold(both.Records, job.FoldKinds...)
	holds(t, papersHTML(t, m), "To be looked at", "owner, phone: two devices wrote different things", "“1”", "“2”", gone.Kind, "the chain holds without it: 1 entry")
}
