package shop

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/unit"
)

// priced are the settings that move a price or a verdict on a part; the rest
// may be unreadable and a job can still be priced.
var priced = []string{"currency", "rate", "fee", "markup", "subcontract_markup", "tax", "tax_on", "registered",
	"allowance", "reserve", "quarter", "rounding", "deposit"}

// Stops answers why no job can be priced by this sheet, nil if one can: a
// setting that is missing, cannot be read or stands twice would otherwise
// count as zero.
func (s Sheet) Stops() error {
	var why []string
	for _, p := range s.Wrong {
		i := slices.IndexFunc(s.Entries, func(e Entry) bool { return e.Line == p.Line })
		if i < 0 || slices.Contains(priced, s.Entries[i].Key) {
			why = append(why, p.Error())
		}
	}
	for _, k := range s.Missing {
		if !s.given(k) && k != "name" {
			why = append(why, "it gives no "+k)
		}
	}
	if h := s.halfTax(); h != "" {
		why = append(why, h)
	}
	if len(why) == 0 {
		return nil
	}
	return fmt.Errorf("the shop sheet does not serve for a price: %s", strings.Join(why, "; "))
}

// given reports whether key has a value, readable or not.
func (s Sheet) given(key string) bool {
	e, ok := s.Get(key)
	return ok && e.Value != ""
}

// halfTax tells of a tax with only one of its two settings. A shop that is
// not registered bills none.
func (s Sheet) halfTax() string {
	falls := s.TaxOn != TaxOnNone && s.Has("tax_on")
	switch {
	case s.Has("registered") && !s.Registered:
	case falls && !s.given("tax"):
		return "tax_on is " + string(s.TaxOn) + " and it gives no tax"
	case !s.Tax.IsZero() && !s.given("tax_on"):
		return "tax is " + s.Tax.String() + " % and it gives no tax_on"
	}
	return ""
}

// Told lists what of the sheet a person should know of though nothing is
// wrong with it: settings this release does not know.
func (s Sheet) Told() []unit.Problem {
	var out []unit.Problem
	for _, k := range s.Unknown {
		e, _ := s.Get(k)
		if !slices.Contains(words, k) {
			out = append(out, unit.Problem{File: s.file, Line: e.Line, Column: "key", Cell: k, Code: unit.UnknownWord, Hint: nearKey(k)})
		}
	}
	return out
}

// words are settings without a reader: they are printed as they stand.
var words = []string{"address", "phone", "email", "registration"}

// nearKey offers the setting that differs in one letter, "" if none does.
func nearKey(k string) string {
	for _, n := range Keys() {
		if oneApart(k, n) {
			return n
		}
	}
	return ""
}

// oneApart reports whether one letter changed, added or left out makes a of b.
func oneApart(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return i < len(a) && a[i+1:] == b[i+1:]
	}
	return len(b) == len(a)+1 && a[i:] == b[i+1:]
}
