package catalog

import (
	"reflect"
	"strings"
	"testing"
)

// TestMappingsBook: what a person said of a supplier's columns, written, read
// back and applied to the supplier's next file.
func TestMappingsBook(t *testing.T) {
	const first = "Code\tWords\tTrade\tRetail\tab 10\nA-1\tFuse T2A pk of 10\t3,00\t6,00\t2,50\n"
	l, err := ReadList("R", "r.csv", []byte(first), Terms{Currency: "EUR"}, nil)
	if err == nil {
		t.Fatalf("the list is read without help: this test shows nothing: %+v", l.Mapping)
	}
	m, _, err := Look("r.csv", []byte(first), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	m = m.With(1, FieldText).With(2, FieldPrice)
	m.PackPrice, m.Decimal = "pack", "comma"
	other := Mapping{Fingerprint: "x", Delimiter: ";", NoHeading: true, Columns: []Column{{"1", FieldNumber, 0}, {"a, \"b\"", FieldPrice, 0}}}
	book := WriteMappings([]ListMapping{{"R", m}, {"K", other}})
	maps, problems := ReadMappings("columns.csv", book)
	if len(problems) > 0 || len(maps) != 2 || !reflect.DeepEqual(maps[0].Mapping, m) || !reflect.DeepEqual(maps[1].Mapping, other) {
		t.Fatalf("%+v, problems %v; want %+v and %+v", maps, problems, m, other)
	}
	next := strings.ReplaceAll(first, "3,00", "3,10")
	l, err = ReadList("R", "r.csv", []byte(next), Terms{Currency: "EUR"}, MappingFor(maps, "R", []byte(next)))
	if err != nil || len(l.Offers) != 1 || say(l.Offers[0]) != "2 A-1: fuse 2 A T; 0.31, 0.25 from 10; pack 10 min 1 stock -1 lead -1" {
		t.Errorf("%+v, %v", l, err)
	}
	if MappingFor(maps, "U", []byte(next)) != nil {
		t.Error("a mapping for a list nobody said anything of")
	}
}

// TestMappingsBookRefuses: a mapping with a bad row is left out whole.
func TestMappingsBookRefuses(t *testing.T) {
	head := strings.Join(columnHeads, ",") + "\n"
	for _, tt := range []struct{ row, want string }{
		{"R,x,;,,,,,,A,nonsense,", `line 2, column "field": "nonsense" is not a word we know here`},
		{"R,x,;,,,,,,A,break,ten", `line 2, column "from": "ten" is not a number`},
		{"R,x,;,,dot,,,,A,number,", `line 2, column "decimal": "dot" is not a word we know here`},
		{"R,x,;,,,,box,,A,number,", `line 2, column "pack_price": "box" is not a word we know here`},
		{",x,;,,,,,,A,number,", `line 2, column "list": "" is missing`},
	} {
		maps, problems := ReadMappings("c.csv", []byte(head+tt.row+"\nR,x,;,,,,,,B,price,\nK,y,;,,,,,,B,price,\n"))
		if len(problems) != 1 || problems[0].Error() != "c.csv: "+tt.want || len(maps) < 1 || maps[len(maps)-1].List != "K" || maps[0].List == "R" && !strings.HasPrefix(tt.row, ",") {
			t.Errorf("%s: %+v, %v; want %s", tt.row, maps, problems, tt.want)
		}
	}
}
