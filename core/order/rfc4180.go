package order

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// The form of RFC 4180, "Common Format and MIME Type for Comma-Separated
// Values (CSV) Files" (Internet Society, October 2005), section 2: records end
// in CRLF, a field with a delimiter, a quote or a line break stands in quotes,
// a quote inside is doubled, spaces belong to the field. The delimiter may be
// another one. encoding/csv is not used here because it turns a CRLF inside a
// field into a line feed, and an order must come back as it was written.

// writeRecords returns the records as text.
func writeRecords(records [][]string, delimiter rune) string {
	var b strings.Builder
	for _, r := range records {
		for i, cell := range r {
			if i > 0 {
				b.WriteRune(delimiter)
			}
			b.WriteString(quoted(cell, delimiter, len(r) == 1))
		}
		b.WriteString("\r\n")
	}
	return b.String()
}

// quoted puts a cell in quotes where the form asks for it. An only, empty cell
// is quoted too: bare, its record would be a blank line.
func quoted(cell string, delimiter rune, only bool) string {
	if !strings.ContainsAny(cell, "\"\r\n"+string(delimiter)) && !(only && cell == "") {
		return cell
	}
	return `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
}

// readRecords reads what writeRecords wrote and whatever else keeps to the
// form; a bare line feed also ends a record, and the last record may lack its
// line end. Errors name the line: a quote inside a bare field, anything after
// a closing quote, a field that is not closed, bytes that are not UTF-8.
func readRecords(text string, delimiter rune) ([][]string, error) {
	if !utf8.ValidString(text) {
		return nil, fmt.Errorf("the file is not UTF-8")
	}
	s := scanner{rest: text, delimiter: delimiter, line: 1}
	var records [][]string
	for s.rest != "" {
		r, err := s.record()
		if err != nil {
			return nil, err
		}
		records = append(records, r)
	}
	return records, nil
}

type scanner struct {
	rest      string
	delimiter rune
	line      int
}

func (s *scanner) record() ([]string, error) {
	var cells []string
	for {
		cell, err := s.cell()
		if err != nil {
			return nil, err
		}
		cells = append(cells, cell)
		switch {
		case s.skip(string(s.delimiter)):
		case s.rest == "":
			return cells, nil
		case s.skip("\r\n"), s.skip("\n"):
			s.line++
			return cells, nil
		default:
			return nil, fmt.Errorf("line %d: %.10q follows a closing quote", s.line, s.rest)
		}
	}
}

func (s *scanner) skip(sign string) bool {
	rest, found := strings.CutPrefix(s.rest, sign)
	s.rest = rest
	return found
}

func (s *scanner) cell() (string, error) {
	if s.skip(`"`) {
		return s.inQuotes()
	}
	end := strings.IndexAny(s.rest, "\"\r\n"+string(s.delimiter))
	if end < 0 {
		end = len(s.rest)
	}
	cell := s.rest[:end]
	s.rest = s.rest[end:]
	if strings.HasPrefix(s.rest, `"`) {
		return "", fmt.Errorf("line %d: a quote stands inside the bare field %q", s.line, cell)
	}
	if strings.HasPrefix(s.rest, "\r") && !strings.HasPrefix(s.rest, "\r\n") {
		return "", fmt.Errorf("line %d: a carriage return without a line feed in the bare field %q", s.line, cell)
	}
	return cell, nil
}

func (s *scanner) inQuotes() (string, error) {
	var b strings.Builder
	start := s.line
	for {
		end := strings.IndexByte(s.rest, '"')
		if end < 0 {
			return "", fmt.Errorf("line %d: the quoted field that begins here is not closed", start)
		}
		b.WriteString(s.rest[:end])
		s.line += strings.Count(s.rest[:end], "\n")
		s.rest = s.rest[end+1:]
		if !s.skip(`"`) {
			return b.String(), nil
		}
		b.WriteByte('"')
	}
}
