package order

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/gocarina/gocsv"
)

// A Row is one line of an order file. Every field is text: counts are whole
// numbers without marks, prices carry the profile's decimal mark.
type Row struct {
	Part      string `csv:"part"`
	Text      string `csv:"text"`
	Packs     string `csv:"packs"`
	Pieces    string `csv:"pieces"`
	PackPrice string `csv:"pack price"`
	Amount    string `csv:"amount"`
	Reference string `csv:"reference"`
}

const bom = "\uFEFF"

// Rows returns what a basket orders, in the profile's numbers. The reference
// is the job number and the findings: "1042 A1 A3". Where that is longer than
// the supplier takes, it is the job number alone, and a warning says so.
func Rows(b Basket, job string, p Profile) (rows []Row, warnings []string) {
	for _, l := range b.Lines {
		reference, warning := reference(job, l, p.ReferenceMax)
		if warning != "" {
			warnings = append(warnings, warning)
		}
		price := func(text string) string { return strings.Replace(text, ".", p.mark(), 1) }
		rows = append(rows, Row{
			Part: l.Number, Text: l.Text,
			Packs: strconv.Itoa(l.Packs), Pieces: strconv.Itoa(l.Pieces),
			PackPrice: price(b.Currency.Format(l.PackPrice)), Amount: price(b.Currency.Format(l.Amount)),
			Reference: reference,
		})
	}
	return rows, warnings
}

// reference names the job and every finding of a line once.
func reference(job string, l Line, most int) (text, warning string) {
	words := []string{job}
	for _, u := range l.Uses {
		if u.Finding != "" && !slices.Contains(words[1:], u.Finding) {
			words = append(words, u.Finding)
		}
	}
	text = strings.TrimSpace(strings.Join(words, " "))
	if most == 0 || utf8.RuneCountInString(text) <= most {
		return text, ""
	}
	short := []rune(job)
	short = short[:min(len(short), most)]
	return string(short), fmt.Sprintf("part %s: reference %q is longer than %d characters, written as %q", l.Number, text, most, string(short))
}

// Write returns the order file of a basket. It holds no id and no time, so the
// same order is the same bytes. Warnings are for the technician: a part number
// or text that a spreadsheet may take for a formula, a shortened reference.
func Write(b Basket, job string, p Profile) (data []byte, warnings []string, err error) {
	rows, warnings := Rows(b, job, p)
	data, more, err := WriteRows(rows, p)
	if err != nil {
		return nil, nil, fmt.Errorf("order to %s: %w", b.Supplier, err)
	}
	return data, append(warnings, more...), nil
}

// WriteRows writes rows by the profile. Errors: a bad profile, text that is
// not UTF-8, the same part on two rows.
func WriteRows(rows []Row, p Profile) (data []byte, warnings []string, err error) {
	if err := p.Check(); err != nil {
		return nil, nil, err
	}
	if err := once(rows); err != nil {
		return nil, nil, err
	}
	sheet, err := sheetOf(rows)
	if err != nil {
		return nil, nil, err
	}
	var records [][]string
	if p.Header {
		var heads []string
		for _, c := range p.Columns {
			heads = append(heads, Guard(c.Heading))
		}
		records = append(records, heads)
	}
	for _, cells := range sheet {
		record, said := p.record(cells)
		records = append(records, record)
		warnings = append(warnings, said...)
	}
	text := writeRecords(records, p.Delimiter)
	if !utf8.ValidString(text) {
		return nil, nil, fmt.Errorf("the order holds text that is not UTF-8")
	}
	if p.BOM {
		text = bom + text
	}
	return []byte(text), warnings, nil
}

func once(rows []Row) error {
	seen := map[string]bool{}
	for _, r := range rows {
		if seen[r.Part] {
			return fmt.Errorf("part %q stands on two rows", r.Part)
		}
		seen[r.Part] = true
	}
	return nil
}

// record puts the cells of a row into the supplier's columns.
func (p Profile) record(cells map[Field]string) (record, warnings []string) {
	for _, c := range p.Columns {
		cell := cells[c.Field]
		if warning := p.warning(c, cell); warning != "" {
			warnings = append(warnings, warning)
		}
		if !p.asIs(c.Field) {
			cell = Guard(cell)
		}
		record = append(record, cell)
	}
	return record, warnings
}

// ReadOrder reads an order file written by the same profile and gives the rows
// back as they were. Columns the profile lacks come back empty. Errors name
// the row: a wrong heading, a wrong number of cells.
func ReadOrder(data []byte, p Profile) ([]Row, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	text := string(data)
	if p.BOM {
		text = strings.TrimPrefix(text, bom)
	}
	records, err := readRecords(text, p.Delimiter)
	if err != nil {
		return nil, fmt.Errorf("order of %s: %w", p.Supplier, err)
	}
	if records, err = p.cells(records); err != nil {
		return nil, fmt.Errorf("order of %s: %w", p.Supplier, err)
	}
	if len(records) == 0 {
		return nil, nil
	}
	var rows []Row
	if err := gocsv.UnmarshalCSV(&recordReader{append([][]string{p.fieldNames()}, records...)}, &rows); err != nil {
		return nil, fmt.Errorf("order of %s: %w", p.Supplier, err)
	}
	return rows, nil
}

// cells checks the heading and the widths and takes the guards off.
func (p Profile) cells(records [][]string) ([][]string, error) {
	if p.Header {
		if len(records) == 0 {
			return nil, fmt.Errorf("the file is empty, want a row of headings")
		}
		if err := p.checkHeader(records[0]); err != nil {
			return nil, err
		}
		records = records[1:]
	}
	for i, r := range records {
		if len(r) != len(p.Columns) {
			return nil, fmt.Errorf("row %d has %d cells, want %d", i+1, len(r), len(p.Columns))
		}
		for at, c := range p.Columns {
			if !p.asIs(c.Field) {
				r[at] = unguard(r[at])
			}
		}
	}
	return records, nil
}

func (p Profile) checkHeader(cells []string) error {
	for i, c := range p.Columns {
		if i >= len(cells) || unguard(cells[i]) != c.Heading {
			return fmt.Errorf("headings %q: column %d should be %q", cells, i+1, c.Heading)
		}
	}
	if len(cells) != len(p.Columns) {
		return fmt.Errorf("headings %q: %d columns, want %d", cells, len(cells), len(p.Columns))
	}
	return nil
}

func (p Profile) fieldNames() []string {
	var names []string
	for _, c := range p.Columns {
		names = append(names, string(c.Field))
	}
	return names
}
