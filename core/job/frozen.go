package job

import (
	"fmt"
	"slices"

	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/report"
)

// Reopen reads a frozen estimate back, to the cent. Nothing is reckoned anew.
func (f FrozenRecord) Reopen() (quote.Frozen, quote.Bill, error) {
	z, err := quote.ReadFrozen([]byte(f.Estimate))
	if err != nil {
		return quote.Frozen{}, quote.Bill{}, err
	}
	b, err := z.Bill()
	return z, b, err
}

// FrozenEstimate puts a frozen estimate on paper again. Lines, sums, notes,
// date and the day to which it holds are the frozen ones; what is told of amp and owner is as the job
// knows it now. Ratings are not kept in a frozen estimate and are left out.
func (r *Result) FrozenEstimate(f FrozenRecord) (report.Estimate, error) {
	z, b, err := f.Reopen()
	if err != nil {
		return report.Estimate{}, err
	}
	e, err := r.paper(b, z.Accept)
	e.Number, e.Date, e.Choice = z.Number, z.Date, z.Set
	e.Frozen = "frozen, rules " + z.Rule
	r.unplaced(&e, b, z.Accept)
	return e, err
}

// unplaced adds the lines of findings the job no longer has, so that the
// printed lines still come to the total.
func (r *Result) unplaced(e *report.Estimate, b quote.Bill, accept []string) {
	known := map[string]bool{}
	for _, o := range r.Options {
		if slices.Contains(accept, o.Option.ID) {
			known[o.Option.Finding] = true
		}
	}
	seen := map[string]bool{}
	for _, l := range b.Lines {
		if l.Finding == "" || known[l.Finding] || seen[l.Finding] {
			continue
		}
		seen[l.Finding] = true
		g := report.Group{ID: l.Finding, Work: l.Say, Seen: "no longer in the job"}
		var err error
		g.Lines, g.Sum, err = r.lines(b, func(o quote.Line) bool { return o.Finding == l.Finding })
		if err == nil {
			e.Groups = append(e.Groups, g)
		}
	}
}

// A Differs is one line of a frozen estimate that would come out otherwise
// now. A line that is new has no Was, one that is gone no Is.
type Differs struct {
	Say     string
	Was, Is money.Amount
}

// A Drift is what a frozen estimate would be now.
type Drift struct {
	Was, Is money.Amount // totals
	Lines   []Differs    // that differ, in the order of the bill
	Rule    bool         // the rules of reckoning are other ones
	Gone    []string     // accepted options the job no longer has
	Bill    quote.Bill   // as it would be now
}

// By returns the difference of the totals: now less frozen.
func (d Drift) By() money.Amount { return d.Is - d.Was }

// Drift reckons a frozen estimate anew with the books and facts of today and
// says what differs. The frozen one is not touched.
//
// Errors: it cannot be read, or its choice cannot be priced today.
func (r *Result) Drift(f FrozenRecord) (Drift, error) {
	z, was, err := f.Reopen()
	if err != nil {
		return Drift{}, err
	}
	d := Drift{Was: was.Total, Rule: z.Rule != fmt.Sprint(RuleVersion)}
	var accept []string
	for _, id := range z.Accept {
		if _, ok := r.worlds.at[id]; ok {
			accept = append(accept, id)
		} else {
			d.Gone = append(d.Gone, id)
		}
	}
	is, err := r.Bill(accept)
	if err != nil {
		return d, fmt.Errorf("the choice of estimate %s cannot be priced today: %w", z.Number, err)
	}
	is = r.Spoken(is)
	if is.Currency != was.Currency {
		return d, fmt.Errorf("estimate %s is in %s, the shop reckons in %s today", z.Number, was.Currency.Code, is.Currency.Code)
	}
	d.Is, d.Bill = is.Total, is
	d.Lines = differing(was.Lines, is.Lines)
	return d, nil
}

// lineKey tells which line of one bill is which of the other: the same kind of
// line of the same option. A part that was exchanged shows as one gone and one
// new.
func lineKey(l quote.Line) string {
	return string(l.Class) + "\x00" + l.Finding + "\x00" + l.Option + "\x00" + l.ID + "\x00" + l.List
}

func differing(was, is []quote.Line) []Differs {
	var keys []string
	at := map[string]*Differs{}
	note := func(l quote.Line, into func(*Differs)) {
		k := lineKey(l)
		if at[k] == nil {
			at[k] = &Differs{Say: l.Say}
			keys = append(keys, k)
		}
		into(at[k])
	}
	for _, l := range was {
		note(l, func(d *Differs) { d.Was += l.Amount })
	}
	for _, l := range is {
		note(l, func(d *Differs) { d.Is += l.Amount })
	}
	var out []Differs
	for _, k := range keys {
		if d := at[k]; d.Was != d.Is {
			out = append(out, *d)
		}
	}
	return out
}
