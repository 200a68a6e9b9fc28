package amp

import (
	"encoding/csv"
	"errors"
	"io"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/unit"
)

// A row is one line of a table: its cells by heading, and where they stand.
// Rows made of a record have no lines.
type row struct {
	file  string
	line  int
	cells map[string]string
	lines map[string]int // line on which a cell starts, where it is not line
	bad   []unit.Problem
}

func (r *row) text(column string) string { return strings.TrimSpace(r.cells[column]) }

// problem notes what is wrong with a cell.
func (r *row) problem(column, cell string, code unit.Code, hint string) {
	r.bad = append(r.bad, unit.Problem{File: r.file, Line: r.at(column), Column: column, Cell: cell, Code: code, Hint: hint})
}

// failed notes the error of a reader of package unit.
func (r *row) failed(err error, column, cell string) {
	if p, ok := unit.Located(err, r.file, r.at(column), column, cell); ok {
		r.bad = append(r.bad, p)
	}
}

func (r *row) at(column string) int {
	if l, ok := r.lines[column]; ok {
		return l
	}
	return r.line
}

// A table is a file cut into rows under its headings.
type table struct {
	file     string
	columns  []string // headings the file may have
	head     []string // as found; "" where the heading is not known
	rows     []*row
	problems []unit.Problem
}

// readTable cuts a file parted by commas, semicolons or tabs. Headings may
// stand in any order; must names those without which nothing can be read.
func readTable(file string, data []byte, columns, must []string) *table {
	t := &table{file: file, columns: columns}
	text, _, err := catalog.Decode(data)
	if p, bad := unit.Located(err, file, 0, "", ""); bad {
		t.problems = append(t.problems, p)
		return t
	}
	comma := delimiter(text)
	base := 0 // lines before text, once a broken line was stepped over
	for text != "" {
		rest, lines := t.cut(text, comma, base)
		text, base = rest, base+lines
	}
	if t.head == nil {
		t.note(0, "", "", unit.Missing, strings.Join(columns, ","))
		return t
	}
	for _, c := range must {
		if !among(t.head, c) {
			t.note(1, c, c, unit.Missing, "")
		}
	}
	return t
}

// cut reads rows until the end or to behind a line that cannot be cut, and
// returns what is left and the lines used.
func (t *table) cut(text string, comma rune, base int) (rest string, lines int) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = comma, -1
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return "", 0
		case errors.As(err, &broken):
			line, rest := lineOf(text, broken.StartLine)
			t.note(base+broken.StartLine, "", line, unit.BadRow, "")
			return rest, broken.StartLine
		case err != nil:
			t.note(base, "", err.Error(), unit.BadRow, "")
			return "", 0
		}
		t.add(cells, r, base)
	}
}

func (t *table) add(cells []string, r *csv.Reader, base int) {
	if strings.TrimSpace(strings.Join(cells, "")) == "" {
		return
	}
	first, _ := r.FieldPos(0)
	if t.head == nil {
		t.heading(cells, base+first)
		return
	}
	w := &row{file: t.file, line: base + first, cells: map[string]string{}, lines: map[string]int{}}
	for i, c := range cells {
		line, _ := r.FieldPos(i)
		if i >= len(t.head) || t.head[i] == "" {
			if strings.TrimSpace(c) != "" {
				w.bad = append(w.bad, unit.Problem{File: t.file, Line: base + line, Cell: c, Code: unit.ExtraText,
					Say: strconv.Quote(c) + " stands under no heading"})
			}
			continue
		}
		w.cells[t.head[i]] = c
		if line != first {
			w.lines[t.head[i]] = base + line
		}
	}
	t.rows = append(t.rows, w)
}

func (t *table) heading(cells []string, line int) {
	t.head = make([]string, len(cells))
	for i, c := range cells {
		h := strings.ReplaceAll(folded(c), " ", "_")
		switch {
		case h == "":
		case !among(t.columns, h):
			t.note(line, c, c, unit.UnknownWord, nearest(h, t.columns))
		case among(t.head, h):
			t.note(line, c, c, unit.Duplicate, "")
		default:
			t.head[i] = h
		}
	}
}

func (t *table) note(line int, column, cell string, code unit.Code, hint string) {
	t.problems = append(t.problems, unit.Problem{File: t.file, Line: line, Column: column, Cell: cell, Code: code, Hint: hint})
}

// lineOf returns the n-th line, counted from 1, and what follows it.
func lineOf(text string, n int) (line, rest string) {
	rest = text
	for range n {
		line, rest, _ = strings.Cut(rest, "\n")
	}
	return strings.TrimSuffix(line, "\r"), rest
}

// delimiter is the mark that parts the cells of the first line.
func delimiter(text string) rune {
	first, _, _ := strings.Cut(strings.TrimLeft(text, "\r\n"), "\n")
	best, most := ',', strings.Count(first, ",")
	for _, d := range []rune{';', '\t'} {
		if n := strings.Count(first, string(d)); n > most {
			best, most = d, n
		}
	}
	return best
}
