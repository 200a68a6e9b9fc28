package catalog

import (
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// A ListMapping is a Mapping with the list it was made for.
type ListMapping struct {
	List string
	Mapping
}

// columnHeads are the headings of columns.csv.
var columnHeads = []string{"list", "fingerprint", "delimiter", "encoding", "decimal", "price_for", "pack_price", "no_heading", "heading", "field", "from"}

// WriteMappings writes columns.csv, the book of how each supplier's columns
// are read: one row a column, in the order of the file.
func WriteMappings(maps []ListMapping) []byte {
	var b strings.Builder
	writeRow(&b, columnHeads, ",")
	for _, m := range maps {
		for _, c := range m.Columns {
			writeRow(&b, []string{m.List, m.Fingerprint, delimiterName(m.Delimiter), m.Encoding, m.Decimal, number(m.PriceFor), m.PackPrice, yes(m.NoHeading), c.Heading, string(c.Field), number(c.From)}, ",")
		}
	}
	return []byte(b.String())
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// delimiterName spells the tab, which a cell does not show.
func delimiterName(d string) string {
	if d == "\t" {
		return "tab"
	}
	return d
}

// ReadMappings reads columns.csv:
//
//	list,fingerprint,delimiter,encoding,decimal,price_for,pack_price,no_heading,heading,field,from
//	R,9f86d081884c7d65,;,UTF-8,comma,,,,Teil,number,
//	R,9f86d081884c7d65,;,UTF-8,comma,,,,ab 10,break,10
//
// Rows of one list and fingerprint make one mapping; what is said of the whole
// list is taken from the first of them. A row that cannot be used is told of,
// and with it its whole mapping is left out: the columns behind it would be
// read as their neighbors.
func ReadMappings(file string, data []byte) ([]ListMapping, []unit.Problem) {
	t, err := ReadTable(file, data, columnHeads...)
	if err != nil {
		return nil, []unit.Problem{asProblem(file, err)}
	}
	r := columnsReader{file: file, table: t, broken: map[string]bool{}, problems: t.Problems}
	for _, row := range t.Rows {
		r.take(row)
	}
	var out []ListMapping
	for _, m := range r.maps {
		if !r.broken[m.List+"\x00"+m.Fingerprint] {
			out = append(out, m)
		}
	}
	return out, r.problems
}

type columnsReader struct {
	file     string
	table    Table
	maps     []ListMapping
	broken   map[string]bool
	problems []unit.Problem
}

func (r *columnsReader) take(row TableRow) {
	cell := func(heading string) string { return row.Cells[index(r.table.Headings, heading)] }
	list, print := strings.TrimSpace(cell("list")), strings.TrimSpace(cell("fingerprint"))
	wrong := func(column string, code unit.Code) {
		r.broken[list+"\x00"+print] = true
		r.problems = append(r.problems, unit.Problem{File: r.file, Line: row.Line, Column: column, Cell: cell(column), Code: code})
	}
	if list == "" {
		wrong("list", unit.Missing)
	}
	count := func(column string) int {
		text := strings.TrimSpace(cell(column))
		n, ok := pieces(text)
		if text != "" && !ok {
			wrong(column, unit.NotANumber)
		}
		return n
	}
	c := Column{Heading: cell("heading"), Field: Field(strings.TrimSpace(cell("field"))), From: count("from")}
	if !known(c.Field) {
		wrong("field", unit.UnknownWord)
	}
	n := len(r.maps)
	if n == 0 || r.maps[n-1].List != list || r.maps[n-1].Fingerprint != print {
		m := ListMapping{List: list, Mapping: Mapping{Fingerprint: print, Delimiter: strings.Replace(cell("delimiter"), "tab", "\t", 1), Encoding: cell("encoding"), Decimal: cell("decimal"),
			PriceFor: count("price_for"), PackPrice: strings.TrimSpace(cell("pack_price")), NoHeading: strings.EqualFold(strings.TrimSpace(cell("no_heading")), "yes")}}
		if m.PackPrice != "" && m.PackPrice != "each" && m.PackPrice != "pack" {
			wrong("pack_price", unit.UnknownWord)
		}
		if m.Decimal != "" && m.Decimal != "point" && m.Decimal != "comma" {
			wrong("decimal", unit.UnknownWord)
		}
		r.maps, n = append(r.maps, m), n+1
	}
	r.maps[n-1].Columns = append(r.maps[n-1].Columns, c)
}

func known(f Field) bool {
	for _, o := range Fields {
		if f == o {
			return true
		}
	}
	return false
}

// MappingFor returns the mapping of a list: of several the one made for these
// bytes' headings, else the last; nil where there is none.
func MappingFor(maps []ListMapping, list string, data []byte) *Mapping {
	var last *Mapping
	for i := range maps {
		if maps[i].List != list {
			continue
		}
		last = &maps[i].Mapping
		if text, _, err := Decode(data); err == nil {
			if _, _, ok := remembered(lineEnds(text), *last); ok {
				return last
			}
		}
	}
	return last
}
