package catalog

import (
	"fmt"
	"strings"
	"testing"
)

// saysColumns prints a proposal, one line a column.
func saysColumns(ps []Proposed) []string {
	var out []string
	for _, p := range ps {
		s := fmt.Sprintf("%s: %s, %s", p.Heading, p.Field.Says(), p.Sure)
		if p.From > 0 {
			s += fmt.Sprintf(", from %d", p.From)
		}
		for i, f := range p.Could {
			s += []string{"; or ", ", "}[min(i, 1)] + f.Says()
		}
		out = append(out, s)
	}
	return out
}

// TestPropose: what is proposed, how surely, and what is asked.
func TestPropose(t *testing.T) {
	for _, tt := range []struct {
		name, headings string
		sample         []string
		want           []string
	}{
		{"plain words", "Part|Description|Price|10+|Picture", nil,
			[]string{"Part: part number, sure", "Description: description, sure", "Price: price, sure", "10+: price from a number of pieces on, sure, from 10", "Picture: column that is not read, not read"}},
		{"Artikel over codes", "Artikel|Omschrijving|Prijs", []string{"A-1|Film 22n|0,40", "A-2|Film 47n|0,45"},
			[]string{"Artikel: part number, sure", "Omschrijving: description, sure", "Prijs: price, sure"}},
		{"Artikel over words", "Artikel|Prijs", []string{"Film axiaal 22n|0,40", "Film axiaal 47n|0,45"},
			[]string{"Artikel: description, likely; or part number", "Prijs: price, sure"}},
		{"no heading known", "a|b|c", []string{"X-1|Film axial 22n|0.40", "X-2|Film axial 47n|0.45"},
			[]string{"a: part number, a guess", "b: description, a guess", "c: price, a guess"}},
		{"two could be the price", "Part|Desc|Trade|Retail", []string{"X-1|Film axial|0.40|0.80", "X-2|Film axial|0.45|0.90"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Trade: column that is not read, please say; or price", "Retail: column that is not read, please say; or price"}},
		{"a quantity of what", "Part|Desc|Price|Menge", []string{"X-1|Film axial|0.40|5", "X-2|Film axial|0.45|10"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Price: price, sure", "Menge: stock, please say; or stock, pieces in a pack, fewest pieces"}},
		{"a quantity with a zero is stock", "Part|Desc|Price|Menge", []string{"X-1|Film axial|0.40|5", "X-2|Film axial|0.45|0"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Price: price, sure", "Menge: stock, likely"}},
		{"units named", "Part|Desc|Price|Einheit", []string{"X-1|Film axial|0.40|Stk", "X-2|Film axial|0.45|Stk"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Price: price, sure", "Einheit: column that is not read, likely"}},
		{"delivery is a charge", "Part|Desc|Price|Delivery", []string{"X-1|Film axial|0.40|4.50", "X-2|Film axial|0.45|4.50"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Price: price, sure", "Delivery: column that is not read, likely"}},
		{"delivery is a time", "Part|Desc|Price|Delivery", []string{"X-1|Film axial|0.40|3 days", "X-2|Film axial|0.45|2 weeks"},
			[]string{"Part: part number, sure", "Desc: description, sure", "Price: price, sure", "Delivery: days to arrival, likely"}},
		{"types of tubes", "Part|Type|Desc|Price", []string{"X-1|EL84|matched pair|24.00", "X-2|12AX7|selected|18.00"},
			[]string{"Part: part number, sure", "Type: value, likely", "Desc: description, sure", "Price: price, sure"}},
		{"types that are codes", "Part|Type|Desc|Price", []string{"X-1|MK-1|Film axial|0.40", "X-2|MK-2|Film axial|0.45"},
			[]string{"Part: part number, sure", "Type: column that is not read, not read; or part number", "Desc: description, sure", "Price: price, sure"}},
		{"price twice", "Part|Desc|Unit price|Price ex VAT", nil,
			[]string{"Part: part number, sure", "Desc: description, sure", "Unit price: price, sure", "Price ex VAT: column that is not read, not read; or price"}},
		{"numbers that rise", "Part|Desc|1|10|100", []string{"X-1|Film axial|0.40|0.35|0.30"},
			[]string{"Part: part number, sure", "Desc: description, sure", "1: price, likely", "10: price from a number of pieces on, likely, from 10", "100: price from a number of pieces on, likely, from 100"}},
	} {
		var sample [][]string
		for _, s := range tt.sample {
			sample = append(sample, strings.Split(s, "|"))
		}
		m, got := Propose(strings.Split(tt.headings, "|"), sample)
		t.Run(tt.name, func(t *testing.T) {
			same(t, "columns", saysColumns(got), tt.want)
			for i, p := range got {
				if p.Why == "" || p.Column != m.Columns[i] {
					t.Errorf("%s: no reason, or another column than the mapping's: %+v", p.Heading, p)
				}
			}
		})
	}
}

// TestPreview: a list as it would be read, its first rows as they stand and as
// they would be read; a mapping given by a person is said to be theirs.
func TestPreview(t *testing.T) {
	data := []byte("our list\nPart;Desc;Price;Qty\nA-1;Film 22nF 400V;0,40;5\nA-2;Film 47nF 4OOV;0,45;10\nA-3;Fuse T2A;x;10\n")
	p, err := PreviewList("X", "x.csv", data, Terms{Currency: "EUR"}, nil)
	if err != nil || p.Refused != "" {
		t.Fatal(err, p.Refused)
	}
	if len(p.Rows) != 3 || p.Rows[0].Line != 3 || p.Rows[2].Cells[2].Text != "x" || len(p.Offers) != 2 || len(p.Aside) != 1 || p.Aside[0].Line != 5 || p.Asks() != 1 {
		t.Errorf("%d rows, %d offers, aside %v, asks %d", len(p.Rows), len(p.Offers), p.Aside, p.Asks())
	}
	if c := p.Columns[3]; c.Sure != Ask || len(c.Could) != 3 || strings.Join(c.Cells, " ") != "5 10 10" {
		t.Errorf("Qty: %+v", c)
	}
	m := p.Mapping.With(3, FieldPack)
	if p, err = PreviewList("X", "x.csv", data, Terms{Currency: "EUR"}, &m); err != nil || p.Columns[3].Sure != Said || p.Asks() != 0 || p.Offers[0].Pack != 5 {
		t.Errorf("said to be the pack: %+v, %v", p.Columns[3], err)
	}
	if p, err = PreviewList("X", "x.csv", []byte("Part,Desc,Note\nA-1,Film 22nF,none\n"), Terms{}, nil); err != nil || p.Refused == "" || len(p.Rows) != 1 {
		t.Errorf("a list without a price: %q, %d rows, %v", p.Refused, len(p.Rows), err)
	}
	if _, err = PreviewList("X", "x.csv", []byte("PK\x03\x04"), Terms{}, nil); err == nil {
		t.Error("a ZIP file has a preview")
	}
}

// TestPriceInTheTermsCurrency: of two price columns the one in the currency of
// the terms is read.
func TestPriceInTheTermsCurrency(t *testing.T) {
	for currency, want := range map[string]string{"EUR": "0.36", "USD": "0.4"} {
		l, err := ReadList("X", "x.csv", []byte("Part;Desc;Price EUR;Price USD\nA-1;Fuse T2A;0,36;0,40\n"), Terms{Currency: currency}, nil)
		if err != nil || len(l.Offers) != 1 || l.Offers[0].Price.String() != want {
			t.Errorf("%s: %+v, %v, want %s", currency, l.Offers, err, want)
		}
	}
}

// TestFixesBook: the book of mended cells, written and read back.
func TestFixesBook(t *testing.T) {
	fixes := []ListFix{
		{"R", "ab", Fix{Line: 14, Column: "Volts", Was: "45O", Cell: "450"}},
		{"R", "ab", Fix{Line: 3, Column: "", Was: "A-1,\"open", Cell: "A-1,\"closed\",1"}},
		{"K", "cd", Fix{Line: 2, Column: "Text, long", Was: " x", Cell: ""}},
	}
	got, problems := ReadFixes("fixes.csv", WriteFixes(fixes))
	want := []ListFix{fixes[2], fixes[1], fixes[0]}
	if len(problems) > 0 || fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, problems %v; want %v", got, problems, want)
	}
	bad := "list,file_hash,line,column,was,cell\nR,ab,none,Volts,,1\nR,ab,0,Volts,,1\nR,ab,2,Volts,,1\n"
	if got, problems = ReadFixes("fixes.csv", []byte(bad)); len(got) != 1 || len(problems) != 2 || problems[0].Line != 2 {
		t.Errorf("%v, problems %v; want one fix and two problems", got, problems)
	}
	if _, problems = ReadFixes("fixes.csv", []byte("list,line\n")); len(problems) != 1 {
		t.Errorf("columns missing: %v", problems)
	}
	mine, other := FixesFor([]ListFix{{"R", FileHash([]byte("x")), Fix{Line: 1}}, {"R", "other", Fix{Line: 2}}, {"K", FileHash([]byte("x")), Fix{Line: 3}}}, "R", []byte("x"))
	if len(mine) != 1 || mine[0].Line != 1 || len(other) != 1 || other[0].Line != 2 {
		t.Errorf("mine %v, other %v", mine, other)
	}
}

// TestFixOnlyWhereItWas: a fix that says what stood there is not made where
// something else stands now.
func TestFixOnlyWhereItWas(t *testing.T) {
	text := "Part,Desc,Volts,Price\nA-1,Electrolytic 22uF,4O0,3.10\n"
	for _, tt := range []struct {
		was  string
		made bool
	}{{"4O0", true}, {"", true}, {"45O", false}} {
		l, err := ReadList("X", "x.csv", []byte(text), Terms{}, nil, Fix{Line: 2, Column: "Volts", Was: tt.was, Cell: "450"})
		if err != nil {
			t.Fatal(err)
		}
		counts(t, l)
		if made := len(l.Offers) == 1; made != tt.made || len(l.Notes) != 1 {
			t.Errorf("was %q: made %v, notes %v; want %v", tt.was, made, l.Notes, tt.made)
		}
	}
}
