package quote

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"lugworth/core/money"
)

// A Stamp says what a frozen estimate rested on.
type Stamp struct {
	Number string   `json:"number"` // of the estimate
	Date   string   `json:"date"`   // ISO 8601 day
	Rule   string   `json:"rule"`   // version of the rules that reckoned it
	Sheet  string   `json:"sheet"`  // digest of the shop's sheet
	Set    string   `json:"set"`    // name of the choice
	Accept []string `json:"accept"` // options accepted, in the job's order
}

// A Frozen estimate is a bill as it was promised. Sums are decimal strings in
// major units, counts are whole numbers, and no float stands in it, so it
// opens to the cent on any machine whatever the sheet says by then.
type Frozen struct {
	Stamp
	Currency string        `json:"currency"`
	Decimals int           `json:"decimals"` // of the currency, as they were then
	Rounding string        `json:"rounding"`
	Lines    []FrozenLine  `json:"lines"`
	Totals   FrozenTotals  `json:"totals"`
	Hours    FrozenSpreads `json:"hours"`
	Days     int           `json:"ready_days"`
	NoLead   []string      `json:"no_lead"`
	Notes    []string      `json:"notes"`
}

// A FrozenLine is one printed line.
type FrozenLine struct {
	Class   Class    `json:"class"`
	ID      string   `json:"id"`
	List    string   `json:"list,omitempty"`
	Option  string   `json:"option,omitempty"`
	Finding string   `json:"finding,omitempty"`
	Say     string   `json:"say"`
	State   string   `json:"state,omitempty"`
	For     []string `json:"for,omitempty"`
	Pieces  int      `json:"pieces,omitempty"`
	Each    string   `json:"each,omitempty"`
	Hours   string   `json:"hours,omitempty"` // to a millionth
	Amount  string   `json:"amount"`
	Taxed   bool     `json:"taxed,omitempty"`
}

// FrozenTotals are the sums of a frozen estimate.
type FrozenTotals struct {
	Labor         string `json:"labor"`
	Parts         string `json:"parts"`
	Other         string `json:"other"`
	Fee           string `json:"fee"`
	Tax           string `json:"tax"`
	Total         string `json:"total"`
	Allowance     string `json:"allowance"`
	WithAllowance string `json:"with_allowance"`
	Estimate      string `json:"estimate"`
	Payable       string `json:"payable"`
	Deposit       string `json:"deposit"`
	Balance       string `json:"balance"`
}

// FrozenSpreads are hours, to a millionth.
type FrozenSpreads struct {
	Expected    string `json:"expected"`
	Independent string `json:"independent"`
	Linked      string `json:"linked"`
}

// Freeze turns a bill into the value that is kept.
func Freeze(b Bill, s Stamp) Frozen {
	f := Frozen{
		Stamp: s, Currency: b.Currency.Code, Decimals: b.Currency.Exponent, Rounding: b.Rounding.String(),
		Totals: freezeTotals(b), Days: b.ReadyDays, NoLead: b.NoLead, Notes: b.Notes,
		Hours: FrozenSpreads{millionths(b.Hours), millionths(b.Independent), millionths(b.Linked)},
	}
	for _, l := range b.Lines {
		f.Lines = append(f.Lines, freezeLine(l, b.Currency))
	}
	return f
}

func freezeLine(l Line, c money.Currency) FrozenLine {
	f := FrozenLine{Class: l.Class, ID: l.ID, List: l.List, Option: l.Option, Finding: l.Finding, Say: l.Say,
		State: l.State, For: l.For, Pieces: l.Pieces, Amount: c.Format(l.Amount), Taxed: l.Taxed}
	if l.Class == Parts {
		f.Each = c.Format(l.Each)
	}
	if l.Class == Labor {
		f.Hours = millionths(l.Hours)
	}
	return f
}

// each pairs the sums of a bill with their frozen texts, in one place for
// both directions.
func (t *Totals) each(f *FrozenTotals, visit func(name string, a *money.Amount, text *string)) {
	visit("labor", &t.Labor, &f.Labor)
	visit("parts", &t.Parts, &f.Parts)
	visit("other", &t.Other, &f.Other)
	visit("fee", &t.Fee, &f.Fee)
	visit("tax", &t.Tax, &f.Tax)
	visit("total", &t.Total, &f.Total)
	visit("allowance", &t.Allowance, &f.Allowance)
	visit("with_allowance", &t.WithAllowance, &f.WithAllowance)
	visit("estimate", &t.Estimate, &f.Estimate)
	visit("payable", &t.Payable, &f.Payable)
	visit("deposit", &t.Deposit, &f.Deposit)
	visit("balance", &t.Balance, &f.Balance)
}

func freezeTotals(b Bill) FrozenTotals {
	var f FrozenTotals
	t := b.Totals
	t.each(&f, func(_ string, a *money.Amount, text *string) { *text = b.Currency.Format(*a) })
	return f
}

// JSON returns the frozen estimate as text.
func (f Frozen) JSON() ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(f); err != nil {
		return nil, fmt.Errorf("frozen estimate %s: %w", f.Number, err)
	}
	return out.Bytes(), nil
}

// ReadFrozen reads what JSON wrote and checks it: no number with a fraction or
// an exponent, no field this release does not know, and lines that add up to
// the totals.
func ReadFrozen(data []byte) (Frozen, error) {
	if err := onlyIntegers(data); err != nil {
		return Frozen{}, fmt.Errorf("frozen estimate: %w", err)
	}
	var f Frozen
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return Frozen{}, fmt.Errorf("frozen estimate: %w", err)
	}
	if _, err := f.Bill(); err != nil {
		return Frozen{}, err
	}
	return f, nil
}

// onlyIntegers refuses every JSON number that is not a whole one, and whatever
// follows the first value.
func onlyIntegers(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	depth := 0
	for {
		tok, err := d.Token()
		if err != nil {
			return err
		}
		switch t := tok.(type) {
		case json.Number:
			if strings.ContainsAny(t.String(), ".eE") {
				return fmt.Errorf("byte %d: number %s: want a whole number, or a sum as text", d.InputOffset(), t)
			}
		case json.Delim:
			if t == '{' || t == '[' {
				depth++
			} else {
				depth--
			}
		}
		if depth == 0 {
			return nothingAfter(d)
		}
	}
}

func nothingAfter(d *json.Decoder) error {
	if tok, err := d.Token(); err == nil {
		return fmt.Errorf("byte %d: %v follows the estimate", d.InputOffset(), tok)
	}
	return nil
}
