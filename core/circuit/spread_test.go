package circuit

import (
	"math"
	"strings"
	"testing"

	"lugworth/core/amp"
)

// Every row of the built-in table says that it has no source; the shop's own
// amounts replace single rows, and what cannot be read is told of.
func TestReadSpreads(t *testing.T) {
	for _, r := range DefaultSpreads() {
		if r.Amount <= 0 || r.Says == "" || !strings.Contains(r.Source, "no source") || !strings.HasPrefix(r.Key, "spread_") {
			t.Errorf("%+v", r)
		}
	}
	given := map[string][2]string{
		"spread_resistor": {"10 %", "our drawer, 200 old parts"}, "spread_copper": {"±15%", ""},
		"spread_shift_output": {"0.8 V", "our tester"}, "spread_winding": {"lots", "x"}, "spread_pot": {"120", "x"}, "spread_share": {"NaN", "x"},
	}
	table, problems := ReadSpreads(func(key string) (string, string, bool) {
		g, ok := given[key]
		return g[0], g[1], ok
	})
	for _, c := range []struct {
		key    string
		amount float64
		source string
	}{
		{"spread_resistor", 0.10, "our drawer, 200 old parts"},
		{"spread_copper", 0.15, "the shop's sheet, which gives no source"},
		{"spread_shift_output", 0.8, "our tester"},
		{"spread_winding", 0.10, judgment},
		{"spread_pot", 0.20, judgment},
		{"spread_share", 0.25, judgment},
	} {
		if r := table.row(c.key); math.Abs(r.Amount-c.amount) > 1e-12 || r.Source != c.source {
			t.Errorf("%s: %v, %q", c.key, r.Amount, r.Source)
		}
	}
	if len(problems) != 3 {
		t.Errorf("%d problems, want 3: %v", len(problems), problems)
	}
}

// A tolerance on the sheet comes before the table; ohms read with the power
// off come before both.
func TestHalves(t *testing.T) {
	s := scenario(t, "drover-sheet.txtar", "")
	hs := halves(s.net, s.sheet, DefaultSpreads())
	ts := targetsOf(&Bench{Sheet: s.sheet, Readings: []amp.Reading{
		{ID: "1", At: "R20", Quantity: amp.Ohms, Amount: 262, State: []string{amp.Off}, Meter: 0.01, Stated: true, Step: 1},
	}}, newJoints(s.sheet), 117)
	v := s.net.Sheet()
	if used := asRead(s.net, v, hs, ts); len(used) != 1 {
		t.Fatalf("used %v", used)
	}
	for _, c := range []struct {
		ref     string
		p       Property
		value   float64
		width   float64
		assumed bool
	}{
		{"R1", Ohms, 2700, 270, false},     // 10 % on the sheet
		{"R20", Ohms, 262, 3.12, false},    // 1 % of 262 and half an ohm
		{"C1a", Farads, 20e-6, 4e-6, true}, // no tolerance: 20 % of the table
		{"T2a", Copper, 190, 38, true},
		{"V3", Shift, 0, 1.2, true},  // an output tube
		{"V1a", Shift, 0, 0.3, true}, // a small one
		{"HT", Volts, 580, 58, true},
	} {
		k, ok := s.net.Knob(c.ref, c.p)
		if !ok || math.Abs(v[k]-c.value) > 1e-9 || math.Abs(hs[k].width-c.width) > 1e-9 || hs[k].assumed != c.assumed {
			t.Errorf("%s %s: %v ± %v, assumed %v; want %v ± %v, %v", c.ref, c.p.words(), v[k], hs[k].width, hs[k].assumed, c.value, c.width, c.assumed)
		}
	}
}
