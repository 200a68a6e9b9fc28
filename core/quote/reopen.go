package quote

import (
	"fmt"
	"strconv"

	"lugworth/core/money"
	"lugworth/core/unit"
)

// Bill opens the frozen estimate again, to the cent: nothing is reckoned
// anew, only checked. Reasons (Why) are not kept in a frozen estimate.
//
// Errors: a sum or an hour that cannot be read; a part line that is not
// pieces × each; lines that do not add up to a total.
func (f Frozen) Bill() (Bill, error) {
	b := Bill{Currency: money.Currency{Code: f.Currency, Exponent: f.Decimals}, ReadyDays: f.Days, NoLead: f.NoLead, Notes: f.Notes}
	if err := f.open(&b); err != nil {
		return Bill{}, fmt.Errorf("frozen estimate %s: %w", f.Number, err)
	}
	return b, nil
}

func (f Frozen) open(b *Bill) error {
	if f.Decimals < 0 || f.Decimals > 4 {
		return fmt.Errorf("currency %s of %d decimals, want 0 to 4", f.Currency, f.Decimals)
	}
	var err error
	if b.Rounding, err = readRounding(f.Rounding); err != nil {
		return err
	}
	for _, h := range []struct {
		text string
		into *unit.Hours
	}{{f.Hours.Expected, &b.Hours}, {f.Hours.Independent, &b.Independent}, {f.Hours.Linked, &b.Linked}} {
		if *h.into, err = readHours(h.text); err != nil {
			return err
		}
	}
	for i, l := range f.Lines {
		line, err := l.open(b.Currency)
		if err != nil {
			return fmt.Errorf("line %d, %s: %w", i+1, l.ID, err)
		}
		b.Lines = append(b.Lines, line)
	}
	if err := f.openTotals(b); err != nil {
		return err
	}
	return b.addsUp()
}

func (f Frozen) openTotals(b *Bill) error {
	var problem error
	b.Totals.each(&f.Totals, func(name string, a *money.Amount, text *string) {
		sum, err := b.Currency.Read(*text)
		if err != nil && problem == nil {
			problem = fmt.Errorf("%s: %w", name, err)
		}
		*a = sum
	})
	return problem
}

func (l FrozenLine) open(c money.Currency) (Line, error) {
	out := Line{Class: l.Class, ID: l.ID, List: l.List, Option: l.Option, Finding: l.Finding, Say: l.Say,
		State: l.State, For: l.For, Pieces: l.Pieces, Taxed: l.Taxed}
	var err error
	if out.Amount, err = c.Read(l.Amount); err != nil {
		return Line{}, err
	}
	switch l.Class {
	case Labor:
		out.Hours, err = readHours(l.Hours)
	case Parts:
		out.Each, err = c.Read(l.Each)
		if want, wrong := out.Each.Times(int64(l.Pieces)); err == nil && (wrong != nil || want != out.Amount) {
			err = fmt.Errorf("%d × %s is not %s", l.Pieces, l.Each, l.Amount)
		}
	case Other, Fee, Tax:
	default:
		err = fmt.Errorf("class %q is not known", l.Class)
	}
	return out, err
}

// addsUp checks every total of the bill against its printed lines.
func (b *Bill) addsUp() error {
	want, err := b.classes()
	if err != nil {
		return err
	}
	t := b.Totals
	for _, c := range []struct {
		name      string
		got, want money.Amount
	}{
		{"labor", t.Labor, want.Labor}, {"parts", t.Parts, want.Parts}, {"other", t.Other, want.Other},
		{"fee", t.Fee, want.Fee}, {"tax", t.Tax, want.Tax}, {"total", t.Total, want.Total},
		{"with_allowance", t.WithAllowance, t.Total + t.Allowance},
		{"payable", t.Payable, t.Deposit + t.Balance},
	} {
		if c.got != c.want {
			return fmt.Errorf("%s is %s, the lines come to %s", c.name, b.Currency.Format(c.got), b.Currency.Format(c.want))
		}
	}
	return nil
}

func readRounding(text string) (money.Rounding, error) {
	for r := money.HalfUp; r <= money.Down; r++ {
		if r.String() == text {
			return r, nil
		}
	}
	return 0, fmt.Errorf("rounding %q is not known", text)
}

// millionths prints hours so that every machine prints the same bytes.
func millionths(h unit.Hours) string { return strconv.FormatFloat(float64(h), 'f', 6, 64) }

func readHours(text string) (unit.Hours, error) {
	h, err := strconv.ParseFloat(text, 64)
	if err != nil || !(h >= 0 && h < 1e6) {
		return 0, fmt.Errorf("hours %q: want a number from 0 to a million", text)
	}
	return unit.Hours(h), nil
}
