package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/shop"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A File is one file of the shop's, as the user brought it.
type File struct {
	Name string // shop.csv, cards.csv, terms.csv, tasks.csv, lists/NAME.csv
	Data []byte
}

// Books are the shop's own files, read once and then only looked at.
type Books struct {
	Sheet    shop.Sheet
	HasSheet bool
	Cards    tube.Set
	Terms    []catalog.Terms
	Library  shop.Library
	Lists    []catalog.List
	Stock    []order.Holding
	Profiles map[string]order.Profile
	Fixes    []catalog.ListFix
	Mappings []catalog.ListMapping
	Past     []labor.Past // finished work, as past.csv tells it
	Problems []unit.Problem

	fit     *labor.Fit // of Past; nil until asked for
	history *History   // of Past; nil until asked for
	index   *catalog.Index
	shelf   *shelf
	copies  map[string]*catalog.Offer
	terms   map[string]catalog.Terms

	copied   *[]unit.Problem // what was told of before copies; nil where there are none yet
	standIns []Copy          // of copies: those whose row no list has

	refused map[string]bool // lists whose terms cannot be read
	lost    bool            // so may be those of any list without a row
}

// OpenBooks reads the shop's files. builtin are the cards shipped with the
// program. A file that cannot be read is a problem; the others still count.
func OpenBooks(builtin []tube.Card, files []File) *Books {
	b := &Books{Cards: tube.NewSet(builtin), Profiles: map[string]order.Profile{}, copies: map[string]*catalog.Offer{}, terms: map[string]catalog.Terms{}, refused: map[string]bool{}}
	for _, f := range files {
		if _, list := ListName(f.Name); !list {
			b.open(f)
		}
	}
	for _, t := range b.Terms {
		b.terms[t.List] = t
	}
	for _, f := range files {
		if name, list := ListName(f.Name); list {
			b.openList(name, f)
		}
	}
	b.Reindex()
	return b
}

// AddList adds a list that was read elsewhere; Reindex makes it count.
func (b *Books) AddList(l catalog.List) { b.Lists = append(b.Lists, l) }

// Reindex makes the lists at hand the ones that are searched.
func (b *Books) Reindex() { b.index, b.shelf = catalog.NewIndex(b.Lists), &shelf{} }

// ListName returns the supplier's name of a price list file.
func ListName(file string) (string, bool) {
	base := file[strings.LastIndexByte(file, '/')+1:]
	if slices.Contains(bookNames, base) || !strings.HasSuffix(strings.ToLower(base), ".csv") {
		return "", false
	}
	return base[:len(base)-len(".csv")], true
}

// bookNames are the files that are not price lists.
var bookNames = []string{"shop.csv", "cards.csv", "terms.csv", "tasks.csv", "profiles.csv", "stock.csv", PastName, FixesName, ColumnsName, "sheet.csv", "readings.csv"}

func (b *Books) open(f File) {
	switch base := f.Name[strings.LastIndexByte(f.Name, '/')+1:]; base {
	case "shop.csv":
		s, err := shop.ReadSheet(f.Name, f.Data)
		if err != nil {
			b.problem(f.Name, err)
			return
		}
		b.Sheet, b.HasSheet = s, true
		b.Problems = append(append(b.Problems, s.Wrong...), s.Told()...)
	case "cards.csv":
		cards, problems := tube.ReadCards(f.Name, f.Data)
		b.Cards = b.Cards.With(cards)
		b.Problems = append(b.Problems, problems...)
	case "terms.csv":
		b.openTerms(f)
	case "profiles.csv":
		profiles, problems := order.ReadProfiles(f.Name, f.Data)
		for _, p := range profiles {
			b.Profiles[p.Supplier] = p
		}
		b.Problems = append(b.Problems, problems...)
	case ColumnsName:
		maps, problems := catalog.ReadMappings(f.Name, f.Data)
		b.Mappings = append(b.Mappings, maps...)
		b.Problems = append(b.Problems, problems...)
	case FixesName:
		fixes, problems := catalog.ReadFixes(f.Name, f.Data)
		b.Fixes = append(b.Fixes, fixes...)
		b.Problems = append(b.Problems, problems...)
	case "stock.csv":
		held, problems := order.ReadStock(f.Name, f.Data)
		b.Stock = append(b.Stock, held...)
		b.Problems = append(b.Problems, problems...)
	case PastName:
		b.openPast(f)
	case "tasks.csv":
		lib, err := shop.ReadTasks(f.Name, f.Data)
		if err != nil {
			b.problem(f.Name, err)
			return
		}
		b.Library = lib
		b.Problems = append(b.Problems, lib.Wrong...)
	}
}

func (b *Books) openTerms(f File) {
	terms, problems := catalog.ReadTerms(f.Name, f.Data)
	b.Terms = append(b.Terms, terms...)
	b.Problems = append(b.Problems, problems...)
	lists, lost := catalog.RefusedTerms(f.Name, f.Data)
	for _, l := range lists {
		b.refused[l] = true
	}
	b.lost = b.lost || lost
}

// noTerms says why the prices of a list mean nothing, "" where they do.
func (b *Books) noTerms(list string) string {
	_, has := b.terms[list]
	if b.refused[list] || b.lost && !has {
		return "the terms of list " + list + " in terms.csv cannot be read, so its prices mean nothing"
	}
	return ""
}

// untold lists what the lists leave open and what is taken in its place: a
// part number with two prices, a list nobody gave terms for.
func (b *Books) untold() []unit.Problem {
	var out []unit.Problem
	for _, d := range b.index.Doubles() {
		out = append(out, unit.Problem{File: d.Later.File, Line: d.Later.Line, Cell: d.Later.Number, Code: unit.Duplicate,
			Say: fmt.Sprintf("%q stands on line %d as well, at another price; line %d counts", d.Later.Number, d.First.Line, d.First.Line)})
	}
	for _, l := range b.Lists {
		if _, has := b.terms[l.Name]; has || b.noTerms(l.Name) != "" {
			continue
		}
		out = append(out, unit.Problem{File: l.File, Code: unit.Missing, Say: "list " + l.Name + " has no row in terms.csv: its prices are taken as " +
			b.Sheet.Currency.Code + ", nothing added"})
	}
	return out
}

func (b *Books) problem(file string, err error) {
	if p, ok := unit.Located(err, file, 0, "", ""); ok {
		b.Problems = append(b.Problems, p)
	}
}

func (b *Books) openList(name string, f File) {
	l, err := catalog.ReadList(name, f.Name, f.Data, b.termsOf(name), catalog.MappingFor(b.Mappings, name, f.Data), b.fixesFor(name, f)...)
	if err != nil {
		b.problem(f.Name, err)
		return
	}
	b.Lists = append(b.Lists, l)
	b.Problems = append(b.Problems, l.Aside...)
}

// termsOf returns a supplier's terms; a supplier without a row trades in the
// shop's own currency at a rate of one.
func (b *Books) termsOf(list string) catalog.Terms {
	if t, ok := b.terms[list]; ok {
		return t
	}
	return catalog.Terms{List: list, Currency: b.Sheet.Currency.Code, Rate: money.Whole(1)}
}

// WithCopies returns the books with the rows a job carries with it. A copy
// stands in for its row only where no list at hand has the same number. Rows
// the books had before are left out.
func (b *Books) WithCopies(copies []Copy) *Books {
	out := *b
	if b.copied == nil {
		out.copied = &b.Problems
	}
	out.Problems = slices.Clip(*out.copied)
	out.copies, out.standIns = map[string]*catalog.Offer{}, nil
	for _, c := range copies {
		o, err := out.restored(c)
		if err != nil {
			out.problem("copied row "+c.ID, err)
			continue
		}
		out.copies[c.List+"\x00"+o.Number] = o
		if _, listed := b.index.ByNumber(c.List, o.Number); !listed {
			out.standIns = append(out.standIns, c)
		}
	}
	return &out
}

// restore reads a copied row back through the reader it came from.
func (b *Books) restore(c Copy) (*catalog.Offer, error) {
	var m catalog.Mapping
	if err := json.Unmarshal([]byte(c.Mapping), &m); err != nil {
		return nil, fmt.Errorf("mapping of the copied row: %w", err)
	}
	if len(c.Columns) != len(c.Cells) {
		return nil, fmt.Errorf("the copied row has %d headings and %d cells", len(c.Columns), len(c.Cells))
	}
	m.Delimiter = ","
	m.Encoding = catalog.UTF8
	l, err := catalog.ReadList(c.List, c.File, row(c.Columns, c.Cells), b.termsOf(c.List), &m)
	if err != nil {
		return nil, err
	}
	if len(l.Offers) != 1 {
		return nil, fmt.Errorf("the copied row cannot be read: %v", l.Aside)
	}
	o := l.Offers[0]
	o.Line, _ = strconv.Atoi(c.Line)
	return &o, nil
}

// row writes a heading and one row as CSV.
func row(columns, cells []string) []byte { return table([][]string{columns, cells}) }

// table writes rows as CSV.
func table(rows [][]string) []byte {
	var s strings.Builder
	for _, line := range rows {
		for i, c := range line {
			if i > 0 {
				s.WriteByte(',')
			}
			s.WriteString(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
		}
		s.WriteString("\r\n")
	}
	return []byte(s.String())
}

// CopyOf returns the row of an offer as a job keeps it.
func (b *Books) CopyOf(o *catalog.Offer) (Copy, error) {
	for _, l := range b.Lists {
		if l.Name != o.List {
			continue
		}
		m, err := json.Marshal(l.Mapping)
		if err != nil {
			return Copy{}, err
		}
		c := Copy{ID: o.List + " " + o.Number, List: o.List, File: o.File, Line: strconv.Itoa(o.Line), Mapping: string(m)}
		for _, cell := range o.Cells() {
			c.Columns = append(c.Columns, cell.Column)
			c.Cells = append(c.Cells, cell.Text)
		}
		return c, nil
	}
	return Copy{}, fmt.Errorf("list %s is not loaded", o.List)
}

// Offer finds one offer by supplier and number, in the lists or among the
// rows the job carries.
func (b *Books) Offer(list, number string) (*catalog.Offer, bool) {
	if o, ok := b.index.ByNumber(list, number); ok {
		return o, true
	}
	o, ok := b.copies[list+"\x00"+number]
	return o, ok
}

// Lost says why Offer finds none.
func (b *Books) Lost(list, number string) string {
	loaded := false
	for _, l := range b.Lists {
		if l.Name != list {
			continue
		}
		loaded = true
		for _, row := range l.AsideRows {
			for _, c := range row.Cells {
				if strings.TrimSpace(c.Text) == number || len(row.Cells) == 1 && strings.Contains(c.Text, number) {
					return fmt.Sprintf("is set aside: see %s line %d", l.File, row.Line)
				}
			}
		}
	}
	if loaded {
		return "is not in that list"
	}
	return "is in no list that is loaded: bring the list, or choose another part"
}

// Copied reports whether the job already carries the row of an offer.
func (b *Books) Copied(list, number string) bool {
	_, ok := b.copies[list+"\x00"+number]
	return ok
}

// Cost returns what a piece costs the shop and the owner.
func (b *Books) Cost(o *catalog.Offer) plan.Cost {
	if !o.Priced {
		return plan.Cost{Err: fmt.Errorf("the row gives no price")}
	}
	if why := b.noTerms(o.List); why != "" {
		return plan.Cost{Err: errors.New(why)}
	}
	landed, err := catalog.Landed(*o, b.termsOf(o.List))
	if err != nil {
		return plan.Cost{Err: err}
	}
	selling, err := shop.SellingPrice(b.Sheet, landed)
	if errors.Is(err, money.ErrOverflow) {
		err = fmt.Errorf("the price of %s %s with its mark-up: %w", o.Price, o.Currency, money.ErrOverflow)
	}
	return plan.Cost{Landed: landed, Selling: selling, Err: err}
}
