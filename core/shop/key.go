package shop

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// A key is one setting the sheet knows: need says that no job can be priced
// without it, put reads its value.
type key struct {
	name string
	need bool
	put  func(s *Sheet, value string) error
}

// keys in the order in which a new sheet lists them.
var keys = []key{
	{"name", true, func(s *Sheet, v string) error { s.Name = v; return nil }},
	{"currency", true, func(s *Sheet, v string) error { return putCurrency(&s.Currency, v) }},
	{"rate", true, func(s *Sheet, v string) error { return amount(&s.Rate, v) }},
	{"fee", true, func(s *Sheet, v string) error { return amount(&s.Fee, v) }},
	{"markup", true, func(s *Sheet, v string) error { return percent(&s.Markup, v, 10_000) }},
	{"subcontract_markup", false, func(s *Sheet, v string) error { return percent(&s.SubcontractMarkup, v, 10_000) }},
	{"tax", false, func(s *Sheet, v string) error { return percent(&s.Tax, v, 100) }},
	{"tax_on", false, func(s *Sheet, v string) error {
		return choose(&s.TaxOn, v, TaxOnNone, TaxOnParts, TaxOnAll)
	}},
	{"registered", false, func(s *Sheet, v string) error { return yesNo(&s.Registered, v) }},
	{"allowance", false, func(s *Sheet, v string) error { return percent(&s.Allowance, v, 1000) }},
	{"reserve", true, func(s *Sheet, v string) error { return percent(&s.Reserve, v, 100) }},
	{"meter_percent", false, func(s *Sheet, v string) error { return percent(&s.MeterPercent, v, 100) }},
	{"date_test", false, func(s *Sheet, v string) error { return choose(&s.DateTest, v, LongestLead, P80) }},
	{"bench_hours", false, func(s *Sheet, v string) error { return benchHours(&s.BenchHours, v) }},
	{"open_days", false, func(s *Sheet, v string) error { return openDays(&s.OpenDays, v) }},
	{"holidays", false, func(s *Sheet, v string) error { return holidays(&s.Holidays, v) }},
	{"answer_days", false, func(s *Sheet, v string) error { return waitDays(&s.AnswerDays, v) }},
	{"carriage_days", false, func(s *Sheet, v string) error { return waitDays(&s.CarriageDays, v) }},
	{"quarter", false, func(s *Sheet, v string) error { return yesNo(&s.Quarter, v) }},
	{"rounding", false, func(s *Sheet, v string) error { return rounding(&s.Rounding, v) }},
	{"deposit", false, func(s *Sheet, v string) error { return percent(&s.Deposit, v, 100) }},
	{"valid_days", false, func(s *Sheet, v string) error { return days(&s.ValidDays, v) }},
	{"place", false, func(s *Sheet, v string) error { s.Place = v; return nil }},
}

// Spread begins the keys that say how far a part may be from its marking and
// a tube from its type.
const Spread = "spread_"

// Keys returns the names of the settings this release knows.
func Keys() []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = k.name
	}
	return out
}

// read fills the typed fields from the entries. The first row of a key holds;
// a second is wrong.
func (s *Sheet) read() {
	seen := map[string]bool{}
	s.TaxOn, s.DateTest = TaxOnNone, P80
	for _, e := range s.Entries {
		i := slices.IndexFunc(keys, func(k key) bool { return k.name == e.Key })
		switch {
		case e.Key == "":
			s.wrong(e, "key", e.Key, unit.Missing, "")
		case seen[e.Key]:
			s.wrong(e, "key", e.Key, unit.Duplicate, "")
		case strings.HasPrefix(e.Key, Spread):
			// a row of the spread table, which reads its own amounts
		case i < 0:
			s.Unknown = append(s.Unknown, e.Key)
		case e.Value != "":
			s.put(keys[i], e)
		}
		if e.Value != "" && e.Source == "" {
			s.Unsourced = append(s.Unsourced, e.Key)
		}
		seen[e.Key] = true
	}
	for _, k := range keys {
		if k.need && !s.Has(k.name) {
			s.Missing = append(s.Missing, k.name)
		}
	}
}

func (s *Sheet) put(k key, e Entry) {
	err := k.put(s, e.Value)
	if err == nil {
		return
	}
	p := unit.Problem{Code: unit.NotANumber}
	errors.As(err, &p)
	s.wrong(e, "value", e.Value, p.Code, p.Hint)
}

func (s *Sheet) wrong(e Entry, column, cell string, code unit.Code, hint string) {
	s.Wrong = append(s.Wrong, unit.Problem{File: s.file, Line: e.Line, Column: column, Cell: cell, Code: code, Hint: hint})
}

func amount(to *money.Decimal, v string) error {
	d, err := money.ReadDecimal(v, money.Point)
	if err != nil {
		return err
	}
	if d.Sign() < 0 {
		return unit.Problem{Cell: v, Code: unit.Negative}
	}
	*to = d
	return nil
}

// percent reads "25" or "25 %", up to most.
func percent(to *money.Decimal, v string, most int64) error {
	var d money.Decimal
	if err := amount(&d, strings.TrimRight(v, " %")); err != nil {
		return err
	}
	if d.Cmp(money.Whole(most)) > 0 {
		return unit.Problem{Cell: v, Code: unit.OutOfRange, Hint: "at most " + strconv.FormatInt(most, 10) + " percent"}
	}
	*to = d
	return nil
}

func putCurrency(to *money.Currency, v string) error {
	c, err := money.CurrencyOf(strings.ToUpper(v))
	if err != nil {
		return unit.Problem{Cell: v, Code: unit.UnknownWord, Hint: "a code of ISO 4217, such as USD"}
	}
	*to = c
	return nil
}

func choose[T ~string](to *T, v string, allowed ...T) error {
	for _, a := range allowed {
		if strings.EqualFold(string(a), v) {
			*to = a
			return nil
		}
	}
	words := make([]string, len(allowed))
	for i, a := range allowed {
		words[i] = string(a)
	}
	return unit.Problem{Cell: v, Code: unit.UnknownWord, Hint: strings.Join(words, " or ")}
}

func yesNo(to *bool, v string) error {
	var word string
	if err := choose(&word, v, "yes", "no"); err != nil {
		return err
	}
	*to = word == "yes"
	return nil
}

func rounding(to *money.Rounding, v string) error {
	var word string
	if err := choose(&word, v, "half up", "half even", "down"); err != nil {
		return err
	}
	*to = map[string]money.Rounding{"half up": money.HalfUp, "half even": money.HalfEven, "down": money.Down}[word]
	return nil
}

func days(to *int, v string) error {
	n, err := strconv.Atoi(v)
	if err != nil || n < 0 || n > 3650 {
		return unit.Problem{Cell: v, Code: unit.OutOfRange, Hint: "0 to 3650 whole days"}
	}
	*to = n
	return nil
}
