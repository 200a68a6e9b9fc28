package catalog

import (
	"github.com/gocarina/gocsv"
)

// A row is one row of a price list bound to the fields it is read as. Every
// field is text: gocsv would read "010" as 8 and "1,234" as 1.234.
type row struct {
	Number    string `csv:"number"`
	Text      string `csv:"description"`
	Kind      string `csv:"category"`
	Value     string `csv:"value"`
	Volts     string `csv:"volts"`
	Watts     string `csv:"watts"`
	Tolerance string `csv:"tolerance"`
	Price     string `csv:"price"`
	Currency  string `csv:"currency"`
	Pack      string `csv:"pack"`
	Minimum   string `csv:"minimum"`
	Stock     string `csv:"stock"`
	Lead      string `csv:"lead"`
	Date      string `csv:"date"`
}

// UnmarshalCSVWithFields sets one field. gocsv calls it for every cell, under
// the key that the mapping gave its column.
func (r *row) UnmarshalCSVWithFields(key, value string) error {
	switch Field(key) {
	case FieldNumber:
		r.Number = value
	case FieldText:
		r.Text = value
	case FieldKind:
		r.Kind = value
	case FieldValue:
		r.Value = value
	case FieldVolts:
		r.Volts = value
	case FieldWatts:
		r.Watts = value
	case FieldTol:
		r.Tolerance = value
	case FieldPrice:
		r.Price = value
	case FieldCurr:
		r.Currency = value
	case FieldPack:
		r.Pack = value
	case FieldMinimum:
		r.Minimum = value
	case FieldStock:
		r.Stock = value
	case FieldLead:
		r.Lead = value
	case FieldDate:
		r.Date = value
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
