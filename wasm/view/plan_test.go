package view

import (
	"os"
	"strings"
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/port"
)

func planOf(t *testing.T, name string) app.Model {
	return press(opened(t, name), "posture", "plan", "")
}

// brought is the page with price lists brought beside the drover.
func brought(t *testing.T, names ...string) app.Model {
	t.Helper()
	var files []port.File
	for _, n := range names {
		data, err := os.ReadFile("../../testdata/lists/" + n)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, port.File{Name: n, Bytes: data})
	}
	m, _ := app.Update(planOf(t, "drover"), port.FileOpened{Fresh: fresh, Files: files})
	return press(m, "plan-leaf", "", app.LeafBooks)
}

func submit(m app.Model, act, id, k, name, value string) app.Model {
	f := fresh
	pressedSoFar++
	f.NewID = "s" + itoa(pressedSoFar)
	m, _ = app.Update(m, port.Submitted{Where: port.Where{Act: act, ID: id, K: k}, Fresh: f, Fields: []port.Field{{Name: name, Value: value}}})
	return m
}

// Every leaf and every way of the whole jobs, the samples and an empty job.
func TestPlanDraws(t *testing.T) {
	for name, m := range map[string]app.Model{"drover": planOf(t, "drover"), "tern": planOf(t, "tern"), "demo": press(started(), "posture", "plan", ""),
		"new": press(press(started(), "job-new", "", ""), "posture", "plan", "")} {
		t.Run(name, func(t *testing.T) {
			draws(t, m)
			for _, o := range m.Open.Result.Options {
				draws(t, press(m, "plan-open", o.Option.ID, ""))
			}
			for _, leaf := range []string{app.LeafRatings, app.LeafLabor, app.LeafBooks} {
				draws(t, press(m, "plan-leaf", "", leaf))
			}
			draws(t, press(press(m, "plan-leaf", "", app.LeafRatings), "plan-state", "", "found"))
			draws(t, press(press(m, "plan-leaf", "", app.LeafRatings), "plan-doubt", "", "doubt"))
			for _, book := range []string{app.BookLists, app.BookSheet, app.BookCards, app.BookTerms, app.BookTasks} {
				draws(t, press(press(m, "plan-leaf", "", app.LeafBooks), "plan-book", "", book))
			}
		})
	}
}

// The numbers are those of the whole job: 290 V · √2 · 127/117 = 445.2 V, with
// 5 % reserve 467.4 V; (500 − 445.2) ÷ 500 = 11.0 %; 445.2 ÷ 400 − 1 = 11.3 %
// over; 5.20 · 1.25 = 6.50 a piece, 19.50 for three.
func TestPlanShows(t *testing.T) {
	filter := press(planOf(t, "drover"), "plan-open", "T2b", "")
	couplers := press(planOf(t, "drover"), "plan-open", "T3/film", "")
	tests := []struct {
		name  string
		m     app.Model
		want  []string
		never []string
	}{
		{"what the filter must bear", filter, []string{"445.2 V", "467.4 V", "no load, top of the range, 127 V mains"}, nil},
		{"the eight figures of the part", filter, []string{"K K-1002", "11.0 %", "6.50", "19.50", "2 days", "U1"}, nil},
		{"the ways side by side", filter, []string{"The ways of A2 side by side", "T2a", "T2c"}, nil},
		{"why the dearer way keeps less", filter, []string{"keeps less of the original"}, nil},
		{"below reserve asks for a reason", filter, []string{"Choose, with a reason"}, nil},
		{"never offered, with its number and no press", couplers, []string{"never offered: over: 445.2 V", "R R-2302"}, []string{"R&#9;R-2302", "R\tR-2302"}},
		{"what a resistor does", press(planOf(t, "drover"), "plan-open", "T6r", ""), []string{"What it does to the amp", "at least 276 Ω", "Takes further over a limit"}, nil},
		{"a part asked about", submit(filter, "trial", "T2b", "0", "text", "electrolytic 22uF 450V axial"), []string{"Asked about:", "below the wanted 467.4 V"}, nil},
		{"set-ups shared", filter, []string{"paid once"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			html := draws(t, tt.m)
			for _, w := range tt.want {
				if !strings.Contains(html, w) {
					t.Errorf("the page lacks %q", w)
				}
			}
			for _, w := range tt.never {
				if strings.Contains(html, w) {
					t.Errorf("the page shows %q", w)
				}
			}
		})
	}
}

func TestRatingsShow(t *testing.T) {
	m := press(planOf(t, "drover"), "plan-leaf", "", app.LeafRatings)
	found := press(m, "plan-state", "", "found")
	// 299 V · 127/117 = 324.6 V > 315 V: 3.0 %; 281 · 127/117 = 305.0 > 285: 7.0 %
	for _, w := range []string{"As found", "324.6 V", "305.0 V", "inherited", "user: scenario", "Your card hides a built-in one"} {
		if html := draws(t, found); !strings.Contains(html, w) {
			t.Errorf("as found lacks %q", w)
		}
	}
	for _, w := range []string{"The amp with Player done", "not proven"} {
		if html := draws(t, m); !strings.Contains(html, w) {
			t.Errorf("under the choice lacks %q", w)
		}
	}
}

func TestHoursShow(t *testing.T) {
	html := draws(t, press(planOf(t, "drover"), "plan-leaf", "", app.LeafLabor))
	for _, w := range []string{"496.00", "6.2", "0.39", "1.07", "once for"} {
		if !strings.Contains(html, w) {
			t.Errorf("the hours of Player lack %q", w)
		}
	}
}

// Orders of the whole jobs, by hand from their lists: one pack of ten films
// at 0.75 is 7.50, four used and six to stock; goods 95.00; the owner pays
// 110.89 for parts and 15.89 are left.
func TestOrderShows(t *testing.T) {
	for name, want := range map[string][]string{
		"drover": {"What do I order, and where?", "Order to K", "7.50", "4 of 10 used, 6 go to stock", "95.00", "110.89", "15.89", "carriage not stated", `data-act="order-file" data-id="K"`},
		"tern":   {"Order to U", "Order to E", "All order files", "EUR", "GBP"},
	} {
		html := draws(t, press(opened(t, name), "posture", "order", ""))
		for _, w := range want {
			if !strings.Contains(html, w) {
				t.Errorf("%s lacks %q", name, w)
			}
		}
	}
	if html := draws(t, press(press(started(), "job-new", "", ""), "posture", "order", "")); !strings.Contains(html, "No choice is in force") {
		t.Error("a new job has an order")
	}
}

// What is held back leads to its option.
func TestHeldBackLeadsToPlan(t *testing.T) {
	m := planOf(t, "drover")
	if len(m.Open.Result.Buy.Held) > 0 {
		t.Fatal("something is held back before anything was done")
	}
	f := fresh
	f.NewID = "c1"
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: "choose", ID: "T2b", K: "0"}, Fresh: f, Value: "R\tR-2201"})
	html := draws(t, press(m, "posture", "order", ""))
	if !strings.Contains(html, "Held back, not ordered") || !strings.Contains(html, "needs a recorded reason") {
		t.Errorf("the 450 V part is ordered without a reason")
	}
	if m = press(press(m, "posture", "order", ""), "order-plan", "T2b", ""); m.Screen.Posture != "plan" || m.OpenOption().Option.ID != "T2b" {
		t.Errorf("on %s with %s open", m.Screen.Posture, m.OpenOption().Option.ID)
	}
	if html := draws(t, m); !strings.Contains(html, "needs your reason before it can be ordered") {
		t.Error("nobody asks for the reason")
	}
}

func TestSlug(t *testing.T) {
	seen := map[string]string{}
	for _, s := range []string{"a b", "a_b", "a/b", "a-b", "ab", "A B", "ä", "a\tb", "a_20_b"} {
		got := slug(s)
		if other, twice := seen[got]; twice || strings.ContainsAny(got, " \t/\"") {
			t.Errorf("%q and %q are both %q", s, other, got)
		}
		seen[got] = s
	}
}
