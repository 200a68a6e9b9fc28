package finding

import (
	"fmt"

	"lugworth/core/formula"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// A MatchFigure says how alike the two tubes of a pair draw.
type MatchFigure struct {
	Spread float64 // difference as a fraction of the mean
	Match  formula.Match
	Reason string
	Node   *why.Node
}

// RuleMatch compares the idle currents of a pair.
var RuleMatch = &why.Rule{
	Name:    "pair match",
	Says:    "Up to 5 % apart is close; up to 10 %, or 5 mA, does no harm. A transformer may want less.",
	Formula: "spread = |I1 − I2| / ((I1 + I2)/2)",
	Source:  "common practice, no source",
	Mark:    "memory",
}

// match reads the two currents of a finding, nil where there are none.
func match(f Finding, n *notes) *MatchFigure {
	if f.Match == nil {
		return nil
	}
	if len(f.Match.Reads) != 2 {
		n.problem("match.reads", fmt.Sprintf("%d currents", len(f.Match.Reads)), unit.OutOfRange, "the two currents of the pair")
		return nil
	}
	before := len(n.problems)
	a, b := f.Match.Reads[0], f.Match.Reads[1]
	i := unit.Current(n.amount("match.reads", a.Value, unit.Ampere, true))
	j := unit.Current(n.amount("match.reads", b.Value, unit.Ampere, true))
	if len(n.problems) > before {
		return nil
	}
	spread, m, err := formula.PairMatch(i, j)
	if err != nil {
		n.problem("match.reads", err.Error(), unit.OutOfRange, "")
		return nil
	}
	return &MatchFigure{
		Spread: spread, Match: m,
		Reason: fmt.Sprintf("%s and %s are %s %% apart: %s", i, j, figure(100*spread), m),
		Node:   why.Found(RuleMatch, "pair match", why.Text(m.String()), why.Given("first tube", i, a.At), why.Given("second tube", j, b.At)),
	}
}
