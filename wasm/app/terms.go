package app

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/wasm/port"
)

const termsFile = "terms.csv"

func init() {
	pressed["terms-open"] = func(m *Model, e event) []port.Effect { return m.openTerms(e.ID) }
	submitted["terms"] = func(m *Model, e event) []port.Effect { return m.keepTerms(e) }
}

// A TermsForm is the terms of one supplier being written.
type TermsForm struct {
	List  string
	Wrong map[string]string // by column: what is wrong with it, in words
}

// TermsFormOf names the form of a list's terms where its drafts are kept.
func TermsFormOf(list string) string { return "terms-" + list }

// TermsBook is terms.csv as it stands: the shop's own, or a new one.
//
// Errors: the file cannot be read, as catalog.OpenTermsBook.
func (m Model) TermsBook() (catalog.TermsBook, error) {
	for _, f := range m.Shop.Files {
		if f.Name == termsFile {
			return catalog.OpenTermsBook(termsFile, f.Data)
		}
	}
	return catalog.OpenTermsBook(termsFile, nil)
}

// Suppliers are the lists there are and those that have terms, by name.
func (m Model) Suppliers() []string {
	var out []string
	for _, l := range m.PriceLists() {
		out = append(out, l.Name)
	}
	if b, err := m.TermsBook(); err == nil {
		out = append(out, b.Lists()...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// openTerms opens the form of one supplier, or closes it.
func (m *Model) openTerms(list string) []port.Effect {
	d := &m.Screen.Desk
	m.clearDrafts("draft", TermsFormOf(d.Terms.List))
	if d.Terms.List == list || m.locked() {
		d.Terms = TermsForm{}
		return nil
	}
	d.Leaf, d.Book = LeafBooks, BookTerms
	d.Terms = TermsForm{List: list}
	return []port.Effect{port.FocusOn{ID: "terms-currency"}}
}

// keepTerms writes the terms of one supplier. Where something is wrong with
// them nothing is written and each cell says so.
func (m *Model) keepTerms(e event) []port.Effect {
	b, err := m.TermsBook()
	if err != nil || m.locked() {
		return nil
	}
	form := TermsForm{List: e.ID, Wrong: map[string]string{}}
	get := func(name string) string { return strings.TrimSpace(e.form.Get(name)) }
	cells := []catalog.TermsCell{{Column: "currency", Cell: strings.ToUpper(get("currency"))}, {Column: "rate_date", Cell: get("rate_date")},
		{Column: "tax_in_price", Cell: get("tax_in_price")}, {Column: "decimal", Cell: get("decimal")}}
	for _, column := range []string{"rate", "tax_not_reclaimed", "min_order"} {
		cells = append(cells, catalog.TermsCell{Column: column, Cell: form.number(column, get(column))})
	}
	cells = append(cells, catalog.TermsCell{Column: "carriage", Cell: form.carriage(get)})
	if day := get("rate_date"); day != "" {
		if _, err := time.Parse(time.DateOnly, day); err != nil { // of a row with other faults the book does not say so
			form.Wrong["rate_date"] = TermsSays("rate_date", day)
		}
	}
	next := b.Set(e.ID, cells...)
	for _, p := range next.Problems(termsFile, e.ID) {
		if form.Wrong[p.Column] == "" {
			form.Wrong[p.Column] = TermsSays(p.Column, p.Cell)
		}
	}
	if len(form.Wrong) > 0 {
		m.Screen.Desk.Terms = form
		return nil
	}
	m.Screen.Desk.Terms = TermsForm{}
	m.clearDrafts("draft", TermsFormOf(e.ID))
	effects := m.keepFile(termsFile, next.Write())
	m.Screen.Toast = Toast{Say: "Terms of " + e.ID + " kept. Frozen estimates stay as they are."}
	return append(effects, m.reopen(e.Fresh)...)
}

// number writes a number as the file has it, with a decimal point.
func (f *TermsForm) number(column, text string) string {
	text = strings.TrimRight(text, " %")
	d, err := money.ReadDecimal(text, money.Either)
	switch {
	case text == "":
		return ""
	case err != nil:
		f.Wrong[column] = "“" + text + "”: " + err.Error()
		return text
	case strings.ContainsRune(text, ','):
		return d.String()
	}
	return text
}

// CarriageSteps is how many steps of carriage a form asks for behind the
// first, at the least.
const CarriageSteps = 3

// mostSteps is more than any file has: a form shows every step there is.
const mostSteps = 100

// carriage writes the steps of carriage as the file has them. A step is asked
// for whole: from which goods value on, and what it is then.
func (f *TermsForm) carriage(get func(string) string) string {
	fee := f.number("carriage", get("fee0"))
	steps := []string{}
	if fee != "" {
		steps = append(steps, fee)
	}
	for i := 1; i <= mostSteps; i++ {
		n := strconv.Itoa(i)
		from, fee := f.number("from"+n, get("from"+n)), f.number("fee"+n, get("fee"+n))
		switch {
		case from == "" && fee == "":
			continue
		case from == "":
			f.Wrong["from"+n] = "from which goods value on is it " + fee + "?"
		case fee == "":
			f.Wrong["fee"+n] = "what is the carriage from " + from + " on? 0 if there is none"
		case len(steps) == 0:
			f.Wrong["carriage"] = "what is the carriage below " + from + "?"
		}
		steps = append(steps, fee+" from "+from)
	}
	return strings.Join(steps, "; ")
}

// ReadCarriage parts the carriage of the file into what the form shows: fees,
// and from which goods value each holds; the first from is "".
func ReadCarriage(cell string) (fees, froms []string) {
	for _, step := range strings.Split(cell, ";") {
		fee, from, _ := strings.Cut(step, " from ")
		fees, froms = append(fees, strings.TrimSpace(fee)), append(froms, strings.TrimSpace(from))
	}
	return fees, froms
}

// TermsSays says in words what a cell of the terms must be.
func TermsSays(column, cell string) string {
	say := map[string]string{
		"list":              "the name of the list stands twice in terms.csv: take one of the rows out there",
		"currency":          "is no currency code of three letters, such as USD or EUR",
		"rate":              "must be a number above zero: what one unit of the list's currency costs you in your own",
		"rate_date":         "must be a day such as 2026-01-05, or nothing",
		"tax_in_price":      "please say: is tax in the list's prices or not?",
		"tax_not_reclaimed": "must be the percentage of tax that stays with you: 0 where you reclaim it all",
		"decimal":           "must be point or comma, or left to the list",
		"min_order":         "must be an amount of goods, or nothing",
		"carriage":          "must be amounts, each step from a larger goods value than the one before",
	}[column]
	if cell == "" || column == "tax_in_price" {
		return say
	}
	return "“" + cell + "” " + say
}
