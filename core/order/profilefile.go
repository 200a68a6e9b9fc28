package order

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/unit"
)

// profileRow is profiles.csv as it stands in the file.
type profileRow struct {
	List         string `csv:"list"`
	Heading      string `csv:"heading"`
	Field        string `csv:"field"`
	Delimiter    string `csv:"delimiter"`
	Decimal      string `csv:"decimal"`
	Header       string `csv:"header"`
	BOM          string `csv:"bom"`
	PartAsIs     string `csv:"part_as_is"`
	ReferenceMax string `csv:"reference_max"`
}

var profileHeads = []string{"list", "heading", "field", "delimiter", "decimal", "header", "bom", "part_as_is", "reference_max"}

// delimiterNames are the words for delimiters in profiles.csv.
var delimiterNames = map[string]rune{"comma": ',', "semicolon": ';', "tab": '\t', "bar": '|'}

// ReadProfiles reads profiles.csv: how each supplier wants an order written,
// a row for each column of its form, in the order of the form.
//
//	list,heading,field,delimiter,decimal,header,bom,part_as_is,reference_max
//	K,Artikelnr.,part,semicolon,comma,yes,no,no,24
//	K,Menge,packs
//	K,Unser Zeichen,reference
//
// field is one of part, text, packs, pieces, pack price, amount, reference;
// delimiter is comma, semicolon, tab or bar; decimal is point or comma. These
// and the further cells hold for the whole supplier and may stand in any of
// its rows; a blank one leaves what DefaultProfile has. A supplier without a
// field in any row gets the columns of DefaultProfile.
//
// A supplier with any problem is left out, and every problem is returned: its
// orders are then written by DefaultProfile.
func ReadProfiles(file string, data []byte) ([]Profile, []unit.Problem) {
	t, err := catalog.ReadTable(file, data, "list", "heading", "field")
	if err != nil {
		return nil, located(file, err)
	}
	var rows []profileRow
	if err := t.Bind(&rows); err != nil {
		return nil, located(file, err)
	}
	r := profileReader{file: file, problems: t.Problems, bad: map[string]bool{}}
	for i, row := range rows {
		r.row(t.Rows[i].Line, row)
	}
	return r.finish(), r.problems
}

func located(file string, err error) []unit.Problem {
	p, _ := unit.Located(err, file, 0, "", "")
	return []unit.Problem{p}
}

type profileReader struct {
	file     string
	line     int
	list     string
	read     []profileRead
	problems []unit.Problem
	bad      map[string]bool
}

// profileRead is a profile with what was said so far.
type profileRead struct {
	Profile
	line int
	said map[string]string
}

func (r *profileReader) wrong(column, cell string, code unit.Code, hint string) {
	r.problems = append(r.problems, unit.Problem{File: r.file, Line: r.line, Column: column, Cell: cell, Code: code, Hint: hint})
	r.bad[r.list] = true
}

func (r *profileReader) row(line int, row profileRow) {
	r.line, r.list = line, strings.TrimSpace(row.List)
	if r.list == "" {
		r.wrong("list", row.List, unit.Missing, "")
		return
	}
	at := slices.IndexFunc(r.read, func(p profileRead) bool { return p.Supplier == r.list })
	if at < 0 {
		p := DefaultProfile(r.list)
		p.Columns = nil
		r.read = append(r.read, profileRead{p, line, map[string]string{}})
		at = len(r.read) - 1
	}
	p := &r.read[at]
	r.column(p, row)
	for _, c := range []struct {
		name, cell string
		set        func(word string) bool
		hint       string
	}{
		{"delimiter", row.Delimiter, p.delimit, "comma, semicolon, tab or bar"},
		{"decimal", row.Decimal, p.decimal, "point or comma"},
		{"header", row.Header, func(w string) bool { return yes(&p.Header, w) }, "yes or no"},
		{"bom", row.BOM, func(w string) bool { return yes(&p.BOM, w) }, "yes or no"},
		{"part_as_is", row.PartAsIs, func(w string) bool { return yes(&p.PartAsIs, w) }, "yes or no"},
		{"reference_max", row.ReferenceMax, p.most, "a whole number, 0 for no limit"},
	} {
		word := strings.ToLower(strings.TrimSpace(c.cell))
		switch have, told := p.said[c.name]; {
		case word == "":
		case told && have != word:
			r.wrong(c.name, c.cell, unit.Duplicate, "the supplier has "+have+" in another row")
		case !c.set(word):
			r.wrong(c.name, c.cell, unit.UnknownWord, c.hint)
		default:
			p.said[c.name] = word
		}
	}
}

func (r *profileReader) column(p *profileRead, row profileRow) {
	heading, field := unguard(row.Heading), Field(strings.ToLower(strings.TrimSpace(row.Field)))
	switch {
	case field == "" && strings.TrimSpace(heading) == "":
	case !slices.Contains(fields, field):
		r.wrong("field", row.Field, unit.UnknownWord, "part, text, packs, pieces, pack price, amount or reference")
	case strings.ContainsAny(heading, "\r\n"):
		r.wrong("heading", row.Heading, unit.Unusable, "a heading of one line")
	default:
		p.Columns = append(p.Columns, Column{heading, field})
	}
}

// finish checks each profile and leaves out those with a problem.
func (r *profileReader) finish() []Profile {
	var out []Profile
	for _, p := range r.read {
		if len(p.Columns) == 0 {
			p.Columns = DefaultProfile(p.Supplier).Columns
		}
		if err := p.Check(); err != nil && !r.bad[p.Supplier] {
			r.bad[p.Supplier] = true
			r.problems = append(r.problems, unit.Problem{File: r.file, Line: p.line, Column: "field", Cell: p.Supplier, Code: unit.Unusable, Say: err.Error()})
		}
		if !r.bad[p.Supplier] {
			out = append(out, p.Profile)
		}
	}
	return out
}

func (p *profileRead) delimit(word string) bool {
	d, ok := delimiterNames[word]
	if ok {
		p.Delimiter = d
	}
	return ok
}

func (p *profileRead) decimal(word string) bool {
	m, ok := map[string]money.Mark{"point": money.Point, ".": money.Point, "comma": money.Comma, ",": money.Comma}[word]
	if ok {
		p.Profile.Decimal = m
	}
	return ok
}

func (p *profileRead) most(word string) bool {
	n, err := strconv.Atoi(word)
	if err != nil || n < 0 {
		return false
	}
	p.ReferenceMax = n
	return true
}

func yes(into *bool, word string) bool {
	*into = word == "yes"
	return word == "yes" || word == "no"
}

// WriteProfiles writes profiles.csv. ReadProfiles gives the same profiles
// back. Errors: a profile that Check refuses, a heading of several lines, two
// of one supplier.
func WriteProfiles(ps []Profile) ([]byte, error) {
	records := [][]string{profileHeads}
	seen := map[string]bool{}
	for _, p := range ps {
		if err := p.Check(); err != nil {
			return nil, err
		}
		if seen[p.Supplier] || p.Supplier != strings.TrimSpace(p.Supplier) || p.Supplier == "" {
			return nil, fmt.Errorf("profile %q: a supplier has one profile, under its name", p.Supplier)
		}
		seen[p.Supplier] = true
		for i, c := range p.Columns {
			if strings.ContainsAny(c.Heading, "\r\n") {
				return nil, fmt.Errorf("profile %s: heading %q has several lines", p.Supplier, c.Heading)
			}
			record := []string{p.Supplier, Guard(c.Heading), string(c.Field), "", "", "", "", "", ""}
			if i == 0 {
				copy(record[3:], p.settings())
			}
			records = append(records, record)
		}
	}
	return []byte(writeRecords(records, ',')), nil
}

// settings are the cells that hold for the whole supplier.
func (p Profile) settings() []string {
	word := func(b bool) string { return map[bool]string{true: "yes", false: "no"}[b] }
	var names []string
	for name, d := range delimiterNames {
		if d == p.Delimiter {
			names = append(names, name)
		}
	}
	decimal := "point"
	if p.mark() == "," {
		decimal = "comma"
	}
	return []string{cmp.Or(names[0], "comma"), decimal, word(p.Header), word(p.BOM), word(p.PartAsIs), strconv.Itoa(p.ReferenceMax)}
}
