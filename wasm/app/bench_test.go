package app

import (
	"os"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/finding"
	"lugworth/wasm/port"
)

// bench is a page with messages sent to it, each with a name of its own.
type bench struct {
	t testing.TB
	m Model
	n int
}

func (b *bench) fresh() port.Fresh {
	b.n++
	return port.Fresh{At: "2026-03-02T09:15:00+01:00", Date: "2026-03-02", NewID: "n" + string(rune('a'+b.n/676)) + string(rune('a'+b.n/26%26)) + string(rune('a'+b.n%26)), Salt: "00112233445566778899aabbccddeeff"}
}

func (b *bench) send(msg port.Msg) []port.Effect {
	var effects []port.Effect
	b.m, effects = Update(b.m, msg)
	return effects
}

func (b *bench) press(act, id, k, value string) []port.Effect {
	return b.send(port.Pressed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: b.fresh(), Value: value})
}

func (b *bench) change(act, id, k, value string) []port.Effect {
	return b.send(port.Changed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: b.fresh(), Value: value})
}

// form sends a form; pairs are names and values.
func (b *bench) form(act, id string, pairs ...string) []port.Effect {
	s := port.Submitted{Where: port.Where{Act: act, ID: id}, Fresh: b.fresh()}
	for i := 0; i+1 < len(pairs); i += 2 {
		s.Fields = append(s.Fields, port.Field{Name: pairs[i], Value: pairs[i+1], Checked: pairs[i+1] == "on"})
	}
	return b.send(s)
}

func started(t testing.TB) *bench {
	b := &bench{t: t, m: Start()}
	b.m.Screen.Tab.Writer = true
	b.send(port.Loaded{Device: "d1", Fresh: b.fresh()})
	return b
}

func atBench(t testing.TB, name string) *bench {
	t.Helper()
	data, err := os.ReadFile("../../testdata/jobs/" + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	b := started(t)
	b.send(port.FileOpened{Fresh: b.fresh(), Files: []port.File{{Name: name + ".txtar", Bytes: data}}})
	if len(b.m.Screen.Problems) > 0 {
		t.Fatal(b.m.Screen.Problems)
	}
	return b
}

// opened is a page with one of the whole jobs open.
func opened(t testing.TB, name string) Model { return atBench(t, name).m }

func empty(t testing.TB) *bench {
	b := started(t)
	b.press("job-new", "", "", "")
	return b
}

func saves(effects []port.Effect) bool {
	for _, e := range effects {
		if _, ok := e.(port.SaveRecords); ok {
			return true
		}
	}
	return false
}

func readingForm(n Entry) []string {
	return []string{"at", n.At, "quantity", n.Quantity, "value", n.Value, "unit", n.Unit, "mains", n.Mains, "state", n.State, "meter_percent", n.Meter}
}

func (b *bench) reads(n Entry) []port.Effect { return b.form("reading", "", readingForm(n)...) }

func TestStepsFollowTheSupplyAndAskOnce(t *testing.T) {
	b := atBench(t, "drover")
	var got []string
	for _, s := range b.m.Steps() {
		got = append(got, s.At+" "+s.Quantity)
	}
	want := "HT rms volts, B1 volts, B2 volts, B3 volts, V3:plate volts, V4:plate volts, K volts, V3:screen current, V4:screen current, R20 ohms, LV rms volts"
	if strings.Join(got, ", ") != want {
		t.Errorf("steps are %s\nwant %s", strings.Join(got, ", "), want)
	}
}

func TestAReadingIsKeptAndTheNextStepComesUp(t *testing.T) {
	b := atBench(t, "drover")
	b.press("bench-part", "readings", "", "")
	if b.m.Screen.Entry.At != "B3" {
		t.Fatalf("the first step nobody read is B3, not %q", b.m.Screen.Entry.At)
	}
	effects := b.reads(Entry{At: "B3", Quantity: amp.Volts, Value: "280", Unit: "V", Mains: "117.0", State: amp.Lifted})
	if !saves(effects) || len(b.m.Open.Job.Amp.Readings) != 17 {
		t.Fatalf("not kept: %q, %d readings", b.m.Screen.Ask, len(b.m.Open.Job.Amp.Readings))
	}
	if last := effects[len(effects)-1]; last != (port.FocusOn{ID: "reading-value"}) {
		t.Errorf("the focus goes to %v", last)
	}
	if n := b.m.Screen.Entry; n.At != "" || n.Mains != "117.0" || n.Value != "" {
		t.Errorf("all is read, mains kept, value empty: %+v", n)
	}
	b.press("entry", "mains", "", "110")
	b.reads(Entry{At: "HT", Quantity: amp.RMSVolts, Value: "272.6", Unit: "V", Mains: "110", State: amp.NoLoad})
	if n := b.m.Screen.Entry; n.At != "B1" || n.State != amp.Lifted {
		t.Errorf("after the winding comes B1, loaded as before: %+v", n)
	}
}

func TestAReadingWithoutMainsIsRefused(t *testing.T) {
	b := atBench(t, "drover")
	effects := b.reads(Entry{At: "B3", Quantity: amp.Volts, Value: "280", Unit: "V"})
	if saves(effects) || !strings.Contains(b.m.Screen.Ask, "same as last") {
		t.Errorf("asked %q", b.m.Screen.Ask)
	}
	if b.m.EntryReads() {
		t.Error("it may be kept anyway")
	}
}

func TestOhmsTakeNoMainsAndKeepItForTheNext(t *testing.T) {
	b := atBench(t, "drover")
	b.reads(Entry{At: "R10", Quantity: amp.Ohms, Value: "221", Unit: "kΩ", Mains: "117", State: amp.Off})
	rs := b.m.Open.Job.Amp.Readings
	if r := rs[len(rs)-1]; r.At != "R10" || r.Mains != 0 || r.Amount < 220999 || r.Amount > 221001 {
		t.Errorf("kept as %+v; asked %q", r, b.m.Screen.Ask)
	}
	if b.m.Screen.Entry.Mains != "117" {
		t.Errorf("mains in hand is %q", b.m.Screen.Entry.Mains)
	}
}

func TestADoubtfulReadingIsAskedAboutFirst(t *testing.T) {
	b := atBench(t, "drover")
	n := Entry{At: "V3:plate", Quantity: amp.Volts, Value: "31.8", Unit: "V", Mains: "117", State: amp.Lifted}
	if saves(b.reads(n)) || !strings.Contains(b.m.Screen.Ask, "is it") || !b.m.EntryReads() {
		t.Fatalf("asked %q", b.m.Screen.Ask)
	}
	if !saves(b.press("reading-anyway", "", "", "")) {
		t.Errorf("not kept on a yes: %q", b.m.Screen.Ask)
	}
}

func TestChipsOfTheEntry(t *testing.T) {
	b := atBench(t, "drover")
	b.press("entry", "quantity", "", amp.Current)
	b.press("entry", "state", "", amp.Check)
	b.press("entry", "state", "", amp.NoLoad)
	b.press("entry", "state", "", amp.Check)
	b.send(port.Typed{Where: port.Where{Act: "entry", ID: "value"}, Fresh: b.fresh(), Value: "2.5"})
	if n := b.m.Screen.Entry; n.Unit != "mA" || n.State != amp.NoLoad || n.Value != "2.5" {
		t.Errorf("%+v", n)
	}
	b.press("entry-step", "R20", amp.Ohms, "")
	if n := b.m.Screen.Entry; n.At != "R20" || n.Unit != "Ω" || n.State != amp.Off {
		t.Errorf("%+v", n)
	}
}

// 3.0 V over 220 kΩ is 13.6 µA (Ohm's law); 131 k marked 100 k ±10 % is out.
func TestFiguresOfAFinding(t *testing.T) {
	b := empty(t)
	b.press("finding-new", "", "", "must")
	id := b.m.Screen.Finding
	b.form("finding-leak", id, "at", "C5", "shift", "3.0", "grid_leak", "220k", "source", "300")
	b.form("finding-leak", id, "at", "C6", "shift", "0.4", "grid_leak", "220k", "source", "300")
	b.form("finding-drift", id, "marked", "100k", "tolerance", "10%", "meter_percent", "1", "at", "R6", "value", "131k")
	b.form("finding-drift", id, "marked", "100k", "tolerance", "10%", "meter_percent", "1", "at", "R7", "value", "106k")
	r := b.m.Open.Result.Findings[0]
	if len(r.Leaks) != 2 || r.Leaks[0].Current.String() != "13.6 µA" {
		t.Errorf("leaks %+v", r.Leaks)
	}
	if len(r.Drifts) != 2 || r.Drifts[0].Word != finding.Out || r.Drifts[1].Word != finding.In {
		t.Errorf("drifts %+v", r.Drifts)
	}
	b.press("finding-leak-drop", id, "1", "")
	b.press("finding-drift-drop", id, "0", "")
	r = b.m.Open.Result.Findings[0]
	if len(r.Leaks) != 1 || r.Leaks[0].At != "C5" || len(r.Drifts) != 1 || r.Drifts[0].At != "R7" {
		t.Errorf("after dropping: %+v %+v", r.Leaks, r.Drifts)
	}
	b.press("undo", "", "", "")
	if r = b.m.Open.Result.Findings[0]; len(r.Drifts) != 2 {
		t.Errorf("undo brings %d values back", len(r.Drifts))
	}
}

func TestPositionsOfAFindingTurnOver(t *testing.T) {
	b := atBench(t, "drover")
	b.press("finding-position", "A9", "R20", "")
	b.press("finding-position", "A9", "C9", "")
	b.press("finding-position", "A9", "R20", "")
	f, _ := b.m.finding("A9")
	if len(f.Positions) != 1 || f.Positions[0] != "C9" {
		t.Errorf("positions %v", f.Positions)
	}
}

func TestDateCodes(t *testing.T) {
	b := empty(t)
	b.change("set", "", "amp/about", "about 1957")
	b.form("date-code", "", "on", "controls", "code", "999-5723")
	b.form("date-code", "", "on", "speaker", "code", "998741")
	b.press("date-code-year", "", "1", "1957")
	d := b.m.Open.Result.Dates
	if len(d) != 2 || d[1].Asks() {
		t.Fatalf("%+v", d)
	}
	b.press("date-code-drop", "", "0", "")
	if d = b.m.Open.Result.Dates; len(d) != 1 || d[0].Code != "998741" {
		t.Errorf("%+v", d)
	}
}

func TestTapsAreAList(t *testing.T) {
	b := empty(t)
	b.change("amp-taps", "", "amp/taps", "200, 220 240")
	if taps := b.m.Open.Job.Amp.Taps; strings.Join(taps, "|") != "200|220|240" {
		t.Errorf("%v", taps)
	}
}

func TestWorkOfOnesOwn(t *testing.T) {
	b := atBench(t, "drover")
	b.form("option-new", "A9", "id", "T99", "say", "new feet", "low", "0.1", "mode", "x", "high", "0.3")
	if !strings.Contains(b.m.Screen.Ask, "likely hours") {
		t.Fatalf("asked %q", b.m.Screen.Ask)
	}
	b.form("option-new", "A2", "id", "", "say", "three axials", "low", "0.8", "mode", "1.0", "high", "1.8", "setup:S1", "on", "parts", "3 electrolytic 22uF\n1 cord")
	var found bool
	for _, o := range b.m.Open.Job.Options {
		if o.ID != "T-A2" {
			continue
		}
		found = true
		if len(o.Parts) != 2 || o.Parts[0].Qty != 3 || len(o.Parts[0].For) != 3 || len(o.SetUps) != 1 || len(o.Parts[1].For) != 0 {
			t.Errorf("%+v", o)
		}
	}
	if !found {
		t.Errorf("not added: %q", b.m.Screen.Ask)
	}
}

// A job typed in by hand gives the verdicts of the same job brought as files.
func TestTypedByHandGivesTheSameVerdicts(t *testing.T) {
	want := atBench(t, "drover")
	b := atBench(t, "drover") // for its books
	b.press("job-new", "", "", "")
	for k, v := range map[string]string{"mains/measured": "124", "mains/low": "114", "mains/high": "127", "amp/maker": "Ostervale", "amp/model": "Drover"} {
		b.change("set", "", k, v)
	}
	b.press("set", "", "amp/bias", "cathode")
	b.send(port.Changed{Where: port.Where{Act: "tick", K: "amp/alike"}, Fresh: b.fresh(), Checked: true})
	for _, p := range want.m.Positions() {
		var pairs []string
		for _, name := range []string{"ref", "kind", "role", "value", "rating", "tolerance", "type", "nodes", "place", "extra", "note"} {
			pairs = append(pairs, name, amp.PositionFields(p)[name])
		}
		b.form("position", "", pairs...)
		if b.m.Screen.Ask != "" {
			t.Fatalf("%s: %s", p.Ref, b.m.Screen.Ask)
		}
	}
	b.passed()
	for _, r := range want.m.Open.Job.Amp.Readings {
		f := amp.ReadingFields(r)
		b.reads(Entry{At: f["at"], Quantity: f["quantity"], Value: f["value"], Unit: f["unit"], Mains: f["mains"], State: f["state"], Meter: f["meter_percent"]})
		if b.m.Screen.Ask != "" {
			t.Fatalf("%s: %s", r.At, b.m.Screen.Ask)
		}
	}
	got, as := b.m.Open.Result.Found, want.m.Open.Result.Found
	if len(got) != len(as) || len(got) == 0 {
		t.Fatalf("%d verdicts, want %d", len(got), len(as))
	}
	for i := range got {
		if got[i].Kind != as[i].Kind || got[i].Reason() != as[i].Reason() {
			t.Errorf("%s %s: %s, %s; want %s, %s", got[i].Subject, got[i].Quantity, got[i].Kind, got[i].Reason(), as[i].Kind, as[i].Reason())
		}
	}
}

func TestATaskGivesPileAndWordsWhereThereAreNone(t *testing.T) {
	b := empty(t)
	b.press("finding-new", "", "", "")
	id := b.m.Screen.Finding
	b.press("task-attach", id, "couplers", "")
	f, _ := b.m.finding(id)
	if f.Pile != "must" || f.No == "" || len(b.m.Open.Job.Options) != 2 {
		t.Errorf("%+v, %d options", f, len(b.m.Open.Job.Options))
	}
	b.press("finding-new", "", "", "could")
	id = b.m.Screen.Finding
	b.change("set", id, "finding/no", "Nothing much.")
	b.press("task-attach", id, "pots", "")
	if f, _ = b.m.finding(id); f.Pile != "could" || f.No != "Nothing much." {
		t.Errorf("the task writes over the technician's words: %+v", f)
	}
}
