package rating

import (
	"math"

	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// The rules a judgment is explained by.
var (
	ruleJudge = &why.Rule{
		Name: "rating", Says: "The worst value against the limit of the same quantity; equal to the limit is within.",
		Formula: "margin = (limit − worst) ÷ limit", Source: "definition",
	}
	ruleWanted = &why.Rule{
		Name: "wanted rating", Says: "The shop wants its own reserve on top of the worst voltage.",
		Formula: "wanted = worst · (1 + reserve)", Source: "the shop's own policy",
	}
)

// NoReserve stands for a reserve nobody stated: nothing with a rated voltage
// is then better than not proven.
const NoReserve = -1.0

// touch is the relative slack of one comparison: float noise only.
const touch = 1e-9

// Judge compares a stress with a limit of the same quantity.
//
// Inside means the whole band is inside. The whole band beyond is over:
// inherited if nothing chosen moved it, else made worse. A band that holds
// the limit is not proven. A limit from memory, or a figure in doubt, is
// never better than not proven. l may be nil: not enough data.
func Judge(s stress.Stress, l *limit.Limit) Judgment {
	j := Judgment{
		Subject: s.Subject, Quantity: s.Quantity, Scenario: s.Scenario, Mains: s.Mains,
		Interval: s.Interval, Worst: s.High, Unit: s.Unit, HasFigure: s.Missing == "",
		Inherited: s.Inherited, Cause: s.Cause, Tier: s.Tier, Bears: s.Node, Doubted: s.Doubt,
	}
	if s.Band != nil {
		j.Assumed, j.ToSettle, j.Fresh, j.Movers = s.Band.Assumed, s.Settles(), s.Fresh, s.Movers
	}
	if l != nil {
		j.Limit, j.HasLimit = *l, true
		j.nearer()
	}
	j.settle(s)
	return j
}

// nearer picks the side of the limit that decides, and the worst value there.
func (j *Judgment) nearer() {
	l := j.Limit
	j.Bound, j.Worst = l.High, j.High
	if !l.HasLow {
		return
	}
	if !l.HasHigh || (j.Low-l.Low)/l.Low < (l.High-j.High)/l.High {
		j.Bound, j.Worst = l.Low, j.Low
	}
}

func (j *Judgment) settle(s stress.Stress) {
	switch {
	case s.Ended():
		j.Kind, j.Because, j.Detail = NotProven, Doubtful, s.Missing
	case s.Missing != "":
		j.Kind, j.Because, j.Detail = NotEnoughData, NoFigure, s.Missing
	case !finite(j.Low) || !finite(j.High) || j.Low > j.High*(1+touch):
		j.Kind, j.Because, j.Detail, j.HasFigure = NotProven, Doubtful, "the figure could not be worked out", false
	case !j.HasLimit || !j.Limit.HasHigh && !j.Limit.HasLow || !finite(j.Limit.High) || !finite(j.Limit.Low):
		j.Kind, j.Because = NotEnoughData, NoLimit
	case j.beyond():
		j.over(s)
	case j.straddles():
		j.Kind, j.Because = NotProven, Straddles
	case s.Doubt != "":
		j.Kind, j.Because, j.Detail = NotProven, Doubtful, s.Doubt
	case !j.Limit.Usable():
		j.Kind, j.Because = NotProven, FromMemory
	default:
		j.Kind, j.Because = Within, Inside
	}
}

// finite guards every comparison: nothing is less than a NaN, so one would
// pass for inside.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func (j *Judgment) over(s stress.Stress) {
	j.Kind, j.Because = OverInherited, Beyond
	if s.Moved() {
		j.Kind, j.Because = OverWorsened, Further
	}
}

// beyond reports whether the whole band lies past a side of the limit.
func (j *Judgment) beyond() bool {
	l := j.Limit
	return l.HasHigh && j.Low > l.High*(1+touch) || l.HasLow && j.High < l.Low*(1-touch)
}

func (j *Judgment) straddles() bool {
	l := j.Limit
	return l.HasHigh && j.High > l.High*(1+touch) || l.HasLow && j.Low < l.Low*(1-touch)
}

// JudgePart judges a part that would be fitted, against its own printed
// rating: as Judge, and over is always the choice's doing; inside the rating
// it also asks for the shop's reserve, a fraction.
func JudgePart(s stress.Stress, l *limit.Limit, reserve float64) Judgment {
	j := Judge(s, l)
	j.keepReserve(s, reserve)
	if j.Kind == OverInherited {
		j.Kind = OverWorsened
	}
	return j
}

// JudgeFound judges a part that stands in the amp, against its own printed
// rating and the shop's reserve; over is inherited.
func JudgeFound(s stress.Stress, l *limit.Limit, reserve float64) Judgment {
	j := Judge(s, l)
	j.keepReserve(s, reserve)
	return j
}

func (j *Judgment) keepReserve(s stress.Stress, reserve float64) {
	if reserve < 0 && j.Kind == Within {
		j.Kind, j.Because = NotProven, Doubtful
		j.Detail = "inside the rating by " + j.percent() + ", but the shop sheet states no reserve"
	}
	if reserve <= 0 || !j.HasFigure {
		return
	}
	j.Reserve = reserve
	j.Wanted = s.High * (1 + reserve)
	if j.Kind == Within && j.Wanted > j.Bound*(1+touch) {
		j.Kind, j.Because = BelowReserve, InsideReserve
	}
}

// AsMade judges a fitted part by the rule "no less than the place was made
// with", where no figure says what the place bears. It is common practice
// without a source: good for watts, where the maker chose the size; volts it
// leaves not proven. Without a subject the judgment carries no reason: enough
// to sort many parts by.
func AsMade(s stress.Stress, made, fitted float64, proven bool, subject string) Judgment {
	s.Interval, s.Inherited, s.Missing = unit.Exactly(made), made, ""
	s.Scenario = "as the place was made"
	s.Mains = 0
	if subject != "" {
		s.Node = why.Given("what the place was made with", unit.Quantity{Amount: made, Unit: s.Unit}, "sheet "+s.Subject)
	}
	l := limit.Limit{Subject: subject, Quantity: s.Quantity, High: fitted, HasHigh: true, Unit: s.Unit, System: limit.Marked, Source: "price list", Mark: limit.User}
	j := JudgePart(s, &l, 0)
	if j.Kind != Within {
		return j
	}
	j.Because, j.Detail = LikeForLike, "no less than the place was made with (common practice, no source)"
	if !proven {
		j.Kind = NotProven
	}
	return j
}
