package catalog

import (
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
)

// A splitter cuts a text into rows with encoding/csv under strict quoting,
// and recovers row by row: a bad quote costs the line it stands on, never
// the rest of the file.
type splitter struct {
	text  string
	comma rune
	at    int // where in text the present csv.Reader began
	line  int // lines before at
	r     *csv.Reader
}

// A rawRow is one row as cut. bad says what was wrong with its quotes:
// "" nothing, "lazy" a quote was kept as text, "broken" it could not be cut
// and cells holds the line in one piece.
type rawRow struct {
	line  int
	cells []string
	bad   string
}

func newSplitter(text string, comma rune) *splitter {
	s := &splitter{text: text, comma: comma}
	s.start(0, 0)
	return s
}

func (s *splitter) start(at, line int) {
	s.at, s.line = at, line
	s.r = csvReader(s.text[at:], s.comma)
}

func csvReader(text string, comma rune) *csv.Reader {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = comma
	r.FieldsPerRecord = -1
	return r
}

// offset is how far the text has been used.
func (s *splitter) offset() int { return s.at + int(s.r.InputOffset()) }

// next returns the next row, false at the end. Lines with nothing on them
// are skipped.
func (s *splitter) next() (rawRow, bool) {
	before := s.offset()
	cells, err := s.r.Read()
	if err == nil {
		line, _ := s.r.FieldPos(0)
		return rawRow{line: s.line + line, cells: cells}, true
	}
	var bad *csv.ParseError
	if errors.Is(err, io.EOF) || !errors.As(err, &bad) {
		return rawRow{}, false
	}
	return s.recover(before, bad), true
}

// recover deals with the row that begins at before and has a bad quote.
func (s *splitter) recover(before int, bad *csv.ParseError) rawRow {
	line := s.line + bad.StartLine
	for before < len(s.text) && (s.text[before] == '\n' || strings.HasPrefix(s.text[before:], "\r\n")) {
		before += strings.IndexByte(s.text[before:], '\n') + 1
	}
	end := len(s.text)
	if i := strings.IndexByte(s.text[before:], '\n'); i >= 0 {
		end = before + i + 1
	}
	physical := strings.TrimRight(s.text[before:end], "\r\n")
	if bad.Line != bad.StartLine || s.offset() != end {
		s.start(end, line) // the quote ran on over other rows: give them back
	}
	if cells, ok := oneRow(physical, s.comma); ok {
		return rawRow{line, cells, "lazy"}
	}
	return rawRow{line, []string{physical}, "broken"}
}

// oneRow cuts one physical line, taking stray quotes as text. It fails when
// a quote at the start of a cell never closes: where the cell ends is then
// unknown.
func oneRow(line string, comma rune) ([]string, bool) {
	r := csvReader(line, comma)
	r.LazyQuotes = true
	cells, err := r.Read()
	if err != nil {
		return nil, false
	}
	// With an odd number of quotes, a cell that holds a delimiter may have
	// swallowed its neighbors.
	odd := strings.Count(line, `"`)%2 == 1
	swallowed := func(c string) bool { return strings.ContainsRune(c, comma) }
	return cells, !odd || !slices.ContainsFunc(cells, swallowed)
}

var delimiters = []rune{',', ';', '\t', '|'}

const headingLines = 20 // a heading is looked for in so many rows

// sniff finds the delimiter and the row of headings: the pair that
// recognizes most headings, then has most columns. at is -1 if no row looks
// like headings.
func sniff(text string, m *Mapping) (comma rune, at int) {
	if m != nil {
		if comma, at, ok := remembered(text, *m); ok {
			return comma, at
		}
	}
	comma, at = ',', -1
	best, width := 0, 1
	for _, d := range delimiters {
		s := newSplitter(text, d)
		for i := 0; i < headingLines; i++ {
			row, ok := s.next()
			if !ok {
				break
			}
			n := headingScore(row.cells)
			if n > best || (n == best && n > 0 && len(row.cells) > width) {
				comma, at, best, width = d, i, n, len(row.cells)
			}
			if best == 0 && len(row.cells) > width {
				comma, width = d, len(row.cells)
			}
		}
	}
	if best < 2 {
		at = -1
	}
	return comma, at
}

// remembered finds the headings a saved mapping was made for, cut by its own
// delimiter if that gives them, else by any.
func remembered(text string, m Mapping) (comma rune, at int, ok bool) {
	own := []rune(m.Delimiter)
	if len(own) != 1 || !slices.Contains(delimiters, own[0]) {
		own = nil
	}
	for _, d := range append(own, delimiters...) {
		s := newSplitter(text, d)
		for i := 0; i < headingLines; i++ {
			row, more := s.next()
			if !more {
				break
			}
			if m.Fingerprint != "" && len(row.cells) > 1 && Fingerprint(headsOf(row.cells)) == m.Fingerprint {
				return d, i, true
			}
		}
	}
	return ',', -1, false
}

// headingScore counts the different fields a row names. A row with a plain
// number in it is not a heading.
func headingScore(cells []string) int {
	seen := map[Field]bool{}
	for _, c := range cells {
		if f, n := headingField(c); n > 0 {
			seen[f] = true
		}
		if t := strings.TrimSpace(c); t != "" && strings.Trim(t, "0123456789.,") == "" {
			return 0
		}
	}
	return len(seen)
}
