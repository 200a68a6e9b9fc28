package rating

import (
	"math"

	"lugworth/core/unit"
	"lugworth/core/why"
)

// Reason says in one sentence which number decides, and what the other tier
// says where it judges differently.
func (j Judgment) Reason() string { return j.Own() + j.differs() }

// Own says in one sentence which number decides, and nothing of another tier.
func (j Judgment) Own() string {
	switch j.Because {
	case NoFigure:
		return j.Detail
	case NoLimit:
		return "no limit of " + string(j.Quantity) + " is known for it"
	case NoRange:
		return "the owner's mains range is not declared"
	case FromMemory:
		return "inside by " + j.percent() + ", but the limit is from memory: enter it from a sheet you hold"
	case Doubtful:
		return j.Detail
	case Straddles:
		return j.q(j.Low) + " to " + j.q(j.High) + ": the limit of " + j.q(j.Bound) + " lies between"
	case Beyond, Further:
		return j.overBy()
	case InsideReserve:
		return "inside the rating by " + j.percent() + ", below the wanted " + j.q(j.Wanted)
	case LikeForLike:
		return j.Detail
	}
	return j.inside()
}

func (j Judgment) inside() string {
	if j.Wanted > 0 {
		return "inside by " + j.percent() + "; " + j.above() + " above the wanted " + j.q(j.Wanted)
	}
	return "inside by " + j.percent() + j.offMiddle()
}

// Off returns how far the worst value lies from the middle of a two-sided
// limit, as a fraction of it: a heater of 7.245 V on 6.3 V ±10 % is +15 %.
// ok is false where the limit has one side only.
func (j Judgment) Off() (off float64, ok bool) {
	middle := (j.Limit.Low + j.Limit.High) / 2
	if !j.HasFigure || !j.Limit.HasLow || !j.Limit.HasHigh || middle == 0 {
		return 0, false
	}
	return j.Worst/middle - 1, true
}

func (j Judgment) offMiddle() string {
	off, ok := j.Off()
	if !ok {
		return ""
	}
	sign := "+"
	switch {
	case math.Abs(off) < 0.0005:
		sign = ""
	case off < 0:
		sign = "−"
	}
	return ", " + sign + points(math.Abs(off)) + " from the middle " + j.q((j.Limit.Low+j.Limit.High)/2)
}

// above is rating ÷ wanted − 1.
func (j Judgment) above() string { return points(j.Bound/j.Wanted - 1) }

// overBy names the inherited part first, then what the choice adds.
func (j Judgment) overBy() string {
	s := "over: " + j.q(j.Worst) + " > " + j.q(j.Bound) + ", by " + points(j.OverBy())
	if j.low() {
		s = "under: " + j.q(j.Worst) + " < " + j.q(j.Bound)
	}
	s += j.offMiddle()
	if j.Kind == OverInherited {
		return s + ", inherited"
	}
	if j.Cause == "" {
		return s
	}
	if j.Inherited > j.Bound*(1+touch) {
		return "over as found: " + j.q(j.Inherited) + " > " + j.q(j.Bound) + ", by " + points(j.Inherited/j.Bound-1) +
			", inherited; with " + j.Cause + " up to " + j.q(j.Worst-j.Inherited) + " more"
	}
	return s + ", by the choice of " + j.Cause
}

// OverBy is worst ÷ limit − 1.
func (j Judgment) OverBy() float64 { return j.Worst/j.Bound - 1 }

// q prints a figure; volts of a two-sided limit, as heaters have, with two
// decimals.
func (j Judgment) q(v float64) string {
	if j.Unit == unit.Volt && j.Limit.HasLow {
		return unit.FormatAmount(v, j.Unit, 2)
	}
	return unit.Quantity{Amount: v, Unit: j.Unit}.String()
}

func (j Judgment) percent() string {
	m, _ := j.Margin()
	return points(m)
}

func points(f float64) string { return unit.FormatAmount(100*f, unit.Percent, 1) }

// Contributors names up to three given values the worst value rests on,
// nearest first: readings, the mains judged at, the option that moved it.
func (j Judgment) Contributors() []string {
	var out []string
	why.Walk(j.Why(), func(n *why.Node, _ int) bool {
		if len(out) == 3 {
			return false
		}
		if len(n.From) == 0 && n.Where != "" && n.Value != nil && n.Where != j.Limit.Source {
			out = append(out, n.Label+" "+n.Value.String()+" ("+n.Where+")")
		}
		return true
	})
	return out
}

// Why returns the reason for the verdict: the figure back to its readings,
// the limit back to its source, and the reserve where one applies. It is
// made when asked for, not while judging.
func (j Judgment) Why() *why.Node {
	n := j.Bears
	if j.HasLimit && j.HasFigure {
		l := &why.Node{
			Label: "limit of " + j.Limit.Subject + ", " + j.Limit.System.String() + ", " + j.Limit.Mark.String(),
			Value: unit.Quantity{Amount: j.Bound, Unit: j.Unit}, Where: j.Limit.Source,
		}
		n = why.Found(ruleJudge, j.Kind.String(), unit.Quantity{Amount: j.Worst, Unit: j.Unit}, j.Bears, l)
	}
	if j.Wanted > 0 {
		n = why.Found(ruleWanted, "wanted rating", unit.Quantity{Amount: j.Wanted, Unit: j.Unit}, n,
			why.Given("reserve", unit.Quantity{Amount: 100 * j.Reserve, Unit: unit.Percent}, "shop sheet, reserve"))
	}
	return n
}
