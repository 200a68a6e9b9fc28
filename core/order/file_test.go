package order

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/money"
)

// TestRFC4180: the examples of the standard; the source stands on each row.
func TestRFC4180(t *testing.T) {
	file, err := os.Open("../../testdata/published/rfc4180.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) != 8 {
		t.Fatalf("%d rows, %v; want a heading and 7", len(rows), err)
	}
	for _, row := range rows[1:] {
		text := strings.ReplaceAll(row[1], `\r\n`, "\r\n")
		var want [][]string
		if err := json.Unmarshal([]byte(row[2]), &want); err != nil {
			t.Fatal(err)
		}
		got, err := readRecords(text, ',')
		if err != nil || !equal(got, want) {
			t.Errorf("rule %s: readRecords(%q) = %q, %v; want %q", row[0], text, got, err, want)
		}
		back, err := readRecords(writeRecords(want, ','), ',')
		if err != nil || !equal(back, want) {
			t.Errorf("rule %s: written and read %q, %v; want %q", row[0], back, err, want)
		}
	}
}

func equal(a, b [][]string) bool { return slices.EqualFunc(a, b, slices.Equal) }

func TestReadRecordsRefuses(t *testing.T) {
	tests := []struct{ text, want string }{
		{"a,b\"c\r\n", "line 1: a quote stands inside the bare field"},
		{"a\r\n\"b\"c\r\n", `line 2: "c\r\n" follows a closing quote`},
		{"a\r\n\"b\r\nc", "line 2: the quoted field that begins here is not closed"},
		{"a\rb\r\n", "line 1: a carriage return without a line feed"},
		{"a\xff\r\n", "not UTF-8"},
	}
	for _, tt := range tests {
		if got, err := readRecords(tt.text, ','); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("readRecords(%q) = %q, %v; want %q", tt.text, got, err, tt.want)
		}
	}
}

// TestSecondOpinion: what is written reads the same in Go's own reader, where
// no carriage return stands in a field (it changes those).
func TestSecondOpinion(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 180))
	for range 2000 {
		records := [][]string{{noise(random), noise(random)}, {noise(random), noise(random)}}
		for _, r := range records {
			for i := range r {
				r[i] = strings.ReplaceAll(r[i], "\r", "")
			}
		}
		reader := csv.NewReader(strings.NewReader(writeRecords(records, ';')))
		reader.Comma = ';'
		got, err := reader.ReadAll()
		if err != nil || !equal(got, records) {
			t.Fatalf("encoding/csv reads %q, %v; want %q", got, err, records)
		}
	}
}

// noise is a short text of awkward signs.
func noise(random *rand.Rand) string {
	signs := []rune("=+-@'\",;|\t\r\n µΩé0aZ .\u2028\U0001F50C")
	text := make([]rune, random.IntN(6))
	for i := range text {
		text[i] = signs[random.IntN(len(signs))]
	}
	return string(text)
}

// TestRoundTrip: random rows, through random profiles, come back as they were.
func TestRoundTrip(t *testing.T) {
	random := rand.New(rand.NewPCG(59, 1))
	for round := range 3000 {
		p := DefaultProfile("K")
		p.Delimiter = []rune(",;\t|")[random.IntN(4)]
		p.Header, p.BOM, p.PartAsIs = random.IntN(2) == 0, random.IntN(2) == 0, random.IntN(2) == 0
		p.Columns[1].Heading = noise(random)
		random.Shuffle(len(p.Columns), func(i, j int) { p.Columns[i], p.Columns[j] = p.Columns[j], p.Columns[i] })
		var rows []Row
		for i := range random.IntN(4) {
			rows = append(rows, Row{Part: noise(random) + strconv.Itoa(i), Text: noise(random), Packs: "1", Pieces: "10",
				PackPrice: noise(random), Amount: noise(random), Reference: noise(random)})
		}
		data, _, err := WriteRows(rows, p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := ReadOrder(data, p)
		if err != nil || !slices.Equal(got, rows) {
			t.Fatalf("round %d, profile %+v: %q\n%q, %v\nwant %q", round, p, data, got, err, rows)
		}
	}
}

// TestGuard: signs a spreadsheet would take for a formula.
func TestGuard(t *testing.T) {
	tests := []struct {
		cell, plain, asIs string // as written in a guarded and in an as-is part column
		warns, asIsWarns  bool
	}{
		{"K-1101", "K-1101", "K-1101", false, false},
		{"=2+2", "'=2+2", "=2+2", false, true},
		{"+47", "'+47", "+47", false, true},
		{"@x", "'@x", "@x", false, true},
		{"\tx", "'\tx", "\tx", false, true},
		{"\rx", "\"'\rx\"", "\"\rx\"", false, true},
		{"-12V", "-12V", "-12V", true, true},
		{"'9", "''9", "'9", false, false},
		{"''9", "'''9", "''9", false, false},
		{"", "", "", false, false},
		{"µ 22", "µ 22", "µ 22", false, false},
	}
	p := Profile{Supplier: "K", Delimiter: ',', Columns: []Column{{"Part", PartField}, {"Packs", PacksField}}}
	for _, tt := range tests {
		for _, asIs := range []bool{false, true} {
			p.PartAsIs = asIs
			want, warns := tt.plain, tt.warns
			if asIs {
				want, warns = tt.asIs, tt.asIsWarns
			}
			rows := []Row{{Part: tt.cell, Packs: "1"}}
			data, warnings, err := WriteRows(rows, p)
			if err != nil || string(data) != want+",1\r\n" || (len(warnings) > 0) != warns {
				t.Errorf("part %q, as is %v: %q, warnings %q, %v; want %q, warned %v", tt.cell, asIs, data, warnings, err, want, warns)
			}
			if got, err := ReadOrder(data, p); err != nil || !slices.Equal(got, rows) {
				t.Errorf("part %q, as is %v: read back %q, %v", tt.cell, asIs, got, err)
			}
		}
	}
}

// TestFileBytes: the whole file of one basket, in two suppliers' forms.
func TestFileBytes(t *testing.T) {
	b, err := Make([]Need{
		need("T3/film", "A3", "K", "K-1101", 4), need("T1", "A1", "K", "K-1502", 2), need("T9", "A1", "K", "K-1502", 1),
		need("T6", "A6", "K", "K-1401", 1),
	}, books)
	if err != nil {
		t.Fatal(err)
	}
	plain := "Part,Description,Packs,Pieces,Pack price,Amount,Reference\r\n" +
		"K-1101,Film axial,1,10,7.50,7.50,1042 A3\r\n" +
		"K-1401,6V6GT matched pair,1,1,54.00,54.00,1042 A6\r\n" +
		"K-1502,Fuse slow 2A,1,5,3.00,3.00,1042 A1\r\n"
	other := Profile{Supplier: "K", Delimiter: ';', Decimal: money.Comma, BOM: true, ReferenceMax: 5,
		Columns: []Column{{"Aantal", PiecesField}, {"Artikel", PartField}, {"Bedrag", AmountField}, {"Ref", ReferenceField}}}
	tests := []struct {
		name     string
		profile  Profile
		want     string
		warnings int
	}{
		{"default", DefaultProfile("K"), plain, 0},
		{"another form", other, "\uFEFF10;K-1101;7,50;1042\r\n1;K-1401;54,00;1042\r\n5;K-1502;3,00;1042\r\n", 3},
	}
	for _, tt := range tests {
		data, warnings, err := Write(b.Baskets[0], "1042", tt.profile)
		if err != nil || string(data) != tt.want || len(warnings) != tt.warnings {
			t.Errorf("%s: %v, warnings %q\n%q\nwant\n%q", tt.name, err, warnings, data, tt.want)
		}
		again, _, err := Write(b.Baskets[0], "1042", tt.profile)
		if err != nil || !bytes.Equal(again, data) {
			t.Errorf("%s: written twice, the bytes differ", tt.name)
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	good := DefaultProfile("K")
	with := func(change func(p *Profile)) Profile {
		p := DefaultProfile("K")
		change(&p)
		return p
	}
	tests := []struct {
		name    string
		rows    []Row
		profile Profile
		want    string
	}{
		{"a part twice", []Row{{Part: "X"}, {Part: "X"}}, good, `part "X" stands on two rows`},
		{"not UTF-8", []Row{{Part: "X\xff"}}, good, "not UTF-8"},
		{"no part column", nil, with(func(p *Profile) { p.Columns = p.Columns[1:] }), "needs a part column"},
		{"no count", nil, with(func(p *Profile) { p.Columns = p.Columns[:2] }), "packs or pieces"},
		{"a field twice", nil, with(func(p *Profile) { p.Columns[1].Field = PartField }), "two columns"},
		{"an unknown field", nil, with(func(p *Profile) { p.Columns[1].Field = "color" }), "not a field"},
		{"a delimiter of its own", nil, with(func(p *Profile) { p.Delimiter = 'x' }), "delimiter"},
	}
	for _, tt := range tests {
		if _, _, err := WriteRows(tt.rows, tt.profile); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q", tt.name, err, tt.want)
		}
	}
	for text, want := range map[string]string{
		"":                  "want a row of headings",
		"Part,Descr\r\n":    `column 2 should be "Description"`,
		"a,b,c,d,e,f,g\r\n": `column 1 should be "Part"`,
		"Part,Description,Packs,Pieces,Pack price,Amount,Reference\r\nX,1\r\n": "row 1 has 2 cells, want 7",
	} {
		if _, err := ReadOrder([]byte(text), good); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ReadOrder(%q): %v, want %q", text, err, want)
		}
	}
}

// FuzzReadOrder: whatever is read can be written and is read the same again.
func FuzzReadOrder(f *testing.F) {
	f.Add([]byte("X,\"a \"\"b\"\"\",1,10,7.50,7.50,1042 A3\r\n"))
	f.Add([]byte("'=2+2,'''x,1,1,1,1,\n-12V,,,,,,"))
	p := DefaultProfile("K")
	p.Header = false
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := ReadOrder(data, p)
		if err != nil || once(rows) != nil {
			return
		}
		out, _, err := WriteRows(rows, p)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := ReadOrder(out, p); err != nil || !slices.Equal(again, rows) {
			t.Fatalf("%q, %v; want %q", again, err, rows)
		}
	})
}
