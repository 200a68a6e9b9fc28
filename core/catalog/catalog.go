// Package catalog reads suppliers' price lists and finds parts in them.
//
//	K-1002,Axial electrolytic,22uF,500,5.20,1,30,2   electrolytic 22 µF 500 V axial, 5.20 each
//	R-2302;FILM 22n/400V;0,40;10;yes                 film 22 nF 400 V, 0.40 each, 10 in a pack
//	E-77;33µF 500V axiaal;4,20;4                     electrolytic (inferred) 33 µF 500 V, lead 4 days
//
// Columns may stand in any order, under headings in five languages; cells may
// be comma, semicolon, tab or bar separated, with decimal point or comma, in
// UTF-8, UTF-16 or Windows-1252. Every row is either read or set aside with a
// Problem that names its line, so that rows read + rows aside = rows.
package catalog

import (
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// A Part says what an offer is, as far as its row tells.
type Part struct {
	Kind       Kind
	Spec       unit.Spec // value, tolerance, volts, watts as printed; zero fields were not stated
	Tube       string    // type in capitals, "6V6GT"; "" if it is not a tube
	TubeAlso   []string  // further types the row names for the same tube: "ECC83"
	Count      int       // tubes in the piece: single 1, pair 2, quartet 4; 0 for other parts
	Form       Form
	Dielectric string // "polyester", "polypropylene", "paper-oil", ... or "" if not stated
	Class      string // interference-suppression class X1, X2, Y1, Y2, or "" if not stated
	Look       string // "paper" when the row sells the part for its look; says nothing of what is inside
	Inferred   string // why Kind was concluded and not read, or ""
	Words      string // description folded to lower-case words, for text search
}

// An Offer is one row of a price list that can be ordered.
type Offer struct {
	List   string // supplier's name, as in Terms.List
	File   string // name of the file the row came from
	Line   int    // 1-based line on which the row starts
	Date   string // date of the price if the row gives one, else ""
	Number string // the supplier's part number, as written
	Text   string // description, as written
	Part   Part

	Price    money.Decimal // per piece, in Currency, before tax and exchange
	Priced   bool          // false: the row gives no price and cannot be costed
	Currency string        // ISO 4217 code
	Breaks   []Break       // dearer to cheaper, from the second price on

	Pack       int // pieces sold together, at least 1; Price stays per piece
	MinPacks   int // fewest packs a line may order, at least 1
	StockPacks int // whole packs in stock, -1 if the row does not say
	StockSays  string
	LeadDays   int // days until it arrives, -1 if the row does not say

	from *source // what the row was cut from, and the row as it stands there; see Cells
	raw  string
}

// A source is what the raw rows of one list share.
type source struct {
	heads []string
	comma rune
}

// Cells returns the raw row in its own order, nothing left out.
func (o Offer) Cells() []Cell {
	if o.from == nil {
		return nil
	}
	return pairCells(o.from.heads, o.from.cut(o.raw))
}

// join writes cells as a raw row.
func (s *source) join(cells []string) string {
	var b strings.Builder
	writeRow(&b, cells, string(s.comma))
	return strings.TrimSuffix(b.String(), "\r\n")
}

// cut returns the cells of a raw row, as many as there are headings.
func (s *source) cut(raw string) []string {
	row, _ := newSplitter(raw, s.comma).next()
	cells := row.cells
	for len(cells) < len(s.heads) {
		cells = append(cells, "")
	}
	return cells[:len(s.heads)]
}

// A Break is a price per piece that holds from a number of pieces on.
type Break struct {
	Pieces int
	Price  money.Decimal
}

// A Cell is one cell of a row as the supplier wrote it.
type Cell struct{ Column, Text string }

// A Row is one row of a file.
type Row struct {
	Line  int
	Cells []Cell
}

func pairCells(heads, cells []string) []Cell {
	out := make([]Cell, len(cells))
	for i, c := range cells {
		out[i].Text = c
		if i < len(heads) {
			out[i].Column = heads[i]
		}
	}
	return out
}

// A List is one price list as read. Rows = len(Offers) + rows in Aside,
// always; RowsAside counts them, as one row may have several problems.
type List struct {
	Name, File string
	Currency   string
	Offers     []Offer
	Aside      []unit.Problem // why rows were set aside; at least one for each such row
	Notes      []unit.Problem // what a reader should know of rows that were kept, and of the file
	Rows       int            // rows below the heading, blank lines not counted
	RowsAside  int
	AsideRows  []Row // the rows set aside as they stand in the file, to be mended
	Mapping    Mapping
}

// A Fix replaces one cell when the list is read again. Line is the line on
// which the row starts, Column the heading as the supplier wrote it, "" for
// the whole row. Was is what stood there; a fix that says so is made only
// where that still stands.
type Fix struct {
	Line   int    `json:"line"`
	Column string `json:"column"`
	Cell   string `json:"cell"`
	Was    string `json:"was,omitempty"`
}

// Terms are what a supplier's prices mean to this shop.
type Terms struct {
	List            string
	Currency        string        // ISO 4217 code of the list
	Rate            money.Decimal // home currency for one unit of Currency, as entered by the user
	RateDate        string        // the day the rate is of, 2026-01-05; "" if not stated
	TaxInPrice      bool          // the list price is what is paid at the door
	TaxNotReclaimed money.Decimal // percent of tax that stays a cost of the shop: 20 means 20 %
	Decimal         money.Mark
	PackColumn      string // heading that holds the pieces sold together, "" = propose
	LeadColumn      string // heading that holds the days, "" = propose
	MinOrder        money.Decimal
	Carriage        []Step // in Currency, by goods value; rising From, first From is zero
	Line            int    // in terms.csv
}

// A Step is the carriage due from a goods value on.
type Step struct{ From, Fee money.Decimal }

// A Want says which offers Find is to return. Zero fields ask for nothing.
type Want struct {
	Kinds               []Kind
	ValueLow, ValueHigh float64 // SI, both ends within; 0, 0 = any value
	Sections            int     // exactly so many sections; 0 = any
	Tube                string  // type, without regard to case
	Count               int     // tubes in the piece
	MinVolts, MinWatts  float64 // stated and at least this
	Form                Form
	Class               string
	Words               []string // all must stand in Part.Words
	Priced              bool     // only offers that give a price
}
