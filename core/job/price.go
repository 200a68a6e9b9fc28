package job

import (
	"fmt"

	"lugworth/core/catalog"
	"lugworth/core/decision"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/why"
)

var ruleSelling = &why.Rule{
	Name: "selling price", Says: "What a piece costs the shop at its door, with the shop's mark-up, rounded once.",
	Formula: "round(list price · rate · (1 + tax not reclaimed) · (1 + mark-up))", Source: "the shop's own policy",
}

// laborBook holds the bench task of each option.
type laborBook struct{ tasks map[string]labor.Task }

func newLaborBook(j *Job) laborBook {
	b := laborBook{tasks: map[string]labor.Task{}}
	for _, o := range j.Options {
		b.tasks[o.ID] = labor.Task{ID: o.Task, Finding: o.Finding, Say: o.Say, SetUps: o.SetUps, In: o.In, After: j.before(&o), Where: "option " + o.ID,
			Three: labor.Three{Low: o.Low, Mode: o.Mode, High: o.High}}
	}
	return b
}

// Bill prices one choice, given in the order of the model, every line with
// its reason. A choice with a part that no offer serves cannot be priced: a
// total that left it out would be a floor passed off as a price.
func (r *Result) Bill(accept []string) (quote.Bill, error) {
	in, err := r.input(accept)
	if err != nil {
		return quote.Bill{}, err
	}
	return quote.Price(in)
}

func (r *Result) input(accept []string) (quote.Input, error) {
	in := quote.Input{Policy: r.Policy}
	if r.stops != nil {
		return in, r.stops
	}
	w := r.worlds.under(accept)
	var tasks []labor.Task
	for _, id := range accept {
		o := &r.Job.Options[r.worlds.at[id]]
		if err := r.unclear(o); err != nil {
			return in, err
		}
		tasks = append(tasks, r.labor.tasks[id])
		for _, l := range r.worlds.linesOf(id, w) {
			p, err := r.partOf(o, l)
			if err != nil {
				return in, err
			}
			in.Parts = append(in.Parts, p)
		}
		for _, s := range o.Other {
			in.Subcontracts = append(in.Subcontracts, quote.Subcontract{Option: o.ID, Finding: o.Finding, Say: s.Say, Price: s.Price, Carriage: s.Carriage, LeadDays: s.Days})
		}
	}
	e, err := labor.Sum(tasks, r.Job.SetUps, quote.RateOf(r.Books.Sheet, "shop sheet"))
	in.Labor = e
	return in, err
}

func (r *Result) partOf(o *plan.Option, l plan.Line) (quote.Part, error) {
	if l.Chosen == nil {
		return quote.Part{}, fmt.Errorf("option %s: %s", o.ID, l.Problem)
	}
	c := l.Chosen
	if c.Cost.Err != nil {
		return quote.Part{}, fmt.Errorf("option %s, %s %s: %w", o.ID, c.Offer.List, c.Offer.Number, c.Cost.Err)
	}
	return quote.Part{
		Option: o.ID, Finding: o.Finding, Say: c.Offer.Text, List: c.Offer.List, Number: c.Offer.Number, State: "new",
		Pieces: l.Qty, Selling: c.Cost.Selling, LeadDays: c.Offer.LeadDays, Why: r.sellingNode(c),
	}, nil
}

func (r *Result) sellingNode(c *plan.Candidate) *why.Node {
	t := r.Books.termsOf(c.Offer.List)
	where := c.Offer.File + ":" + fmt.Sprint(c.Offer.Line)
	from := []*why.Node{why.Given("list price a piece", why.Text(c.Offer.Price.String()+" "+c.Offer.Currency), where)}
	if t.Currency != r.Policy.Currency.Code || t.Rate.Cmp(money.Whole(1)) != 0 {
		from = append(from, why.Given("rate", why.Text("1 "+t.Currency+" = "+t.Rate.String()+" "+r.Policy.Currency.Code), rateFrom(t)))
	}
	if !t.TaxInPrice && !t.TaxNotReclaimed.IsZero() {
		from = append(from, why.Given("tax not reclaimed", why.Text(t.TaxNotReclaimed.String()+" %"), "terms of "+t.List))
	}
	from = append(from, why.Given("landed at the door", why.Text(c.Cost.Landed.String()+" "+r.Policy.Currency.Code), ""),
		why.Given("mark-up", why.Text(r.Books.Sheet.Markup.String()+" %"), "shop sheet, markup"))
	return why.Found(ruleSelling, c.Offer.Text, money.Sum{Amount: c.Cost.Selling, Currency: r.Policy.Currency}, from...)
}

// pricer prices a choice for the decision model: by the ledger, else by whole
// bills. The floor is nil where there is none.
func (r *Result) pricer() (decision.Pricer, *floor) {
	if l, ok := newLedger(r); ok {
		return l.price, newFloor(r, l)
	}
	return r.billed, nil
}

// billed prices a choice by its whole bill.
func (r *Result) billed(accept []string) (decision.Price, error) {
	b, err := r.Bill(accept)
	if err != nil {
		return decision.Price{}, err
	}
	return decision.Price{Total: b.Total, Hours: float64(b.Hours), ReadyDays: b.ReadyDays, NoLead: b.NoLead}, nil
}

// Best is the choice worth most under the owner's ceiling and date. It tries
// every choice there is, so it is asked for apart from Derive.
func (r *Result) Best() (decision.Best, error) {
	m, err := r.Model()
	if err != nil {
		return decision.Best{}, err
	}
	return m.Best()
}

// Deltas are what turning each option over would change, from the present
// choice.
func (r *Result) Deltas() ([]decision.Delta, error) {
	m, err := r.Model()
	if err != nil {
		return nil, err
	}
	return m.Deltas(r.accepted())
}

// rateFrom says where a rate comes from, and of which day it is where stated.
func rateFrom(t catalog.Terms) string {
	if t.RateDate == "" {
		return "terms of " + t.List
	}
	return "terms of " + t.List + ", rate of " + t.RateDate
}
