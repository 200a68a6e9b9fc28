package catalog

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// termsRow is terms.csv as it stands in the file.
type termsRow struct {
	List            string `csv:"list"`
	Currency        string `csv:"currency"`
	Rate            string `csv:"rate"`
	TaxInPrice      string `csv:"tax_in_price"`
	TaxNotReclaimed string `csv:"tax_not_reclaimed"`
	Decimal         string `csv:"decimal"`
	PackColumn      string `csv:"pack_column"`
	LeadColumn      string `csv:"lead_column"`
	MinOrder        string `csv:"min_order"`
	Carriage        string `csv:"carriage"`
	RateDate        string `csv:"rate_date"`
}

// ReadTerms reads terms.csv, one row a list:
//
//	list,currency,rate,tax_in_price,tax_not_reclaimed,decimal,pack_column,lead_column,min_order,carriage
//	K,USD,1,no,0,point,Pack,Lead days,10.00,9.50; 0 from 60.00
//
// rate is home currency for one unit of currency; tax_in_price is yes or no;
// tax_not_reclaimed is a percentage; decimal is point, comma or blank. Carriage
// is one amount, or amounts with the goods value each holds from, parted by
// semicolons. These amounts are in the list's currency, with a decimal point.
// A further column rate_date, 2026-01-05, may say of which day the rate is; a
// day that cannot be read is told of and the row stands.
//
// A row with any problem is left out, and every problem of it is returned.
func ReadTerms(file string, data []byte) ([]Terms, []unit.Problem) {
	terms, _, _, problems := readTerms(file, data)
	return terms, problems
}

// RefusedTerms names the lists whose rows ReadTerms leaves out: their prices
// mean nothing until the row is mended. others is true where the file or a
// row of it could not be cut into cells, so that any list without a row may
// have had one.
func RefusedTerms(file string, data []byte) (lists []string, others bool) {
	_, lists, others, _ = readTerms(file, data)
	return lists, others
}

func readTerms(file string, data []byte) (out []Terms, refused []string, lost bool, problems []unit.Problem) {
	t, err := ReadTable(file, data, "list", "currency", "rate", "tax_in_price", "tax_not_reclaimed")
	if err != nil {
		return nil, nil, true, []unit.Problem{asProblem(file, err)}
	}
	var rows []termsRow
	if err := t.Bind(&rows); err != nil {
		return nil, nil, true, []unit.Problem{asProblem(file, err)}
	}
	problems = t.Problems
	for i, row := range rows {
		r := termsReader{file: file, line: t.Rows[i].Line}
		terms := r.terms(row)
		if slices.ContainsFunc(out, func(o Terms) bool { return o.List == terms.List }) {
			r.wrong("list", row.List, unit.Duplicate, "")
		}
		if problems = append(problems, r.problems...); len(r.problems) > 0 {
			refused = append(refused, terms.List)
			continue
		}
		problems = append(problems, r.told...)
		out = append(out, terms)
	}
	return out, refused, len(t.Problems) > 0, problems
}

// asProblem makes a Problem of what ReadTable refuses a whole file for.
func asProblem(file string, err error) unit.Problem {
	p, _ := unit.Located(err, file, 0, "", "")
	return p
}

type termsReader struct {
	file     string
	line     int
	problems []unit.Problem
	told     []unit.Problem // of what does not touch the prices
}

func (r *termsReader) wrong(column, cell string, code unit.Code, hint string) {
	r.problems = append(r.problems, unit.Problem{File: r.file, Line: r.line, Column: column, Cell: cell, Code: code, Hint: hint})
}

func (r *termsReader) terms(row termsRow) Terms {
	t := Terms{List: strings.TrimSpace(row.List), Line: r.line,
		PackColumn: strings.TrimSpace(row.PackColumn), LeadColumn: strings.TrimSpace(row.LeadColumn)}
	if t.List == "" {
		r.wrong("list", row.List, unit.Missing, "")
	}
	c, err := money.CurrencyOf(strings.ToUpper(strings.TrimSpace(row.Currency)))
	if err != nil {
		r.wrong("currency", row.Currency, unit.UnknownWord, "a code of ISO 4217, such as USD")
	}
	t.Currency = c.Code
	t.Rate = r.amount("rate", row.Rate, true)
	if t.Rate.IsZero() && len(r.problems) == 0 {
		r.wrong("rate", row.Rate, unit.OutOfRange, "")
	}
	t.TaxInPrice = r.yesNo("tax_in_price", row.TaxInPrice)
	t.TaxNotReclaimed = r.amount("tax_not_reclaimed", strings.TrimRight(row.TaxNotReclaimed, " %"), true)
	t.Decimal = r.decimal(row.Decimal)
	t.MinOrder = r.amount("min_order", row.MinOrder, false)
	t.Carriage = r.carriage(row.Carriage)
	t.RateDate = r.date(row.RateDate)
	return t
}

// date reads the day a rate is of, "" where it is not stated.
func (r *termsReader) date(cell string) string {
	s := strings.TrimSpace(cell)
	if s == "" {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		r.told = append(r.told, unit.Problem{File: r.file, Line: r.line, Column: "rate_date", Cell: cell, Code: unit.Unusable, Hint: "a day such as 2026-01-05"})
		return ""
	}
	return s
}

// amount reads an exact number that is not negative; blank is zero unless it
// is needed.
func (r *termsReader) amount(column, cell string, need bool) money.Decimal {
	s := strings.TrimSpace(cell)
	if s == "" {
		if need {
			r.wrong(column, cell, unit.Missing, "")
		}
		return money.Decimal{}
	}
	d, err := money.ReadDecimal(s, money.Point)
	if err != nil {
		code, hint := codeOf(err, cell)
		r.wrong(column, cell, code, hint)
		return money.Decimal{}
	}
	if d.Sign() < 0 {
		r.wrong(column, cell, unit.Negative, "")
	}
	return d
}

func (r *termsReader) yesNo(column, cell string) bool {
	switch strings.ToLower(strings.TrimSpace(cell)) {
	case "yes":
		return true
	case "no":
		return false
	}
	r.wrong(column, cell, unit.UnknownWord, "yes or no")
	return false
}

func (r *termsReader) decimal(cell string) money.Mark {
	switch strings.ToLower(strings.TrimSpace(cell)) {
	case "point", ".":
		return money.Point
	case "comma", ",":
		return money.Comma
	case "", "either":
		return money.Either
	}
	r.wrong("decimal", cell, unit.UnknownWord, "point or comma or a blank cell")
	return money.Either
}

// carriage reads "9.50; 0 from 60.00". The first step holds from zero.
func (r *termsReader) carriage(cell string) []Step {
	if strings.TrimSpace(cell) == "" {
		return nil
	}
	var steps []Step
	for i, part := range strings.Split(cell, ";") {
		fee, from, has := strings.Cut(part, " from ")
		s := Step{Fee: r.amount("carriage", fee, true)}
		if has {
			s.From = r.amount("carriage", from, true)
		}
		if i == 0 && !s.From.IsZero() || i > 0 && (!has || s.From.Cmp(steps[i-1].From) <= 0) {
			r.wrong("carriage", cell, unit.OutOfRange, `steps that rise, as in "9.50; 0 from 60.00"`)
			return nil
		}
		steps = append(steps, s)
	}
	return steps
}

// Landed is what one piece costs the shop in its home currency, not rounded:
//
//	price × rate × (1 + tax not reclaimed / 100)
//
// If the list price is what is paid at the door, tax included, it is
// price × rate. Supplier carriage is not in it.
//
// Errors: the offer has no price, its currency is not that of the terms, or
// the product has too many figures.
func Landed(o Offer, t Terms) (money.Decimal, error) {
	switch {
	case !o.Priced:
		return money.Decimal{}, fmt.Errorf("landed cost of %s %s: the list gives no price", o.List, o.Number)
	case o.Currency != t.Currency:
		return money.Decimal{}, fmt.Errorf("landed cost of %s %s: the price is in %s, the terms in %s", o.List, o.Number, o.Currency, t.Currency)
	case t.TaxInPrice:
		return money.Landed(o.Price, t.Rate, money.Decimal{})
	}
	return money.Landed(o.Price, t.Rate, t.TaxNotReclaimed)
}
