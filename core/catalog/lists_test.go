package catalog

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const listDir = "../../testdata/lists"

// say prints an offer in one line, for the tables of this package.
func say(o Offer) string {
	price := "no price"
	if o.Priced {
		price = o.Price.String()
	}
	for _, b := range o.Breaks {
		price += fmt.Sprintf(", %s from %d", b.Price, b.Pieces)
	}
	return fmt.Sprintf("%d %s: %s %s; %s; pack %d min %d stock %d lead %d",
		o.Line, o.Number, o.Part.Kind, o.Part.Spec.Canonical(), price, o.Pack, o.MinPacks, o.StockPacks, o.LeadDays)
}

// An awkward list is one file with a trap in it and what is to come of it.
type awkward struct {
	file   string
	err    string   // of the whole file
	offers []string // as say prints them
	aside  []string // without the file name
	notes  []string // without the file name
}

// TestAwkwardLists reads one file for each trap. The list is in USD and no
// decimal mark is declared. Every wanted line was written from the file by
// hand. A file in the folder without a row here fails the test.
func TestAwkwardLists(t *testing.T) {
	tests := []awkward{
		// Encodings.
		{file: "utf16le.csv", offers: []string{"2 A-1: electrolytic 33 µF 500 V; 4.2; pack 1 min 1 stock -1 lead -1"}},
		{file: "utf16be.csv", offers: []string{"2 A-1: electrolytic 33 µF 500 V; 4.2; pack 1 min 1 stock -1 lead -1"}},
		{file: "utf16-no-mark.csv", offers: []string{"2 A-1: electrolytic 33 µF 500 V; 4.2; pack 1 min 1 stock -1 lead -1"}},
		{file: "latin1.csv", offers: []string{"2 A-1: electrolytic 22 µF 450 V; 3.1; pack 1 min 1 stock -1 lead 14"}},
		{file: "bom.csv", offers: []string{"2 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}},
		{file: "cp1252-euro.csv", aside: []string{`line 2, column "Price": "€ 0,40" is in another currency than the terms say; did you mean a list in EUR?`}},
		// Shape of the file.
		{file: "bar.csv", offers: []string{"2 A-1: wirewound 300 Ω 5 W; 1.2; pack 1 min 1 stock -1 lead -1"}},
		{file: "old-mac.csv", offers: []string{"2 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1", "3 A-2: film 47 nF 400 V; 0.45; pack 1 min 1 stock -1 lead -1"}},
		{file: "sep-line.csv", offers: []string{"3 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}},
		{file: "preamble.csv", offers: []string{"5 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"},
			notes: []string{`line 1: "Price list of October" stands above the headings`, `line 2: "all prices each" stands above the headings`}},
		{file: "no-columns-known.csv", offers: []string{"2 X-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1", "3 X-2: film 47 nF 400 V; 0.45; pack 1 min 1 stock -1 lead -1"}},
		{file: "empty.csv", err: "the file is empty"},
		{file: "blank-lines.csv", err: "the file is empty"},
		{file: "header-only.csv", notes: []string{`"Part, Desc, Price" are headings with no rows below them`}},
		{file: "one-column.csv", err: `only one column ("Part"); cells are parted by comma, semicolon, tab or bar`},
		{file: "no-price.csv", err: "no price column among the headings Part, Desc, Remark"},
		{file: "double-price.csv", err: `line 1, column "Price": the heading stands twice; say which one holds the price`},
		{file: "double-other.csv", offers: []string{"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock 3 lead -1"}, notes: []string{`line 1, column "Stock": "Stock" comes twice`}},
		{file: "heading-currency.csv", err: `line 1, column "Price EUR": the prices are in EUR and the terms in USD: say so for this list in terms.csv`},
		{file: "zip.csv", err: "this is not a text file: it is a ZIP file, perhaps a spreadsheet workbook; save the sheet as CSV and open that"},
		{file: "pdf.csv", err: "this is not a text file: it is a PDF document; ask the supplier for a CSV list"},
		{file: "binary.csv", err: "this is not a text file: it is full of control characters"},
		// Rows.
		{file: "nul.csv", offers: []string{"3 A-2: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 2, column "Desc": "Fuse\x00 T2A" has a control character in it`}},
		{file: "quoted-break.csv", offers: []string{"2 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 4, column "Price": "x" is not a number`}},
		{file: "inch-mark.csv", offers: []string{"2 A-1: jack ; 2.1; pack 1 min 1 stock -1 lead -1", "3 A-2: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
			notes: []string{`line 2: "A-1,Jack 1/4\" insulated,2.10" has a stray quote mark, kept as text`}},
		{file: "open-quote.csv", offers: []string{"3 A-2: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1", "4 A-3: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 2: "A-1,\"Jack insulated,2.10" opens a quote that is not closed`}},
		{file: "open-quote-swallows.csv", offers: []string{"3 A-2: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1", "4 A-3: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 2: "A-1,\"Jack insulated,2.10" opens a quote that is not closed`}},
		{file: "too-long.csv", offers: []string{"3 A-2: film 47 nF 400 V; 0.45; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 2: "40" is one cell more than there are headings; did you mean a decimal comma, which needs quotes around its cell?`}},
		{file: "too-short.csv", offers: []string{"2 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}, notes: []string{`line 2: "0.40" ends a row with fewer cells than headings`}},
		{file: "trailing-commas.csv", offers: []string{"2 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}, notes: []string{`line 3: "2" rows of empty cells were passed over`}},
		{file: "between-headings.csv", offers: []string{"3 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 2: "CAPACITORS" looks like a heading between rows`}},
		{file: "no-number.csv", offers: []string{"3 A-1: film 22 nF 400 V; 0.4; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 2, column "Part": "" is missing`}},
		// Cells.
		{file: "letter-o.csv", offers: []string{"3 A-2: film 47 nF 400 V; 0.45; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 2, column "Volts": "45O" is not a number; did you mean 450?`}},
		{file: "millifarad.csv", offers: []string{"3 A-2: electrolytic 25 µF 25 V; 1; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 2, column "Value": "5mF" can be read in more than one way; did you mean 5 µF (mF for microfarads, as on old parts) or 5000 µF (thousandths of a farad)?`}},
		{file: "disagree.csv", offers: []string{"2 A-1: electrolytic 22 µF 500 V; 1; pack 1 min 1 stock -1 lead -1"},
			notes: []string{`line 2, column "Volts": "500" disagrees with what is said elsewhere; did you mean 450.0 V?`}},
		{file: "tolerance.csv", offers: []string{"2 A-1: electrolytic 22 µF -10/+50 %; 1; pack 1 min 1 stock -1 lead -1", "3 A-2: carbon composition 100 kΩ ±10 %; 1; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 4, column "Tol": "wide" is not a number`}},
		{file: "prices.csv", offers: []string{"4 A-3: fuse 3 A T; no price; pack 1 min 1 stock -1 lead -1", "5 A-4: fuse 4 A T; no price; pack 1 min 1 stock -1 lead -1", "9 A-8: fuse 8 A T; 4.2; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 2, column "Price": "-0.36" is negative`,
				`line 3, column "Price": "0.00" is a price of zero; did you mean a blank cell, for no price?`,
				`line 6, column "Price": "1e309" is not a number`, `line 7, column "Price": "NaN" is not a number`,
				`line 8, column "Price": "£4.20" is in another currency than the terms say; did you mean a list in GBP?`,
				`line 10, column "Price": "0x1F" is not a number`, `line 11, column "Price": "4.2O" is not a number; did you mean 4.20?`},
			notes: []string{`line 4, column "Price": "" gives no price`, `line 5, column "Price": "on request" gives no price`}},
		{file: "unclear-mark.csv", aside: []string{`line 2, column "Price": "1,234" can be read in more than one way; did you mean 1234 or 1.234?`,
			`line 3, column "Price": "2,500" can be read in more than one way; did you mean 2500 or 2.500?`}},
		{file: "mixed-marks.csv", offers: []string{"2 A-1: choke 4 H; 1234.5; pack 1 min 1 stock -1 lead -1", "3 A-2: choke 5 H; 12.5; pack 1 min 1 stock -1 lead -1"}},
		{file: "thousands.csv", offers: []string{"2 A-1: choke 4 H; 1234.5; pack 1 min 1 stock -1 lead -1", "3 A-2: choke 5 H; 12; pack 1 min 1 stock -1 lead -1", "4 A-3: choke 6 H; 1234.5; pack 1 min 1 stock -1 lead -1"}},
		// By hand: 36.00 for 100 pieces is 0.36 each.
		{file: "price-per-100.csv", offers: []string{"2 A-1: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead -1"}},
		{file: "breaks.csv", offers: []string{"2 A-1: fuse 2 A T; 0.36, 0.3 from 10, 0.2 from 100; pack 1 min 1 stock -1 lead -1"}},
		// By hand: 25 pieces at least in packs of 10 are 3 packs; 99 pieces hold 9 whole packs.
		{file: "packs.csv", offers: []string{"2 A-1: fuse 1 A T; 0.36; pack 10 min 3 stock 9 lead -1", "6 A-5: fuse 5 A T; 0.36; pack 10 min 1 stock -1 lead -1", "7 A-6: fuse 6 A T; 0.36; pack 1 min 1 stock -1 lead -1"},
			aside: []string{`line 3, column "Pack": "2.7" is not a number`, `line 4, column "Pack": "0x1F" is not a number`, `line 5, column "Pack": "0" is not a number`, `line 8, column "Pack": "-3" is not a number`},
			notes: []string{`line 7, column "Stock": "perhaps" is not a word we know here`}},
		{file: "formula.csv", offers: []string{"2 =2+2: unknown ; 0.4; pack 1 min 1 stock -1 lead -1", "3 -12V: unknown ; 0.5; pack 1 min 1 stock -1 lead -1", "4 =2+3: unknown ; 0.6; pack 1 min 1 stock -1 lead -1"}},
		{file: "other-currency.csv", offers: []string{"3 A-2: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead -1"}, aside: []string{`line 2, column "Currency": "EUR" is in another currency than the terms say`}},
		{file: "lead.csv", offers: []string{"2 A-1: fuse 1 A T; 0.36; pack 1 min 1 stock -1 lead 21", "3 A-2: fuse 2 A T; 0.36; pack 1 min 1 stock -1 lead 35", "4 A-3: fuse 3 A T; 0.36; pack 1 min 1 stock -1 lead -1", "5 A-4: fuse 4 A T; 0.36; pack 1 min 1 stock -1 lead 42"},
			notes: []string{`line 4, column "Lead": "soon" is not a word we know here`}},
	}
	seen := map[string]bool{}
	for _, tt := range append(tests, wordedLists...) {
		seen[tt.file] = true
		t.Run(tt.file, func(t *testing.T) {
			l, err := ReadList("X", tt.file, load(t, filepath.Join(listDir, tt.file)), Terms{List: "X", Currency: "USD"}, nil)
			if got := strings.TrimPrefix(errText(err), tt.file+": "); got != tt.err {
				t.Fatalf("error %q, want %q", got, tt.err)
			}
			counts(t, l)
			var offers, aside, notes []string
			for _, o := range l.Offers {
				offers = append(offers, say(o))
			}
			for _, p := range l.Aside {
				aside = append(aside, strings.TrimPrefix(p.Error(), tt.file+": "))
			}
			for _, p := range l.Notes {
				notes = append(notes, strings.TrimPrefix(p.Error(), tt.file+": "))
			}
			same(t, "offers", offers, tt.offers)
			same(t, "aside", aside, tt.aside)
			same(t, "notes", notes, tt.notes)
		})
	}
	files, err := filepath.Glob(filepath.Join(listDir, "*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files in %s: %v", listDir, err)
	}
	for _, f := range files {
		if !seen[filepath.Base(f)] {
			t.Errorf("%s has no row in this table", f)
		}
	}
}

func load(t testing.TB, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

// counts checks that no row was lost.
func counts(t testing.TB, l List) {
	t.Helper()
	if len(l.Offers)+l.RowsAside != l.Rows || len(l.AsideRows) != l.RowsAside || len(l.Aside) < l.RowsAside {
		t.Errorf("%d read + %d aside (%d kept, %d problems), want %d rows", len(l.Offers), l.RowsAside, len(l.AsideRows), len(l.Aside), l.Rows)
	}
}

func same(t *testing.T, what string, got, want []string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\n%s\nwant:\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
