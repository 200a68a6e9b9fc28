package quote

import (
	"errors"
	"fmt"

	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/why"
)

var (
	partRule = &why.Rule{Name: "part line", Says: "The rounded price of a piece, times the pieces used.",
		Formula: "pieces · selling price", Source: "common practice, no source"}
	subRule = &why.Rule{Name: "subcontract", Says: "The mark-up falls on the subcontractor's price only.",
		Formula: "round(price · (1 + mark-up/100))", Source: "common practice, no source"}
	creditRule = &why.Rule{Name: "fee credit", Says: "The bench fee comes off again when work goes ahead, never more than the work is worth.",
		Formula: "− least of fee and labor + parts + other", Source: "common practice, no source"}
	totalRule = &why.Rule{Name: "total", Says: "Every printed line added.",
		Formula: "labor + parts + other + fee + tax", Source: "common practice, no source"}
)

// Price makes the bill of one choice. With nothing accepted it holds the fee
// alone. Errors: a part of no pieces, a negative price, a sum too large.
func Price(in Input) (Bill, error) {
	b := Bill{
		Currency: in.Policy.Currency, Rounding: in.Policy.Rounding,
		Hours: in.Labor.Hours, Independent: in.Labor.Independent, Linked: in.Labor.Linked,
	}
	b.addLabor(in.Labor)
	if err := b.addParts(in.Parts); err != nil {
		return Bill{}, err
	}
	if err := b.addSubcontracts(in.Subcontracts, in.Policy); err != nil {
		return Bill{}, err
	}
	if err := b.addFee(in.Policy); err != nil {
		return Bill{}, err
	}
	b.Notes = append(b.Notes, roundingNote(in.Policy))
	if err := b.addTax(in.Policy); err != nil {
		return Bill{}, err
	}
	if err := b.finish(in.Policy); err != nil {
		return Bill{}, err
	}
	return b, nil
}

func (b *Bill) sum(a money.Amount) money.Sum { return money.Sum{Amount: a, Currency: b.Currency} }

func (b *Bill) addLabor(e labor.Estimate) {
	for _, l := range e.Lines {
		b.Lines = append(b.Lines, Line{Class: Labor, ID: l.ID, Finding: l.Finding, Say: l.Say, For: l.For,
			Hours: l.Hours, Amount: l.Amount, Why: l.Why})
	}
}

func (b *Bill) addParts(parts []Part) error {
	var problems []error
	for _, p := range parts {
		l, err := b.partLine(p)
		if err != nil {
			problems = append(problems, fmt.Errorf("part %s of %s: %w", p.Number, p.Option, err))
			continue
		}
		b.Lines = append(b.Lines, l)
		b.lead(p.LeadDays, p.Number)
	}
	return errors.Join(problems...)
}

func (b *Bill) partLine(p Part) (Line, error) {
	if p.Pieces < 1 {
		return Line{}, fmt.Errorf("%d pieces, want 1 or more", p.Pieces)
	}
	if p.Selling < 0 {
		return Line{}, fmt.Errorf("the selling price is %s", b.Currency.Format(p.Selling))
	}
	amount, err := p.Selling.Times(int64(p.Pieces))
	if err != nil {
		return Line{}, err
	}
	pieces := why.Given("pieces", why.Text(fmt.Sprint(p.Pieces)), p.Option)
	each := p.Why
	if each == nil {
		each = why.Given("selling price", b.sum(p.Selling), p.List)
	}
	return Line{Class: Parts, ID: p.Number, List: p.List, Option: p.Option, Finding: p.Finding, Say: p.Say, State: p.State,
		Pieces: p.Pieces, Each: p.Selling, Amount: amount,
		Why: why.Found(partRule, p.Say, b.sum(amount), pieces, each)}, nil
}

func (b *Bill) addSubcontracts(subs []Subcontract, p Policy) error {
	for _, s := range subs {
		lines, err := b.subcontract(s, p)
		if err != nil {
			return fmt.Errorf("subcontract %s of %s: %w", s.Say, s.Option, err)
		}
		b.Lines = append(b.Lines, lines...)
		b.lead(s.LeadDays, s.Say)
	}
	return nil
}

func (b *Bill) subcontract(s Subcontract, p Policy) ([]Line, error) {
	if s.Price.Sign() < 0 || s.Carriage.Sign() < 0 {
		return nil, fmt.Errorf("price %v, carriage %v: want no negative sum", s.Price, s.Carriage)
	}
	price, err := money.Selling(s.Price, p.SubMarkup, p.Currency, p.Rounding)
	if err != nil {
		return nil, err
	}
	carriage, err := s.Carriage.Round(p.Currency, p.Rounding)
	if err != nil {
		return nil, err
	}
	work := Line{Class: Other, ID: s.Option, Option: s.Option, Finding: s.Finding, Say: s.Say, Amount: price}
	work.Why = why.Found(subRule, s.Say, b.sum(price),
		why.Given("subcontractor's price", why.Text(s.Price.String()+" "+p.Currency.Code), s.Where),
		why.Given("mark-up", why.Text(p.SubMarkup.String()+" %"), p.Where))
	if s.Carriage.IsZero() {
		return []Line{work}, nil
	}
	sent := Line{Class: Other, ID: s.Option, Option: s.Option, Finding: s.Finding, Say: s.Say + ", carriage at cost", Amount: carriage}
	sent.Why = why.Given(sent.Say, b.sum(carriage), s.Where)
	return []Line{work, sent}, nil
}

// addFee puts the fee on the bill and, where the shop credits it, takes it off
// again. The credit stops at what the work is worth: otherwise accepting a
// six-pound job would make a sixty-pound bill smaller.
func (b *Bill) addFee(p Policy) error {
	if p.Fee < 0 {
		return fmt.Errorf("bench fee: %s, want no negative sum", p.Currency.Format(p.Fee))
	}
	work, err := b.of(Labor, Parts, Other)
	if err != nil {
		return err
	}
	if p.Fee == 0 {
		return nil
	}
	fee := why.Given("bench fee", b.sum(p.Fee), p.Where)
	b.Lines = append(b.Lines, Line{Class: Fee, ID: "fee", Say: "bench fee", Amount: p.Fee, Why: fee})
	if credit := -p.credit(work); credit != 0 {
		b.Lines = append(b.Lines, Line{Class: Fee, ID: "fee credit", Say: "bench fee credited", Amount: credit,
			Why: why.Found(creditRule, "bench fee credited", b.sum(credit), fee)})
	}
	return nil
}

func (b *Bill) lead(days int, what string) {
	if days < 0 {
		b.NoLead = append(b.NoLead, what)
		return
	}
	b.ReadyDays = max(b.ReadyDays, days)
}

// of returns the sum of the printed lines of these classes.
func (b *Bill) of(classes ...Class) (money.Amount, error) {
	var sum money.Amount
	for _, l := range b.Lines {
		for _, c := range classes {
			if l.Class != c {
				continue
			}
			next, err := sum.Plus(l.Amount)
			if err != nil {
				return 0, fmt.Errorf("bill: sum of %s: %w", c, err)
			}
			sum = next
		}
	}
	return sum, nil
}
