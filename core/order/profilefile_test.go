package order

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lugworth/core/money"
)

func TestReadProfiles(t *testing.T) {
	got, problems := ReadProfiles("profiles.csv", []byte("list,heading,field,delimiter,decimal,header,bom,part_as_is,reference_max\r\n"+
		"K,Artikelnr.,part,semicolon,comma,yes,yes,no,24\r\nR,,,tab,,no\r\nK,Menge,packs\r\nK,Preis,Pack price,,comma\r\n"))
	if len(problems) > 0 {
		t.Error(problems)
	}
	r := DefaultProfile("R")
	r.Delimiter, r.Header = '\t', false
	want := []Profile{
		{Supplier: "K", Columns: []Column{{"Artikelnr.", PartField}, {"Menge", PacksField}, {"Preis", PackPriceField}},
			Delimiter: ';', Decimal: money.Comma, Header: true, BOM: true, ReferenceMax: 24}, r,
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

// A supplier with anything wrong is left out and every fault is told of.
func TestReadProfilesTellsEverything(t *testing.T) {
	for _, c := range []struct{ rows, say string }{
		{"K,Part,part,space\nK,Qty,packs", `"space"`},
		{"K,Part,part,,dot\nK,Qty,packs", `"dot"`},
		{"K,Part,part,,,maybe\nK,Qty,packs", `"maybe"`},
		{"K,Part,part,,,,,,-1\nK,Qty,packs", `"-1"`},
		{"K,Part,part,tab\nK,Qty,packs,bar", "the supplier has tab in another row"},
		{"K,Part,number\nK,Qty,packs", `"number"`},
		{"K,Part,part\nK,Part again,part\nK,Qty,packs", "stands in two columns"},
		{"K,Part,part\nK,Words,text", "an order needs a part column, and packs or pieces"},
		{",Part,part", "list"},
	} {
		got, problems := ReadProfiles("profiles.csv", []byte("list,heading,field,delimiter,decimal,header,bom,part_as_is,reference_max\n"+c.rows+"\nR,Part,part\nR,Pieces,pieces\n"))
		if len(problems) != 1 || !strings.Contains(problems[0].Error(), c.say) {
			t.Errorf("%q: %v, want %q", c.rows, problems, c.say)
		}
		if len(got) != 1 || got[0].Supplier != "R" {
			t.Errorf("%q: %+v", c.rows, got)
		}
	}
	if _, problems := ReadProfiles("profiles.csv", []byte("heading,field\nPart,part\n")); len(problems) != 1 {
		t.Errorf("no column for the supplier: %v", problems)
	}
}

// Profiles drawn at random come back from profiles.csv as they were, and an
// order written by what came back is read back to the last sign.
func TestProfilesRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 5))
	for round := range 400 {
		var ps []Profile
		for i := range 1 + random.IntN(3) {
			p := DefaultProfile(fmt.Sprint("S", i))
			p.Delimiter = []rune(",;\t|")[random.IntN(4)]
			p.Decimal = []money.Mark{money.Point, money.Comma}[random.IntN(2)]
			p.Header, p.BOM, p.PartAsIs, p.ReferenceMax = random.IntN(2) == 0, random.IntN(2) == 0, random.IntN(2) == 0, random.IntN(40)
			random.Shuffle(len(p.Columns), func(i, j int) { p.Columns[i], p.Columns[j] = p.Columns[j], p.Columns[i] })
			for c := range p.Columns {
				p.Columns[c].Heading = strings.NewReplacer("\r", "", "\n", "").Replace(noise(random))
			}
			ps = append(ps, p)
		}
		data, err := WriteProfiles(ps)
		if err != nil {
			t.Fatal(err)
		}
		got, problems := ReadProfiles("profiles.csv", data)
		if len(problems) > 0 || !reflect.DeepEqual(got, ps) {
			t.Fatalf("round %d: %v\n%q\ngot  %+v\nwant %+v", round, problems, data, got, ps)
		}
	}
	rows := []Row{{Part: "-12V", Text: `"fast", 2 µF; 1/4"`, Packs: "1", Pieces: "10", PackPrice: "7,50", Amount: "7,50", Reference: "1042 A1"},
		{Part: "=2+2", Text: "'", Packs: "2", Pieces: "2", PackPrice: "1,00", Amount: "2,00", Reference: "@"}}
	for _, asIs := range []bool{false, true} {
		p := DefaultProfile("K")
		p.PartAsIs, p.Decimal, p.Delimiter = asIs, money.Comma, ';'
		data, err := WriteProfiles([]Profile{p})
		if err != nil {
			t.Fatal(err)
		}
		back, problems := ReadProfiles("profiles.csv", data)
		if len(problems) > 0 || len(back) != 1 {
			t.Fatal(problems)
		}
		written, warnings, err := WriteRows(rows, back[0])
		if err != nil {
			t.Fatal(err)
		}
		if got, err := ReadOrder(written, back[0]); err != nil || !slices.Equal(got, rows) {
			t.Errorf("as is %v: %q, %v", asIs, got, err)
		}
		if want := map[bool]int{false: 1, true: 2}[asIs]; len(warnings) != want {
			t.Errorf("as is %v: warned %q, want %d warnings", asIs, warnings, want)
		}
	}
}
