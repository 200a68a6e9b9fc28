package catalog

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/sorted"
	"lugworth/core/unit"
)

// BlockRows is how many rows Reader.Next takes at once: enough that gocsv's
// share is small, few enough that a page can show progress and stop.
const BlockRows = 1000

// ReadList reads a whole price list. m may be nil: the mapping is then
// proposed from the headings and the first rows, and List.Mapping tells what
// was taken. fixes replace cells before they are read.
//
// It returns an error only when nothing can be read at all: not a text file,
// nothing in it, no price column. Bad rows are in List.Aside.
func ReadList(name, file string, data []byte, terms Terms, m *Mapping, fixes ...Fix) (List, error) {
	r, err := NewReader(name, file, data, terms, m, fixes...)
	if err != nil {
		return List{Name: name, File: file}, err
	}
	for r.Next() {
	}
	return r.List(), nil
}

// A Reader reads a price list in blocks of rows, so that the caller can show
// how far it is, and stop.
type Reader struct {
	list              List
	terms             Terms
	split             *splitter
	mark              money.Mark
	heads             []string
	keys              []string // field of each column, for gocsv
	bound             []int    // the columns these are the keys of
	kept              []string // cells of the block at hand that are bound
	fixes             map[int][]Fix
	cols              map[Field]int
	from              *source
	raws              []rawRow // of the block at hand, their cells, and as bound
	cells             [][]string
	rows              []row
	breaksAt          []int // columns of further prices
	slab              []Break
	blanks            int // rows of empty cells, and where the first is
	blank1            int
	unitOf            string // unit named in the heading of the value column
	specs             *specs
	said              said
	hasPack, hasStock bool
	least, packPriced int  // of the row at hand: fewest pieces sold, pieces its price is for
	eachPriced        bool // the heading of the price says that it is of one piece
	over              bool
}

// NewReader finds encoding, delimiter, headings and mapping; errors as ReadList.
func NewReader(name, file string, data []byte, terms Terms, m *Mapping, fixes ...Fix) (*Reader, error) {
	r, refused, err := openList(name, file, data, terms, m, fixes)
	if err == nil {
		err = refused
	}
	if err != nil {
		return nil, err
	}
	r.list.Offers = make([]Offer, 0, rowsIn(r.split.text))
	r.prepare()
	return r, nil
}

// openList finds the headings of a list and how it is read. err is that there
// are none; refused that the list cannot be read so, and then the reader is of
// no use but for its mapping and its first rows.
func openList(name, file string, data []byte, terms Terms, m *Mapping, fixes []Fix) (r *Reader, refused, err error) {
	text, encoding, err := Decode(data)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	if text = lineEnds(text); strings.TrimSpace(text) == "" {
		return nil, nil, fmt.Errorf("%s: the file is empty", file)
	}
	r = &Reader{terms: terms, fixes: map[int][]Fix{}, specs: newSpecs()}
	r.list = List{Name: name, File: file, Currency: terms.Currency}
	for _, f := range fixes {
		r.fixes[f.Line] = append(r.fixes[f.Line], f)
	}
	refused = r.head(text, m)
	if len(r.list.Mapping.Columns) == 0 {
		if refused == nil {
			refused = fmt.Errorf("%s: no row of headings", file)
		}
		return nil, nil, refused
	}
	r.list.Mapping.Encoding = encoding
	return r, refused, nil
}

// rowsIn is about how many rows a text has, rather more than fewer: of a long
// one that is concluded from its beginning.
func rowsIn(text string) int {
	head := text[:min(len(text), 64<<10)]
	n := strings.Count(head, "\n") + 1
	if len(head) < len(text) {
		n = n * (len(text)/len(head) + 1)
		n += n / 16
	}
	return min(n, 1<<17)
}

// Done says how far the reader is, in bytes of text, and of how many.
func (r *Reader) Done() (done, total int) { return r.split.offset(), len(r.split.text) }

// Progress is how far a reader is.
type Progress struct {
	Done, Total int // bytes of text
	Rows        int // rows seen so far, = Read + Aside
	Read, Aside int // rows read, rows set aside
}

// Progress says how far the reader is.
func (r *Reader) Progress() Progress {
	done, total := r.Done()
	return Progress{done, total, r.list.Rows, len(r.list.Offers), r.list.RowsAside}
}

// Next reads one block of rows; false when there are no more. It may be left
// off at any time: List then holds what was read so far.
func (r *Reader) Next() bool { return r.Step(BlockRows) }

// Step reads at most so many rows, blank ones counted; false when there are
// no more. A reader may be left off between steps.
func (r *Reader) Step(rows int) bool {
	if r.over {
		return false
	}
	r.split.recycle()
	r.kept = r.kept[:0]
	r.raws, r.cells = r.raws[:0], append(r.cells[:0], r.keys)
	for range rows {
		raw, ok := r.pull()
		if !ok {
			r.over = true
			break
		}
		if cells, ok := r.shape(&raw); ok {
			r.raws, r.cells = append(r.raws, raw), append(r.cells, r.boundCells(cells))
		}
	}
	bound, err := bind(r.cells, r.rows)
	if err != nil {
		panic("catalog: binding rows of text failed: " + err.Error()) // our hook returns no error
	}
	r.rows = bound
	for i := range bound {
		r.take(&r.raws[i], bound[i].Is)
	}
	if r.over {
		r.finish()
	}
	return !r.over
}

// boundCells are the cells of a row that gocsv is to bind: those of columns
// that are read as one field of the row.
func (r *Reader) boundCells(cells []string) []string {
	if cap(r.kept)-len(r.kept) < len(r.bound) {
		r.kept = make([]string, 0, max(slabCells, len(r.bound)))
	}
	first := len(r.kept)
	for _, i := range r.bound {
		r.kept = append(r.kept, cells[i])
	}
	return r.kept[first:len(r.kept):len(r.kept)]
}

// List returns what was read so far, problems in the order of their lines.
func (r *Reader) List() List {
	byLine := func(a, b unit.Problem) int { return cmp.Compare(a.Line, b.Line) }
	sorted.By(r.list.Aside, byLine)
	sorted.By(r.list.Notes, byLine)
	sorted.By(r.list.AsideRows, func(a, b Row) int { return cmp.Compare(a.Line, b.Line) })
	return r.list
}

// pull returns the next row with its fixes made.
func (r *Reader) pull() (rawRow, bool) {
	raw, ok := r.split.next()
	if !ok {
		return raw, false
	}
	for i, f := range r.fixes[raw.line] {
		if was, ok := r.mend(&raw, f); ok {
			r.fixes[raw.line][i].Line = 0 // made
			r.note(raw.line, f.Column, was, Mended, "")
		}
	}
	return raw, true
}

// mend makes one fix and returns what stood there. With no column it replaces
// the whole row.
func (r *Reader) mend(raw *rawRow, f Fix) (was string, ok bool) {
	if f.Column == "" {
		was = strings.Join(raw.cells, string(r.split.comma))
		cells, ok := oneRow(f.Cell, r.split.comma)
		if ok = ok && (f.Was == "" || f.Was == was); ok {
			raw.cells, raw.bad, raw.mended = cells, "", true
			raw.control = strings.ContainsFunc(f.Cell, control)
		}
		return was, ok
	}
	i := slices.Index(r.heads, f.Column)
	if i < 0 || raw.bad == "broken" {
		return "", false
	}
	if i < len(raw.cells) {
		was = raw.cells[i]
	}
	if f.Was != "" && f.Was != was {
		return was, false
	}
	raw.cells = slices.Clone(raw.cells)
	for len(raw.cells) <= i {
		raw.cells = append(raw.cells, "")
	}
	raw.cells[i], raw.mended = f.Cell, true
	raw.control = slices.ContainsFunc(raw.cells, func(c string) bool { return strings.ContainsFunc(c, control) })
	return was, true
}

// shape makes a row as long as the headings, or sets it aside.
func (r *Reader) shape(raw *rawRow) ([]string, bool) {
	if blankRow(raw.cells) {
		if r.blanks == 0 {
			r.blank1 = raw.line
		}
		r.blanks++
		return nil, false
	}
	r.list.Rows++
	if raw.bad == "broken" {
		r.aside(*raw, unit.Problem{Cell: raw.cells[0], Code: OpenQuote})
		return nil, false
	}
	if raw.bad == "lazy" {
		r.note(raw.line, "", strings.Join(raw.cells, string(r.split.comma)), StrayQuote, "")
	}
	for i, c := range raw.cells {
		if raw.control && strings.ContainsFunc(c, control) {
			r.aside(*raw, unit.Problem{Column: r.heading(i), Cell: c, Code: ControlCharacter})
			return nil, false
		}
	}
	return r.length(raw)
}

// length cuts blank cells behind the last heading, pads a short row with a
// note, and sets a long one aside.
func (r *Reader) length(raw *rawRow) ([]string, bool) {
	cells, n := raw.cells, len(r.heads)
	for len(cells) > n && strings.TrimSpace(cells[len(cells)-1]) == "" {
		cells = cells[:len(cells)-1]
	}
	switch {
	case len(cells) > n:
		hint := ""
		if r.split.comma == ',' && r.mark == money.Comma {
			hint = "a decimal comma, which needs quotes around its cell"
		}
		r.aside(*raw, unit.Problem{Cell: cells[n], Code: RowTooLong, Hint: hint})
		return nil, false
	case len(cells) < n:
		if strings.Contains(strings.Join(cells, ""), "\n") {
			r.aside(*raw, unit.Problem{Cell: cells[len(cells)-1], Code: OpenQuote})
			return nil, false
		}
		r.note(raw.line, "", cells[len(cells)-1], RowTooShort, "")
		cells = append(append(make([]string, 0, n), cells...), make([]string, n-len(cells))...)
	}
	raw.cells = cells
	return cells, true
}

func blankRow(cells []string) bool {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

func control(c rune) bool { return c < 0x20 && c != '\n' && c != '\r' && c != '\t' }

func (r *Reader) heading(i int) string {
	if i >= 0 && i < len(r.heads) {
		return r.heads[i]
	}
	return ""
}

// aside sets a row aside with its problems.
func (r *Reader) aside(raw rawRow, problems ...unit.Problem) {
	for _, p := range problems {
		p.File, p.Line = r.list.File, raw.line
		r.list.Aside = append(r.list.Aside, p)
	}
	r.list.RowsAside++
	r.list.AsideRows = append(r.list.AsideRows, Row{raw.line, pairCells(r.heads, raw.cells)})
}

func (r *Reader) note(line int, column, cell string, code unit.Code, hint string) {
	r.list.Notes = append(r.list.Notes, unit.Problem{File: r.list.File, Line: line, Column: column, Cell: cell, Code: code, Hint: hint})
}

// finish notes what can only be known at the end.
func (r *Reader) finish() {
	if r.list.Rows == 0 {
		r.note(0, "", strings.Join(r.heads, ", "), NoRows, "")
	}
	if r.blanks > 0 {
		r.note(r.blank1, "", strconv.Itoa(r.blanks), BlankRows, "")
	}
	for _, f := range r.unmade() {
		r.note(f.Line, f.Column, f.Cell, NoSuchPlace, "")
	}
}
