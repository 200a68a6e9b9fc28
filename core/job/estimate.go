package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lugworth/core/bench"
	"lugworth/core/catalog"
	"lugworth/core/finding"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/report"
	"lugworth/core/stress"
)

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
	e, err := r.paper(r.Spoken(s.Bill), s.Accept)
	if err != nil {
		return e, err
	}
	e.Number, e.Date, e.Choice, e.Valid = r.Job.Number, r.Now, s.Name, validWords(r.Now, r.Books.Sheet.ValidDays)
	for i := range e.Groups {
		e.Groups[i].Ratings = r.ratingWords(s, e.Groups[i].ID)
	}
	e.Standing = standingWords(s.Standing)
	if reserve := r.Books.Sheet.Reserve; !reserve.IsZero() {
		e.Notes = append(e.Notes, "A capacitor, resistor or fuse that stands here without a remark is inside its rating on your supply, a capacitor with the shop's reserve of "+reserve.String()+" % as well. Of other parts no rating is judged here.")
	}
	return e, nil
}

// paper is what an estimate and a frozen one have in common: the bill, and
// the facts of the job around it.
func (r *Result) paper(b quote.Bill, accept []string) (report.Estimate, error) {
	j := r.Job
	e := report.Estimate{
		Shop: r.Books.Sheet.Name, ShopSays: r.shopSays(), Receipt: receiptWords(r),
		Owner: j.Owner.Name, Address: j.Owner.Address, Phone: j.Owner.Phone, Complaint: j.Owner.Complaint,
		Amp: joinWords(strings.TrimSpace(j.Amp.Maker+" "+j.Amp.Model), j.Amp.About), Serial: orNone(j.Amp.Serial), Mains: strings.ReplaceAll(r.mainsWords(), " V", "\u00a0V"),
		Most: b.Currency.Format(b.Total), Currency: b.Currency.Code, Ready: readyWords(b), Ceiling: ceilingSaid(j.Bounds.Ceiling, b.Currency.Code),
		OldParts: r.oldParts(accept), Sums: r.sums(b), Notes: r.terms(b), Cautions: r.Cautions(), Consents: r.consentWords(),
	}
	for _, f := range r.Findings {
		if err := r.addFinding(&e, f, b, accept); err != nil {
			return e, err
		}
	}
	if w := bench.GateOf(j.Triage).Words(); w != "" {
		e.Notes = append(e.Notes, w)
	}
	if a := r.Agreement(); a != "" {
		e.Notes = append(e.Notes, a)
	}
	var err error
	e.Shared, e.SharedSum, err = r.lines(b, func(l quote.Line) bool { return l.Class == quote.Labor && l.Finding == "" })
	if j.Chain {
		e.Code = r.Code
	}
	return e, err
}

// addFinding adds one finding: the work accepted for it, or a line under "not
// part".
func (r *Result) addFinding(e *report.Estimate, f FindingResult, b quote.Bill, accept []string) error {
	done := false
	for _, i := range f.Options {
		o := r.Options[i].Option
		if !slices.Contains(accept, o.ID) {
			continue
		}
		done = true
		g := report.Group{ID: f.Finding.ID, Pile: string(f.Finding.Pile), Seen: string(f.Finding.Seen), Basis: basisWords(f.Finding.Basis),
			Work: o.Say, Look: lookWords(o), Undo: undoWords(o), Disclosure: o.Disclosure}
		var err error
		g.Lines, g.Sum, err = r.lines(b, func(l quote.Line) bool {
			return l.Option == o.ID || l.Class == quote.Labor && l.Finding == o.Finding && (l.ID == o.Task || l.ID == o.ID)
		})
		if err != nil {
			return err
		}
		e.Groups = append(e.Groups, g)
	}
	if !done {
		e.Declined = append(e.Declined, declinedWords(f))
	}
	return nil
}

func declinedWords(f FindingResult) string {
	w := f.Finding.ID + ": " + string(f.Finding.Seen) + "."
	if f.Finding.No != "" {
		w += " If left: " + string(f.Finding.No)
	}
	return w
}

// lines prints the lines of a bill that belong together, and their sum.
func (r *Result) lines(b quote.Bill, mine func(quote.Line) bool) ([]report.Line, string, error) {
	var out []report.Line
	var sum money.Amount
	var err error
	for _, l := range b.Lines {
		if !mine(l) {
			continue
		}
		if sum, err = sum.Plus(l.Amount); err != nil {
			return nil, "", err
		}
		out = append(out, r.printed(l, b.Currency))
	}
	return out, b.Currency.Format(sum), nil
}

func (r *Result) printed(l quote.Line, c money.Currency) report.Line {
	out := report.Line{Say: l.Say, Amount: c.Format(l.Amount)}
	switch l.Class {
	case quote.Labor:
		out.Count = fixed(float64(l.Hours), 2) + " h"
		if l.Finding != "" {
			out.Say = "Labor"
		}
	case quote.Parts:
		out.Count, out.Each, out.State = fmt.Sprint(l.Pieces), c.Format(l.Each), orUnsaid(l.State)
	}
	return out
}

func orUnsaid(state string) string {
	if state == "" {
		return "new or used: not stated"
	}
	return state
}

// sums prints the totals. The one the owner asks for is marked.
func (r *Result) sums(b quote.Bill) []report.Sum {
	all := []struct {
		say    string
		a      money.Amount
		strong bool
		show   bool
	}{
		{"Labor", b.Labor, false, true}, {"Parts", b.Parts, false, b.Parts != 0}, {"Work sent out", b.Other, false, b.Other != 0},
		{"Bench fee", b.Fee, false, b.Fee != 0}, {r.taxSays(b), b.Tax, false, b.Tax != 0},
		{"At most, in " + b.Currency.Code, b.Total, true, true},
		{"Without tax, as an estimate there is reckoned", b.Estimate, false, b.Estimate != b.Total},
		{"Asked in advance", b.Deposit, false, b.Deposit != 0}, {"Due at hand-back", b.Balance, false, b.Deposit != 0},
		{"Kept for finds, charged only once agreed", b.Allowance, false, b.Allowance != 0},
		{"At most, finds included", b.WithAllowance, false, b.Allowance != 0},
	}
	var out []report.Sum
	for _, x := range all {
		if x.show {
			out = append(out, report.Sum{Say: x.say, Amount: b.Currency.Format(x.a), Strong: x.strong})
		}
	}
	return out
}

// taxSays is the tax line as the bill names it: "Tax 8 % on parts".
func (r *Result) taxSays(b quote.Bill) string {
	for _, l := range b.Lines {
		if l.Class == quote.Tax {
			return capital(l.Say)
		}
	}
	return "Tax"
}

// basisWords marks what was worked out and not seen.
func basisWords(b finding.Basis) string {
	if b == finding.Observed {
		return ""
	}
	return string(b)
}

// ratingWords says of each part of a finding how it stands to its rating,
// where it is not simply within.
func (r *Result) ratingWords(s SetResult, of string) []string {
	var out []string
	for _, l := range s.Lines {
		o := r.Options[r.worlds.at[l.Option]].Option
		if o.Finding != of || l.Chosen == nil {
			continue
		}
		switch d, ok := l.Chosen.Decides(); {
		case ok && d.Kind != rating.Within:
			out = append(out, PartWords(l.Chosen.Offer)+": "+string(d.Quantity)+" "+verdictWords(d))
		case !ok && rated(l.Chosen.Offer.Part.Kind):
			out = append(out, PartWords(l.Chosen.Offer)+": not judged, nothing says what its place bears")
		}
		if w := r.Job.Reasons[o.ID]; w != "" && !slices.Contains(out, "Recorded reason: "+w) {
			out = append(out, "Recorded reason: "+w)
		}
	}
	return out
}

// rated reports whether parts of a kind carry a rating that can be judged.
func rated(k catalog.Kind) bool { return k.IsCapacitor() || k.IsResistor() || k == catalog.Fuse }

// standingWords lists what the amp bears and does not keep with the work
// done: of each quantity and verdict the worst, with all places it holds for.
// Figures at the bench are for the technician.
func standingWords(all []rating.Judgment) []string {
	type group struct {
		worst    rating.Judgment
		subjects []string
	}
	var groups []*group
	for _, v := range all {
		if v.Kind == rating.Within || v.Scenario == stress.Bench {
			continue
		}
		i := slices.IndexFunc(groups, func(g *group) bool { return g.worst.Quantity == v.Quantity && g.worst.Kind == v.Kind })
		if i < 0 {
			groups = append(groups, &group{worst: v, subjects: []string{v.Subject}})
			continue
		}
		g := groups[i]
		if !slices.Contains(g.subjects, v.Subject) {
			g.subjects = append(g.subjects, v.Subject)
		}
		if m, ok := v.Margin(); ok {
			if was, has := g.worst.Margin(); !has || m < was {
				g.worst = v
			}
		}
	}
	var out []string
	for _, g := range groups {
		out = append(out, strings.Join(g.subjects, ", ")+": "+string(g.worst.Quantity)+", "+g.worst.Scenario+": "+verdictWords(g.worst))
	}
	return out
}

// verdictWords says a verdict once, where its reason names it already, and
// leaves out what only the technician can do about it.
func verdictWords(v rating.Judgment) string {
	w := v.Own()
	if v.Because == rating.FromMemory {
		w, _, _ = strings.Cut(w, ": ")
	}
	if v.Kind.Over() || v.Kind == rating.Within {
		return w
	}
	return v.Kind.String() + "; " + w
}

// validWords says to which day an estimate holds.
func validWords(now string, days int) string {
	if days <= 0 {
		return ""
	}
	day, err := time.Parse(time.DateOnly, now)
	if err != nil {
		return fmt.Sprintf("holds for %d days", days)
	}
	return "holds to " + day.AddDate(0, 0, days).Format(time.DateOnly)
}
