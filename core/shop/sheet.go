package shop

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/unit"
)

// sheetRow is one row as it stands in the file, blank lines before it and
// its line end included. entry is its place in Entries, -1 for the heading
// and for rows that hold no entry.
type sheetRow struct {
	raw   string
	entry int
}

// ReadSheet reads shop.csv, headings key, value and source. Wrong values do
// not fail the sheet: they are in Wrong, and their fields stay zero.
//
// Errors: it is not a text file, or a heading is missing.
func ReadSheet(file string, data []byte) (Sheet, error) {
	s := Sheet{file: file, bytes: bytes.Clone(data)}
	t, err := catalog.ReadTable(file, data, "key", "value", "source")
	if err != nil {
		return s, err
	}
	var rows []struct {
		Key    string `csv:"key"`
		Value  string `csv:"value"`
		Source string `csv:"source"`
	}
	if err := t.Bind(&rows); err != nil {
		return s, fmt.Errorf("%s: %w", file, err)
	}
	s.Wrong = t.Problems
	for i, r := range rows {
		s.Entries = append(s.Entries, Entry{strings.TrimSpace(r.Key), strings.TrimSpace(r.Value), strings.TrimSpace(r.Source), t.Rows[i].Line})
	}
	s.keepText(t)
	s.read()
	return s, nil
}

// keepText cuts the file into the pieces Write puts together again: one for
// each entry, and one for whatever stands between two.
func (s *Sheet) keepText(t catalog.Table) {
	text, _, _ := catalog.Decode(s.bytes) // ReadTable has decoded it already
	if !strings.Contains(text, "\n") {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	s.mark = bytes.HasPrefix(s.bytes, []byte("\xEF\xBB\xBF"))
	s.comma = t.Delimiter
	lines := strings.SplitAfter(text, "\n")
	from := 0
	for i, r := range t.Rows {
		end := r.Line + strings.Count(strings.Join(r.Cells, ""), "\n")
		s.rows = append(s.rows,
			sheetRow{strings.Join(lines[from:r.Line-1], ""), -1},
			sheetRow{strings.Join(lines[r.Line-1:end], ""), i})
		from = end
	}
	s.rows = append(s.rows, sheetRow{strings.Join(lines[from:], ""), -1})
}

// Get returns the row of key.
func (s Sheet) Get(key string) (Entry, bool) {
	i := slices.IndexFunc(s.Entries, func(e Entry) bool { return e.Key == key })
	if i < 0 {
		return Entry{}, false
	}
	return s.Entries[i], true
}

// Has reports whether key was given and could be read.
func (s Sheet) Has(key string) bool {
	e, ok := s.Get(key)
	return ok && e.Value != "" && !slices.ContainsFunc(s.Wrong, func(p unit.Problem) bool { return p.Line == e.Line })
}

// Set returns a sheet with key changed; source says who decided, and when.
// s itself stays as it is.
func (s Sheet) Set(key, value, source string) Sheet {
	n := Sheet{file: s.file, mark: s.mark, comma: s.comma, rows: slices.Clone(s.rows)}
	raw := n.line(key, value, source)
	i := slices.IndexFunc(s.Entries, func(e Entry) bool { return e.Key == key })
	at := slices.IndexFunc(n.rows, func(r sheetRow) bool { return i >= 0 && r.entry == i })
	switch {
	case at >= 0:
		if strings.HasSuffix(n.rows[at].raw, "\r\n") {
			raw = strings.TrimSuffix(raw, "\n") + "\r\n"
		}
		n.rows[at].raw = raw
	default:
		n.endLine()
		n.rows = append(n.rows, sheetRow{raw, len(s.Entries)})
	}
	again, err := ReadSheet(s.file, n.Write())
	if err != nil {
		return s // the headings were read once: this cannot happen
	}
	return again
}

// endLine ends the last line if the file does not.
func (s *Sheet) endLine() {
	for i := len(s.rows) - 1; i >= 0; i-- {
		if raw := s.rows[i].raw; raw != "" {
			if !strings.HasSuffix(raw, "\n") {
				s.rows[i].raw += "\n"
			}
			return
		}
	}
}

// line writes one row with the delimiter of the sheet.
func (s Sheet) line(cells ...string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if s.comma != 0 {
		w.Comma = s.comma
	}
	w.Write(cells) // a strings.Builder takes everything
	w.Flush()
	return b.String()
}

// Write returns the sheet as a file; a sheet that was not changed comes back
// byte for byte as it was read. A changed one is written in UTF-8, rows that
// were not changed as they stood.
func (s Sheet) Write() []byte {
	if s.bytes != nil {
		return bytes.Clone(s.bytes)
	}
	var b bytes.Buffer
	if s.mark {
		b.WriteString("\xEF\xBB\xBF")
	}
	if len(s.rows) == 0 || s.rows[0].entry >= 0 { // a sheet that was never a file
		b.WriteString("key,value,source\n")
	}
	for _, r := range s.rows {
		b.WriteString(r.raw)
	}
	return b.Bytes()
}

// Digest names this version of the sheet: it changes with any key, value or
// source, and not with the order of rows or the way they are quoted.
func (s Sheet) Digest() string {
	lines := make([]string, len(s.Entries))
	for i, e := range s.Entries {
		lines[i] = Sheet{}.line(e.Key, e.Value, e.Source)
	}
	slices.Sort(lines)
	sum := sha256.Sum256([]byte(strings.Join(lines, "")))
	return hex.EncodeToString(sum[:])
}

// SellingPrice is the price of one piece on the bill,
//
//	round(landed × (1 + markup/100))
//
// rounded once, by the sheet's rule. landed is not rounded before.
//
// Errors: the sheet gives no mark-up or no currency; too many figures.
func SellingPrice(s Sheet, landed money.Decimal) (money.Amount, error) {
	for _, key := range []string{"currency", "markup"} {
		if !s.Has(key) {
			return 0, fmt.Errorf("selling price: the shop sheet gives no %s", key)
		}
	}
	return money.Selling(landed, s.Markup, s.Currency, s.Rounding)
}
