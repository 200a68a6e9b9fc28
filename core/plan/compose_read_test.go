package plan

import (
	"math"
	"testing"
)

func TestReadMade(t *testing.T) {
	for text, want := range map[string]Made{
		"":                           {},
		"2 in series":                {Pieces: 2, Way: Series},
		"3 in Parallel":              {Pieces: 3, Way: Parallel},
		"sections in parallel":       {Pieces: 1, Way: Parallel, Sections: true},
		"2 in series, leak 0.3mA":    {Pieces: 2, Way: Series, Leak: 0.3e-3},
		"2 in series , leak 25 uA":   {Pieces: 2, Way: Series, Leak: 25e-6},
		" 2  in  series ":            {Pieces: 2, Way: Series},
		"2 in parallel, leak 0.5 mA": {Pieces: 2, Way: Parallel, Leak: 0.5e-3},
	} {
		got, err := ReadMade(text)
		if err != nil || math.Abs(got.Leak-want.Leak) > 1e-12 || got.Pieces != want.Pieces || got.Way != want.Way || got.Sections != want.Sections {
			t.Errorf("%q: %+v %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"2", "series", "1 in series", "4 in series", "-2 in series", "2 in a row", "sections in series", "2 in series, leak", "2 in series, leak 3 V", "2 in series, leak 0mA", "2 in series, 0.3mA", "two in series"} {
		if m, err := ReadMade(text); err == nil {
			t.Errorf("%q is read as %+v, want an error", text, m)
		}
	}
}

func TestReadJoint(t *testing.T) {
	tests := []struct {
		text, piece, made, balance string
	}{
		{"2 x electrolytic 68uF 300V in series + 2 x 220k 1W", "electrolytic 68uF 300V", "2 in series", "220k 1W"},
		{"2 × film .01uF 630V in parallel", "film .01uF 630V", "2 in parallel", ""},
		{"can 20/20/20uF 450V, sections in parallel", "can 20/20/20uF 450V", "sections in parallel", ""},
		{"2 x electrolytic 68uF 300V ±20% in series, leak 100 uA + 2 x 220k 2W 5%", "electrolytic 68uF 300V ±20%", "2 in series, leak 100 uA", "220k 2W 5%"},
		{"electrolytic 22uF 450V", "", "", ""},
	}
	for _, tt := range tests {
		j, ok, err := ReadJoint(tt.text)
		if err != nil || ok != (tt.piece != "") || j.Piece != tt.piece || j.Made.String() != tt.made || j.Balance != tt.balance {
			t.Errorf("%q: %+v %v %v", tt.text, j, ok, err)
		}
	}
	for _, text := range []string{"electrolytic 68uF in series", "2 x 68uF in series + 3 x 220k", "2 x 68uF in parallel + 2 x 220k", "can 20/20uF sections in series", "2 x in series", "2 x 68uF in series + 220k", "in series"} {
		if j, ok, err := ReadJoint(text); err == nil && ok {
			t.Errorf("%q is read as %+v, want an error", text, j)
		}
	}
}

// A making reads back as itself, whatever was typed.
func FuzzReadMaking(f *testing.F) {
	for _, s := range []string{"2 in series, leak 0.3mA", "sections in parallel", "3 x 33k in series", "2 x electrolytic 68uF 300V in series + 2 x 220k 1W", "İ in series", "\xff\xff\xff\xff\xff in series", "2 in series, leak 1e-300mA"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, read := range []func(string) (Made, error){ReadMade, func(s string) (Made, error) { j, _, err := ReadJoint(s); return j.Made, err }} {
			m, err := read(text)
			if err != nil {
				continue
			}
			if m.Is() && (m.Way == Series && m.Sections || m.Sections != (m.Pieces == 1) || m.Pieces > most) {
				t.Fatalf("%q: %+v", text, m)
			}
			again, err := ReadMade(m.String())
			if err != nil || again.Way != m.Way || again.Pieces != m.Pieces || math.Abs(again.Leak-m.Leak) > 1e-9*m.Leak {
				t.Fatalf("%q: %+v prints as %q and reads as %+v, %v", text, m, m.String(), again, err)
			}
		}
	})
}
