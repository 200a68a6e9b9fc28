package job

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/rating"
	"lugworth/core/unit"
)

// CircuitText writes what the amp's own circuit says, to be read by eye: what
// it was matched to, every figure by both tiers, and what failures would do.
// It is "" where there is no circuit to speak of.
func (r *Result) CircuitText() string {
	c := r.outCircuit()
	if c == nil {
		return ""
	}
	p := page{}
	p.line(joinWords(r.Job.Title, r.Job.Number, "the amp's own circuit"))
	for _, m := range c.Missing {
		p.line("does not decide: " + m)
	}
	if c.Doubt != "" {
		p.line("doubt: " + c.Doubt)
	}
	for _, m := range c.Remarks {
		p.line(m.Severity + ": " + m.Say)
	}
	p.section("readings against the matched circuit at " + c.Mains + " V")
	p.table(residualLines(c.Residuals))
	p.section("figures by both tiers: low, expected, high")
	p.table(tierLines(c.Tiers))
	p.section("what failures would do; no verdict on what is fitted")
	p.table(failureLines(r.Failures()))
	p.section("assumed where nobody measured")
	p.table(spreadLines(c.Spreads))
	return p.String()
}

// BandText writes the figures of the amp as found by both tiers.
func (r *Result) BandText() string {
	p := page{}
	var found []OutTiers
	for _, t := range r.outTiers() {
		if t.Set == "" {
			found = append(found, t)
		}
	}
	p.table(tierLines(found))
	return p.String()
}

func residualLines(all []OutResidual) [][]string {
	var out [][]string
	for _, x := range all {
		say := "compared"
		if x.Used {
			say = "matched"
		}
		switch {
		case x.Why != "":
			say = x.Why
		case !x.Agrees:
			say = "speaks against it"
		}
		out = append(out, []string{x.At, x.Quantity, x.Read + " " + x.Unit, ends(x.Low, x.High) + " " + x.Unit, say})
	}
	return out
}

func ends(low, high string) string {
	if low == high {
		return high
	}
	return low + " to " + high
}

// tierLines writes one line for each figure; positions that come out alike
// share one.
func tierLines(all []OutTiers) [][]string {
	var out [][]string
	at := map[string]int{}
	for _, t := range all {
		where := t.Scenario
		if t.Mains != "" {
			where += ", " + t.Mains + " V"
		}
		says := [...]string{"scaled readings decide", "the circuit decides"}[t.Decides]
		if t.Assumed {
			says += ", on assumed spreads"
		}
		if t.Contradicts != "" {
			says += "; " + t.Contradicts
		}
		set := t.Set
		if set == "" {
			set = "as found"
		}
		cells := []string{set, t.Subject, t.Quantity, where, bandWords(t.Scaled), bandWords(t.Circuit), t.Unit, says}
		key := strings.Join(append([]string{set}, cells[2:]...), "\x00")
		if i, ok := at[key]; ok {
			if !slices.Contains(strings.Fields(out[i][1]), t.Subject) { // two limits of one figure
				out[i][1] += " " + t.Subject
			}
			continue
		}
		at[key] = len(out)
		out = append(out, cells)
	}
	return out
}

func bandWords(b *OutBand) string {
	if b == nil {
		return "-"
	}
	return b.Low + " / " + b.Expected + " / " + b.High + " " + b.Kind
}

func failureLines(all []Failure) [][]string {
	var out [][]string
	for _, f := range all {
		set := f.Set
		if set == "" {
			set = "as found"
		}
		if len(f.Rows) == 0 {
			out = append(out, []string{set, f.Say, "-", "-", "-", "-", f.Missing})
		}
		for _, j := range f.Rows {
			out = append(out, []string{set, f.Say, j.Subject, string(j.Quantity), band(j.Interval, j.Unit), "of " + amount(j.Bound, j.Unit), failureWord(j.Kind)})
		}
	}
	return out
}

// failureWord says a verdict on what a failure does: nobody chose it, and
// nothing is inherited.
func failureWord(k rating.Verdict) string {
	if k.Over() {
		return "over"
	}
	return k.String()
}

func spreadLines(all []OutSpread) [][]string {
	var out [][]string
	for _, s := range all {
		n := s.Amount + " " + s.Unit
		if v, err := strconv.ParseFloat(s.Amount, 64); s.Unit == "" && err == nil {
			n = unit.FormatAmount(100*v, unit.Percent, -1)
		}
		out = append(out, []string{s.Key, n, s.Says, s.Source})
	}
	return out
}
