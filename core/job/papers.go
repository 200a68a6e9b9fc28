package job

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/report"
	"lugworth/core/shop"
	"lugworth/core/stress"
)

// OrderFiles writes one CSV for each supplier of the set in force. They hold
// no id and no time: the same order gives the same bytes.
func (r *Result) OrderFiles() ([]File, []string, error) {
	var files []File
	var warnings []string
	for _, b := range r.Buy.Baskets {
		if len(b.Lines) == 0 {
			continue
		}
		data, more, err := order.Write(b, r.Job.Number, r.Books.ProfileOf(b.Supplier))
		if err != nil {
			return nil, nil, fmt.Errorf("order to %s: %w", b.Supplier, err)
		}
		files = append(files, File{Name: "order-" + b.Supplier + ".csv", Data: data})
		warnings = append(warnings, more...)
	}
	return files, warnings, nil
}

// ProfileOf returns how a supplier wants an order written.
func (b *Books) ProfileOf(supplier string) order.Profile {
	if p, ok := b.Profiles[supplier]; ok {
		return p
	}
	return order.DefaultProfile(supplier)
}

// EstimateHTML writes the estimate of the set in force as one page.
func (r *Result) EstimateHTML() ([]byte, error) {
	e, err := r.Estimate()
	if err != nil {
		return nil, err
	}
	return e.HTML(), nil
}

// Estimate puts the set in force into a written estimate.
//
// Errors: no set is in force, or it cannot be priced.
func (r *Result) Estimate() (report.Estimate, error) {
	if r.Force < 0 {
		return report.Estimate{}, fmt.Errorf("no choice is in force: pick one first")
	}
	s := r.Sets[r.Force]
	if s.Err != "" {
		return report.Estimate{}, fmt.Errorf("choice %s cannot be priced: %s", s.Name, s.Err)
	}
	j := r.Job
	e := report.Estimate{
		Shop: r.Books.Sheet.Name, Number: j.Number, Date: r.Now, Choice: s.Name,
		Owner: j.Owner.Name, Address: j.Owner.Address, Phone: j.Owner.Phone, Complaint: j.Owner.Complaint,
		Amp: joinWords(j.Amp.Maker, j.Amp.Model, j.Amp.About), Serial: orNone(j.Amp.Serial), Mains: r.mainsWords(),
		Ready: r.readyWords(s), Ceiling: j.Bounds.Ceiling, Sums: r.sums(s), Notes: s.Bill.Notes,
	}
	for _, f := range r.Findings {
		r.addGroup(&e, f, s)
	}
	for _, l := range s.Bill.Lines {
		if l.Class == quote.Labor && l.Finding == "" {
			e.Shared = append(e.Shared, r.billLine(l))
		}
	}
	for _, v := range s.Standing {
		if v.Kind != rating.Within && v.Scenario != stress.Bench {
			e.Standing = append(e.Standing, v.Subject+" "+string(v.Quantity)+", "+v.Scenario+": "+v.Kind.String()+"; "+v.Reason())
		}
	}
	e.Cautions = r.Cautions()
	if j.Chain {
		e.Code = r.Code
	}
	return e, nil
}

// addGroup adds one finding: its accepted work, or a line under "not part".
func (r *Result) addGroup(e *report.Estimate, f FindingResult, s SetResult) {
	done := false
	for _, i := range f.Options {
		o := &r.Options[i]
		if !slices.Contains(s.Accept, o.Option.ID) {
			continue
		}
		done = true
		e.Groups = append(e.Groups, r.group(f, o, s))
	}
	if !done && len(f.Options) > 0 {
		e.Declined = append(e.Declined, f.Finding.ID+" "+string(f.Finding.Seen)+". "+string(f.Finding.No))
	}
}

func (r *Result) group(f FindingResult, o *OptionResult, s SetResult) report.Group {
	g := report.Group{ID: f.Finding.ID, Pile: string(f.Finding.Pile), Seen: string(f.Finding.Seen), Basis: string(f.Finding.Basis),
		Work: o.Option.Say, Look: lookWords(o.Option), Undo: undoWords(o.Option), Disclosure: o.Option.Disclosure}
	for _, l := range s.Bill.Lines {
		if l.Option == o.Option.ID || l.Class == quote.Labor && l.ID == o.Option.Task && l.Finding == f.Finding.ID {
			g.Lines = append(g.Lines, r.billLine(l))
		}
	}
	for _, l := range s.Lines {
		if l.Option != o.Option.ID || l.Chosen == nil {
			continue
		}
		if d, ok := l.Chosen.Decides(); ok {
			g.Ratings = append(g.Ratings, l.Chosen.Offer.Text+", "+string(d.Quantity)+": "+d.Kind.String()+"; "+d.Reason())
		}
	}
	return g
}

func (r *Result) billLine(l quote.Line) report.Line {
	c := r.Policy.Currency
	out := report.Line{Say: l.Say, Amount: c.Format(l.Amount)}
	switch l.Class {
	case quote.Labor:
		out.Count = fixed(float64(l.Hours), 2) + " h"
		out.Each = r.Books.Sheet.Rate.String()
	case quote.Parts:
		out.Count, out.Each, out.State = fmt.Sprint(l.Pieces), c.Format(l.Each), l.State
	}
	return out
}

func (r *Result) sums(s SetResult) []report.Sum {
	c, b := r.Policy.Currency, s.Bill
	all := []struct {
		say string
		a   money.Amount
	}{{"Labor", b.Labor}, {"Parts", b.Parts}, {"Work sent out", b.Other}, {"Bench fee", b.Fee}, {"Tax", b.Tax}}
	var out []report.Sum
	for _, x := range all {
		if x.a != 0 {
			out = append(out, report.Sum{Say: x.say, Amount: c.Format(x.a)})
		}
	}
	out = append(out, report.Sum{Say: "Total in " + c.Code + ", at most, for the work listed", Amount: c.Format(b.Total), Strong: true})
	if b.Allowance != 0 {
		out = append(out, report.Sum{Say: "Allowance for finds, charged only if agreed", Amount: c.Format(b.Allowance)},
			report.Sum{Say: "With the allowance", Amount: c.Format(b.WithAllowance)})
	}
	return append(out, report.Sum{Say: "Estimate as the rule of the place defines it", Amount: c.Format(b.Estimate)}, report.Sum{Say: "Amount payable", Amount: c.Format(b.Payable), Strong: true})
}

func (r *Result) mainsWords() string {
	m := r.Job.Mains
	if !m.Declared() {
		return "range not declared"
	}
	w := plainVolts(m.Low) + " to " + plainVolts(m.High) + " V"
	if m.Measured > 0 {
		w += ", measured " + plainVolts(m.Measured) + " V"
	}
	return w
}

func (r *Result) readyWords(s SetResult) string {
	w := fmt.Sprintf("parts and work sent out: %d days from the order (%s); bench time not counted", s.ReadyDays, r.Books.Sheet.DateTest)
	if len(s.Bill.NoLead) > 0 {
		w += "; no lead time stated for " + strings.Join(s.Bill.NoLead, ", ")
	}
	return w
}

func lookWords(o *plan.Option) string {
	if o.Look == "" {
		return ""
	}
	return "Look: " + string(o.Look) + ". Original part: " + string(o.Matter)
}

func undoWords(o *plan.Option) string {
	switch o.Undo {
	case shop.U0:
		return "Undo: nothing is touched (U0)"
	case shop.U1:
		return "Undo: solder or plug only (U1)"
	case shop.U2:
		return "Undo: leaves a mark (U2)"
	case shop.U3:
		return "Undo: cannot be undone (U3)"
	}
	return ""
}

func orNone(s string) string {
	if s == "" {
		return "none found"
	}
	return s
}

func joinWords(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, ", ")
}
