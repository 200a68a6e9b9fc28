package view

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

func call(t *testing.T, name string) app.Model {
	return settled(press(opened(t, name), "posture", "call", ""))
}

// settled lets every piece of what Call asks for be done.
func settled(m app.Model) app.Model {
	for range 10_000 {
		var effects []port.Effect
		m, effects = app.Update(m, port.Elapsed{Tag: "weigh", Fresh: fresh})
		if !slices.Contains(effects, port.Effect(port.Soon{Tag: "weigh"})) {
			return m
		}
	}
	panic("weighing does not come to an end")
}

func TestCallDraws(t *testing.T) {
	for name, m := range map[string]app.Model{"drover": call(t, "drover"), "tern": call(t, "tern"), "demo": press(started(), "posture", "call", ""),
		"new": press(press(started(), "job-new", "", ""), "posture", "call", "")} {
		t.Run(name, func(t *testing.T) { draws(t, m) })
	}
}

// Prices of the drover from the choice "Player", by hand from its lines: T2a
// for T2b is 0.90 − 1.10 h = −16.00 of labor, one can at 47.50 for three
// axials at 19.50, 8 % on the 28.00 more = 2.24: +14.24. The tern's best
// choice is musts + T5 + T9 at 432.37, and T7 comes with 6.37 more or on day
// 35.
func TestCallShows(t *testing.T) {
	drover, tern := call(t, "drover"), call(t, "tern")
	tests := []struct {
		name string
		m    app.Model
		want []string
	}{
		{"the delta of another way", drover, []string{"+14.24", "in place of T2b"}},
		{"what a must's no means", drover, []string{"not released for use"}},
		{"the reason on record", drover, []string{"The technician&#39;s reason, on record"}},
		{"the sets with their totals", drover, []string{"Safety only", "471.57", "836.26", "806.40"}},
		{"what cannot be undone", drover, []string{"cannot be undone"}},
		{"what a delta is from, and what it is alone", drover, []string{"from the present choice, in place of T2b", "on its own, with nothing else done", "they do not add up"}},
		{"the best and how to take it", drover, []string{`data-act="best"`, `data-act="take-best"`, "471.57"}},
		{"the best of the tern", tern, []string{"432.37", "Raise the ceiling by 6.37, or accept day 35, and T7 comes too.", "Best under 450.00, by day 21, 2026-", "Date test: the longest lead", "Next best: 435.35, day 4, T7 in place of T9", "Proven: no other choice"}},
		{"the least to touch", drover, []string{"543.11, day 2 or later", "2 handed back, 1 out of use in place", "1 used up", `data-act="take-least"`}},
		{"what a free action spares", tern, []string{"First of all: T1, move to the 240 tap", "LV heater volts: “over, inherited” becomes “within”", "T6 may come to 3.08 less", "recorded reason"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			html := draws(t, tt.m)
			for _, w := range tt.want {
				if !strings.Contains(html, w) {
					t.Errorf("the page lacks %q", w)
				}
			}
		})
	}
}

func TestCallHidesWhatTheShopPays(t *testing.T) {
	html := draws(t, call(t, "drover"))
	for _, hidden := range []string{"38.00", "5.20", "markup", "mark-up", "landed"} {
		if strings.Contains(html, hidden) {
			t.Errorf("the page shows %q", hidden)
		}
	}
	m := call(t, "drover")
	Page(m) // notes the reasons
	html = draws(t, press(m, "why", "", "total"))
	if !strings.Contains(html, "K-1101") && !strings.Contains(html, "Film axial") {
		t.Error("the reason of the total does not come down to its parts")
	}
	for _, hidden := range []string{"landed", "mark-up 25", "list price"} {
		if strings.Contains(html, hidden) {
			t.Errorf("the reason of the total shows %q", hidden)
		}
	}
	if !strings.Contains(draws(t, press(press(m, "posture", "plan", ""), "why", "", "total")), "landed") {
		t.Error("the plan hides what the call hides")
	}
}

// A yes changes figures and words, moves nothing and makes no row of the
// piles anew but those whose verdicts change.
func TestAYesLeavesThePilesInPlace(t *testing.T) {
	m := call(t, "drover")
	before := Page(m)
	after := Page(press(m, "accept", "T9", ""))
	for _, op := range keyed.Diff(before, after, nil) {
		if op.Do == keyed.Move {
			t.Errorf("%+v", op)
		}
	}
	lacks := func(m app.Model, w string) bool { return !strings.Contains(draws(t, m), w) }
	if lacks(m, "900.26") { // 836.26 + 64.00
		t.Error("the total does not follow the yes")
	}
	if lacks(press(call(t, "drover"), "decline", "A7", ""), "663.76") { // 836.26 − 172.50
		t.Error("the total does not follow the no")
	}
}

// A large µ would read as mega.
func TestCapital(t *testing.T) {
	for in, want := range map[string]string{"film": "Film", "": "", "µF": "µF", "½ W": "½ W"} {
		if got := capital(in); got != want {
			t.Errorf("capital(%q) = %q, want %q", in, got, want)
		}
	}
}

// A search that takes long says that it is at work and can be ended: the tern
// in 9 days by eight of ten draws, where the musts alone take 10, with 14 small
// things to choose among, each choice of which must be played through.
func TestCallIsAtWork(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/tern.txtar")
	if err != nil {
		t.Fatal(err)
	}
	more := ""
	for i := range 14 {
		more += fmt.Sprintf(`{"kind":"finding","body":{"id":"C%d","seen":"knob %d loose","pile":"could","no":"It stays loose.","value":"1"}},`+"\n", i, i)
		more += fmt.Sprintf(`{"kind":"option","body":{"id":"K%d","finding":"C%d","say":"tighten it","low":"0","mode":"0.1","high":"0.1"}},`+"\n", i, i)
	}
	text := strings.NewReplacer(`"days":"21"`, `"days":"9"`, `{"kind":"trial","body":{"id":"filter-450"`, more+`{"kind":"trial","body":{"id":"filter-450"`,
		"date_test,longest-lead,scenario\n", "date_test,P80,own\nbench_hours,2,own\nopen_days,mon-fri,own\nholidays,none,own\nanswer_days,0/1/4,own\ncarriage_days,1/2/4,own\n").Replace(string(data))
	m := called(text)
	for range 60 {
		m, _ = app.Update(m, port.Elapsed{Tag: "weigh", Fresh: fresh})
	}
	html := draws(t, m)
	for _, want := range []string{"<progress", `data-act="best-stop"`, "thousand steps so far", `aria-busy="true"`} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	html = draws(t, press(m, "best-stop", "", ""))
	if strings.Contains(html, "<progress") || !strings.Contains(html, "Not proven: the search was ended") {
		t.Error("stopped, the page goes on or does not say so")
	}
}

// called is the page on Call with a whole job opened from its text.
func called(text string) app.Model {
	m, _ := app.Update(started(), port.FileOpened{Fresh: fresh, Files: []port.File{{Name: "tern.txtar", Bytes: []byte(text)}}})
	return press(m, "posture", "call", "")
}

// A part in no list has no price: what is turned from a choice with it has
// none either, which is said once; from a choice without it, it alone has none,
// and the best leaves it out and says so.
func TestCallSaysWhatHasNoPrice(t *testing.T) {
	data, err := os.ReadFile("../../testdata/jobs/tern.txtar")
	if err != nil {
		t.Fatal(err)
	}
	m := settled(called(strings.Replace(string(data), `"number":"U-160"`, `"number":"U-161"`, 1)))
	if html := draws(t, m); !strings.Contains(html, "option T9: offer U U-161 is not in that list") {
		t.Error("nothing says why there are no figures")
	}
	html := draws(t, settled(press(m, "accept", "T9", "")))
	for _, want := range []string{"no price", "Left out, for it has no price", "435.35"} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}
