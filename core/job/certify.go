package job

import (
	"strconv"

	"lugworth/core/proof"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Certificate returns the certificate of every verdict of the result: the amp
// as found, each candidate and each choice.
//
// Errors: verdicts whose reason a certificate has no rule for.
func (r *Result) Certificate() ([]byte, error) {
	m := r.Job.Mains
	head := proof.Certificate{
		Job: r.Job.Number, Amp: joinWords(r.Job.Amp.Maker, r.Job.Amp.Model), Rules: RuleVersion, Chart: plainVolts(r.worlds.found.Chart()),
		Mains: proof.Mains{Low: plainVolts(m.Low), High: plainVolts(m.High), Measured: plainVolts(m.Measured), Marked: plainVolts(m.Marked)},
	}
	if r.desk.Reserve > 0 {
		head.Reserve = proof.Fact(100 * r.desk.Reserve)
	}
	w := proof.NewWriter(head, &r.Job.Amp, r.Books.Sheet.MeterPercent.Float()/100, r.Books.Sheet.Has("meter_percent"))
	for _, row := range r.Rows() {
		w.Add(r.judged(&row))
	}
	return w.Seal()
}

// judged puts one row into the form a certificate is written from.
func (r *Result) judged(row *Row) proof.Judged {
	j := &row.Judgment
	out := proof.Judged{
		Set: row.Set, Option: row.Option, Part: row.Part, Subject: j.Subject, Scenario: j.Scenario, Quantity: j.Quantity, Mains: j.Mains,
		Low: j.Low, High: j.High, HasFigure: j.HasFigure, Unit: j.Unit, Reserve: j.Reserve, Wanted: j.Wanted, Without: j.Inherited, Cause: j.Cause,
		Tap: r.tapOf(row), Kind: j.Kind.Slug(), Tier: j.Tier, Bears: reasonOf(j.Bears),
	}
	if j.HasLimit {
		out.Limit = &j.Limit
	}
	switch {
	case !j.HasFigure && j.Kind == rating.NotProven:
		out.Ended = j.Reason()
	case !j.HasFigure:
		out.Missing = j.Reason()
	case j.Because == rating.Doubtful, j.Because == rating.LikeForLike && j.Kind == rating.NotProven:
		out.Doubt = j.Detail
	}
	return out
}

// tapOf is the mains tap in use under the choice of a row.
func (r *Result) tapOf(row *Row) string {
	tap := r.Job.Amp.Tap
	for _, id := range r.chosen(row) {
		if i, ok := r.worlds.at[id]; ok && r.Job.Options[i].Tap != "" {
			tap = r.Job.Options[i].Tap
		}
	}
	return tap
}

// chosen is what is accepted where a row is judged. A candidate or a change
// stands with its own option taken, rivals left out, as it was weighed.
func (r *Result) chosen(row *Row) []string {
	var accept []string
	for _, s := range r.Sets {
		if row.Set != "" && s.Name == row.Set {
			accept = s.Accept
		}
	}
	if _, ok := r.worlds.at[row.Option]; !ok {
		return accept
	}
	return r.worlds.with(accept, row.Option)
}

// reasonOf copies a reason into plain form.
func reasonOf(n *why.Node) *proof.Reason {
	if n == nil {
		return nil
	}
	out := &proof.Reason{What: n.Label, Where: n.Where}
	if n.Rule != nil {
		out.Rule = n.Rule.Name
	}
	out.Low, out.High, out.Unit, out.Number = amountOf(n)
	for _, f := range n.From {
		out.From = append(out.From, reasonOf(f))
	}
	return out
}

// amountOf is the number a value stands for.
func amountOf(n *why.Node) (low, high float64, u unit.Unit, ok bool) {
	switch v := n.Value.(type) {
	case unit.Quantity:
		return v.Amount, v.Amount, v.Unit, true
	case interface{ Ends() (low, high float64) }:
		low, high = v.Ends()
		return low, high, unit.None, true
	case why.Text:
		f, err := strconv.ParseFloat(string(v), 64)
		return f, f, unit.None, err == nil
	}
	return 0, 0, unit.None, false
}
