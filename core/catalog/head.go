package catalog

import (
	"fmt"
	"sort"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

const sampleRows = 50 // rows that settle what headings leave open

// head finds the headings and the mapping and leaves r.split at the first row.
func (r *Reader) head(text string, m *Mapping) error {
	text, comma, declared := declaredDelimiter(text)
	found, at := sniff(text, m)
	if !declared {
		comma = found
	}
	if m != nil && m.NoHeading {
		comma, at = []rune(m.Delimiter + ",")[0], -1
	}
	r.split = newSplitter(text, comma)
	if declared {
		r.split.line = 1
	}
	if m != nil && m.NoHeading {
		r.adopt(*m)
		return r.check()
	}
	line, err := r.headings(at)
	if err != nil {
		return err
	}
	r.choose(m, line)
	if err := r.doubles(m, line); err != nil {
		return err
	}
	if err := r.check(); err != nil {
		return err
	}
	return r.currency(m, line)
}

// declaredDelimiter obeys a first line "sep=;", which spreadsheet programs write.
func declaredDelimiter(text string) (rest string, comma rune, ok bool) {
	line, rest, _ := strings.Cut(text, "\n")
	line = strings.Trim(strings.TrimRight(line, "\r"), `"`)
	if len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		return rest, rune(line[4]), true
	}
	return text, ',', false
}

// headings reads up to and with the row of headings, the at-th, or the first
// row if none was recognized. Rows above it are noted.
func (r *Reader) headings(at int) (line int, err error) {
	for i := 0; ; i++ {
		raw, ok := r.split.next()
		if !ok {
			return 0, fmt.Errorf("%s: no row of headings", r.list.File)
		}
		if i < at {
			if !blankRow(raw.cells) {
				r.note(raw.line, "", strings.Join(raw.cells, " "), AboveHeadings, "")
			}
			continue
		}
		if raw.bad == "broken" {
			return 0, fmt.Errorf("%s: line %d: the headings have a quote mark that is opened and not closed", r.list.File, raw.line)
		}
		r.heads = headsOf(raw.cells)
		return raw.line, nil
	}
}

// headsOf cleans a row of headings and drops the empty ones at its end.
func headsOf(cells []string) []string {
	heads := make([]string, 0, len(cells))
	for _, h := range cells {
		heads = append(heads, strings.TrimSpace(unguard(h)))
	}
	for n := len(heads); n > 1 && heads[n-1] == ""; n-- {
		heads = heads[:n-1]
	}
	return heads
}

// sample returns the next rows without using them up.
func (r *Reader) sample() [][]string {
	ahead := newSplitter(r.split.text[r.split.offset():], r.split.comma)
	var out [][]string
	for len(out) < sampleRows {
		raw, ok := ahead.next()
		if !ok {
			break
		}
		if raw.bad == "" && !blankRow(raw.cells) {
			out = append(out, raw.cells)
		}
	}
	return out
}

// choose takes the saved mapping if it was made for these headings. Otherwise
// it proposes one and keeps what the saved one says of headings it knows.
func (r *Reader) choose(m *Mapping, line int) {
	print := Fingerprint(r.heads)
	if m != nil && m.Fingerprint == print && len(m.Columns) == len(r.heads) {
		r.adopt(*m)
		return
	}
	p, why := Propose(r.heads, r.sample())
	if m == nil {
		r.notAsked(why, line)
	}
	p.inCurrency(r.terms.Currency)
	if m != nil {
		r.note(line, "", strings.Join(r.heads, string(r.split.comma)), Changed, "")
		p.keep(*m)
	}
	p.prefer(FieldPack, r.terms.PackColumn)
	p.prefer(FieldLead, r.terms.LeadColumn)
	p.Delimiter = string(r.split.comma)
	r.list.Mapping = p
}

// notAsked notes the columns whose reading a person was to choose and did not.
func (r *Reader) notAsked(why []Proposed, line int) {
	for _, c := range why {
		if c.Sure != Ask {
			continue
		}
		could := make([]string, len(c.Could))
		for i, f := range c.Could {
			could[i] = f.Says()
		}
		r.note(line, c.Heading, c.Heading, unit.AmbiguousText, strings.Join(could, " or "))
	}
}

// inCurrency makes the price column the one whose heading names the currency
// of the terms, where several headings are of prices and the one proposed
// names another.
func (m *Mapping) inCurrency(code string) {
	at := m.column(FieldPrice)
	if at < 0 || code == "" || namesCurrency(m.Columns[at].Heading, code) || !namesAny(m.Columns[at].Heading) {
		return
	}
	for i, c := range m.Columns {
		if f, _ := headingField(c.Heading); f == FieldPrice && namesCurrency(c.Heading, code) {
			m.give(FieldPrice, i, 0)
			m.PriceFor = priceFor(c.Heading)
			return
		}
	}
}

// currencyCodes are looked for in headings.
var currencyCodes = [...]string{"usd", "eur", "gbp", "cad", "aud", "chf", "jpy", "sek", "nok", "dkk", "nzd", "pln", "czk"}

func namesAny(heading string) bool {
	for _, code := range currencyCodes {
		if namesCurrency(heading, code) {
			return true
		}
	}
	return false
}

// namesCurrency reports whether a heading names a currency by code or sign.
func namesCurrency(heading, code string) bool {
	code = strings.ToLower(code)
	return hasWord(plain(heading), code) || signs[code] != "" && strings.Contains(heading, signs[code])
}

// adopt takes m as it is. Its headings are the list's if that has none.
func (r *Reader) adopt(m Mapping) {
	m.Columns = append([]Column(nil), m.Columns...)
	if m.NoHeading {
		for _, c := range m.Columns {
			r.heads = append(r.heads, c.Heading)
		}
	}
	m.Delimiter = string(r.split.comma)
	r.list.Mapping = m
}

// keep copies what old says of headings that are still there.
func (m *Mapping) keep(old Mapping) {
	for _, c := range old.Columns {
		for i := range m.Columns {
			if plain(m.Columns[i].Heading) == plain(c.Heading) && c.Field != Ignored {
				m.give(c.Field, i, c.From)
				break
			}
		}
	}
}

// prefer gives f to the column of that heading, if there is one.
func (m *Mapping) prefer(f Field, heading string) {
	for i := range m.Columns {
		if heading != "" && plain(m.Columns[i].Heading) == plain(heading) {
			m.give(f, i, 0)
			return
		}
	}
}

// give makes column i the one read as f.
func (m *Mapping) give(f Field, i, from int) {
	for j := range m.Columns {
		if j != i && m.Columns[j].Field == f && f != FieldBreak {
			m.Columns[j].Field = Ignored
		}
	}
	m.Columns[i].Field, m.Columns[i].From = f, from
}

// doubles refuses a price heading that stands twice unless a saved mapping
// says which is meant, and notes any other.
func (r *Reader) doubles(m *Mapping, line int) error {
	seen := map[string]bool{}
	for _, h := range r.heads {
		p := plain(h)
		if p == "" || !seen[p] {
			seen[p] = true
			continue
		}
		f, _ := headingField(h)
		if f == FieldPrice && (m == nil || m.Fingerprint != r.list.Mapping.Fingerprint) {
			return fmt.Errorf("%s: line %d, column %q: the heading stands twice; say which one holds the price", r.list.File, line, h)
		}
		r.note(line, h, h, unit.Duplicate, "")
	}
	return nil
}

// check refuses a list without a price column or without anything to order by.
func (r *Reader) check() error {
	m := r.list.Mapping
	head := strings.Join(r.heads, ", ")
	switch {
	case len(r.heads) < 2:
		return fmt.Errorf("%s: only one column (%q); cells are parted by comma, semicolon, tab or bar", r.list.File, short(head))
	case !m.Has(FieldPrice):
		return fmt.Errorf("%s: no price column among the headings %s", r.list.File, short(head))
	case !m.Has(FieldNumber) && !m.Has(FieldText):
		return fmt.Errorf("%s: no column with part numbers or descriptions among the headings %s", r.list.File, short(head))
	}
	return nil
}

func short(s string) string {
	if runes := []rune(s); len(runes) > 200 {
		return string(runes[:200]) + "..."
	}
	return s
}

// prepare sets what every row needs.
func (r *Reader) prepare() {
	m := &r.list.Mapping
	r.from = &source{r.heads, r.split.comma}
	r.cols = map[Field]int{}
	for i, c := range m.Columns {
		if c.Field != Ignored && c.Field != FieldBreak {
			r.keys, r.bound = append(r.keys, string(c.Field)), append(r.bound, i)
		}
		if _, ok := r.cols[c.Field]; !ok {
			r.cols[c.Field] = i
		}
		if c.Field == FieldBreak && c.From >= 1 {
			r.breaksAt = append(r.breaksAt, i)
		}
	}
	_, r.hasPack = r.cols[FieldPack]
	_, r.hasStock = r.cols[FieldStock]
	r.mark = r.terms.Decimal
	if r.mark == money.Either {
		r.mark = markOf(m.Decimal)
	}
	m.Decimal = markName(r.mark)
	r.specs.mark = r.mark
	if i, ok := r.cols[FieldValue]; ok {
		r.unitOf = headingUnit(r.heads[i])
	}
	if i, ok := r.cols[FieldPrice]; ok {
		r.contradiction(r.heads[i])
		r.eachPriced = anyOf(plain(r.heads[i]), eachWords)
	}
}

// headingUnit finds a unit in a heading: "Value (uF)".
func headingUnit(h string) string {
	p := plain(h)
	for _, u := range []string{"uf", "nf", "pf", "mfd", "kohm", "ohm"} {
		if hasWord(p, u) {
			return u
		}
	}
	return ""
}

// signs stand for a currency in a heading as well.
var signs = map[string]string{"eur": "€", "gbp": "£"}

// currency refuses a list whose price heading names another currency than
// the terms. With a saved mapping somebody has looked at it: a note is enough.
func (r *Reader) currency(m *Mapping, line int) error {
	h := r.heading(r.list.Mapping.column(FieldPrice))
	for _, code := range currencyCodes {
		if !namesCurrency(h, code) || r.terms.Currency == "" || strings.EqualFold(code, r.terms.Currency) {
			continue
		}
		if m == nil {
			return fmt.Errorf("%s: line %d, column %q: the prices are in %s and the terms in %s: say so for this list in terms.csv", r.list.File, line, h, strings.ToUpper(code), r.terms.Currency)
		}
		r.note(line, h, h, WrongCurrency, "a list in "+strings.ToUpper(code))
	}
	return nil
}

// contradiction notes a price heading that says of tax another thing than the terms.
func (r *Reader) contradiction(h string) {
	p := plain(h)
	without := anyWord(p, "ex vat|excl vat|ex tax|excl tax|ht|hors taxes|excl btw|ex btw|exkl mwst|zzgl mwst|netto|sin iva|excl iva")
	with := anyWord(p, "inc vat|incl vat|inc tax|incl tax|ttc|incl btw|inkl mwst|brutto|con iva|incl iva|iva incluido")
	if without && r.terms.TaxInPrice {
		r.note(0, h, h, Disagrees, "terms with tax_in_price no")
	}
	if with && !r.terms.TaxInPrice && r.terms.Currency != "" {
		r.note(0, h, h, Disagrees, "terms with tax_in_price yes")
	}
}

// unmade returns the fixes that found no place, by line.
func (r *Reader) unmade() []Fix {
	var out []Fix
	for _, fs := range r.fixes {
		for _, f := range fs {
			if f.Line != 0 {
				out = append(out, f)
			}
		}
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Line != out[j].Line {
			return out[i].Line < out[j].Line
		}
		return out[i].Column < out[j].Column
	})
	return out
}
