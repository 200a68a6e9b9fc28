package quote

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
	"lugworth/core/why"
)

var taxRule = &why.Rule{Name: "tax", Says: "Taken once on the sum of the taxed lines.",
	Formula: "round(Σ taxed lines · percent/100)", Source: "the tax rule named beside it"}

// Local closes every note about tax.
const Local = "check with your local tax authority"

// closed ends a note with Local, unless the source already says so.
func closed(note string) string {
	if strings.Contains(note, Local) {
		return note
	}
	return note + "; " + Local
}

// addTax marks the taxed lines and adds the tax line.
func (b *Bill) addTax(p Policy) error {
	if len(p.Tax.On) == 0 {
		b.Notes = append(b.Notes, "no tax is charged; "+Local)
		return nil
	}
	on, err := b.taxed(p.Tax)
	if err != nil {
		return err
	}
	if len(on) == 0 {
		return nil
	}
	base, from, err := b.mark(on)
	if err != nil {
		return err
	}
	tax, err := money.Tax(base, p.Tax.Percent, p.Rounding)
	if err != nil {
		return fmt.Errorf("tax on %s: %w", b.Currency.Format(base), err)
	}
	say := fmt.Sprintf("tax %v %% on %s", p.Tax.Percent, names(on))
	from = append(from, why.Given("percent", why.Text(p.Tax.Percent.String()+" %"), p.Tax.Source))
	b.Lines = append(b.Lines, Line{Class: Tax, ID: "tax", Say: say, Amount: tax, Why: why.Found(taxRule, say, b.sum(tax), from...)})
	b.Notes = append(b.Notes, say+", taken once on their sum"+closed(sourceNote(p.Tax)))
	return nil
}

// taxed returns the classes the rule falls on for this bill: parts drop out
// where their share of the charge is not more than the rule's.
func (b *Bill) taxed(r TaxRule) ([]Class, error) {
	if !r.HasShare || !slices.Contains(r.On, Parts) {
		return r.On, nil
	}
	parts, err := b.of(Parts)
	if err != nil {
		return nil, err
	}
	charge, err := b.of(Labor, Parts, Other, Fee)
	if err != nil {
		return nil, err
	}
	over, err := r.shareOver(parts, charge, b.Currency)
	if err != nil {
		return nil, err
	}
	verb := "are more than"
	if !over {
		verb = "are not more than"
	}
	b.Notes = append(b.Notes, fmt.Sprintf("parts %s %v %% of the charge before tax%s", verb, r.ShareOver, closed(sourceNote(r))))
	if over {
		return r.On, nil
	}
	return slices.DeleteFunc(slices.Clone(r.On), func(c Class) bool { return c == Parts }), nil
}

// shareOver compares exactly: 100 · parts > percent · charge.
func (r TaxRule) shareOver(parts, charge money.Amount, c money.Currency) (bool, error) {
	left, err := money.Of(parts, c).Mul(money.Whole(100))
	if err != nil {
		return false, err
	}
	right, err := money.Of(charge, c).Mul(r.ShareOver)
	if err != nil {
		return false, err
	}
	return left.Cmp(right) > 0, nil
}

func (b *Bill) mark(on []Class) (money.Amount, []*why.Node, error) {
	var from []*why.Node
	for i := range b.Lines {
		if slices.Contains(on, b.Lines[i].Class) {
			b.Lines[i].Taxed = true
			from = append(from, b.Lines[i].Why)
		}
	}
	base, err := b.of(on...)
	return base, from, err
}

func names(classes []Class) string {
	words := make([]string, len(classes))
	for i, c := range classes {
		words[i] = string(c)
	}
	return strings.Join(words, ", ")
}

func sourceNote(r TaxRule) string {
	var said []string
	for _, s := range []string{r.Source, r.Date, r.Mark} {
		if s != "" {
			said = append(said, s)
		}
	}
	if len(said) == 0 {
		return ""
	}
	return " (" + strings.Join(said, ", ") + ")"
}

// roundingNote prints the setting that made the last digit.
func roundingNote(p Policy) string {
	return fmt.Sprintf("each line is rounded to %s %s, %s; totals add rounded lines", p.Currency.Format(1), p.Currency.Code, p.Rounding)
}
