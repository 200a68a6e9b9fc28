package catalog

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// take turns a bound row into an offer, or sets it aside.
func (r *Reader) take(raw *rawRow, b *fields) {
	n := len(r.list.Offers)
	if n == cap(r.list.Offers) {
		r.list.Offers = slices.Grow(r.list.Offers, BlockRows)
	}
	r.list.Offers = r.list.Offers[:n+1]
	o := &r.list.Offers[n]
	o.List, o.File, o.Line, o.Currency = r.list.Name, r.list.File, raw.line, r.terms.Currency
	o.Number, o.Text, o.Date = clean(b.Number), clean(b.Text), clean(b.Date)
	o.from, o.raw = r.from, raw.text
	if r.between(raw, o, b) || !r.fill(raw, o, b) {
		*o = Offer{}
		r.list.Offers = r.list.Offers[:n]
		return
	}
	if raw.mended {
		o.raw = r.from.join(raw.cells)
	}
}

// fill reads the row into o; false if it had to be set aside.
func (r *Reader) fill(raw *rawRow, o *Offer, b *fields) bool {
	r.said = said{text: o.Text, kind: b.Kind, value: strings.TrimSpace(b.Value), volts: strings.TrimSpace(b.Volts),
		watts: strings.TrimSpace(b.Watts), tolerance: strings.TrimSpace(b.Tolerance), valueUnit: r.unitOf, specs: r.specs}
	stop, notes := r.said.part(&o.Part)
	found := findings{stop, notes}
	r.least, r.packPriced = 1, 1
	r.price(o, b, &found)
	r.breaks(o, raw.cells, &found)
	r.packs(o, b, &found)
	r.perPiece(o, b, &found)
	r.arrival(o, b, &found)
	if len(found.stop) > 0 {
		r.aside(*raw, r.problems(found.stop)...)
		return false
	}
	for _, n := range r.problems(found.notes) {
		r.note(raw.line, n.Column, n.Cell, n.Code, n.Hint)
	}
	return true
}

// findings are what is wrong with a row: what stops it, what is only noted.
type findings struct{ stop, notes []complaint }

func (f *findings) stops(field Field, cell string, code unit.Code, hint string) {
	f.stop = append(f.stop, complaint{field, cell, code, hint})
}

func (f *findings) note(field Field, cell string, code unit.Code) {
	f.notes = append(f.notes, complaint{field, cell, code, ""})
}

func clean(s string) string { return strings.TrimSpace(unguard(s)) }

func (r *Reader) problems(cs []complaint) []unit.Problem {
	if len(cs) == 0 {
		return nil
	}
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
func (r *Reader) between(raw *rawRow, o *Offer, b *fields) bool {
	switch {
	case isTotal(o.Number) && (o.Text == "" || isTotal(o.Text)), o.Number == "" && isTotal(o.Text):
		r.aside(*raw, unit.Problem{Cell: cmp.Or(o.Number, o.Text), Code: TotalRow})
		return true
	case o.Number == "" && o.Text == "":
		col := r.cols[FieldNumber]
		if _, ok := r.cols[FieldNumber]; !ok {
			col = r.cols[FieldText]
		}
		r.aside(*raw, unit.Problem{Column: r.heading(col), Code: unit.Missing})
		return true
	case b.Price == "" && filled(raw.cells) == 1:
		r.aside(*raw, unit.Problem{Cell: o.Number + o.Text, Code: BetweenHeading})
		return true
	}
	return false
}

var totalWords = wordSet("total|totals|grand total|subtotal|sub total|sum|summe|gesamt|gesamtsumme|endsumme|zwischensumme|totaal|eindtotaal|subtotaal|totaux|total general|sous total|somme|suma|suma total|total general|page total|ubertrag|carried forward")

// isTotal reports that a cell names a sum of rows: "Subtotal:", "Summe".
func isTotal(cell string) bool {
	return cell != "" && len(cell) <= 20 && strings.IndexByte("tsgezpucTSGEZPUCÜü\xC3", cell[0]) >= 0 && !strings.ContainsAny(cell, "0123456789") && totalWords[plain(cell)]
}

// filled counts the cells that hold anything.
func filled(cells []string) (n int) {
	for _, c := range cells {
		if strings.TrimSpace(c) != "" {
			n++
		}
	}
	return n
}

// price reads the price and checks the currency.
func (r *Reader) price(o *Offer, b *fields, f *findings) {
	if b.Currency != "" && b.Currency != o.Currency {
		r.inCurrency(o, b, f)
	}
	price, priced, code, hint := readPrice(b.Price, o.Currency, r.mark)
	if code == unit.NotANumber || code == unit.AmbiguousText {
		if breaks, ok := readBreaks(b.Price, o.Currency, r.mark); ok && len(breaks)+breaks[0].Pieces > 2 {
			r.textBreaks(o, breaks)
			price, priced, code, hint = breaks[0].Price, true, "", ""
		}
	}
	switch {
	case code == unit.NotANumber && strings.TrimSpace(b.Price) == r.heading(r.cols[FieldPrice]):
		f.stops(FieldPrice, b.Price, BetweenHeading, "")
	case code != "":
		f.stops(FieldPrice, b.Price, code, hint)
	case !priced:
		f.note(FieldPrice, b.Price, NoPrice)
	}
	o.Price, o.Priced = price, priced && code == ""
	if strings.TrimSpace(b.Breaks) != "" {
		r.breaksCell(o, b, f)
	}
}

// textBreaks takes prices by number of pieces out of one cell. The first is
// the price itself; where it holds from more than one piece on, fewer are not
// sold.
func (r *Reader) textBreaks(o *Offer, breaks []Break) {
	r.least = breaks[0].Pieces
	o.Breaks = append([]Break(nil), breaks[1:]...)
}

// breaksCell reads the column of prices by number of pieces.
func (r *Reader) breaksCell(o *Offer, b *fields, f *findings) {
	if strings.Trim(b.Breaks, "-–— .") == "" || askWords[plain(b.Breaks)] {
		return
	}
	breaks, ok := readBreaks(b.Breaks, o.Currency, r.mark)
	if !ok {
		f.stops(FieldBreaks, b.Breaks, unit.NotANumber, "prices as in 10+: 1.20; 25+: 0.95")
		return
	}
	switch {
	case !o.Priced:
		r.textBreaks(o, breaks)
		o.Price, o.Priced = breaks[0].Price, true
		f.notes = slices.DeleteFunc(f.notes, func(c complaint) bool { return c.code == NoPrice })
	case breaks[0].Pieces == 1:
		if breaks[0].Price.Cmp(o.Price) != 0 {
			f.stops(FieldBreaks, b.Breaks, Disagrees, "")
		}
		r.textBreaks(o, breaks)
	default:
		o.Breaks = breaks
	}
}

// inCurrency checks a cell of the currency column against the terms.
func (r *Reader) inCurrency(o *Offer, b *fields, f *findings) {
	cell := clean(b.Currency)
	c := strings.ToUpper(cell)
	if name, ok := currencyNames[plain(cell)]; ok {
		c = name
	}
	dollars := strings.HasSuffix(o.Currency, "D") && (plain(cell) == "dollar" || plain(cell) == "dollars")
	if c == "" || o.Currency == "" || c == o.Currency || dollars {
		return
	}
	rest, other := stripCurrency(c, o.Currency)
	switch {
	case other != "" || len(c) == 3:
		f.stops(FieldCurr, b.Currency, WrongCurrency, "")
	case rest != "":
		f.stops(FieldCurr, b.Currency, unit.UnknownWord, "a code of ISO 4217, such as "+o.Currency)
	}
}

// perPiece divides all prices by the pieces they are for: by the heading of
// the price column, the row's own cell, or because the row prices a pack.
func (r *Reader) perPiece(o *Offer, b *fields, f *findings) {
	n := max(1, r.list.Mapping.PriceFor)
	if _, ok := r.cols[FieldPer]; ok && strings.TrimSpace(b.Per) != "" {
		n = count(FieldPer, b.Per, f)
	}
	n *= r.packPriced
	if n == 1 || !o.Priced {
		return
	}
	even := true
	each := func(price *money.Decimal) {
		got, ok, code := pieceOf(*price, n)
		if code != "" {
			f.stops(FieldPrice, price.String(), code, "")
		}
		*price, even = got, even && ok
	}
	each(&o.Price)
	for i := range o.Breaks {
		each(&o.Breaks[i].Price)
	}
	if !even {
		f.note(FieldPrice, o.Price.String(), RoundedUp)
	}
}

// breaks reads the further prices, from few pieces to many.
func (r *Reader) breaks(o *Offer, cells []string, f *findings) {
	if cap(r.slab)-len(r.slab) < len(r.breaksAt) {
		r.slab = make([]Break, 0, max(BlockRows, len(r.breaksAt)))
	}
	first := len(r.slab)
	for _, i := range r.breaksAt {
		if i >= len(cells) {
			continue
		}
		price, priced, code, hint := readPrice(cells[i], o.Currency, r.mark)
		if code != "" {
			f.stops(FieldBreak, cells[i], code, hint)
		} else if priced {
			r.slab = append(r.slab, Break{r.list.Mapping.Columns[i].From, price})
		}
	}
	if len(r.slab) == first {
		return
	}
	if len(o.Breaks) > 0 {
		f.stops(FieldBreak, breaksSay(o), Disagrees, "prices by number in one place only")
		return
	}
	o.Breaks = r.slab[first:len(r.slab):len(r.slab)]
	if !sort.SliceIsSorted(o.Breaks, func(i, j int) bool { return o.Breaks[i].Pieces < o.Breaks[j].Pieces }) {
		sort.SliceStable(o.Breaks, func(i, j int) bool { return o.Breaks[i].Pieces < o.Breaks[j].Pieces })
	}
}

// packs reads pack, minimum and stock. Where a list has a minimum and no
// pack column, the minimum is the pieces sold together. Where no column names
// a pack, the words may.
func (r *Reader) packs(o *Offer, b *fields, f *findings) {
	pack, minimum := count(FieldPack, b.Pack, f), count(FieldMinimum, b.Minimum, f)
	if !r.hasPack {
		pack, minimum = minimum, 1
	}
	if len(r.specs.reading.packs) > 0 {
		pack = r.packInWords(o, pack, f)
	}
	o.Pack = pack
	o.MinPacks = max(1, (max(minimum, r.least)+pack-1)/pack)
	o.StockPacks = -1
	if r.hasStock {
		r.stock(o, b, f)
	}
}

func (r *Reader) stock(o *Offer, b *fields, f *findings) {
	o.StockSays = clean(b.Stock)
	pieces, known := r.specs.stock(b.Stock)
	if !known {
		f.note(FieldStock, b.Stock, unit.UnknownWord)
	}
	if pieces >= 0 {
		o.StockPacks = pieces / o.Pack
	}
}

// packInWords takes the pack from the description where no column names one.
// Whether the price is then that of a piece or of the pack must be said: by
// the row, by the heading of the price, or by a person for the whole list.
func (r *Reader) packInWords(o *Offer, pack int, f *findings) int {
	n, said := r.specs.reading.pack()
	switch {
	case n == 0 || n == pack:
		return pack
	case pack > 1:
		f.notes = append(f.notes, complaint{FieldPack, strconv.Itoa(pack), Disagrees, strconv.Itoa(n) + ", as the description says"})
		return pack
	}
	switch {
	case !o.Priced, anyOf(o.Part.Words, eachWords), r.eachPriced:
	case anyOf(o.Part.Words, packWords):
		r.packPriced = n
	case r.list.Mapping.PackPrice == "pack":
		r.packPriced = n
	case r.list.Mapping.PackPrice != "each":
		f.stops(FieldText, said, PackUnclear, fmt.Sprintf("a price for each piece or for the pack of %d", n))
	}
	return n
}

// count reads a number of pieces, 1 for a blank cell and after a complaint.
func count(field Field, cell string, f *findings) int {
	if strings.TrimSpace(cell) == "" {
		return 1
	}
	n, ok := readCount(cell)
	if !ok || n < 1 {
		f.stops(field, cell, unit.NotANumber, "")
		return 1
	}
	return n
}

func (r *Reader) arrival(o *Offer, b *fields, f *findings) {
	days, known := r.specs.lead(b.Lead)
	o.LeadDays = days
	if !known {
		f.note(FieldLead, b.Lead, unit.UnknownWord)
	}
}
