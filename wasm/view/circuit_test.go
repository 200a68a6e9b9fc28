package view

import (
	"slices"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
)

func stageNamed(t *testing.T, all []draw.Stage, subject string) draw.Stage {
	t.Helper()
	i := slices.IndexFunc(all, func(s draw.Stage) bool { return s.Subject == subject })
	if i < 0 {
		t.Fatalf("no stage %s", subject)
	}
	return all[i]
}

func boxNames(s draw.Stage) string {
	var out []string
	for _, n := range s.Nodes {
		out = append(out, joined(":", n.Pin, n.Name))
	}
	return strings.Join(out, " ")
}

// The drover's sheet, by hand: the rectifier feeds B1, R1 leads to B2, R2 to
// B3; each tube has its electrodes' nodes.
func TestCircuitIsLaidOutByStages(t *testing.T) {
	m := opened(t, "drover-sheet")
	all := circuitStages(m.Positions(), readVolts(&m.Open.Job.Amp))
	supply := all[0]
	if got := boxNames(supply); !supply.Chain || got != "B1 B2 B3" {
		t.Fatalf("supply %s", got)
	}
	for i, want := range []string{"V5a V5b 5U4GB from HTa HTb", "R1 2.7k", "R2 10k"} {
		if supply.Nodes[i].Link != want {
			t.Errorf("to %s leads %q, want %q", supply.Nodes[i].Name, supply.Nodes[i].Link, want)
		}
	}
	if supply.Nodes[0].Read != "325 V" {
		t.Errorf("B1 read %s, want 325 V", supply.Nodes[0].Read)
	}
	v3 := stageNamed(t, all, "V3 6V6GT")
	if got := boxNames(v3); got != "plate:P3 screen:B2 grid:G3 cathode:K" {
		t.Errorf("V3: %s", got)
	}
	if n := v3.Nodes[0]; n.Read != "318 V" || len(n.Parts) != 1 || n.Parts[0] != (draw.Lead{Say: "T2a 12H", To: "B1", Shape: draw.Wound}) {
		t.Errorf("plate %+v", n)
	}
	if n := stageNamed(t, all, "V4 6V6GT").Nodes[3]; len(n.Parts) != 1 || n.Parts[0].Say != "see V3" || n.Read != "19.0 V" {
		t.Errorf("the cathode the two share: %+v", n)
	}
}

// Every node of a sheet is drawn with its parts once, whatever the amp: all
// stage blocks put together.
func TestEveryNodeIsDrawnOnce(t *testing.T) {
	var sheet []amp.Position
	for i, b := range circuit.Blocks() {
		given := map[string]string{}
		for _, p := range b.Params {
			if p.Start == "" {
				given[p.Key] = "300"
			}
		}
		rows, problems := b.Expand(itoa(i+1), given)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", b.Name, problems)
		}
		sheet = append(sheet, rows...)
	}
	count := map[string]int{}
	for _, s := range circuitStages(sheet, nil) {
		for _, n := range s.Nodes {
			if len(n.Parts) == 1 && strings.HasPrefix(n.Parts[0].Say, "see ") || n.Plain {
				continue
			}
			count[n.Name]++
		}
	}
	for _, p := range sheet {
		for _, n := range p.Nodes {
			if n.Name != "0" && count[n.Name] != 1 {
				t.Errorf("node %s is drawn %d times", n.Name, count[n.Name])
				count[n.Name] = 1
			}
		}
	}
}

func TestCircuitLeafDraws(t *testing.T) {
	for _, name := range []string{"drover", "drover-sheet", "tern-sheet"} {
		m := press(press(opened(t, name), "posture", "plan", ""), "plan-leaf", "", app.LeafCircuit)
		for _, place := range []string{app.CircuitDrawing, app.CircuitRows, app.CircuitChart, app.CircuitSpreads} {
			m = press(m, "circuit-place", "", place)
			if html := draws(t, m); !strings.Contains(html, "own circuit say?") {
				t.Errorf("%s, %s: no question", name, place)
			}
		}
	}
	empty := press(started(), "job-new", "", "")
	html := draws(t, press(press(empty, "posture", "plan", ""), "plan-leaf", "", app.LeafCircuit))
	for _, want := range []string{"Choose the file", "Add a stage", "no circuit sheet"} {
		if !strings.Contains(html, want) {
			t.Errorf("the empty leaf lacks %q", want)
		}
	}
}

// Each stage block has a form that holds all of its blanks, each with a name.
func TestEveryBlockHasItsForm(t *testing.T) {
	m := press(press(opened(t, "drover"), "posture", "plan", ""), "plan-leaf", "", app.LeafCircuit)
	m = press(m, "circuit-place", "", app.CircuitRows)
	for _, b := range circuit.Blocks() {
		m.Screen.Circuit.Block = b.Name
		html := draws(t, m)
		for _, p := range b.Params {
			if !strings.Contains(html, `name="p:`+keyed.Escape(p.Key)+`"`) || !strings.Contains(html, keyed.Escape(capital(p.Says))) {
				t.Errorf("%s: the form lacks %s", b.Name, p.Key)
			}
		}
	}
}

// handSight is a circuit as it will come, with figures made up by hand.
func handSight() sight {
	d := circuit.Dial{Method: "cathode resistor", At: "across R20", Low: 15.253, High: 18.441, Unit: unit.Volt, Error: 0.021, Terms: []string{"meter 1 %", "R20 as read, 1 %"}}
	w := circuit.Window{Ref: "V3", Type: "6V6GT", Mains: 117, Current: unit.Interval{Low: .0291, Expected: .032, High: .0352}, Least: "60 % of the plate's watts: below it the stage crosses over",
		Most: "plate watts at 127 V: ≤ 12 W, design center, user: scenario", Dial: []circuit.Dial{d, {Method: "winding drop", Caution: circuit.WindingDrop, At: "across T2a", Low: 5.53, High: 6.69, Unit: unit.Volt, Error: 0.06}}, Ways: []string{"R20 = 300 Ω"}}
	v4 := w
	v4.Ref = "V4"
	return sight{Mains: 117, Windows: []circuit.Window{w, v4}, Spreads: circuit.DefaultSpreads(),
		Residuals: []circuit.Residual{
			{Reading: amp.Reading{ID: "r2", At: "B1", Quantity: amp.Volts, Amount: 325, Unit: unit.Volt, Step: 1}, Model: unit.Interval{Low: 322, Expected: 325, High: 328}, Agrees: true, Used: true},
			{Reading: amp.Reading{ID: "r5", At: "B2", Quantity: amp.Volts, Amount: 300, Unit: unit.Volt, Step: 1}, Model: unit.Interval{Low: 281, Expected: 284, High: 287}},
		},
		Next:     []nextReading{{At: "V3:screen", Quantity: amp.Current, Live: true, Say: "would narrow the plate watts of V3 from 11.2 to 12.6 W to 11.6 to 12.2 W"}},
		Suspects: []suspect{{Refs: []string{"R1"}, Say: "R1 reads 3.4 kΩ in place of 2.7 kΩ", Also: "C1b leaking"}},
		Pairs:    []pairDiffers{{Refs: "V3 and V4", Read: "1.2 mA, 3.4 %", Band: "0.4 to 7.1 % at 127 V"}},
		Curves:   []draw.Curves{{Subject: "V3 6V6GT", Watts: 12, Volts: 315, Points: []draw.Idle{{Say: "127 V mains", Volts: 325, Amps: .0371, Low: .036, High: .0384, Kind: draw.NotProven}}}},
		Choices: []idleChoice{{Key: "6V6GT-300", Type: "6V6GT", Kind: draw.Within, Name: "6V6GT with R20 300 Ω", Dial: "16.1 to 18.9 V across R20",
			Strip: draw.Strip{Subject: "plate watts at 127 V", Low: 10.6, Expected: 11, Worst: 11.4, Limit: 12, Unit: unit.Watt, Kind: draw.Within}}},
	}
}

func markup(t *testing.T, nodes []keyed.Node) string {
	t.Helper()
	tree := keyed.Tree{Title: "x", Nodes: nodes}
	for _, wrong := range keyed.Check(tree) {
		t.Error(wrong)
	}
	var b strings.Builder
	for _, n := range nodes {
		b.WriteString(n.HTML())
	}
	return b.String()
}

// The reading to dial is rounded inward: 15.253 V up, 18.441 V down.
func TestIdleWindowSaysWhatToDial(t *testing.T) {
	m := opened(t, "drover-sheet")
	html := markup(t, idleView(m, handSight()))
	for _, want := range []string{"What do I dial?", "V3, V4 6V6GT, at 117 V mains", ">15.26<", ">18.44<", "Meter across R20 shows", "29.1 mA", "35.2 mA", "2.1 %", "R20 as read, 1 %", "Live readings kill.", "R20 = 300 Ω",
		"1.2 mA, 3.4 %", "0.4 to 7.1 % at 127 V", "127 V mains: 325 V, 37.1 mA, 12.1 W", "design center"} {
		if !strings.Contains(html, want) {
			t.Errorf("lacks %q", want)
		}
	}
	m.Screen.Circuit.Method = "winding drop"
	html = markup(t, idleView(m, handSight()))
	for _, want := range []string{"Both leads are at full B+", "Meter across T2a shows", ">5.53<"} {
		if !strings.Contains(html, want) {
			t.Errorf("by the winding: lacks %q", want)
		}
	}
	asked := handSight()
	asked.FitAsked, asked.Fitted, asked.ToFit = true, 3, 14
	if html := markup(t, idleView(m, asked)); !strings.Contains(html, "Working out type 4 of 14") {
		t.Error("the page does not say how far it is")
	}
	if html := markup(t, idleView(m, asked)); !strings.Contains(html, "The meter will show 16.1 to 18.9 V across R20") || !strings.Contains(html, "6V6GT with R20 300 Ω") {
		t.Error("the choices side by side lack what the meter will show")
	}
}

// Where nothing can be dialed the page teaches what is missing.
func TestIdleWindowTeaches(t *testing.T) {
	m := opened(t, "drover")
	tests := []struct {
		change func()
		want   string
	}{
		{func() {}, "The circuit is not worked out"},
		{func() { m.Open.Job.Mains.Low, m.Open.Job.Mains.High = 0, 0 }, "The owner&#39;s mains is not known"},
		{func() {
			for i := range m.Open.Job.Amp.Positions {
				m.Open.Job.Amp.Positions[i].Role = ""
			}
		}, "No output tube is marked"},
		{func() { m.Open.Job.Amp.Positions = nil }, "It needs the amp&#39;s circuit"},
	}
	for _, tt := range tests {
		tt.change()
		if html := markup(t, idleView(m, sight{Missing: "the sheet is not whole"})); !strings.Contains(html, tt.want) {
			t.Errorf("lacks %q", tt.want)
		}
	}
}

func TestChartOfTheCircuit(t *testing.T) {
	m := opened(t, "drover-sheet")
	m.Screen.Circuit.Place = app.CircuitChart
	html := markup(t, circuitView(m, handSight()))
	for _, want := range []string{"1 of 2 readings agree", "1 against it", "agrees, matched to it", "does not agree: not proven", "281.0 to 287.0 V", "V3:screen", `data-act="measure-this"`, "Live readings kill.", "R1 reads 3.4 kΩ", "cannot tell it from C1b leaking", "proves nothing"} {
		if !strings.Contains(html, want) {
			t.Errorf("lacks %q", want)
		}
	}
}

func TestSpreadsStandWithTheirSources(t *testing.T) {
	m := opened(t, "drover-sheet")
	m.Screen.Circuit.Place = app.CircuitSpreads
	html := markup(t, circuitView(m, sightOf(m)))
	for _, r := range circuit.DefaultSpreads() {
		if !strings.Contains(html, keyed.Escape(capital(r.Says))) || !strings.Contains(html, `data-id="`+r.Key+`"`) {
			t.Errorf("lacks %s", r.Key)
		}
	}
	if !strings.Contains(html, `value="our own judgment, no source"`) || !strings.Contains(html, `value="1.2"`) || !strings.Contains(html, `value="20"`) {
		t.Error("amounts or sources are missing")
	}
}
