package job

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/bench"
	"lugworth/core/money"
	"lugworth/core/plan"
	"lugworth/core/report"
	"lugworth/core/shop"
)

// sheet is what the sheets have in common.
func (r *Result) sheet(what, question string) report.Sheet {
	s := report.Sheet{Shop: r.Books.Sheet.Name, What: what, Number: r.Job.Number, Date: r.Now, Question: question,
		Facts: [][2]string{{"Amp", r.ampWords()}, {"Serial", orNone(r.Job.Amp.Serial)}, {"Supply", r.mainsWords()}}}
	if r.Job.Chain {
		s.Code = r.Code
	}
	return s
}

func (r *Result) ampWords() string {
	a := r.Job.Amp
	return joinWords(strings.TrimSpace(a.Maker+" "+a.Model), a.About)
}

// JobSheet is the work of the choice in force for the bench: what, with which
// parts, where, and what to watch for. It has no prices and no address.
//
// Errors: no choice is in force.
func (r *Result) JobSheet() (report.Sheet, error) {
	if r.Force < 0 {
		return report.Sheet{}, fmt.Errorf("no choice is in force: pick one first")
	}
	set := r.Sets[r.Force]
	s := r.sheet("Job sheet", "What is to be done?")
	s.Facts = append(s.Facts, [2]string{"Choice", set.Name}, [2]string{"Owner's words", r.Job.Owner.Complaint}, [2]string{"Put down", parkWords(r.Job.Park)})
	if w := bench.GateOf(r.Job.Triage).Words(); w != "" {
		s.Facts = append(s.Facts, [2]string{"Checks", w})
	}
	if ups := r.setUpWords(set.Accept); len(ups) > 0 {
		s.Blocks = append(s.Blocks, report.Block{Head: "Once for all of it", Notes: ups})
	}
	for _, f := range r.Findings {
		for _, i := range f.Options {
			if o := r.Options[i].Option; slices.Contains(set.Accept, o.ID) {
				s.Blocks = append(s.Blocks, r.workBlock(f, o, set.Lines))
			}
		}
	}
	s.Cautions = r.Cautions()
	return s, nil
}

func parkWords(p bench.Park) string {
	if !p.Parked() {
		return ""
	}
	say := p.Charge()
	for _, l := range p.Lines() {
		say += " " + l[0] + ": " + l[1] + "."
	}
	return say
}

// setUpWords are the set-ups the accepted work shares.
func (r *Result) setUpWords(accept []string) []string {
	var out []string
	for _, u := range r.Job.SetUps {
		for _, o := range r.Job.Options {
			if slices.Contains(accept, o.ID) && slices.Contains(o.SetUps, u.ID) {
				out = append(out, capital(u.Say))
				break
			}
		}
	}
	return out
}

func (r *Result) workBlock(f FindingResult, o *plan.Option, lines []plan.Line) report.Block {
	b := report.Block{ID: f.Finding.ID, Head: o.Say, Pile: string(f.Finding.Pile), Boxes: []string{"done", "checked"}, Lines: []string{"Hours", "Lot or date code of the new part", "New finds"}}
	found := "Found: " + string(f.Finding.Seen)
	if f.Finding.Place != "" {
		found += ", at " + string(f.Finding.Place)
	}
	b.Notes = append(b.Notes, found, capital(joinWords(orUnsaidWord(matters[o.Matter]), undos[o.Undo])))
	if w := r.Job.Reasons[o.ID]; w != "" {
		b.Notes = append(b.Notes, "Recorded reason: "+w)
	}
	for _, l := range lines {
		if l.Option != o.ID {
			continue
		}
		if len(b.Cols) == 0 {
			b.Cols = []string{"Part", "Goes to", "From", "Verdict", "Pieces"}
		}
		b.Rows = append(b.Rows, partRow(o, l))
	}
	return b
}

func orUnsaidWord(s string) string {
	if s == "" {
		return "not stated what becomes of the old part"
	}
	return s
}

// partRow is one part of the work: what, where to, where from, how it is
// judged and how many.
func partRow(o *plan.Option, l plan.Line) []string {
	places := strings.Join(o.Parts[l.Part].For, " ")
	if l.Chosen == nil {
		return []string{o.Parts[l.Part].Is, places, "", l.Problem, fmt.Sprint(l.Qty)}
	}
	verdict := "not judged"
	if d, ok := l.Chosen.Decides(); ok {
		verdict = string(d.Quantity) + ": " + verdictWords(d)
	}
	if l.Problem != "" {
		verdict = l.Problem
	}
	return []string{PartWords(l.Chosen.Offer), places, l.Chosen.Offer.List + " " + l.Chosen.Offer.Number, verdict, fmt.Sprint(l.Qty)}
}

// BagLabels is a label for each old part that comes out with the choice in
// force, and one for the amp itself.
//
// Errors: no choice is in force.
func (r *Result) BagLabels() (report.Sheet, error) {
	if r.Force < 0 {
		return report.Sheet{}, fmt.Errorf("no choice is in force: pick one first")
	}
	s := r.sheet("Labels", "")
	s.Labels = append(s.Labels, report.Label{Head: r.Job.Number, Say: r.ampWords(), Lines: []string{"Serial " + orNone(r.Job.Amp.Serial), "Supply " + r.mainsWords(), "Taken in " + orNone(r.Job.Receipt.Date)}})
	for _, f := range r.Findings {
		for _, i := range f.Options {
			o := r.Options[i].Option
			if o.Matter != shop.Bagged || !slices.Contains(r.accepted(), o.ID) {
				continue
			}
			s.Labels = append(s.Labels, report.Label{Head: r.Job.Number + " · " + f.Finding.ID, Say: "Old part: " + string(f.Finding.Seen),
				Lines: []string{"From " + orNone(joinWords(append(slices.Clone([]string(f.Finding.Positions)), string(f.Finding.Place))...)), r.ampWords(), "Goes back to the owner. Out on: "}})
		}
	}
	return s, nil
}

// DecisionList is what the owner decides, on paper: each finding with its
// ways, what each changes from the present choice, how it looks, whether it
// can be undone, and what a no means.
//
// Errors: the choices cannot be priced.
func (r *Result) DecisionList() (report.Sheet, error) {
	deltas, err := r.Deltas()
	if err != nil {
		return report.Sheet{}, err
	}
	by := map[string]int{}
	for i, d := range deltas {
		by[d.Option] = i
	}
	s := r.sheet("Decisions", "What is done, and what is left?")
	s.Facts = append(s.Facts, [2]string{"For", r.Job.Owner.Name})
	c := r.Policy.Currency
	for _, pile := range []shop.Pile{shop.Must, shop.Should, shop.Could} {
		for _, f := range r.Findings {
			if f.Finding.Pile != pile || len(f.Options) == 0 {
				continue
			}
			b := report.Block{ID: f.Finding.ID, Head: string(f.Finding.Seen), Pile: string(pile), Cols: []string{"Way", "Look and old part", "Undo", "From the present choice, " + c.Code}, Boxes: []string{"yes", "no", "think about it"}, Lines: []string{"Which way"}}
			for _, i := range f.Options {
				o := r.Options[i].Option
				change := "not priced"
				if at, ok := by[o.ID]; ok {
					change = deltaWords(c, deltas[at].Total, deltas[at].Accepted)
				}
				if r.Options[i].Refused != "" {
					change = "not offered: " + r.Options[i].Refused
				}
				b.Rows = append(b.Rows, []string{o.ID + " " + o.Say, capital(lookWords(o)), capital(undoWords(o)), change})
			}
			no := string(f.Finding.No)
			if no == "" {
				no = "What a no means is not written down yet."
			}
			b.Notes = append(b.Notes, "If not done: "+no)
			s.Blocks = append(s.Blocks, b)
		}
	}
	s.Blocks = append(s.Blocks, report.Block{Head: "How to read the figures", Notes: []string{"Each figure is what that one step changes from the present choice. They do not add up: work that is shared is counted once, and parts come in packs.", "Ask before you add them: the shop works out any choice at once."}})
	return s, nil
}

// deltaWords is what turning an option over changes: of one that is taken,
// what leaving it out saves.
func deltaWords(c money.Currency, d money.Amount, taken bool) string {
	say := "+" + c.Format(d)
	if d < 0 {
		say = c.Format(-d) + " less"
	}
	if taken {
		return "taken; left out, " + say
	}
	return say
}

// ChangeOrder is what changed since the owner last agreed: line by line, with
// the new total, and what is asked. It stands beside the frozen estimate and
// changes nothing in it.
//
// Errors: no consent that names a frozen estimate, or nothing to compare.
func (r *Result) ChangeOrder() (report.Sheet, error) {
	steps, was, is, ok := r.Since()
	if !ok {
		return report.Sheet{}, fmt.Errorf("no answer of the owner is on record that names a frozen estimate")
	}
	c := r.Policy.Currency
	last := r.Job.Consents[len(r.Job.Consents)-1]
	s := r.sheet("Change order "+fmt.Sprint(len(r.Job.Consents)), "What changed since it was agreed?")
	s.Facts = append(s.Facts, [2]string{"For", r.Job.Owner.Name}, [2]string{"Against estimate", last.Estimate})
	b := report.Block{Head: "Line by line", Cols: []string{"What", "Agreed", "Now", "Difference, " + c.Code}}
	for _, x := range steps {
		b.Rows = append(b.Rows, []string{capital(x.Say), amountOr(c, x.Was, x.New), amountOr(c, x.Is, x.Out), byMoney(c, x.Is-x.Was)})
	}
	b.Rows = append(b.Rows, []string{"Total", c.Format(was), c.Format(is), byMoney(c, is-was)})
	a := r.Authority()
	ask := report.Block{Head: "What is asked", Notes: []string{a.Say(c)}, Boxes: []string{"agreed", "not agreed"}, Lines: []string{"Signature", "Date"}}
	if a.Covers() {
		ask.Notes = append(ask.Notes, "Nothing needs to be agreed anew.")
	}
	s.Blocks = append(s.Blocks, b, ask, report.Block{Head: "Agreed before", Notes: []string{last.Words()}})
	return s, nil
}

func amountOr(c money.Currency, a money.Amount, none bool) string {
	if none {
		return ""
	}
	return c.Format(a)
}

func byMoney(c money.Currency, d money.Amount) string {
	switch {
	case d > 0:
		return "+" + c.Format(d)
	case d < 0:
		return "−" + c.Format(-d)
	}
	return c.Format(d)
}
