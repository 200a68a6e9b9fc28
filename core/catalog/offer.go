package catalog

import (
	"sort"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// specs remembers what was already read: a list repeats a few hundred
// markings and descriptions.
type specs struct {
	read      map[specKey]specRead
	described map[string]description
	markings  map[string]marking
}

func newSpecs() *specs {
	return &specs{map[specKey]specRead{}, map[string]description{}, map[string]marking{}}
}

type description struct {
	words string
	kind  Kind
}

// describe returns the words of the row and the kind they name.
func (s said) describe() (string, Kind) {
	all := s.text
	if s.kind != "" {
		all = s.kind + " " + s.text
	}
	return s.specs.describe(all)
}

func (m *specs) describe(text string) (string, Kind) {
	if m == nil {
		m = newSpecs()
	}
	d, ok := m.described[text]
	if !ok {
		d.words = plain(text)
		d.kind = kindOf(d.words)
		if len(m.described) < specsKept {
			m.described[text] = d
		}
	}
	return d.words, d.kind
}

// marking returns the figures of the description.
func (s said) marking() marking {
	if s.specs == nil {
		return readMarking(s.text, true)
	}
	m, ok := s.specs.markings[s.text]
	if !ok {
		m = readMarking(s.text, true)
		if len(s.specs.markings) < specsKept {
			s.specs.markings[s.text] = m
		}
	}
	return m
}

type specKey struct {
	text string
	hint unit.Unit
}

type specRead struct {
	spec unit.Spec
	err  error
}

const specsKept = 4096 // bounds the memory a hostile list can take

// take turns a bound row into an offer, or sets it aside.
func (r *Reader) take(raw rawRow, b *row) {
	o := Offer{List: r.list.Name, File: r.list.File, Line: raw.line, Currency: r.terms.Currency,
		Number: clean(b.Number), Text: clean(b.Text), Date: clean(b.Date), heads: r.heads, cells: raw.cells}
	if r.between(raw, &o, b) {
		return
	}
	part, stop, notes := said{text: o.Text, kind: b.Kind, value: strings.TrimSpace(b.Value), volts: strings.TrimSpace(b.Volts),
		watts: strings.TrimSpace(b.Watts), tolerance: strings.TrimSpace(b.Tolerance), valueUnit: r.unitOf, specs: r.specs}.part()
	o.Part = part
	for _, step := range []func(*Offer, *row, []string) ([]complaint, []complaint){r.price, r.breaks, r.packs, r.arrival} {
		s, n := step(&o, b, raw.cells)
		stop, notes = append(stop, s...), append(notes, n...)
	}
	if len(stop) > 0 {
		r.aside(raw, r.problems(stop)...)
		return
	}
	for _, n := range r.problems(notes) {
		r.note(raw.line, n.Column, n.Cell, n.Code, n.Hint)
	}
	r.list.Offers = append(r.list.Offers, o)
}

func clean(s string) string { return strings.TrimSpace(unguard(s)) }

func (r *Reader) problems(cs []complaint) []unit.Problem {
	out := make([]unit.Problem, len(cs))
	for i, c := range cs {
		out[i] = unit.Problem{Cell: c.cell, Code: c.code, Hint: c.hint}
		if col, ok := r.cols[c.field]; ok {
			out[i].Column = r.heads[col]
		}
	}
	return out
}

// between sets aside a row that holds one cell only, or neither number nor
// description: a heading between rows, a total.
func (r *Reader) between(raw rawRow, o *Offer, b *row) bool {
	full := 0
	for _, c := range raw.cells {
		if strings.TrimSpace(c) != "" {
			full++
		}
	}
	switch {
	case o.Number == "" && o.Text == "":
		col := r.cols[FieldNumber]
		if _, ok := r.cols[FieldNumber]; !ok {
			col = r.cols[FieldText]
		}
		r.aside(raw, unit.Problem{Column: r.heading(col), Code: unit.Missing})
		return true
	case full == 1 && b.Price == "":
		r.aside(raw, unit.Problem{Cell: o.Number + o.Text, Code: BetweenHeading})
		return true
	}
	return false
}

// price reads the price and checks the currency.
func (r *Reader) price(o *Offer, b *row, _ []string) (stop, notes []complaint) {
	if c := strings.ToUpper(clean(b.Currency)); c != "" && o.Currency != "" && c != o.Currency {
		if _, other := stripCurrency(c, o.Currency); other != "" || len(c) == 3 {
			stop = append(stop, complaint{FieldCurr, b.Currency, WrongCurrency, ""})
		}
	}
	price, priced, code, hint := readPrice(b.Price, o.Currency, r.mark)
	if code == "" && priced {
		price, code = r.perPiece(price)
	}
	switch {
	case code != "":
		stop = append(stop, complaint{FieldPrice, b.Price, code, hint})
	case !priced:
		notes = append(notes, complaint{FieldPrice, b.Price, NoPrice, ""})
	}
	o.Price, o.Priced = price, priced && code == ""
	return stop, notes
}

// perPiece divides by the pieces the price column is for.
func (r *Reader) perPiece(price money.Decimal) (money.Decimal, unit.Code) {
	scale := map[int]int{10: 1, 100: 2, 1000: 3}[r.list.Mapping.PriceFor]
	if scale == 0 {
		return price, ""
	}
	part, err := money.NewDecimal(1, scale)
	if err == nil {
		price, err = price.Mul(part)
	}
	if err != nil {
		return price, unit.OutOfRange
	}
	return price, ""
}

// breaks reads the further prices, from few pieces to many.
func (r *Reader) breaks(o *Offer, _ *row, cells []string) (stop, _ []complaint) {
	for i, c := range r.list.Mapping.Columns {
		if c.Field != FieldBreak || c.From < 1 || i >= len(cells) {
			continue
		}
		price, priced, code, hint := readPrice(cells[i], o.Currency, r.mark)
		if code == "" && priced {
			price, code = r.perPiece(price)
		}
		if code != "" {
			stop = append(stop, complaint{FieldBreak, cells[i], code, hint})
		} else if priced {
			o.Breaks = append(o.Breaks, Break{c.From, price})
		}
	}
	sort.SliceStable(o.Breaks, func(i, j int) bool { return o.Breaks[i].Pieces < o.Breaks[j].Pieces })
	return stop, nil
}

// packs reads pack, minimum and stock. Where a list has a minimum and no
// pack column, the minimum is the pieces sold together.
func (r *Reader) packs(o *Offer, b *row, _ []string) (stop, notes []complaint) {
	pack, minimum := count(FieldPack, b.Pack, &stop), count(FieldMinimum, b.Minimum, &stop)
	if _, ok := r.cols[FieldPack]; !ok {
		pack, minimum = minimum, 1
	}
	o.Pack = pack
	o.MinPacks = max(1, (minimum+pack-1)/pack)
	o.StockPacks = -1
	if _, ok := r.cols[FieldStock]; !ok {
		return stop, nil
	}
	o.StockSays = clean(b.Stock)
	pieces, known := readStock(b.Stock)
	if !known {
		notes = append(notes, complaint{FieldStock, b.Stock, unit.UnknownWord, ""})
	}
	if pieces >= 0 {
		o.StockPacks = pieces / pack
	}
	return stop, notes
}

// count reads a number of pieces, 1 for a blank cell and after a complaint.
func count(f Field, cell string, stop *[]complaint) int {
	if strings.TrimSpace(cell) == "" {
		return 1
	}
	n, ok := readCount(cell)
	if !ok || n < 1 {
		*stop = append(*stop, complaint{f, cell, unit.NotANumber, ""})
		return 1
	}
	return n
}

func (r *Reader) arrival(o *Offer, b *row, _ []string) (_, notes []complaint) {
	days, known := readLead(b.Lead)
	o.LeadDays = days
	if !known {
		notes = append(notes, complaint{FieldLead, b.Lead, unit.UnknownWord, ""})
	}
	return nil, notes
}

// ohms writes the unit the way unit reads it in every case: "1 MOhm".
var ohms = strings.NewReplacer("kOhm", "kohm", "KOhm", "kohm", "KOHM", "kohm", "MOhm", "Mohm", "MOHM", "Mohm")

// readSpec is unit.ReadSpec with a memory.
func (s said) readSpec(text string, hint unit.Unit) (unit.Spec, error) {
	k := specKey{text, hint}
	if s.specs != nil {
		if got, ok := s.specs.read[k]; ok {
			return got.spec, got.err
		}
	}
	spec, err := unit.ReadSpec(ohms.Replace(text), hint)
	if s.specs != nil && len(s.specs.read) < specsKept {
		s.specs.read[k] = specRead{spec, err}
	}
	return spec, err
}
