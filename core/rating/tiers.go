package rating

import (
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// A Tier is one of the two ways a figure was found, beside the one shown.
type Tier struct {
	unit.Interval
	N         int // 0 readings scaled by the mains, 1 the amp's own circuit
	Kind      Verdict
	Says      string // its own reason
	HasFigure bool
}

// slack is how far the value the circuit expects may lie outside the ends of
// the first-order rule before the two contradict each other: 2 %, our own
// judgment. The rule gives single values for volts, and the circuit carries no
// figure over better than that.
const slack = 0.02

// Settle joins the verdicts of two tiers on one figure: first by readings
// scaled with the mains, second by the amp's own circuit.
//
// The circuit decides, whether its band is narrower or wider. Where the two
// judge differently the less favorable verdict is shown and names the other.
// Where the first-order rule does not reach, or has no figure, the circuit
// stands alone; where the circuit has none, the rule does. Where the value the
// circuit expects lies outside the ends of the rule, the two contradict each
// other, and nothing better than not proven is shown.
func Settle(first, second Judgment) Judgment {
	shown, other, both := pick(first, second)
	if !both {
		return shown
	}
	shown.Other = &Tier{Interval: other.Interval, N: other.Tier, Kind: other.Kind, Says: other.Reason(), HasFigure: other.HasFigure}
	shown.Fresh, shown.Movers, shown.Assumed = second.Fresh, second.Movers, second.Assumed
	shown.Differ = first.Kind != second.Kind
	if shown.ToSettle = second.ToSettle; second.Because == Doubtful || second.Because == FromMemory {
		shown.ToSettle = "" // no reading of the amp takes such a doubt away
	}
	if apart(first, second) {
		shown.contradicted(first, second)
	}
	return shown
}

// Settled is Settle without the words: enough to sort by.
func Settled(first, second Judgment) Judgment {
	shown, _, both := pick(first, second)
	if both && apart(first, second) && Less(NotProven, shown.Kind) {
		shown.Kind, shown.Because = NotProven, Doubtful
	}
	return shown
}

// pick returns the verdict that is shown, and the other where both tiers
// judge.
func pick(first, second Judgment) (shown, other Judgment, both bool) {
	switch {
	case !second.HasFigure:
		first.Unsolved = second.Detail
		return first, second, false
	case !first.HasFigure || stress.Unruled(first.Detail):
		return second, first, false
	case Less(first.Kind, second.Kind):
		return first, second, true
	}
	return second, first, true
}

// apart reports whether the value the circuit expects lies outside the ends
// of the first-order rule.
func apart(first, second Judgment) bool {
	return second.Expected < first.Low*(1-slack) || second.Expected > first.High*(1+slack)
}

// contradicted notes that the tiers speak against each other.
func (j *Judgment) contradicted(first, second Judgment) {
	j.Against = "the circuit expects " + j.q(second.Expected) + ", the first-order rule " + j.ends(first.Interval) + ": they contradict each other"
	if Less(NotProven, j.Kind) {
		j.Kind, j.Because, j.Detail = NotProven, Doubtful, j.Against
	}
}

func (j *Judgment) ends(i unit.Interval) string {
	if i.Low == i.High {
		return j.q(i.High)
	}
	return j.q(i.Low) + " to " + j.q(i.High)
}

// differs says that the tiers judge differently, and what would settle it.
func (j *Judgment) differs() string {
	if !j.Differ || j.Other == nil {
		return ""
	}
	by := [...]string{"by readings scaled with the mains ", "by the amp's own circuit "}
	s := "; " + by[j.Other.N] + j.Other.Kind.String() + " (" + j.ends(j.Other.Interval) + ")"
	if j.ToSettle != "" {
		s += ": to settle it, " + j.ToSettle
	}
	return s
}
