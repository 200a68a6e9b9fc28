package circuit

import (
	"reflect"
	"strings"
	"testing"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// Every block expands with what must be given and nothing else, into rows
// that read back the same and whose own values say that they are.
func TestBlocksExpand(t *testing.T) {
	for _, b := range Blocks() {
		for _, prefix := range []string{"", "7", "B"} {
			given := map[string]string{}
			for _, p := range b.Params {
				if p.Start == "" {
					given[p.Key] = "240"
				}
			}
			rows, problems := b.Expand(prefix, given)
			if len(problems) > 0 || len(rows) == 0 {
				t.Fatalf("%s: %d rows, %v", b.Name, len(rows), problems)
			}
			again, problems := amp.ReadSheet("again", amp.WriteSheet(rows))
			if len(problems) > 0 || !reflect.DeepEqual(rows, again) {
				t.Errorf("%s: rows read back differently: %v", b.Name, problems)
			}
			for _, p := range rows {
				if len(p.Remarks) > 0 {
					t.Errorf("%s, %s: %v", b.Name, p.Ref, p.Remarks)
				}
			}
		}
	}
}

// Each choice of each block expands too.
func TestBlockChoices(t *testing.T) {
	for _, b := range Blocks() {
		for _, p := range b.Params {
			for _, word := range p.Of {
				given := map[string]string{p.Key: word}
				for _, q := range b.Params {
					if q.Start == "" {
						given[q.Key] = "240"
					}
				}
				if rows, problems := b.Expand("1", given); len(problems) > 0 || len(rows) == 0 {
					t.Errorf("%s, %s %s: %v", b.Name, p.Key, word, problems)
				}
			}
		}
	}
}

// Every blank of a block is used by one of its rows, and every blank a row
// uses is there: else a value would go nowhere.
func TestBlockBlanksUsed(t *testing.T) {
	for _, b := range Blocks() {
		text := ""
		for _, l := range b.lets {
			text += "{" + l.when + "} " + l.text + " "
		}
		for _, r := range b.rows {
			text += strings.Join([]string{"{" + r.when + "}", r.ref, r.kind, r.typ, r.value, r.tol, r.nodes, r.extra}, " ") + " "
		}
		names := map[string]bool{}
		for _, p := range b.Params {
			names[p.Key] = true
			if !strings.Contains(text, "{"+p.Key+"}") && !strings.Contains(text, p.Key+"=") {
				t.Errorf("%s: nothing uses %q", b.Name, p.Key)
			}
			if p.Says == "" || p.Sort == OneWord && len(p.Of) < 2 {
				t.Errorf("%s: %q cannot be shown in a form", b.Name, p.Key)
			}
		}
		for _, l := range b.lets {
			names[l.key] = true
		}
		for _, piece := range strings.Split(text, "{")[1:] {
			if key, _, _ := strings.Cut(piece, "}"); !strings.Contains(key, "=") && key != "" && !names[key] {
				t.Errorf("%s: a row asks for %q", b.Name, key)
			}
		}
	}
}

func TestBlockRows(t *testing.T) {
	b, _ := BlockNamed("cathode-biased pair")
	rows, problems := b.Expand("7", g{"tube 1": "V3", "tube 2": "V4", "cathode": "250 5W 10%", "screens": "none"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	a := amp.Amp{Positions: rows}
	r, _ := a.Find("R740")
	if r == nil || r.Value != "250" || r.Rating != "5W" || r.Tolerance != "10%" || r.Role != amp.CathodeResistor || r.Note != "" {
		t.Errorf("R740 = %+v, want 250 Ω, 5 W, 10 %%, as given", r)
	}
	if k, _ := r.Node("a"); k != "K7" {
		t.Errorf("R740 stands on %s, want K7", k)
	}
	if s := r.Spec; s.Unit != unit.Ohm || s.Watts < 4.99 || s.Watts > 5.01 {
		t.Errorf("R740 reads as %+v, want 5 W", s)
	}
	v, _ := a.Find("V3")
	if s, _ := v.Node("screen"); s != "B2" || v.Extra["matched"] != "V4" {
		t.Errorf("V3 = %+v, want its screen on B2, matched with V4", v)
	}
	if _, there := a.Find("R721"); there {
		t.Error("R721 is there, and no screen resistor was wanted")
	}
	if c, _ := a.Find("C740"); c.Note != Own || c.Value != "100uF" {
		t.Errorf("C740 = %+v, want the block's own 100 µF, and a note that it is", c)
	}
}

func TestBlockProblems(t *testing.T) {
	tests := []struct {
		name, block, prefix string
		given               map[string]string
		column, say         string
	}{
		{"value missing", "mains", "", nil, "volts", "is missing"},
		{"not a number", "dropper", "1", g{"dropper": "1O0k"}, "dropper", "1O0k"},
		{"wrong unit", "dropper", "1", g{"smoother": "22H"}, "smoother", "22H"},
		{"no such blank", "dropper", "1", g{"choke": "5H"}, "choke", "is not a word we know here"},
		{"no such choice", "full-wave supply", "1", g{"volts": "600", "smoothing": "coil"}, "smoothing", "dropper or choke or none"},
		{"two nodes in one", "dropper", "1", g{"out": "B3 B4"}, "out", "holds more than one reading"},
		{"a wiper past the end", "volume control", "1", g{"turn": "1.5"}, "turn", "is out of range"},
		{"a row put into a node", "dropper", "1", g{"out": "{in}"}, "out", "holds more than one reading"},
		{"prefix of two words", "dropper", "1 2", nil, "prefix", "holds more than one reading"},
	}
	for _, tt := range tests {
		b, _ := BlockNamed(tt.block)
		_, problems := b.Expand(tt.prefix, tt.given)
		if len(problems) != 1 || problems[0].Column != tt.column || !strings.Contains(problems[0].Error(), tt.say) {
			t.Errorf("%s: got %v, want one of column %q with %q", tt.name, problems, tt.column, tt.say)
		}
	}
}

func TestAssemble(t *testing.T) {
	_, problems := Assemble([]Use{{"dropper", "1", nil}, {"dropper", "1", nil}, {"tone stack", "3", nil}})
	want := []string{`dropper: column "prefix": "R101" comes twice; did you mean prefix 2?`, `dropper: column "prefix": "C101" comes twice; did you mean prefix 2?`,
		`column "block": "tone stack" is not a word we know here`}
	if len(problems) != len(want) {
		t.Fatalf("got %v, want %v", problems, want)
	}
	for i, p := range problems {
		if p.Error() != want[i] {
			t.Errorf("got %v, want %s", p, want[i])
		}
	}
}
