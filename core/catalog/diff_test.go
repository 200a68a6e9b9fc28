package catalog

import (
	"strings"
	"testing"
)

func readText(t testing.TB, text string) List {
	t.Helper()
	l, err := ReadList("X", "x.csv", []byte(text), Terms{List: "X", Currency: "USD"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestDiff: two lists of one supplier, every difference written by hand.
func TestDiff(t *testing.T) {
	was := readText(t, `Part,Desc,Value,Volts,Price,10+,Pack,Stock,Lead
P-1,6V6GT matched pair,,,54.00,,1,3,2
P-2,Film,22nF,400,0.40,0.35,1,10,2
P-3,Film,47nF,400,0.40,,5,10,2
P-4,Electrolytic,22uF,450,3.00,,1,yes,2
P-5,Fuse T2A,,,0.36,,1,10,2
P-6,Fuse T1A,,,on request,,1,0,2
P-7,Fuse T3A,,,0.30,,1,4,2
P-8,Fuse T4A,,,0.30,,1,4,2
P-8,Fuse T4A,,,0.35,,1,4,2
P-9,Choke 4H,,,O.30,,1,4,2
,Odds and ends,,,1.00,,1,4,2
`)
	is := readText(t, `Part,Desc,Value,Volts,Price,10+,Pack,Stock,Lead
P-8,Fuse T4A,,,0.30,,1,4,2
P-1,6V6GT matched pair,,,61.00,,1,3,2
P-2,Film,22nF,400,0.40,0.36,1,10,9
P-3,Film axial,47nF,400,0.30,,10,10,2
P-4,Electrolytic,22uF,500,3.00,,1,0,2
P-5,Fuse T2A,,,,,1,10,2
P-6,Fuse T1A,,,0.36,,1,25,2
P-7,Fuse T3A,,,3O,,1,4,2
P-9,Choke 4H,,,20.00,,1,4,2
P-10,Choke 5H,,,22.00,,1,4,2
`)
	d := Diff(was, is)
	tests := []struct{ number, says string }{
		{"P-1", "price 54 → 61 (+7, +13.0 %)"}, // 7/54 = 0.1296
		{"P-2", "prices from a number on: 0.35 from 10 → 0.36 from 10; days to arrival 2 → 9"},
		{"P-3", "price 0.4 → 0.3 (-0.1, -25.0 %); 5 in a pack → 10 in a pack; reads as another part: film 47 nF 400 V → film 47 nF 400 V axial"},
		{"P-4", "out of stock; reads as another part: electrolytic 22 µF 450 V → electrolytic 22 µF 500 V"},
		{"P-5", "no price any more, before 0.36"},
		{"P-6", "priced now: 0.36; in stock again: 25"},
	}
	if len(d.Changed) != len(tests) {
		t.Errorf("%d changed, want %d", len(d.Changed), len(tests))
	}
	for i, tt := range tests {
		if i < len(d.Changed) {
			if c := d.Changed[i]; c.Number != tt.number || strings.Join(c.Says(), "; ") != tt.says {
				t.Errorf("%s: %s\nwant %s: %s", c.Number, strings.Join(c.Says(), "; "), tt.number, tt.says)
			}
		}
	}
	var rest []string
	for _, c := range append(d.Added, d.Gone...) {
		rest = append(rest, c.Number+": "+strings.Join(c.Says(), "; "))
	}
	same(t, "added and gone", rest, []string{"P-10: new", "P-9: new; line 11 of the old list has it in a row set aside", "P-7: set aside: see line 9"})
	if d.Same != 1 || d.Count(PriceUp) != 1 || d.Count(PriceUp|PriceDown) != 2 {
		t.Errorf("%d the same, %d up, want 1 and 1", d.Same, d.Count(PriceUp))
	}
	var told []string
	for _, p := range d.Problems() {
		told = append(told, p.Error())
	}
	same(t, "told", told, []string{`x.csv: "P-8" stands in 2 rows of the old list and 1 of the new: the first of each are compared`,
		"x.csv: 1 rows of the old list and 0 of the new have no part number and are not compared"})
	if !Diff(was, was).Empty() {
		t.Errorf("a list differs from itself: %+v", Diff(was, was))
	}
}
