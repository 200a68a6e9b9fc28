package catalog

import (
	"encoding/csv"
	"slices"
	"strings"
)

// A splitter cuts a text into rows under the strict quoting of RFC 4180, as
// encoding/csv does, and recovers row by row: a bad quote costs the line it
// stands on, never the rest of the file. Cells are pieces of the text itself;
// only a cell with doubled quotes or a line break in it is written anew.
type splitter struct {
	text  string
	comma rune
	sep   byte // comma again
	at    int  // in text, where the next row begins
	line  int  // lines before at
	slab  []string
	stop  [256]bool // bytes at which cutting has to look
}

// A rawRow is one row as cut. bad says what was wrong with its quotes:
// "" nothing, "lazy" a quote was kept as text, "broken" it could not be cut
// and cells holds the line in one piece.
type rawRow struct {
	line    int
	text    string // as it stands, without the end of its line
	cells   []string
	bad     string
	control bool // a byte in it may be no text
	mended  bool // cells are not what text says
}

func newSplitter(text string, comma rune) *splitter {
	if !goodComma(comma) {
		text = "" // as encoding/csv: nothing can be cut by it
	}
	s := &splitter{text: text, comma: comma, sep: byte(comma)}
	for c := range 0x20 {
		s.stop[c] = c != '\t'
	}
	s.stop['"'], s.stop[s.sep] = true, true
	return s
}

// goodComma reports whether cells can be parted by c.
func goodComma(c rune) bool { return c == '\t' || c >= 0x20 && c < 0x7F && c != '"' }

// offset is how far the text has been used.
func (s *splitter) offset() int { return s.at }

// recycle lets the cells handed out so far be written over.
func (s *splitter) recycle() { s.slab = s.slab[:0] }

// next returns the next row, false at the end. Lines with nothing on them
// are skipped.
func (s *splitter) next() (rawRow, bool) {
	for s.at < len(s.text) {
		end := s.emptyLine()
		if end < 0 {
			break
		}
		s.at, s.line = end, s.line+1
	}
	if s.at >= len(s.text) {
		return rawRow{}, false
	}
	raw, end, lines := s.cut(s.at)
	if raw.bad != "" {
		return s.recover(), true
	}
	s.at, s.line = end, s.line+lines
	return raw, true
}

// emptyLine returns where the line at s.at ends if there is nothing on it,
// else -1.
func (s *splitter) emptyLine() int {
	rest := s.text[s.at:]
	switch {
	case rest[0] == '\n':
		return s.at + 1
	case rest == "\r", strings.HasPrefix(rest, "\r\n"):
		return min(s.at+2, len(s.text))
	}
	return -1
}

// cut reads the row that begins at from. end is where the next one begins,
// lines how many line ends lie between. A row with bad quotes has bad set and
// nothing else.
func (s *splitter) cut(from int) (raw rawRow, end, lines int) {
	if cap(s.slab)-len(s.slab) < 64 {
		s.slab = make([]string, 0, slabCells)
	}
	first, at := len(s.slab), from
	raw.line = s.line + 1
	for {
		var cell string
		var odd bool
		if at < len(s.text) && s.text[at] == '"' {
			var more int
			cell, at, more, odd = s.quoted(at)
			lines += more
		} else {
			cell, at, odd = s.bare(at)
		}
		if at < 0 {
			return rawRow{bad: "quotes"}, 0, 0
		}
		raw.control = raw.control || odd
		s.slab = append(s.slab, cell)
		if at >= len(s.text) || s.text[at] != s.sep {
			break
		}
		at++
	}
	raw.text, raw.cells = s.text[from:at], s.slab[first:len(s.slab):len(s.slab)]
	return raw, s.pastLine(at), lines + 1
}

const slabCells = 16 * BlockRows

// bare reads the cell without quotes that begins at from; at is -1 where a
// quote stands in it.
func (s *splitter) bare(from int) (cell string, at int, odd bool) {
	text := s.text
	for at = from; at < len(text); at++ {
		c := text[at]
		if !s.stop[c] {
			continue
		}
		if c == s.sep || c == '\n' || c == '\r' && s.endsLine(at) {
			break
		}
		if c == '"' {
			return "", -1, false
		}
		odd = odd || c != '\r'
	}
	return text[from:at], at, odd
}

// endsLine reports whether the carriage return at at ends a line.
func (s *splitter) endsLine(at int) bool { return at+1 >= len(s.text) || s.text[at+1] == '\n' }

func (s *splitter) pastLine(at int) int {
	if at < len(s.text) && s.text[at] == '\r' {
		at++
	}
	if at < len(s.text) {
		at++
	}
	return at
}

// quoted reads the quoted cell that begins at from: what is in it, where it
// ends, how many line ends it spans, and whether a byte in it may be no text.
// at is -1 where nothing closes it, or something follows the closing quote.
func (s *splitter) quoted(from int) (cell string, at, lines int, odd bool) {
	text, doubled := s.text, false
	for at = from + 1; ; at++ {
		if at >= len(text) {
			return "", -1, 0, false
		}
		c := text[at]
		if c >= 0x20 && c != '"' {
			continue
		}
		switch {
		case c == '\n':
			lines++
		case c != '"':
			odd = odd || c != '\r' && c != '\t'
		case at+1 < len(text) && text[at+1] == '"':
			doubled = true
			at++
		default:
			cell = text[from+1 : at]
			if at++; at < len(text) && text[at] != s.sep && text[at] != '\n' && (text[at] != '\r' || !s.endsLine(at)) {
				return "", -1, 0, false
			}
			return unquote(cell, doubled, lines > 0), at, lines, odd
		}
	}
}

func unquote(cell string, doubled, lines bool) string {
	if doubled {
		cell = strings.ReplaceAll(cell, `""`, `"`)
	}
	if lines {
		cell = strings.ReplaceAll(cell, "\r\n", "\n")
	}
	return cell
}

// recover deals with the row that begins at s.at and has a bad quote: only
// the line it begins on is used up.
func (s *splitter) recover() rawRow {
	end := len(s.text)
	if i := strings.IndexByte(s.text[s.at:], '\n'); i >= 0 {
		end = s.at + i + 1
	}
	physical := strings.TrimRight(s.text[s.at:end], "\r\n")
	s.at, s.line = end, s.line+1
	raw := rawRow{line: s.line, text: physical, cells: []string{physical}, bad: "broken", control: strings.ContainsFunc(physical, control)}
	if cells, ok := oneRow(physical, s.comma); ok {
		raw.cells, raw.bad = cells, "lazy"
	}
	return raw
}

func csvReader(text string, comma rune) *csv.Reader {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = comma
	r.FieldsPerRecord = -1
	return r
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
// number in it is not a heading, unless several rise in pieces: "1", "10".
func headingScore(cells []string) int {
	if len(cells) < 2 {
		return 0
	}
	seen := map[Field]bool{}
	rising, last := 0, 0
	for _, c := range cells {
		if f, n := headingField(c); n > 0 {
			seen[f] = true
		}
		t := strings.TrimSpace(c)
		if t == "" || strings.Trim(t, "0123456789.,") != "" {
			continue
		}
		n, ok := pieces(t)
		if !ok || n <= last {
			return 0
		}
		rising, last = rising+1, n
	}
	if rising == 1 {
		return 0
	}
	return len(seen)
}
