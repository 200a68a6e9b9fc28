package plan

import (
	"math"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// made returns what a place was made with, in the quantity asked for, 0 where
// it says nothing: what the maker chose holds for a supply, and without the
// owner's range nobody knows whether it is like the maker's.
func (d *Desk) made(p *amp.Position, q limit.Quantity) float64 {
	switch {
	case !d.Mains.Declared():
		return 0
	case q == limit.Watts:
		return p.Spec.Watts
	}
	return p.Spec.Volts
}

// judge weighs one offer for one demand. Without words the judgment carries
// no names and no reasons: enough to sort by, and nothing is allocated.
func (a *demand) judge(o *catalog.Offer, reserve float64, worded bool) (rating.Judgment, bool) {
	switch {
	case a.q == limit.FirstCapacitor:
		return a.judgeFirst(o, worded), true
	case a.q == limit.FuseCurrent:
		return a.judgeFuse(o, worded), true
	case a.joint != nil:
		return a.judgeJoint(o, reserve, worded)
	}
	rated := o.Part.Spec.Volts
	if a.q == limit.Watts {
		rated, reserve = o.Part.Spec.Watts, 0
	}
	if a.bears.Missing != "" && a.made > 0 && rated > 0 && !a.bears.Ended() && a.at.Role != amp.CathodeResistor && !a.solved() {
		return rating.AsMade(a.bears, a.made, rated, a.q == limit.Watts && a.alike(o), label(o, worded)), true
	}
	var l *limit.Limit
	if rated > 0 {
		r := a.rated(o, rated, worded)
		l = &r
	}
	j := rating.JudgePart(a.doubted(a.bears, o), l, reserve)
	switch {
	case !a.solved():
		return j, true
	case worded:
		return rating.Settle(j, rating.JudgePart(a.doubted(*a.second, o), l, reserve)), true
	}
	return rating.Settled(j, rating.JudgePart(a.doubted(*a.second, o), l, reserve)), true
}

// solved reports whether the amp's own circuit says what the place bears.
func (a *demand) solved() bool { return a.second != nil && a.second.Missing == "" }

// doubted adds what the part itself leaves in doubt.
func (a *demand) doubted(s stress.Stress, o *catalog.Offer) stress.Stress {
	if a.q != limit.Watts && s.Doubt == "" {
		s.Doubt = doubtAC(o.Part.Spec.AC || o.Part.Class != "" || strings.Contains(o.Part.Spec.Text, "~"))
	}
	return s
}

// doubtAC says why a part's printed volts do not tell what direct voltage
// it may bear: they are marked as AC, as those of the safety classes are.
func doubtAC(ac bool) string {
	if ac {
		return "its volts are stated as AC: what it bears of direct voltage is not stated"
	}
	return ""
}

// alike reports whether an offer has the value of the part that stands in
// the place: only then does the watts the maker chose say anything of it.
func (a *demand) alike(o *catalog.Offer) bool {
	have, want := o.Part.Spec.Value(), a.at.Spec.Value()
	return have > 0 && want > 0 && math.Abs(math.Log(have/want)) < 0.15
}

// rated is the part's own printed rating.
func (a *demand) rated(o *catalog.Offer, v float64, worded bool) limit.Limit {
	return limit.Limit{
		Subject: label(o, worded), Quantity: a.q, High: v, HasHigh: true, Unit: a.bears.Unit,
		System: limit.Marked, Source: where(o, worded), Mark: limit.User,
	}
}

func label(o *catalog.Offer, worded bool) string {
	if !worded {
		return ""
	}
	return o.List + " " + o.Number
}

func where(o *catalog.Offer, worded bool) string {
	switch {
	case !worded:
		return ""
	case o.File == "":
		return "price list " + o.List
	}
	return o.File + ":" + itoa(o.Line)
}

// electrolyticSpread is the tolerance an electrolytic has where its row
// states none. Common practice, no source.
const electrolyticSpread = 0.2

// judgeFirst judges the first capacitor's greatest value against what the
// rectifier may feed.
func (a *demand) judgeFirst(o *catalog.Offer, worded bool) rating.Judgment {
	spec := o.Part.Spec
	if a.joint != nil && len(spec.Values) > 0 {
		spec.Values = []float64{a.joint.whole(spec.Values, spec.Unit)} // alike pieces keep their tolerance
	}
	s := firstStress(a.at.Ref, &spec, a.section, where(o, worded), worded)
	a.several(&s)
	j := rating.Judge(s, a.place)
	if j.Kind == rating.OverInherited {
		j.Kind = rating.OverWorsened
	}
	return j
}

// several widens the figure where more capacitors than one may stand at the
// rectifier.
func (a *demand) several(s *stress.Stress) {
	if s.Missing != "" {
		return
	}
	if a.beside != "" {
		s.Doubt = a.beside + " stands beside it at the rectifier: their sum counts"
	}
	if a.spare > 0 {
		s.High *= float64(1 + a.spare)
		s.Doubt = "more pieces than places: side by side they add up"
	}
}

func firstStress(ref string, spec *unit.Spec, section int, source string, worded bool) stress.Stress {
	s := stress.Stress{Subject: ref, Quantity: limit.FirstCapacitor, Scenario: "greatest value", Unit: unit.Farad}
	if len(spec.Values) == 0 || spec.Unit != unit.Farad {
		s.Missing = "the row does not tell its value"
		return s
	}
	v := spec.Values[min(section, len(spec.Values)-1)]
	plus, minus := spec.Tolerance.Plus, spec.Tolerance.Minus
	if !spec.Tolerance.Stated {
		plus, minus = electrolyticSpread, electrolyticSpread
	}
	s.Interval = unit.Interval{Low: v * (1 + plus), Expected: v * (1 + plus), High: v * (1 + plus)}
	s.Inherited = s.High
	if worded {
		s.Node = greatest(v, minus, plus, s.High, source)
	}
	return s
}

func (a *demand) judgeFuse(o *catalog.Offer, worded bool) rating.Judgment {
	s := fuseStress(a.at.Ref, &o.Part.Spec, where(o, worded))
	j := rating.JudgePart(s, a.place, 0)
	if j.Kind == rating.Within && s.High < a.place.High*(1-1e-9) {
		j.Kind, j.Because = rating.NotProven, rating.Doubtful
		j.Detail = "a smaller fuse than the label says: it may open in ordinary use"
	}
	if want, have := labelSpeed(a.at), o.Part.Spec.Speed; j.Kind == rating.Within && want != "" && want != have {
		j.Kind, j.Because = rating.NotProven, rating.Doubtful
		j.Detail = "the label asks for a fuse marked " + want + ", and this row does not say so"
	}
	return j
}

// labelSpeed is the speed the rating label asks for: "T", "F", or "".
func labelSpeed(p *amp.Position) string {
	spec, err := unit.ReadSpec(p.Extra["label"], unit.Ampere)
	if err != nil {
		return ""
	}
	return spec.Speed
}

func fuseStress(ref string, spec *unit.Spec, source string) stress.Stress {
	s := stress.Stress{Subject: ref, Quantity: limit.FuseCurrent, Scenario: "as marked", Unit: unit.Ampere}
	if spec.Unit != unit.Ampere || len(spec.Values) == 0 {
		s.Missing = "the fuse's amperes are not stated"
		return s
	}
	s.Interval = unit.Exactly(spec.Values[0])
	s.Inherited = s.High
	s.Node = givenAmps(spec.Values[0], source)
	return s
}
