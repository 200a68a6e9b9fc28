package catalog

import (
	"encoding/csv"
	"io"
	"slices"
	"strings"
	"testing"
)

// plainRows cuts a text with encoding/csv, the reader of the standard library,
// under strict quoting; ok is false where it refuses the text.
func plainRows(text string, comma rune) (rows [][]string, lines []int, ok bool) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = comma, -1
	for {
		cells, err := r.Read()
		if err == io.EOF {
			return rows, lines, true
		}
		if err != nil {
			return nil, nil, false
		}
		line, _ := r.FieldPos(0)
		rows, lines = append(rows, cells), append(lines, line)
	}
}

// againstPlain holds the splitter to encoding/csv wherever that reads the
// text; where it does not, some row must say so.
func againstPlain(t *testing.T, text string, comma rune) {
	t.Helper()
	rows, lines, ok := plainRows(text, comma)
	s := newSplitter(text, comma)
	bad := 0
	for i := 0; ; i++ {
		raw, more := s.next()
		if !more {
			if ok && i != len(rows) {
				t.Fatalf("%q: %d rows, want %d", text, i, len(rows))
			}
			break
		}
		if raw.bad != "" {
			bad++
		}
		if ok && (i >= len(rows) || !slices.Equal(raw.cells, rows[i]) || raw.line != lines[i]) {
			t.Fatalf("%q: row %d is %q on line %d, want %q", text, i, raw.cells, raw.line, rows[min(i, len(rows)-1)])
		}
		if want := slices.ContainsFunc(raw.cells, func(c string) bool { return strings.ContainsFunc(c, control) }); raw.control != want {
			t.Fatalf("%q: row %d has a control character: %v, want %v", text, i, raw.control, want)
		}
		if len(text) > 0 && s.offset() <= 0 {
			t.Fatalf("%q: no way made", text)
		}
	}
	if !ok && bad == 0 {
		t.Fatalf("%q: encoding/csv refuses it, no row says why", text)
	}
}

var splitSeeds = []string{"", "\n", "\r", "a,b\r\n1,2", "a,b\r", "\"a\"\"b\",c\n", "\"a\nb\",c\r\nd\n", "\"a\r\nb\"", "a\"b,c\nd\n", "\"a\"b\nc", "\"a", "\"\"", ",,\n,", "a\rb\n",
	"\r\n\r\nx\n", "\"a\"\r", "\"a\"\rb", "x\x00,y", "\"x\x01\",y", "a\tb", "\"", "\"\"\"\n", "\"a\r\"", "é;ü\n"}

func TestSplitterAgainstPlainReader(t *testing.T) {
	for _, s := range splitSeeds {
		for _, c := range delimiters {
			againstPlain(t, s, c)
		}
	}
	againstPlain(t, wideList(500), ',')
}

func FuzzSplitter(f *testing.F) {
	for _, s := range splitSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, c := range []rune{',', ';'} {
			againstPlain(t, text, c)
		}
	})
}
