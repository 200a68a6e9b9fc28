package unit

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// published reads one file of outside checks; each row names its source.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, head := range rows[0] {
			m[head] = row[i]
		}
		if m["source"] == "" || m["mark"] == "" {
			t.Errorf("%s: row %v has no source", name, row)
		}
		out = append(out, m)
	}
	return out
}

func TestPublishedPreferredValues(t *testing.T) {
	for _, row := range published(t, "preferred-values.csv") {
		n, _ := strconv.Atoi(strings.TrimPrefix(row["what"], "E"))
		s := Series(n)
		var want []float64
		for _, w := range strings.Fields(row["expected"]) {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			want = append(want, v)
		}
		if row["input"] == "decade" && len(want) != n {
			t.Errorf("%v: %d values in the table", s, len(want))
		}
		first, _ := strconv.Atoi(strings.TrimPrefix(row["input"], "index "))
		if row["input"] == "near 4.7" {
			for first = 0; s.Value(first+1) < 4.7; first++ {
			}
		}
		for i, w := range want { // to 1e-9
			if got := s.Value(first + i); math.Abs(got-w) > 1e-9 {
				t.Errorf("%v value %d = %v, want %v (%s)", s, first+i, got, w, row["source"])
			}
		}
	}
}

func TestPublishedMarkings(t *testing.T) {
	for _, row := range published(t, "markings.csv") {
		hint := Ohm
		if row["what"] == "capacitor" {
			hint = Farad
		}
		got, err := ReadSpec(row["input"], hint)
		if err != nil || got.Canonical() != row["expected"] {
			t.Errorf("ReadSpec(%q, %v) = %q, %v, want %q (%s)", row["input"], hint, got.Canonical(), err, row["expected"], row["source"])
		}
	}
}

func TestPublishedColors(t *testing.T) {
	for _, row := range published(t, "colors.csv") {
		var got Spec
		var err error
		if row["what"] == "bands" {
			got, err = ColorBands(row["input"])
		} else {
			w := append(strings.Fields(row["input"]), "")
			got, err = BodyEndDot(w[0], w[1], w[2], w[3])
		}
		if err != nil || got.Canonical() != row["expected"] {
			t.Errorf("%s %q = %q, %v, want %q (%s)", row["what"], row["input"], got.Canonical(), err, row["expected"], row["source"])
		}
	}
}

func TestColorBandsRefused(t *testing.T) {
	tests := []struct{ text, err string }{
		// A fifth band of yellow: four bands and reliability, or 0.02 %.
		{"brown black brown gold yellow", "ambiguous: 100 Ω ±5 % (four bands and a reliability band) or 10.1 Ω ±0.02 % (five bands)"},
		{"gold orange black brown", "not-a-number"},
		{"brown black orange gray", "not-a-number"}, // sources differ on gray
		{"brown black", "not-a-number"},
		{"brown blakc orange", "unknown-word"},
		{"", "not-a-number"},
	}
	for _, tt := range tests {
		if _, err := ColorBands(tt.text); errText(err) != tt.err {
			t.Errorf("ColorBands(%q): %q, want %q", tt.text, errText(err), tt.err)
		}
	}
	if _, err := BodyEndDot("blue", "gray", "orange", "red"); errText(err) != "unknown-word" {
		t.Errorf("red on the other end: %v", err)
	}
}
