package job

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/circuit"
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
	rows := r.Rows()
	solved, err := r.solved(rows)
	if err != nil {
		return nil, err
	}
	head.Circuits = solved.circuits
	w := proof.NewWriter(head, &r.Job.Amp, r.Books.Sheet.MeterPercent.Float()/100, r.Books.Sheet.Has("meter_percent"))
	for i := range rows {
		j := r.judged(&rows[i])
		j.Solved = solved.band(i, &j)
		w.Add(j)
	}
	return w.Seal()
}

// solvedRows are the rows of a certificate that rest on the amp's circuit.
type solvedRows struct {
	circuits []proof.Circuit
	ends     map[int][2]proof.End // by row
}

// band is the chain of a row by its two corners; nil for one that does not
// rest on the circuit.
func (s *solvedRows) band(row int, j *proof.Judged) *proof.Step {
	ends, ok := s.ends[row]
	if !ok {
		return nil
	}
	var without *float64
	if j.Cause != "" {
		without = &j.Without
	}
	return proof.SolvedBand(j.Subject, string(j.Quantity), j.Unit, j.Low, j.High, ends, without, j.Cause)
}

// A posed row group is what is solved together: one choice, one scenario.
type posed struct {
	name   string
	choice circuit.Choice
	at     circuit.Scenario
	rows   []int
}

// solved certifies the corners of every row the circuit decides.
//
// Errors: rows whose corners cannot be solved or stated, each with its reason.
func (r *Result) solved(rows []Row) (*solvedRows, error) {
	out := &solvedRows{ends: map[int][2]proof.End{}}
	var bad []error
	for _, g := range r.posed(rows) {
		var fs []circuit.Figure
		for _, i := range g.rows {
			if f := (circuit.Figure{Ref: rows[i].Subject, Quantity: rows[i].Quantity}); !slices.Contains(fs, f) {
				fs = append(fs, f)
			}
		}
		c, ends, err := CertifyCorners(g.name, r.Circuit.Calibration, g.choice, g.at, fs, r.Circuit.Laws)
		if err != nil {
			bad = append(bad, fmt.Errorf("%s, %s: %w", g.name, g.at.Name, err))
			continue
		}
		out.circuits = append(out.circuits, c)
		for _, i := range g.rows {
			out.ends[i] = ends[circuit.Figure{Ref: rows[i].Subject, Quantity: rows[i].Quantity}]
		}
	}
	return out, errors.Join(bad...)
}

// posed groups the rows the circuit decides by what they were solved under.
func (r *Result) posed(rows []Row) []posed {
	var out []posed
	at := map[string]int{}
	for i := range rows {
		ch, sc, ok := r.CircuitOf(&rows[i])
		if !ok {
			continue
		}
		chosen := r.chosen(&rows[i])
		key := stateKey(r.worlds.state(chosen)) + "\x00" + sc.Name + "\x00" + rows[i].Mains.String()
		k, known := at[key]
		if !known {
			k = len(out)
			at[key] = k
			name := "as found"
			if len(chosen) > 0 {
				name = "with " + strings.Join(chosen, " ")
			}
			out = append(out, posed{name: name, choice: ch, at: sc})
		}
		out[k].rows = append(out[k].rows, i)
	}
	return out
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
