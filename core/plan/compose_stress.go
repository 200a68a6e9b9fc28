package plan

import (
	"math"

	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// The words of what is missing or doubted about pieces that stand together.
const (
	noTolerance  = "its row states no tolerance, so how pieces share is not known"
	bareChain    = "how pieces in series share direct voltage in the long run rests on their leakage, which nobody knows: balancing resistors bound it"
	noBalance    = "the ohms of the balancing resistors are not known, so the share in the long run is not"
	noLeak       = "the leakage of its pieces is not stated, so the share in the long run is not known: state it, as in \"2 in series, leak 10uA\""
	leakByRule   = "the leakage of its pieces is not stated: 0.01 µA · µF · V + 3 µA is taken (common practice, no source)"
	spreadByRule = "its row states no tolerance: ±20 % is taken (common practice, no source)"
)

// spreadOf is the interval of one piece. doubt says what was taken where the
// row states no tolerance; missing where nothing may be taken.
func spreadOf(spec *unit.Spec, k catalog.Kind) (of unit.Interval, doubt, missing string) {
	v := spec.Value()
	switch {
	case v <= 0 || math.IsInf(v, 0):
		return of, "", "the row does not tell its value"
	case spec.Tolerance.Stated && (spec.Tolerance.Minus >= 1 || spec.Tolerance.Minus < 0):
		return of, "", "a tolerance of " + spec.Tolerance.String() + " leaves nothing to share by"
	case spec.Tolerance.Stated:
		return spec.Within(), "", ""
	case k == catalog.Electrolytic || spec.Unit == unit.Ohm:
		return unit.Interval{Low: v * (1 - electrolyticSpread), Expected: v, High: v * (1 + electrolyticSpread)}, spreadByRule, ""
	}
	return of, "", noTolerance
}

// carry replaces a figure by what f makes of each of its ends.
func carry(s *stress.Stress, f func(v float64) float64) {
	s.Low, s.Expected, s.High, s.Inherited = f(s.Low), f(s.Expected), f(s.High), f(s.Inherited)
}

// doubtful keeps the first doubt.
func doubtful(s *stress.Stress, doubt string) {
	if s.Doubt == "" {
		s.Doubt = doubt
	}
}

// lacking leaves a stress without a figure.
func lacking(s *stress.Stress, missing string) {
	s.Missing, s.Interval, s.Inherited, s.Node, s.Band = missing, unit.Interval{}, 0, nil, nil
}

func (j *joint) chargingShare(s *stress.Stress, spec *unit.Spec, k catalog.Kind, source string, worded bool) {
	of, doubt, missing := spreadOf(spec, k)
	if missing != "" {
		lacking(s, missing)
		return
	}
	share := chargeShare(alike(j.Pieces, of), 0)
	carry(s, func(v float64) float64 { return v * share })
	doubtful(s, doubt)
	if worded {
		s.Scenario = "worst share while charging, " + s.Scenario
		s.Node = why.Found(ruleCharging, "worst share of one piece", unit.Quantity{Amount: s.High, Unit: unit.Volt}, s.Node,
			why.Given("one piece as marked", unit.Quantity{Amount: of.Expected, Unit: spec.Unit}, source), toleranceNode(spec, source))
	}
}

func toleranceNode(spec *unit.Spec, source string) *why.Node {
	if !spec.Tolerance.Stated {
		return why.Given("tolerance, none stated", why.Text("±20 %"), "common practice, no source")
	}
	return why.Given("tolerance", why.Text(spec.Tolerance.String()), source)
}

// leakOf is what a piece may leak, in amperes. byRule is set where nobody
// stated it and the rule of thumb for electrolytics stands in.
func (j *joint) leakOf(spec *unit.Spec, k catalog.Kind) (amps float64, byRule, known bool) {
	switch {
	case j.Leak > 0:
		return j.Leak, false, true
	case k == idealKind:
		return 0, false, true
	case k == catalog.Electrolytic && spec.Volts > 0:
		return (0.01*spec.Value()*1e6*spec.Volts + 3) * 1e-6, true, true
	}
	return 0, false, false
}

func (j *joint) settledShare(s *stress.Stress, spec *unit.Spec, k catalog.Kind, source string, worded bool) {
	if !j.balanced {
		lacking(s, bareChain)
		return
	}
	ohms, doubt, missing := spreadOf(&j.balance, catalog.Resistor)
	amps, byRule, known := j.leakOf(spec, k)
	switch {
	case missing != "" || j.balance.Unit != unit.Ohm:
		lacking(s, noBalance)
		return
	case !known:
		lacking(s, noLeak)
		return
	}
	chain := alike(j.Pieces, ohms)
	low := s.Low
	carry(s, func(v float64) float64 { return settledVolts(chain, amps, v, 0) })
	if byRule { // it may leak nothing as well: only the resistors are sure
		s.Low = settledVolts(chain, 0, low, 0)
		doubtful(s, leakByRule)
	}
	doubtful(s, doubt)
	if worded {
		s.Scenario = "worst share in the long run, " + s.Scenario
		s.Node = why.Found(ruleSettled, "worst share of one piece", unit.Quantity{Amount: s.High, Unit: unit.Volt}, s.Node,
			why.Given("balancing resistor", unit.Quantity{Amount: ohms.Expected, Unit: unit.Ohm}, "as marked"), toleranceNode(&j.balance, "as marked"), leakNode(amps, byRule, spec, source))
	}
}

func leakNode(amps float64, byRule bool, spec *unit.Spec, source string) *why.Node {
	a := unit.Quantity{Amount: amps, Unit: unit.Ampere}
	if !byRule {
		return why.Given("no piece leaks more than", a, "stated with the making")
	}
	return why.Found(ruleLeak, "a piece may leak", a,
		why.Given("one piece as marked", unit.Quantity{Amount: spec.Value(), Unit: spec.Unit}, source),
		why.Given("rated", unit.Quantity{Amount: spec.Volts, Unit: unit.Volt}, source))
}

// acrossShare is what a balancing resistor bears at the worse of the two
// shares of its piece: volts, or the watts of them in its least ohms.
func (j *joint) acrossShare(s *stress.Stress, q limit.Quantity, o *catalog.Offer, worded bool) {
	s.Quantity, s.Band = q, nil
	ohms, doubt, missing := spreadOf(&o.Part.Spec, catalog.Resistor)
	switch {
	case j.body == nil:
		lacking(s, "the pieces it stands across are not known")
		return
	case missing != "" || o.Part.Spec.Unit != unit.Ohm:
		lacking(s, "the row does not tell its ohms")
		return
	}
	charge, run := *s, *s
	j.chargingShare(&charge, j.body, j.kind, "", false)
	with := *j
	with.balanced, with.balance = true, o.Part.Spec
	with.settledShare(&run, j.body, j.kind, "", false)
	if worst := *greaterOf(&charge, &run); worst.Missing != "" {
		lacking(s, worst.Missing)
		return
	} else {
		s.Interval, s.Inherited = worst.Interval, worst.Inherited
	}
	for _, d := range []string{charge.Doubt, run.Doubt, doubt} {
		doubtful(s, d)
	}
	volts := s.High
	if q == limit.Watts {
		s.Unit = unit.Watt
		carry(s, func(v float64) float64 { return v * v / ohms.Low })
	}
	if worded {
		s.Scenario = "over a balancing resistor at the worst share, " + s.Scenario
		s.Node = why.Found(ruleAcross, "balancing resistor", unit.Quantity{Amount: s.High, Unit: s.Unit}, s.Node,
			why.Given("worst share of its piece", unit.Quantity{Amount: volts, Unit: unit.Volt}, "see the pieces"),
			why.Given("resistor as marked", unit.Quantity{Amount: ohms.Expected, Unit: unit.Ohm}, where(o, true)), toleranceNode(&o.Part.Spec, where(o, true)))
	}
}

// greaterOf is the worse of two shares; one without a figure stands for both.
func greaterOf(a, b *stress.Stress) *stress.Stress {
	switch {
	case a.Missing != "":
		return a
	case b.Missing != "" || b.High > a.High:
		return b
	}
	return a
}

// wattShare is what the resistor bears that takes most of the place's watts.
// The place's watts were reckoned with the part that stands there, or, where
// the pieces make another value, with theirs.
func (a *demand) wattShare(s *stress.Stress, spec *unit.Spec, source string, worded bool) {
	of, doubt, missing := spreadOf(spec, catalog.Resistor)
	if missing != "" || spec.Unit != unit.Ohm {
		lacking(s, "the row does not tell its ohms")
		return
	}
	share := a.joint.wattFactor(of, a.at.Spec.Value())
	carry(s, func(v float64) float64 { return v * share })
	doubtful(s, doubt)
	if worded {
		s.Scenario = "worst share, " + s.Scenario
		s.Node = why.Found(ruleWattShare, "worst share of one piece", unit.Quantity{Amount: s.High, Unit: unit.Watt}, s.Node,
			why.Given("one piece as marked", unit.Quantity{Amount: of.Expected, Unit: unit.Ohm}, source), toleranceNode(spec, source))
	}
}

func (j *joint) wattFactor(of unit.Interval, made float64) float64 {
	bodies := alike(j.Pieces, of)
	whole := j.Way.joined(bodies, unit.Ohm).Expected
	if !(math.Abs(made/whole-1) <= 0.02) {
		made = whole
	}
	if j.Way == Parallel {
		return wattShare(siemens(bodies), 1/made, 0)
	}
	return wattShare(bodies, made, 0)
}
