package order

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
)

// Field is what a column of an order file holds.
type Field string

const (
	PartField      Field = "part"       // the supplier's part number
	TextField      Field = "text"       // the supplier's own words
	PacksField     Field = "packs"      // whole packs
	PiecesField    Field = "pieces"     // whole pieces
	PackPriceField Field = "pack price" // price of a piece × pack
	AmountField    Field = "amount"     // pack price × packs
	ReferenceField Field = "reference"  // job number and findings
)

var fields = []Field{PartField, TextField, PacksField, PiecesField, PackPriceField, AmountField, ReferenceField}

// A Column is one column of a supplier's form, under the supplier's heading.
type Column struct {
	Heading string
	Field   Field
}

// A Profile says how one supplier wants an order written.
type Profile struct {
	Supplier  string
	Columns   []Column
	Delimiter rune // ',', ';', tab or '|'
	Decimal   money.Mark
	Header    bool // first row holds the headings
	BOM       bool // the file begins with a byte order mark
	// PartAsIs writes part numbers without the guard against formulas, for a
	// supplier whose numbers begin with one of its signs.
	PartAsIs     bool
	ReferenceMax int // most characters in a reference; 0 = no limit
}

// DefaultProfile is used for a supplier that has not said what it wants.
func DefaultProfile(supplier string) Profile {
	return Profile{
		Supplier: supplier,
		Columns: []Column{
			{"Part", PartField}, {"Description", TextField}, {"Packs", PacksField}, {"Pieces", PiecesField},
			{"Pack price", PackPriceField}, {"Amount", AmountField}, {"Reference", ReferenceField},
		},
		Delimiter: ',', Decimal: money.Point, Header: true,
	}
}

// Check says what is wrong with a profile: no part column, no count, a field
// twice, an unknown field, a delimiter that is not one of the four.
func (p Profile) Check() error {
	if !strings.ContainsRune(",;\t|", p.Delimiter) {
		return fmt.Errorf("profile %s: delimiter %q is not a comma, semicolon, tab or bar", p.Supplier, p.Delimiter)
	}
	seen := map[Field]bool{}
	for _, c := range p.Columns {
		if !slices.Contains(fields, c.Field) {
			return fmt.Errorf("profile %s: column %q holds %q, which is not a field of an order", p.Supplier, c.Heading, c.Field)
		}
		if seen[c.Field] {
			return fmt.Errorf("profile %s: field %q stands in two columns", p.Supplier, c.Field)
		}
		seen[c.Field] = true
	}
	if !seen[PartField] || !(seen[PacksField] || seen[PiecesField]) {
		return fmt.Errorf("profile %s: an order needs a part column, and packs or pieces", p.Supplier)
	}
	return nil
}

// mark returns the character between whole and fraction.
func (p Profile) mark() string {
	if p.Decimal == money.Comma {
		return ","
	}
	return "."
}
