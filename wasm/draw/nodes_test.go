package draw

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/unit"
)

var supplyStage = Stage{Subject: "B+ supply", Chain: true, Nodes: []NodeBox{
	{Name: "B1", Link: "V5a V5b 5U4GB from HTa HTb", Read: "325 V", Expected: "324.1 V", Worst: "358.2 V", Parts: []Lead{{"C1a 20 µF", "", Holds}, {"OTa 230 Ω", "P3", Wound}, {"OTb 228 Ω", "P4", Wound}}},
	{Name: "B2", Link: "L1 10 H", Read: "300 V", Expected: "300.6 V", Worst: "331.9 V", Parts: []Lead{{"C1b 20 µF", "", Holds}, {"V3 screen, V4 screen", "", Remark}}},
	{Name: "B3", Link: "R15 22k", Wrong: "floating", Parts: []Lead{{"C1c 20 µF", "", Holds}}},
}}

var outputStage = Stage{Subject: "V3 6V6GT", Tube: true, Nodes: []NodeBox{
	{Pin: "plate", Name: "P3", Read: "318 V", Expected: "317.4 V", Worst: "347.0 V", Parts: []Lead{{"OTa 230 Ω", "B1", Wound}}},
	{Pin: "screen", Name: "B2", Read: "300 V"},
	{Pin: "grid", Name: "G3", Parts: []Lead{{"C5 .02 µF", "P2a", Holds}, {"R10 220k", "", Resists}}},
	{Pin: "cathode", Name: "K", Read: "19.0 V", Expected: "19.1 V", Worst: "21.2 V", Parts: []Lead{{"R20 250 Ω", "", Resists}, {"C9 25 µF", "", Holds}, {"V4 cathode", "", Remark}}},
}}

// square is a made-up plate: 40 mA at 200 V, rising with the volts.
func square(grid, scale float64) GridLine {
	l := GridLine{Grid: grid}
	for u := 0.0; u <= 420; u += 20 {
		l.At = append(l.At, Spot{u, scale * math.Sqrt(u/200)})
	}
	return l
}

var idleCurves = Curves{Subject: "V3 6V6GT", Watts: 12, Volts: 315,
	Lines: []GridLine{square(-10, .058), square(-15, .045), square(-20, .03), square(-25, .018)},
	Points: []Idle{
		{Say: "114 V mains", Volts: 292, Amps: .0331, Low: .0322, High: .0339, Kind: Within},
		{Say: "124 V mains", Volts: 317, Amps: .0360, Low: .0352, High: .0369, Kind: Within},
		{Say: "127 V mains", Volts: 325, Amps: .0371, Low: .0360, High: .0384, Kind: NotProven},
	}}

var idleWindow = Window{Subject: "V3 6V6GT at 117 V", Low: .0291, High: .0352, Now: unit.Interval{Low: .0332, Expected: .0338, High: .0344}, Unit: unit.Ampere,
	Dial: "across R20", DialLow: 15.25, DialHigh: 18.44, DialUnit: unit.Volt}

// circuitPictures are the pictures of a circuit, on usual and awkward input.
func circuitPictures() map[string]string {
	over, above, narrow := idleCurves, idleWindow, idleWindow
	over.Points = append([]Idle{}, over.Points...)
	over.Points[2].Kind = OverInherited
	over.Lines = nil
	above.Now = unit.Interval{Low: .0371, Expected: .0379, High: .0388}
	narrow.Low, narrow.DialLow = .0346, 18.20
	return map[string]string{
		"stage drover": NodePicture(outputStage), "supply drover": NodePicture(supplyStage),
		"loose":  NodePicture(Stage{Subject: "other nodes", Nodes: []NodeBox{{Name: "a node with a name much too long", Wrong: "stands on one part only", Parts: []Lead{{"R99 <1M> & more to be cut", "another long place", Resists}}}}}),
		"curves": PlateCurves(idleCurves), "curves over": PlateCurves(over),
		"window": WindowStrip(idleWindow), "window above": WindowStrip(above), "window narrow": WindowStrip(narrow),
		"window blind":    WindowStrip(Window{Subject: "V3"}),
		"stage empty":     NodePicture(Stage{}),
		"curves empty":    PlateCurves(Curves{}),
		"curves nonsense": PlateCurves(Curves{Watts: math.NaN(), Volts: math.Inf(1), Points: []Idle{{Volts: math.NaN(), Amps: math.Inf(1)}}}),
		"window nonsense": WindowStrip(Window{Low: math.NaN(), High: math.Inf(1)}),
	}
}

func TestCircuitPicturesStandByThemselves(t *testing.T) {
	for name, svg := range circuitPictures() {
		if err := wellFormed(svg); err != nil {
			t.Errorf("%s is not well formed: %v", name, err)
		}
		for _, never := range []string{" style=", "NaN", "Inf", "url(", "<script", " id="} {
			if strings.Contains(svg, never) {
				t.Errorf("%s holds %q", name, never)
			}
		}
		if !strings.Contains(svg, "<title>") || !strings.Contains(svg, `role="img"`) {
			t.Errorf("%s does not name itself", name)
		}
	}
}

func TestNodePictureSaysAll(t *testing.T) {
	svg := NodePicture(outputStage)
	for _, want := range []string{">P3<", ">read 318 V<", ">expected 317.4 V<", ">worst 347.0 V<", ">R20 250 Ω<", ">cathode<", "cathode on K: read 19.0 V, expected 19.1 V, worst 21.2 V; R20 250 Ω to the chassis"} {
		if !strings.Contains(svg, want) {
			t.Errorf("lacks %s", want)
		}
	}
	if !strings.Contains(NodePicture(supplyStage), ">floating<") {
		t.Error("a floating node is not called so")
	}
}

// A mark is told apart by its shape: with colors taken out, no two of the
// first four are alike.
func TestIdlePointsDifferByShape(t *testing.T) {
	seen := map[string]bool{}
	for i := range 4 {
		c := &canvas{w: width}
		c.spotMark(i, 50, 50, Within)
		shape := tints.ReplaceAllString(regexp.MustCompile(`class="[^"]*"`).ReplaceAllString(c.b.String(), ""), "")
		if seen[shape] {
			t.Errorf("mark %d is like another", i)
		}
		seen[shape] = true
	}
}

// By hand: 325 V · 37.1 mA = 12.06 W.
func TestPlateCurvesSayTheirPoints(t *testing.T) {
	svg := PlateCurves(idleCurves)
	for _, want := range []string{">127 V mains: 325 V, 37.1 mA, 12.1 W<", ">12 W<", ">315 V<", "between 36.0–38.4 mA", "not proven"} {
		if !strings.Contains(svg, want) {
			t.Errorf("lacks %s", want)
		}
	}
	if strings.Contains(svg, overTint) {
		t.Error("the signal color stands where nothing is over")
	}
	if !strings.Contains(circuitPictures()["curves over"], overTint) {
		t.Error("a point over a limit does not have the signal color")
	}
}

func TestWindowSaysWhereItStands(t *testing.T) {
	tests := []struct {
		now  unit.Interval
		want string
	}{
		{unit.Interval{Low: .0332, Expected: .0338, High: .0344}, "inside"},
		{unit.Interval{Low: .0350, Expected: .0355, High: .0360}, "partly outside"},
		{unit.Interval{Low: .0360, Expected: .0365, High: .0370}, "above it"},
		{unit.Interval{Low: .0270, Expected: .0275, High: .0280}, "below it"},
	}
	for _, tt := range tests {
		w := idleWindow
		w.Now = tt.now
		if svg := WindowStrip(w); !strings.Contains(svg, ">now "+unit.FormatAmount(tt.now.Expected, unit.Ampere, 1)+", "+tt.want+"<") {
			t.Errorf("%v is not called %s", tt.now, tt.want)
		}
	}
	for _, want := range []string{">29.1 mA<", ">35.2 mA<", ">15.25 V<", ">18.44 V<", ">across R20<"} {
		if !strings.Contains(WindowStrip(idleWindow), want) {
			t.Errorf("lacks %s", want)
		}
	}
}

func TestCircuitPicturesStayInside(t *testing.T) {
	for name, svg := range circuitPictures() {
		w := 320.0
		if strings.Contains(svg, `viewBox="0 0 440 `) {
			w = stageWide
		}
		for _, m := range across.FindAllStringSubmatch(svg, -1) {
			if x := number(t, m[2]); x < -2 || x > w+2 {
				t.Errorf("%s: %s=%s is outside 0 to %g", name, m[1], m[2], w)
			}
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
