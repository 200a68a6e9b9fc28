package view

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

var fresh = port.Fresh{At: "2026-03-02T09:15:00+01:00", Date: "2026-03-02", NewID: "n1", Salt: "00112233445566778899aabbccddeeff"}

// started is the page with an empty store: the demo job is open.
func started() app.Model {
	m := app.Start()
	m.Screen.Tab.Writer = true
	f := fresh
	f.NewID = "n0"
	m, _ = app.Update(m, port.Loaded{Device: "d1", Fresh: f})
	return m
}

// opened is the page with one of the whole jobs open.
func opened(t testing.TB, name string) app.Model {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	m, _ := app.Update(started(), port.FileOpened{Fresh: fresh, Files: []port.File{{Name: name + ".txtar", Bytes: data}}})
	if m.Open == nil || len(m.Screen.Problems) > 0 {
		t.Fatalf("%s: %v", name, m.Screen.Problems)
	}
	return m
}

var pressedSoFar int

func press(m app.Model, act, id, k string) app.Model {
	f := fresh
	pressedSoFar++
	f.NewID = "p" + itoa(pressedSoFar)
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: f, Value: k})
	return m
}

func draws(t *testing.T, m app.Model) string {
	t.Helper()
	tree := Page(m)
	for _, wrong := range keyed.Check(tree) {
		t.Error(wrong)
	}
	var b strings.Builder
	for _, n := range tree.Nodes {
		b.WriteString(n.HTML())
	}
	html := b.String()
	for _, a := range regexp.MustCompile(` data-act="([^"]*)"`).FindAllStringSubmatch(html, -1) {
		if !app.Known(a[1]) {
			t.Errorf("nothing is done on act %q", a[1])
		}
	}
	for _, f := range regexp.MustCompile(`(?:for|aria-describedby|aria-labelledby)="([^"]*)"`).FindAllStringSubmatch(html, -1) {
		for _, id := range strings.Fields(f[1]) {
			if !strings.Contains(html, ` id="`+id+`"`) {
				t.Errorf("%s is named and not there", id)
			}
		}
	}
	return html
}

func TestBenchDraws(t *testing.T) {
	models := map[string]app.Model{"drover": opened(t, "drover"), "tern": opened(t, "tern"), "demo": started(), "new": press(started(), "job-new", "", "")}
	for name, m := range models {
		m.Screen.Posture = "bench"
		for _, p := range []string{"intake", "findings", "readings", "parts"} {
			t.Run(name+" "+p, func(t *testing.T) { draws(t, press(m, "bench-part", p, "")) })
		}
		for _, f := range m.Open.Job.Findings {
			t.Run(name+" "+f.ID, func(t *testing.T) {
				draws(t, press(press(m, "bench-part", "findings", ""), "finding-open", f.ID, ""))
			})
		}
	}
}

func TestBenchShows(t *testing.T) {
	drover := press(opened(t, "drover"), "bench-part", "findings", "")
	fresh := press(started(), "job-new", "", "")
	demo := press(started(), "bench-part", "findings", "")
	demo = press(demo, "finding-open", demo.Open.Job.Findings[0].ID, "")
	tests := []struct {
		name string
		m    app.Model
		want []string
	}{
		{"a new job says what comes first", fresh, []string{"Five steps to a first verdict", "Whose amp is it"}},
		{"the leak is worked out", press(drover, "finding-open", "A3", ""), []string{"13.6 µA", "21.78 MΩ", `data-act="why" data-k="finding/A3/leak0"`}},
		{"the drift is worked out", press(drover, "finding-open", "A5", ""), []string{"out by 21 points", "inside its tolerance"}},
		{"without a list of tasks the sample stands in", press(drover, "finding-open", "A3", ""), []string{`data-act="task-attach"`, `data-act="option-new"`}},
		{"a likely task stands in sight", demo, []string{"Likely tasks", `data-act="task-attach"`}},
		{"readings are grouped by mains", press(drover, "bench-part", "readings", ""), []string{"At 117.0 V mains", "At 124.0 V mains", "Power off", "agrees", "Stored charge", "Live readings kill"}},
		{"ohms ask for no mains", press(press(drover, "bench-part", "readings", ""), "entry-step", "R20", "ohms"), []string{`id="reading-mains" type="hidden"`, "power off"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.m.Screen.Posture = "bench"
			html := draws(t, tt.m)
			for _, w := range tt.want {
				if !strings.Contains(html, w) {
					t.Errorf("the page lacks %q", w)
				}
			}
		})
	}
}

// Typing changes values only: no row is made anew under the fingers.
func TestTypingWritesValuesOnly(t *testing.T) {
	m := press(press(opened(t, "drover"), "bench-part", "findings", ""), "finding-open", "A2", "")
	m.Screen.Posture = "bench"
	before := Page(m)
	m, _ = app.Update(m, port.Typed{Where: port.Where{Act: "set", ID: "A2", K: "finding/seen"}, Fresh: fresh, Value: "hums"})
	for _, op := range keyed.Diff(before, Page(m), nil) {
		if op.Do != keyed.Write {
			t.Errorf("%+v", op)
		}
	}
}
