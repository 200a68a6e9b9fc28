package view

import (
	"os"
	"strings"
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/port"
)

// withPieces is the drover on Plan, its list K with pieces that two in series
// of serve where one must bear 445.2 V.
func withPieces(t *testing.T) app.Model {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/drover.txtar")
	if err != nil {
		t.Fatal(err)
	}
	row := "K-1002,Axial electrolytic,22uF,500,5.20,1,30,2\n"
	text := strings.Replace(string(data), row, row+"K-1047,Axial electrolytic 20%,47uF,350,1.60,1,30,2\nK-1220,Metal oxide 1W 5%,220K,,0.16,1,99,4\n", 1)
	m, _ := app.Update(started(), port.FileOpened{Fresh: fresh, Files: []port.File{{Name: "drover.txtar", Bytes: []byte(text)}}})
	if m.Open == nil || text == string(data) || len(m.Screen.Problems) > 0 {
		t.Fatalf("not opened: %v", m.Screen.Problems)
	}
	return press(press(m, "posture", "plan", ""), "plan-open", "T2b", "")
}

func pressValue(m app.Model, act, id, k, value string) app.Model {
	f := fresh
	pressedSoFar++
	f.NewID = "v" + itoa(pressedSoFar)
	m, _ = app.Update(m, port.Pressed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: f, Value: value})
	return m
}

// Two 47 µF ±20 % in each of three places: 18.8 to 28.2 µF; 445.17 V · 0.6 =
// 267.1 V on one, 178.1 V on the other, of 350 V; six pieces at 1.60 · 1.25 =
// 2.00 and six resistors at 0.16 · 1.25 = 0.20 come to 13.20.
func TestPlanMakesOfSeveral(t *testing.T) {
	m := withPieces(t)
	if html := draws(t, m); !strings.Contains(html, "Make it from two") || strings.Contains(html, "Make it so") {
		t.Fatal("the ways stand open before anybody asks")
	}
	m = press(m, "several", "T2b", "0")
	html := draws(t, m)
	for _, want := range []string{"6 × K K-1047 in series, K K-1220 (220 kΩ) across each", "18.8–28.2 µF", "13.20", "4 days"} {
		if !strings.Contains(html, want) {
			t.Errorf("the ways lack %q", want)
		}
	}
	m = pressValue(m, "make", "T2b", "0", "2 in series\tK\tK-1047\tK\tK-1220")
	o := m.OpenOption()
	if len(o.Lines) != 2 || o.Lines[0].Qty != 6 || o.Lines[1].Qty != 6 || o.Lines[1].Chosen == nil {
		t.Fatalf("%+v %v", o.Lines, m.Screen.Problems)
	}
	html = draws(t, m)
	for _, want := range []string{"made of 2 pieces in series", "267.1 V", "The other piece then", "178.1 V", "one across each piece of electrolytic 22uF", "leakage of its pieces is not stated"} {
		if !strings.Contains(html, want) {
			t.Errorf("the part as made lacks %q", want)
		}
	}
	f := fresh
	f.NewID = "leak"
	m, _ = app.Update(m, port.Changed{Where: port.Where{Act: "make-leak", ID: "T2b", K: "0"}, Fresh: f, Value: "0.1 mA"})
	if o := m.OpenOption(); o.Lines[0].Chosen.Kind.Slug() != "within" || o.Lines[1].Chosen.Kind.Slug() != "within" {
		t.Errorf("with a stated leakage: %s, %s; %s", o.Lines[0].Chosen.Kind, o.Lines[1].Chosen.Kind, m.Screen.Ask)
	}
	draws(t, m)
	m = pressValue(m, "make", "T2b", "0", "")
	if o := m.OpenOption(); len(o.Lines) != 1 || o.Lines[0].Qty != 3 || o.Option.Parts[0].Made.Is() {
		t.Errorf("one piece again: %+v", o.Lines)
	}
}
