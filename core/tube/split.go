package tube

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/gocarina/gocsv"

	"lugworth/core/unit"
)

// columns are the headings of a card file, in the order they are written.
var columns = []string{"type", "aliases", "kind", "quantity", "value", "unit", "system", "source", "mark"}

// bound is one row as the library binds it to the headings. Text only: a
// cell is read as a number where its line is still known.
type bound struct {
	Type     string `csv:"type"`
	Aliases  string `csv:"aliases"`
	Kind     string `csv:"kind"`
	Quantity string `csv:"quantity"`
	Value    string `csv:"value"`
	Unit     string `csv:"unit"`
	System   string `csv:"system"`
	Source   string `csv:"source"`
	Mark     string `csv:"mark"`
}

// split returns the rows of a card file with the lines they start on.
// Rows that cannot be split into cells are told of and left out.
func split(name string, data []byte) ([]Row, []unit.Problem) {
	if !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0 {
		return nil, []unit.Problem{{File: name, Code: unit.BadRow, Say: "this is not text in UTF-8: save it as CSV in UTF-8"}}
	}
	records, lines, problems := records(name, data)
	if len(records) == 0 {
		return nil, append(problems, unit.Problem{File: name, Code: unit.Empty, Hint: strings.Join(columns, ",")})
	}
	head, headProblems := header(name, lines[0], records[0])
	problems = append(problems, headProblems...)
	if missing := lacking(name, lines[0], head); len(missing) > 0 {
		return nil, append(problems, missing...)
	}
	records[0] = head
	var cells []bound
	if err := gocsv.UnmarshalCSV(table(records), &cells); err != nil || len(cells) != len(records)-1 {
		return nil, append(problems, unit.Problem{File: name, Line: lines[0], Cell: strings.Join(head, ","), Code: unit.BadRow})
	}
	rows := make([]Row, 0, len(cells))
	for i, c := range cells {
		if long := extra(records[i+1], len(head)); long != "" {
			problems = append(problems, unit.Problem{File: name, Line: lines[i+1], Cell: long, Code: unit.ExtraText,
				Hint: "a text with a comma stands between quotes"})
			continue
		}
		rows = append(rows, c.row(lines[i+1]))
	}
	return rows, problems
}

func (b bound) row(line int) Row {
	return Row{strings.TrimSpace(b.Type), strings.TrimSpace(b.Aliases), strings.TrimSpace(b.Kind), strings.TrimSpace(b.Quantity),
		strings.TrimSpace(b.Value), strings.TrimSpace(b.Unit), strings.TrimSpace(b.System), strings.TrimSpace(b.Source), strings.TrimSpace(b.Mark), line}
}

// records returns the file's records with the line each starts on. A record
// the CSV rules refuse is told of, and reading goes on behind it.
func records(name string, data []byte) (recs [][]string, lines []int, problems []unit.Problem) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma = delimiter(data)
	r.FieldsPerRecord = -1
	for {
		rec, err := r.Read()
		if errors.Is(err, io.EOF) {
			return recs, lines, problems
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			problems = append(problems, unit.Problem{File: name, Line: bad.StartLine, Cell: strings.Join(rec, string(r.Comma)), Code: unit.BadRow, Hint: bad.Err.Error()})
			continue
		}
		if blank(rec) {
			continue
		}
		line, _ := r.FieldPos(0)
		recs, lines = append(recs, rec), append(lines, line)
	}
}

// delimiter returns the semicolon where the first line has more of them than
// commas, else the comma.
func delimiter(data []byte) rune {
	first, _, _ := bytes.Cut(bytes.TrimLeft(data, "\r\n"), []byte("\n"))
	if bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		return ';'
	}
	return ','
}

func blank(rec []string) bool { return strings.TrimSpace(strings.Join(rec, "")) == "" }

// header returns the headings in lower case. One the program does not know,
// or that stands twice, is told of: its cells are not kept.
func header(name string, line int, rec []string) ([]string, []unit.Problem) {
	var problems []unit.Problem
	head := make([]string, len(rec))
	seen := map[string]bool{}
	for i, cell := range rec {
		h := strings.ToLower(strings.TrimSpace(cell))
		switch {
		case h == "":
		case !known(h):
			problems = append(problems, unit.Problem{File: name, Line: line, Column: cell, Cell: cell, Code: unit.UnknownWord, Hint: strings.Join(columns, ", ")})
			h = ""
		case seen[h]:
			problems = append(problems, unit.Problem{File: name, Line: line, Column: cell, Cell: cell, Code: unit.Duplicate})
			h = ""
		}
		seen[h] = true
		head[i] = h
	}
	return head, problems
}

func known(heading string) bool {
	for _, c := range columns {
		if c == heading {
			return true
		}
	}
	return false
}

// lacking tells of headings without which no row means anything.
func lacking(name string, line int, head []string) []unit.Problem {
	var problems []unit.Problem
	for _, want := range []string{"type", "quantity", "value"} {
		found := false
		for _, h := range head {
			found = found || h == want
		}
		if !found {
			problems = append(problems, unit.Problem{File: name, Line: line, Column: want, Code: unit.Missing})
		}
	}
	return problems
}

// extra returns the cells behind the last heading, "" where they are blank.
func extra(rec []string, width int) string {
	if len(rec) <= width || blank(rec[width:]) {
		return ""
	}
	return strings.Join(rec[width:], ",")
}

// table hands records that are already split to the binding library.
type table [][]string

func (t table) Read() ([]string, error)      { return nil, io.EOF } // the library reads all at once
func (t table) ReadAll() ([][]string, error) { return t, nil }

// Write returns the cards as a card file: every row as it was written, card
// after card. A file with commas, line feeds and its rows in type order
// comes back byte for byte. Rows that were set aside are not in the cards.
func Write(cards []Card) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	put(w, columns)
	for _, c := range cards {
		for _, r := range c.Rows {
			put(w, []string{r.Type, r.Aliases, r.Kind, r.Quantity, r.Value, r.Unit, r.System, r.Source, r.Mark})
		}
	}
	w.Flush()
	return b.Bytes()
}

// put writes one record; a buffer in memory does not fail.
func put(w *csv.Writer, cells []string) {
	if err := w.Write(cells); err != nil {
		panic("tube: writing cards to memory: " + err.Error())
	}
}
