package job

import (
	"fmt"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/bench"
	"lugworth/core/finding"
	"lugworth/core/plan"
	"lugworth/core/report"
	"lugworth/core/shop"
	"lugworth/core/unit"
)

// agreedWork is the work that counts when the amp leaves: what the owner last
// agreed to, else the choice in force.
func (r *Result) agreedWork() []string {
	if n := len(r.Job.Consents); n > 0 {
		return r.Job.Consents[n-1].Accept
	}
	return r.accepted()
}

// Leaving is everything the release of the amp rests on.
func (r *Result) Leaving() bench.Leaving {
	l := bench.Leaving{Finals: r.Job.Finals}
	for _, x := range r.Job.Amp.Readings {
		l.Chart = l.Chart || x.Has(amp.Final)
	}
	work := r.agreedWork()
	closed := map[string]bool{}
	by, _ := finding.Close(r.Job.Findings, func(id string) bool {
		return slices.ContainsFunc(r.Findings, func(f FindingResult) bool { return f.Finding.ID == id && r.mended(f, work) })
	})
	for _, c := range by {
		closed[c.Finding] = true
	}
	for _, f := range r.Findings {
		must := f.Finding.Pile == shop.Must || f.Pile() == shop.Must
		if must && !closed[f.Finding.ID] && !r.mended(f, work) {
			l.Declined = append(l.Declined, f.Finding.ID+", "+string(f.Finding.Seen))
		}
	}
	for _, o := range r.OldParts() {
		if o.Place == "" {
			l.OldOpen = append(l.OldOpen, o.Finding+", "+o.Seen)
		}
	}
	return l
}

// mended reports whether the work for a finding is among what was agreed. What
// only stands beside other work, or is done if something is found, does not
// mend it where there is a way that does.
func (r *Result) mended(f FindingResult, work []string) bool {
	way, beside := false, false
	for _, i := range f.Options {
		o := r.Options[i].Option
		if mends := !o.Both && o.Chance == 0; mends && slices.Contains(work, o.ID) {
			return true
		} else if mends {
			way = true
		} else {
			beside = beside || slices.Contains(work, o.ID)
		}
	}
	return beside && !way
}

// Release says whether the amp may leave in working order.
func (r *Result) Release() bench.Release { return bench.ReleaseOf(r.Leaving()) }

// An OldPart is a part that comes out with the agreed work, and where it went.
type OldPart struct {
	Option, Finding, Seen string
	Meant                 shop.Matter // what the option says becomes of it
	bench.OldPart
}

// OldParts lists the parts that come out, in the order of the job.
func (r *Result) OldParts() []OldPart {
	work := r.agreedWork()
	var out []OldPart
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		if o.Matter == shop.Untouched || o.Matter == "" && len(o.Parts) == 0 || !slices.Contains(work, o.ID) {
			continue
		}
		p := OldPart{Option: o.ID, Finding: o.Finding, Meant: o.Matter}
		if at := slices.IndexFunc(r.Job.Findings, func(f finding.Finding) bool { return f.ID == o.Finding }); at >= 0 {
			p.Seen = string(r.Job.Findings[at].Seen)
		}
		for _, x := range r.Job.OldParts {
			if x.ID == o.ID {
				p.OldPart = x
			}
		}
		out = append(out, p)
	}
	return out
}

// HandBack is the report the amp leaves with: in front what people ask, behind
// it the figures.
//
// Errors: no work is in force.
func (r *Result) HandBack() (report.Sheet, error) {
	work := r.agreedWork()
	if len(work) == 0 {
		return report.Sheet{}, fmt.Errorf("no work is in force: there is nothing to report")
	}
	s := r.sheet("Hand-back report", "What was done, and what was left?")
	s.Facts = append(s.Facts, [2]string{"Owner's words", r.Job.Owner.Complaint})
	rel := r.Release()
	front := report.Block{Head: "Release", Notes: []string{rel.Say(), rel.PassedOver(), bench.GateOf(r.Job.Triage).Words()}}
	s.Blocks = append(s.Blocks, front)
	lines := r.linesOf(work)
	for _, f := range r.Findings {
		for _, i := range f.Options {
			if o := r.Options[i].Option; slices.Contains(work, o.ID) {
				s.Blocks = append(s.Blocks, r.doneBlock(f, o, lines))
			}
		}
	}
	s.Blocks = append(s.Blocks, r.leftBlocks(work)...)
	s.Blocks = append(s.Blocks, r.oldPartBlock(), r.testBlock(), r.chartBlock())
	s.Blocks = slices.DeleteFunc(s.Blocks, func(b report.Block) bool { return len(b.Notes)+len(b.Rows) == 0 })
	s.Cautions = r.Cautions()
	return s, nil
}

func (r *Result) linesOf(work []string) []plan.Line {
	m, err := r.Model()
	if err != nil {
		return nil
	}
	ordered, err := m.Order(work)
	if err != nil {
		return nil
	}
	w := r.worlds.under(ordered)
	var out []plan.Line
	for _, id := range ordered {
		out = append(out, r.worlds.linesOf(id, w)...)
	}
	return out
}

// doneBlock is one finding with what was done: the sentence for the next
// examiner first.
func (r *Result) doneBlock(f FindingResult, o *plan.Option, lines []plan.Line) report.Block {
	b := report.Block{ID: f.Finding.ID, Head: o.Say, Notes: []string{"Found: " + string(f.Finding.Seen), o.Disclosure, capital(joinWords(looks[o.Look], undos[o.Undo]))}}
	if w := r.Job.Reasons[o.ID]; w != "" {
		b.Notes = append(b.Notes, "Recorded reason: "+w)
	}
	for _, l := range lines {
		if l.Option != o.ID {
			continue
		}
		if len(b.Cols) == 0 {
			b.Cols = []string{"Fitted", "Goes to", "Judged", "Pieces"}
		}
		row := partRow(o, l)
		b.Rows = append(b.Rows, []string{row[0], row[1], row[3], row[4]})
	}
	return b
}

// leftBlocks are the findings that were left as they are.
func (r *Result) leftBlocks(work []string) []report.Block {
	b := report.Block{Head: "Left as it is"}
	for _, f := range r.Findings {
		if !r.findingDone(f.Finding.ID, work) {
			b.Notes = append(b.Notes, declinedWords(f))
		}
	}
	return []report.Block{b}
}

func (r *Result) oldPartBlock() report.Block {
	b := report.Block{Head: "Old parts", Cols: []string{"Part", "Remark", "Where it is"}}
	for _, o := range r.OldParts() {
		place := o.Place
		if place == "" {
			place = "not said yet"
		}
		b.Rows = append(b.Rows, []string{o.Finding + " " + o.Seen, o.Say, place})
	}
	return b
}

func (r *Result) testBlock() report.Block {
	b := report.Block{Head: "Tests before it left", Cols: []string{"Test", "Read, and the limit it was held against", "Outcome"}}
	for _, c := range bench.Finals {
		for _, a := range r.Job.Finals {
			if a.ID == c.ID && a.Result != "" {
				b.Rows = append(b.Rows, []string{c.Ask, a.Say, string(a.Result)})
			}
		}
	}
	if len(b.Rows) > 0 {
		b.Notes = []string{"Limits are those the technician named from the code that holds there. This paper says nothing of meeting one."}
	}
	return b
}

// chartBlock sets the chart as found beside the final one, at one mains.
func (r *Result) chartBlock() report.Block {
	var first, final []amp.Reading
	for _, x := range r.Job.Amp.Readings {
		switch {
		case x.Has(amp.Final):
			final = append(final, x)
		case !x.Has(amp.Check) && !x.Has(amp.Soak):
			first = append(first, x)
		}
	}
	b := report.Block{Head: "As found and now", Cols: []string{"Place", "As found", "As found, carried to the mains of now", "Now", "Against it"}}
	meter := amp.Meter{Error: r.Books.Sheet.MeterPercent.Float() / 100, Known: r.Books.Sheet.Has("meter_percent")}
	for _, c := range amp.CompareCharts(first, final, meter) {
		b.Rows = append(b.Rows, []string{c.First.At + " " + c.First.Quantity, readWords(c.First), carriedWords(c), readWords(c.Second), againstWords(c)})
	}
	if len(b.Rows) > 0 {
		b.Notes = []string{"Volts follow the mains; what is carried is a first-order figure. A difference is what the work and new parts changed."}
	}
	return b
}

func readWords(x amp.Reading) string {
	w := unit.FormatAmount(x.Amount, x.Unit, 1)
	if x.Mains > 0 {
		w += " at " + fixed(float64(x.Mains), 1) + " V"
	}
	return w
}

func carriedWords(c amp.Comparison) string {
	if c.Agreement == amp.CannotCompare {
		return "not to be compared: " + c.Reason
	}
	return unit.FormatAmount(c.Expected.Expected, c.Second.Unit, 1)
}

func againstWords(c amp.Comparison) string {
	if c.Agreement == amp.CannotCompare {
		return ""
	}
	return fmt.Sprintf("%+.1f %%", c.Percent)
}
