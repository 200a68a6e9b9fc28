package catalog

import "lugworth/core/money"

// Field is what a column holds.
type Field string

const (
	Ignored      Field = ""
	FieldNumber  Field = "number"      // the supplier's part number
	FieldText    Field = "description" //
	FieldKind    Field = "category"    //
	FieldValue   Field = "value"       //
	FieldVolts   Field = "volts"       //
	FieldWatts   Field = "watts"       //
	FieldTol     Field = "tolerance"   //
	FieldPrice   Field = "price"       // per piece, or per Mapping.PriceFor pieces
	FieldBreak   Field = "break"       // a further price; Column.From says from how many pieces
	FieldCurr    Field = "currency"    //
	FieldPack    Field = "pack"        // pieces sold together
	FieldMinimum Field = "minimum"     // fewest pieces of a line
	FieldStock   Field = "stock"       // pieces, or a word
	FieldLead    Field = "lead"        // days, or a word
	FieldDate    Field = "date"        // of the price
)

// A Column says how one heading of a list is read.
type Column struct {
	Heading string `json:"heading"`
	Field   Field  `json:"field"`
	From    int    `json:"from,omitempty"` // of a FieldBreak
}

// A Mapping says how one supplier's list is read. It is a plain value with a
// JSON form, to be kept with the supplier and given to ReadList next time.
type Mapping struct {
	Fingerprint string     `json:"fingerprint"` // of the headings, order and case set aside
	Delimiter   string     `json:"delimiter"`
	Encoding    string     `json:"encoding"`
	Decimal     money.Mark `json:"decimal"`
	PriceFor    int        `json:"price_for,omitempty"` // pieces the price column is for; 0 and 1 both mean one
	NoHeading   bool       `json:"no_heading,omitempty"`
	Columns     []Column   `json:"columns"`
}
