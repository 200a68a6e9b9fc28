package catalog

import (
	"github.com/gocarina/gocsv"
)

// A row is what gocsv makes of one row of a price list. It makes each row
// twice and copies it, so that a row is no more than where its fields are.
type row struct {
	Is *fields `csv:"is"`
}

// fields are a row bound to the fields it is read as. Every field is text:
// gocsv would read "010" as 8 and "1,234" as 1.234.
type fields struct {
	Number    string
	Text      string
	Kind      string
	Value     string
	Volts     string
	Watts     string
	Tolerance string
	Price     string
	Breaks    string
	Per       string
	Currency  string
	Pack      string
	Minimum   string
	Stock     string
	Lead      string
	Date      string
}

// UnmarshalCSVWithFields sets one field. gocsv calls it for every cell, under
// the key that the mapping gave its column.
func (r *row) UnmarshalCSVWithFields(key, value string) error {
	if r.Is == nil {
		r.Is = new(fields)
	}
	switch Field(key) {
	case FieldNumber:
		r.Is.Number = value
	case FieldText:
		r.Is.Text = value
	case FieldKind:
		r.Is.Kind = value
	case FieldValue:
		r.Is.Value = value
	case FieldVolts:
		r.Is.Volts = value
	case FieldWatts:
		r.Is.Watts = value
	case FieldTol:
		r.Is.Tolerance = value
	case FieldPrice:
		r.Is.Price = value
	case FieldBreaks:
		r.Is.Breaks = value
	case FieldPer:
		r.Is.Per = value
	case FieldCurr:
		r.Is.Currency = value
	case FieldPack:
		r.Is.Pack = value
	case FieldMinimum:
		r.Is.Minimum = value
	case FieldStock:
		r.Is.Stock = value
	case FieldLead:
		r.Is.Lead = value
	case FieldDate:
		r.Is.Date = value
	}
	return nil
}

// A block hands gocsv one heading row and some records, each cut to the
// length of the heading: gocsv panics on a longer one.
type block struct{ rows [][]string }

func (b block) GetCSVRows() ([][]string, error) { return b.rows, nil }

// bind binds rows below their keys, the first of them. It reuses into if that
// is long enough.
func bind(rows [][]string, into []row) ([]row, error) {
	if len(rows) < 2 {
		return into[:0], nil
	}
	into = into[:min(cap(into), len(rows))] // gocsv wants room for the keys as well
	err := gocsv.UnmarshalDecoder(block{rows}, &into)
	return into[:len(rows)-1], err
}
