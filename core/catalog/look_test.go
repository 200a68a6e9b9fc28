package catalog

import (
	"os"
	"testing"
)

// A list that is refused can still be looked at, mapped and then read.
func TestLookAtARefusedList(t *testing.T) {
	for _, tt := range []struct {
		file string
		as   map[int]Field
		rows int
	}{
		{"double-price.csv", map[int]Field{2: FieldPrice}, 1},
		{"no-price.csv", nil, 0},
	} {
		data, err := os.ReadFile("../../testdata/lists/" + tt.file)
		if err != nil {
			t.Fatal(err)
		}
		terms := Terms{List: "A", Currency: "USD"}
		if _, err := ReadList("A", tt.file, data, terms, nil); err == nil {
			t.Fatalf("%s is read without help: this test shows nothing", tt.file)
		}
		m, sample, err := Look(tt.file, data, terms, nil)
		if err != nil || len(m.Columns) < 2 || len(sample) == 0 {
			t.Fatalf("%s: %v, %d columns, %d rows", tt.file, err, len(m.Columns), len(sample))
		}
		if tt.as == nil {
			continue
		}
		for i, f := range tt.as {
			m = m.With(i, f)
		}
		l, err := ReadList("A", tt.file, data, terms, &m)
		if err != nil || len(l.Offers) != tt.rows {
			t.Errorf("%s, mapped by hand: %d offers, %v", tt.file, len(l.Offers), err)
		}
	}
}

func TestLookRefuses(t *testing.T) {
	for _, data := range []string{"", " \n", "%PDF-1.4\x00\x01"} {
		if _, _, err := Look("x.csv", []byte(data), Terms{}, nil); err == nil {
			t.Errorf("%q has headings", data)
		}
	}
}

func TestMappingWith(t *testing.T) {
	m := Mapping{Columns: []Column{{"A", FieldPrice, 0}, {"B", Ignored, 0}}}
	n := m.With(1, FieldPrice)
	if n.Columns[0].Field != Ignored || n.Columns[1].Field != FieldPrice || m.Columns[0].Field != FieldPrice {
		t.Errorf("moved: %v; before: %v", n.Columns, m.Columns)
	}
	if n = m.With(1, FieldBreak); n.Columns[0].Field != FieldPrice || n.Columns[1].From != 2 {
		t.Errorf("a further price: %v", n.Columns)
	}
	if n = m.With(0, Ignored); n.Has(FieldPrice) || m.With(7, FieldPrice).Columns[0].Field != FieldPrice {
		t.Errorf("not read: %v", n.Columns)
	}
}
