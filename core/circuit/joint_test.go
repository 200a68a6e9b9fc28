package circuit

import (
	"math"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// followed is a small sheet with one of everything a drop can be read over.
const followed = `ref,kind,type,value,rating,tolerance,nodes,place,note,extra
MAINS,mains,,117,,,,,,hz=60 rs=2 heater=20
T1,winding,,600,,,a=A1 ct=0 b=A2,,,dcr=200
V5a,rectifier,5U4GB,,,,plate=A1 cathode=B1,,,
V5b,rectifier,5U4GB,,,,plate=A2 cathode=B1,,,
C1,electrolytic,,20uF,450V,,plus=B1 minus=0,,,
F1,fuse,,0.25A,,,a=B1 b=BF,,,
T2,choke,,10H,,,a=BF b=P3,,,dcr=200
R1,resistor,,1k,,5%,a=B1 b=X,,,
R2,resistor,,2k,,5%,a=X b=B2,,,
C2,electrolytic,,20uF,450V,,plus=B2 minus=0,,,
V3,beam,6V6GT,,,,plate=P3 screen=S3 grid=G3 cathode=K3,,,role=output-tube
R3,resistor,,470,,5%,a=B2 b=S3,,,
R4,resistor,,220k,,10%,a=G3 b=0,,,
R5,resistor,,500,,1%,a=K3 b=0,,,
R6,resistor,,100k,,10%,a=B2 b=P1,,,
R7,resistor,,1.5k,,10%,a=K1 b=0,,,
V1a,triode,12AX7,,,,plate=P1 grid=G1 cathode=K1,,,
V1b,triode,12AX7,,,,plate=B2 grid=P1 cathode=K2,,,
R8,resistor,,47k,,10%,a=K2 b=TAP,,,
R9,resistor,,53k,,10%,a=TAP b=0,,,
R10,resistor,,1M,,10%,a=G1 b=0,,,
`

func followedSheet(t *testing.T) []amp.Position {
	t.Helper()
	sheet, problems := amp.ReadSheet("followed.csv", []byte(followed))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return sheet
}

// The chain from an electrode to the next node whose volts are known; none
// where the current has a choice of ways.
func TestFollow(t *testing.T) {
	j := newJoints(followedSheet(t))
	for _, c := range []struct{ from, known, end, parts string }{
		{"P3", "B1", "B1", "T2"}, // through the fuse, which is wire
		{"P3", "BF", "B1", "T2"}, // the two are one node
		{"K3", "", "0", "R5"},    // to the chassis
		{"S3", "B2", "B2", "R3"}, // over a screen resistor
		{"S3", "B1", "", ""},     // B2 feeds others as well
		{"K2", "", "0", "R8 R9"}, // two in series, nothing on the tap
		{"P1", "B2", "B2", "R6"}, // the next stage's grid draws nothing
		{"B2", "B1", "", ""},     // many ways out
		{"G3", "", "", ""},       // a grid's leak carries nothing
	} {
		got, ok := j.follow(j.root(c.from), func(n string) bool { return c.known != "" && n == j.root(c.known) })
		var parts []string
		for _, p := range got.parts {
			parts = append(parts, j.parts[p].Ref)
		}
		if ok != (c.end != "") || ok && (j.root(c.end) != got.end || strings.Join(parts, " ") != c.parts) {
			t.Errorf("from %s to %q: %v, %s over %v", c.from, c.known, ok, got.end, parts)
		}
	}
}

// A winding is matched at the node its rectifiers fill.
func TestFeeds(t *testing.T) {
	for file, want := range map[string]string{
		"ambleton": "T1→B1 by 2", "corvane": "T1→B1 by 2, T3→NEG3 by 1", "fallowby": "T1→B1 by 4, T4→NEG4 by 1", "ivermoss": "T1→B1 by 2, T3→NEG3 by 1",
	} {
		a := loadAmp(t, "../../testdata/amps/"+file+".csv")
		j := newJoints(a.sheet)
		var got []string
		for _, f := range j.feeds() {
			got = append(got, j.parts[f.winding].Ref+"→"+f.node+" by "+string(rune('0'+len(f.rectifiers))))
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%s: %s, want %s", file, s, want)
		}
	}
}

// By hand: 20.0 V ± 0.2 over 500 Ω ± 1 % is 40 mA, known to 1 % + 1 %; the
// screen's 1.9 V between two readings of 300 V ± 1 % tells nothing.
func TestCurrentsByDrop(t *testing.T) {
	sheet := followedSheet(t)
	n, err := Compile(sheet, fittedLaws)
	if err != nil {
		t.Fatal(err)
	}
	read := func(at string, v float64) amp.Reading {
		return amp.Reading{ID: at, At: at, Quantity: amp.Volts, Unit: unit.Volt, Amount: v, Mains: 117, Meter: 0.01, Stated: true}
	}
	b := Bench{Sheet: sheet, Readings: []amp.Reading{read("K3", 20), read("S3", 300), read("B2", 301.9), read("B1", 330)}}
	j := newJoints(sheet)
	c := &chooser{net: n, j: j, ts: targetsOf(&b, j, 117), values: n.Sheet(), halves: halves(n, sheet, DefaultSpreads()), taken: map[int]bool{}}
	v3 := &sheet[j.byRef["V3"]]
	d, ok := c.current(v3, "cathode", "plate")
	if !ok || math.Abs(d.amps-0.04) > 1e-9 || math.Abs(d.err-0.02) > 1e-9 {
		t.Errorf("cathode: %v, %.5f A ± %.4f", ok, d.amps, d.err)
	}
	if d, ok := c.current(v3, "screen"); ok && d.err < tellsNothing {
		t.Errorf("screen: %.5f A ± %.4f", d.amps, d.err)
	}
	c.tubes(Perveance)
	c.supplies()
	var got []string
	for _, p := range c.pins {
		got = append(got, c.ts[p.target].reading.At+"→"+n.Knobs[p.moves[0].knob].Ref)
	}
	if s := strings.Join(got, " "); s != "K3→V3 B1→T1" {
		t.Errorf("matched %s", s)
	}
}
