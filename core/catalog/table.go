package catalog

import (
	"fmt"
	"strings"

	"github.com/gocarina/gocsv"

	"lugworth/core/unit"
)

// A Table is a CSV file of our own making (terms, sheet, tasks): known
// headings, any order, comma, semicolon, tab or bar, any encoding of Decode.
type Table struct {
	File      string
	Delimiter rune
	Headings  []string
	Rows      []TableRow
	Problems  []unit.Problem // rows that could not be cut or were too long
	Count     int            // rows below the headings, blank lines not counted
}

// A TableRow is one row, as long as the headings.
type TableRow struct {
	Line  int
	Cells []string
}

// ReadTable reads a table that must have the headings named in need. Other
// headings are kept. It returns an error when a needed heading is missing or
// any stands twice.
func ReadTable(file string, data []byte, need ...string) (Table, error) {
	t := Table{File: file}
	text, _, err := Decode(data)
	if err != nil {
		return t, fmt.Errorf("%s: %w", file, err)
	}
	text = lineEnds(text)
	t.Delimiter = tableDelimiter(text, need)
	s := newSplitter(text, t.Delimiter)
	head, ok := s.next()
	if !ok {
		return t, fmt.Errorf("%s: the file is empty", file)
	}
	for _, h := range head.cells {
		t.Headings = append(t.Headings, strings.TrimSpace(h))
	}
	if err := t.check(need); err != nil {
		return t, err
	}
	for raw, ok := s.next(); ok; raw, ok = s.next() {
		t.add(raw)
	}
	return t, nil
}

// tableDelimiter takes the delimiter that cuts out most of the needed headings.
func tableDelimiter(text string, need []string) rune {
	best, comma := 0, ','
	for _, d := range delimiters {
		head, ok := newSplitter(text, d).next()
		n := 0
		for _, h := range need {
			if ok && index(head.cells, h) >= 0 {
				n++
			}
		}
		if n > best {
			best, comma = n, d
		}
	}
	return comma
}

func index(cells []string, heading string) int {
	for i, c := range cells {
		if strings.TrimSpace(c) == heading {
			return i
		}
	}
	return -1
}

func (t Table) check(need []string) error {
	for i, h := range t.Headings {
		if h != "" && index(t.Headings[:i], h) >= 0 {
			return unit.Problem{File: t.File, Line: 1, Column: h, Cell: h, Code: unit.Duplicate}
		}
	}
	for _, h := range need {
		if index(t.Headings, h) < 0 {
			return unit.Problem{File: t.File, Line: 1, Column: h, Cell: short(strings.Join(t.Headings, ", ")), Code: NoColumn}
		}
	}
	return nil
}

func (t *Table) add(raw rawRow) {
	if blankRow(raw.cells) {
		return
	}
	t.Count++
	n := len(t.Headings)
	for len(raw.cells) > n && strings.TrimSpace(raw.cells[len(raw.cells)-1]) == "" {
		raw.cells = raw.cells[:len(raw.cells)-1]
	}
	switch {
	case raw.bad == "broken":
		t.Problems = append(t.Problems, unit.Problem{File: t.File, Line: raw.line, Cell: raw.cells[0], Code: OpenQuote})
		return
	case len(raw.cells) > n:
		t.Problems = append(t.Problems, unit.Problem{File: t.File, Line: raw.line, Cell: raw.cells[n], Code: RowTooLong})
		return
	}
	for len(raw.cells) < n {
		raw.cells = append(raw.cells, "")
	}
	t.Rows = append(t.Rows, TableRow{raw.line, raw.cells})
}

// Bind sets out, a pointer to a slice of structs whose fields are all string
// with csv tags, one element a row.
func (t Table) Bind(out any) error {
	if len(t.Rows) == 0 {
		return nil
	}
	rows := [][]string{t.Headings}
	for _, r := range t.Rows {
		rows = append(rows, r.Cells)
	}
	return gocsv.UnmarshalDecoder(block{rows}, out)
}
