package catalog

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// Two lists of an invented amplifier job, on purpose of different shapes.
const pointList = `SKU,Description,Value,Volts,Unit price USD,Pack,Stock,Lead days
K-1501,3-core lead kit,,,9.50,1,12,2
K-1502,Fuse slow 2A,2A T,,0.60,5,40,2
K-1001,Can 20+20+20,20/20/20uF,475,38.00,1,2,2
K-1002,Axial electrolytic,22uF,500,5.20,1,30,2
K-1101,Film axial,.022,630,0.75,10,200,2
K-1301,Carbon comp 1W 10%,100K,500,0.90,1,80,2
K-1401,6V6GT matched pair,,,54.00,1,3,2
K-1601,Wirewound 5W,300R,,1.20,1,9,2
`

const commaList = `Part;Desc;Price;Per;Avail
R-2201;CAP AXIAL 22MFD 450V;3,10;1;yes
R-2301;PAPER-OIL LOOK .02 600V;14,00;1;4
R-2302;FILM 22n/400V;0,40;10;yes
R-2401;25/25 AXIAL;1,10;1;yes
`

const minimumList = `Ref,Item,Price GBP ex VAT,MOQ,Lead
U-101,"Can 32+32uF, 500V",14.50,1,35 days
U-120,EL84 quartet (matched),52.00,1,3 days
U-130,82R 10W,1.10,1,3 days
U-131,220u/35V,0.60,1,3 days
U-140,"Fuse T2A (per 5, price each)",0.36,5,3 days
U-160,"Jack 1/4"" insulated",2.10,1,3 days
`

const latinList = "Artikel;Omschrijving;Prijs EUR;Levertijd\nE-77;33\xB5F 500V axiaal;4,20;4\nE-81;0,1\xB5F 630V;1,30;4\nE-82;100n 400V;0,55;4\n"

// TestWholeRows: each row is written out by hand from the list above.
// Stock is in whole packs: 40 fuses in packs of 5 are 8.
func TestWholeRows(t *testing.T) {
	tests := []struct {
		list, currency, text string
		want                 []string
	}{
		{"K", "USD", pointList, []string{
			"2 K-1501: cord ; 9.5; pack 1 min 1 stock 12 lead 2",
			"3 K-1502: fuse 2 A T; 0.6; pack 5 min 1 stock 8 lead 2",
			"4 K-1001: electrolytic 20+20+20 µF 475 V; 38; pack 1 min 1 stock 2 lead 2",
			"5 K-1002: electrolytic 22 µF 500 V; 5.2; pack 1 min 1 stock 30 lead 2",
			"6 K-1101: film 22 nF 630 V; 0.75; pack 10 min 1 stock 20 lead 2",
			"7 K-1301: carbon composition 100 kΩ 500 V 1 W ±10 %; 0.9; pack 1 min 1 stock 80 lead 2",
			"8 K-1401: tube ; 54; pack 1 min 1 stock 3 lead 2",
			"9 K-1601: wirewound 300 Ω 5 W; 1.2; pack 1 min 1 stock 9 lead 2"}},
		{"R", "USD", commaList, []string{
			"2 R-2201: electrolytic 22 µF 450 V; 3.1; pack 1 min 1 stock -1 lead -1",
			"3 R-2301: capacitor 20 nF 600 V; 14; pack 1 min 1 stock 4 lead -1",
			"4 R-2302: film 22 nF 400 V; 0.4; pack 10 min 1 stock -1 lead -1",
			"5 R-2401: electrolytic 25 µF 25 V; 1.1; pack 1 min 1 stock -1 lead -1"}},
		{"U", "GBP", minimumList, []string{
			"2 U-101: electrolytic 32+32 µF 500 V; 14.5; pack 1 min 1 stock -1 lead 35",
			"3 U-120: tube ; 52; pack 1 min 1 stock -1 lead 3",
			"4 U-130: resistor 82 Ω 10 W; 1.1; pack 1 min 1 stock -1 lead 3",
			"5 U-131: electrolytic 220 µF 35 V; 0.6; pack 1 min 1 stock -1 lead 3",
			"6 U-140: fuse 2 A T; 0.36; pack 5 min 1 stock -1 lead 3",
			"7 U-160: jack ; 2.1; pack 1 min 1 stock -1 lead 3"}},
		{"E", "EUR", latinList, []string{
			"2 E-77: electrolytic 33 µF 500 V; 4.2; pack 1 min 1 stock -1 lead 4",
			"3 E-81: capacitor 100 nF 630 V; 1.3; pack 1 min 1 stock -1 lead 4",
			"4 E-82: capacitor 100 nF 400 V; 0.55; pack 1 min 1 stock -1 lead 4"}},
	}
	for _, tt := range tests {
		l, err := ReadList(tt.list, tt.list+".csv", []byte(tt.text), Terms{List: tt.list, Currency: tt.currency}, nil)
		if err != nil {
			t.Errorf("%s: %v", tt.list, err)
			continue
		}
		var got []string
		for _, o := range l.Offers {
			got = append(got, say(o))
		}
		same(t, tt.list, got, tt.want)
		counts(t, l)
		if len(l.Aside)+len(l.Notes) > 0 {
			t.Errorf("%s: aside %v, notes %v, want none", tt.list, l.Aside, l.Notes)
		}
	}
}

// TestInferred: a kind that no word names says from what it was concluded.
func TestInferred(t *testing.T) {
	l, err := ReadList("R", "R.csv", []byte(commaList), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"a microfarad or more, axial, with volts", "", "", "a microfarad or more, axial, with volts"} {
		if got := l.Offers[i].Part.Inferred; got != want {
			t.Errorf("%s inferred %q, want %q", l.Offers[i].Number, got, want)
		}
	}
	if p := l.Offers[1].Part; p.Look != "paper" || p.Dielectric != "" {
		t.Errorf("a part sold for its look: look %q dielectric %q, want paper and nothing", p.Look, p.Dielectric)
	}
}

// TestAnyColumnOrder: the same rows under turned columns give the same offers.
func TestAnyColumnOrder(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(pointList)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want, err := ReadList("K", "k.csv", []byte(pointList), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for turn := 1; turn < len(rows[0]); turn++ {
		var b strings.Builder
		w := csv.NewWriter(&b)
		w.Comma = '\t'
		for _, r := range rows {
			w.Write(append(slices.Clone(r[turn:]), r[:turn]...))
		}
		w.Flush()
		got, err := ReadList("K", "k.csv", []byte(b.String()), Terms{}, nil)
		if err != nil {
			t.Fatalf("turned by %d: %v", turn, err)
		}
		for i := range got.Offers {
			if say(got.Offers[i]) != say(want.Offers[i]) {
				t.Errorf("turned by %d: %s, want %s", turn, say(got.Offers[i]), say(want.Offers[i]))
			}
		}
	}
}

// TestFix: three bad rows of 500 are mended in place, and the counts add up.
func TestFix(t *testing.T) {
	var b strings.Builder
	b.WriteString("Part,Desc,Value,Volts,Price\n")
	for i := 1; i <= 500; i++ {
		volts, price := "400", "0.40"
		switch i {
		case 7:
			volts = "4OO"
		case 250:
			price = "free"
		case 499:
			price = "1,50"
		}
		fmt.Fprintf(&b, "A-%d,Film,22nF,%s,%s\n", i, volts, price)
	}
	terms := Terms{List: "X", Currency: "USD", Decimal: money.Point}
	l, err := ReadList("X", "x.csv", []byte(b.String()), terms, nil)
	if err != nil {
		t.Fatal(err)
	}
	counts(t, l)
	var lines []int
	for _, p := range l.Aside {
		lines = append(lines, p.Line)
	}
	if l.Rows != 500 || !slices.Equal(lines, []int{8, 251, 500}) {
		t.Fatalf("%d rows, aside on lines %v, want 500 and 8 251 500", l.Rows, lines)
	}
	fixes := []Fix{{8, "Volts", "400", "4OO"}, {251, "Price", "0.40", ""}, {500, "", "A-499,Film,22nF,400,1.50", ""}, {9999, "Price", "1", ""}}
	l, err = ReadList("X", "x.csv", []byte(b.String()), terms, &l.Mapping, fixes...)
	if err != nil {
		t.Fatal(err)
	}
	counts(t, l)
	if len(l.Offers) != 500 || l.Offers[6].Part.Spec.Volts != 400 || l.Offers[498].Price.String() != "1.5" {
		t.Errorf("%d offers, row 7 %v V, row 499 %s; want 500, 400, 1.5", len(l.Offers), l.Offers[6].Part.Spec.Volts, l.Offers[498].Price)
	}
	var notes []string
	for _, p := range l.Notes {
		notes = append(notes, p.Error())
	}
	same(t, "notes", notes, []string{
		`x.csv: line 8, column "Volts": "4OO" was mended by hand`, `x.csv: line 251, column "Price": "free" was mended by hand`,
		`x.csv: line 500: "A-499,Film,22nF,400,1,50" was mended by hand`,
		`x.csv: line 9999, column "Price": "1" was to be put in a place the file does not have as it was`})
}

// TestMappingRemembered: a mapping outlives its JSON form, holds for the same
// headings in other spelling, and says when they have changed.
func TestMappingRemembered(t *testing.T) {
	const first = "Code,Words,Trade,Retail\nA-1,Fuse T2A,0.30,0.60\n"
	m := Mapping{Fingerprint: Fingerprint([]string{"Code", "Words", "Trade", "Retail"}), Delimiter: ",", Decimal: "point",
		Columns: []Column{{"Code", FieldNumber, 0}, {"Words", FieldText, 0}, {"Trade", FieldPrice, 0}, {"Retail", Ignored, 0}}}
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	var back Mapping
	if err := json.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(m, back) {
		t.Fatalf("back from JSON: %+v, %v", back, err)
	}
	tests := []struct {
		name, text, price string
		changed           bool
	}{
		{"as saved", first, "0.3", false},
		{"other case", "CODE,words,Trade ,retail\nA-1,Fuse T2A,0.30,0.60\n", "0.3", false},
		{"a column more", "Code,Words,Remark,Trade,Retail\nA-1,Fuse T2A,old,0.30,0.60\n", "0.3", true},
	}
	for _, tt := range tests {
		l, err := ReadList("X", "x.csv", []byte(tt.text), Terms{Currency: "USD"}, &back)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		changed := slices.ContainsFunc(l.Notes, func(p unit.Problem) bool { return p.Code == Changed })
		if len(l.Offers) != 1 || l.Offers[0].Price.String() != tt.price || changed != tt.changed {
			t.Errorf("%s: %d offers, changed %v, want price %s, changed %v", tt.name, len(l.Offers), changed, tt.price, tt.changed)
		}
	}
}

// TestNoHeading: a list without headings is read by a mapping made by hand.
func TestNoHeading(t *testing.T) {
	m := Mapping{NoHeading: true, Delimiter: ";", Columns: []Column{{"1", FieldNumber, 0}, {"2", FieldText, 0}, {"3", FieldPrice, 0}}}
	l, err := ReadList("X", "x.csv", []byte("A-1;Fuse T2A;0,30\nA-2;Fuse T1A;0,30\n"), Terms{Decimal: money.Comma}, &m)
	if err != nil || len(l.Offers) != 2 || l.Offers[0].Line != 1 {
		t.Fatalf("%d offers, %v; want 2, the first on line 1", len(l.Offers), err)
	}
}

// TestDeclaredColumns: the terms may name the pack and lead columns.
func TestDeclaredColumns(t *testing.T) {
	l, err := ReadList("X", "x.csv", []byte("Part,Desc,Price,Step,Wait\nA-1,Fuse T2A,0.30,10,9\n"),
		Terms{PackColumn: "Step", LeadColumn: "wait"}, nil)
	if err != nil || l.Offers[0].Pack != 10 || l.Offers[0].LeadDays != 9 {
		t.Fatalf("%+v, %v; want pack 10, lead 9", l.Offers, err)
	}
}

// TestBlocks: reading can stop between blocks, and what was read stays.
func TestBlocks(t *testing.T) {
	r, err := NewReader("X", "x.csv", []byte(bigList(2500)), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p := r.Progress(); p.Rows != 0 || p.Done <= 0 || p.Total <= p.Done {
		t.Errorf("before the first row: %+v", p)
	}
	if !r.Step(400) || !r.Step(600) || len(r.List().Offers) != BlockRows {
		t.Fatalf("after one block %d offers, want %d", len(r.List().Offers), BlockRows)
	}
	done, total := r.Done()
	if done <= 0 || done >= total/2 {
		t.Errorf("done %d of %d after 1000 of 2500 rows", done, total)
	}
	if p := r.Progress(); p.Rows != 1000 || p.Read+p.Aside != p.Rows {
		t.Errorf("after 1000 rows: %+v", p)
	}
	for r.Next() {
	}
	if done, total = r.Done(); done != total || len(r.List().Offers) != 2500 {
		t.Errorf("at the end %d of %d, %d offers", done, total, len(r.List().Offers))
	}
}

// TestCells: the raw row is kept as written.
func TestCells(t *testing.T) {
	l, err := ReadList("X", "x.csv", []byte("Part,Desc,Price,Remark\n'=2+2,\"a, b\",0.30,  kept \n"), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []Cell{{"Part", "'=2+2"}, {"Desc", "a, b"}, {"Price", "0.30"}, {"Remark", "  kept "}}
	if got := l.Offers[0].Cells(); !slices.Equal(got, want) || l.Offers[0].Number != "=2+2" {
		t.Errorf("cells %q, number %q", got, l.Offers[0].Number)
	}
}

// TestAgainstPlainReader compares cells and line numbers with encoding/csv,
// the reader of the standard library, on a list it can read.
func TestAgainstPlainReader(t *testing.T) {
	text := bigList(300) + "Z-1,\"two\nlines\",1uF,100,1.00,1,5,1\n\nZ-2,Film,1nF,100,1.00,1,5,1\n"
	l, err := ReadList("X", "x.csv", []byte(text), Terms{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	plain := csv.NewReader(strings.NewReader(text))
	if _, err := plain.Read(); err != nil {
		t.Fatal(err)
	}
	for i := 0; ; i++ {
		cells, err := plain.Read()
		if err == io.EOF {
			if i != len(l.Offers) {
				t.Errorf("%d offers, want %d", len(l.Offers), i)
			}
			return
		}
		line, _ := plain.FieldPos(0)
		if !slices.Equal(texts(l.Offers[i].Cells()), cells) || l.Offers[i].Line != line {
			t.Fatalf("row %d: %q on line %d, want %q on %d", i, texts(l.Offers[i].Cells()), l.Offers[i].Line, cells, line)
		}
	}
}

func texts(cells []Cell) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = c.Text
	}
	return out
}

func FuzzReadList(f *testing.F) {
	for _, s := range []string{pointList, commaList, minimumList, latinList, "a,b\n\"", "Part;Price\n\"x;1\n\"y\";2\n", "sep=;\nPart;Price\nA;1,2\n",
		"\xff\xfeP\x00", "Part,Price,10+\r\nA-1,1.00,0.90\r\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := ReadList("X", "x.csv", data, Terms{List: "X", Currency: "USD"}, nil)
		if err != nil {
			return
		}
		counts(t, l)
		again, err := ReadList("X", "x.csv", data, Terms{List: "X", Currency: "USD"}, &l.Mapping)
		if err != nil || again.Rows != l.Rows || len(again.Offers) != len(l.Offers) {
			t.Errorf("read again with its own mapping: %d rows %d offers (%v), want %d and %d", again.Rows, len(again.Offers), err, l.Rows, len(l.Offers))
		}
		for _, o := range l.Offers {
			if o.Pack < 1 || o.MinPacks < 1 || o.Line < 1 || (o.Priced && o.Price.Sign() <= 0) {
				t.Errorf("offer %+v", o)
			}
		}
	})
}

// bigList makes rows of the kinds a real list has, the same every time.
func bigList(rows int) string {
	var b strings.Builder
	b.WriteString("SKU,Description,Value,Volts,Unit price USD,Pack,Stock,Lead days\n")
	values := []string{"1nF", "2.2nF", "4.7nF", "10nF", "22nF", ".047", "0.1uF", "22uF", "47uF", "100uF"}
	words := []string{"Film axial", "Electrolytic, axial", "Ceramic disc", "Silver mica"}
	volts := []string{"50", "100", "400", "450", "630"}
	for i := 0; i < rows; i++ {
		fmt.Fprintf(&b, "B-%d,\"%s\",%s,%s,%d.%02d,%d,%d,%d\n", i, words[i%4], values[i%10], volts[i%5], i%90, i%99+1, 1+i%3*5, i%50, 1+i%9)
	}
	return b.String()
}

// BenchmarkImport reads 5,000 and 100,000 rows, and in the same run cuts the
// same text with nothing but encoding/csv, for the ratio.
func BenchmarkImport(b *testing.B) {
	for _, rows := range []int{5_000, 100_000} {
		text := bigList(rows)
		b.Run("bare-csv-"+strconv.Itoa(rows), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if got, err := csv.NewReader(strings.NewReader(text)).ReadAll(); err != nil || len(got) != rows+1 {
					b.Fatal(len(got), err)
				}
			}
		})
		b.Run("list-"+strconv.Itoa(rows), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if l, err := ReadList("X", "x.csv", []byte(text), Terms{}, nil); err != nil || len(l.Offers) != rows {
					b.Fatal(len(l.Offers), err)
				}
			}
		})
	}
}
