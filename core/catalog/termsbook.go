package catalog

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/unit"
)

// TermsColumns are the headings of terms.csv, in the order in which a new file
// has them.
var TermsColumns = []string{"list", "currency", "rate", "tax_in_price", "tax_not_reclaimed", "decimal", "pack_column", "lead_column", "min_order", "carriage", "rate_date"}

// A TermsBook is terms.csv to be written in. A line nobody writes in stays as
// it is, byte for byte, whether it can be read or not.
type TermsBook struct {
	comma rune
	heads []string
	head  int // line of the file that holds the headings
	lines []termsLine
}

type termsLine struct {
	raw   string // with its line end
	cells []string
}

// OpenTermsBook reads terms.csv to be written in; no data is a new file. Text
// of an old encoding is written as UTF-8 afterwards.
//
// Errors: not a text file, a heading missing or twice.
func OpenTermsBook(file string, data []byte) (TermsBook, error) {
	if len(data) == 0 {
		data = []byte(strings.Join(TermsColumns, ",") + "\r\n")
	}
	t, err := ReadTable(file, data, TermsColumns[:5]...)
	if err != nil {
		return TermsBook{}, err
	}
	text, _, err := Decode(data)
	if err != nil {
		return TermsBook{}, fmt.Errorf("%s: %w", file, err)
	}
	text = lineEnds(text)
	b := TermsBook{comma: t.Delimiter, heads: t.Headings, head: -1}
	s := newSplitter(text, t.Delimiter)
	from := 0
	for raw, ok := s.next(); ok; raw, ok = s.next() {
		if b.head < 0 {
			b.head = len(b.lines)
		}
		b.lines = append(b.lines, termsLine{text[from:s.offset()], slices.Clone(raw.cells)})
		from = s.offset()
	}
	if from < len(text) {
		b.lines = append(b.lines, termsLine{raw: text[from:]})
	}
	return b, nil
}

// Get returns a cell of the first row of a list as it stands; ok is false
// where the list has no row.
func (b TermsBook) Get(list, column string) (cell string, ok bool) {
	i := b.row(list)
	if i < 0 {
		return "", false
	}
	if at := slices.Index(b.heads, column); at >= 0 && at < len(b.lines[i].cells) {
		cell = strings.TrimSpace(b.lines[i].cells[at])
	}
	return cell, true
}

// Lists are the lists that have a row, in the order of the file.
func (b TermsBook) Lists() []string {
	var out []string
	for i := range b.lines {
		if n := b.name(i); n != "" && i > b.head && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

func (b TermsBook) name(i int) string {
	if at := slices.Index(b.heads, "list"); at < len(b.lines[i].cells) {
		return strings.TrimSpace(b.lines[i].cells[at])
	}
	return ""
}

func (b TermsBook) row(list string) int {
	for i := b.head + 1; i < len(b.lines); i++ {
		if b.name(i) == list {
			return i
		}
	}
	return -1
}

// A TermsCell is what is to stand in a column.
type TermsCell struct{ Column, Cell string }

// Set writes cells of a list's row, which is made where there is none, and
// columns where the file has them not and there is something to write.
func (b TermsBook) Set(list string, cells ...TermsCell) TermsBook {
	b.heads, b.lines = slices.Clone(b.heads), slices.Clone(b.lines)
	i := b.row(list)
	if i < 0 {
		b.endLine()
		i = len(b.lines)
		b.lines = append(b.lines, termsLine{})
	}
	b.put(i, "list", list)
	for _, c := range cells {
		b.put(i, c.Column, c.Cell)
	}
	b.lines[i].raw = b.write(b.lines[i].cells, b.lines[i].raw)
	return b
}

func (b *TermsBook) put(i int, column, cell string) {
	at := slices.Index(b.heads, column)
	if at < 0 {
		if cell == "" {
			return
		}
		at = len(b.heads)
		b.heads = append(b.heads, column)
		b.lines[b.head].raw = b.write(b.heads, b.lines[b.head].raw)
	}
	row := slices.Clone(b.lines[i].cells)
	for len(row) <= at {
		row = append(row, "")
	}
	row[at] = cell
	b.lines[i].cells = row
}

// write writes a line with the line end it had.
func (b *TermsBook) write(cells []string, was string) string {
	var s strings.Builder
	writeRow(&s, cells, string(b.comma))
	line := strings.TrimSuffix(s.String(), "\r\n")
	if strings.HasSuffix(was, "\n") && !strings.HasSuffix(was, "\r\n") {
		return line + "\n"
	}
	return line + "\r\n"
}

// endLine ends the last line if the file does not.
func (b *TermsBook) endLine() {
	if n := len(b.lines); n > 0 && !strings.HasSuffix(b.lines[n-1].raw, "\n") {
		b.lines[n-1].raw += "\r\n"
	}
}

// Write is the file.
func (b TermsBook) Write() []byte {
	var s strings.Builder
	for _, l := range b.lines {
		s.WriteString(l.raw)
	}
	return []byte(s.String())
}

// Problems are what is wrong with the row of a list.
func (b TermsBook) Problems(file, list string) []unit.Problem {
	i := b.row(list)
	if i < 0 {
		return nil
	}
	line := 1
	for _, l := range b.lines[:i] {
		line += strings.Count(l.raw, "\n")
	}
	line += strings.Count(b.lines[i].raw, "\n") - strings.Count(strings.TrimLeft(b.lines[i].raw, "\r\n"), "\n")
	_, all := ReadTerms(file, b.Write())
	return slices.DeleteFunc(all, func(p unit.Problem) bool { return p.Line != line })
}
