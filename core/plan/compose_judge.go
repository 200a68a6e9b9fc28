package plan

import (
	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
	"lugworth/core/why"
)

var (
	ruleCharging = &why.Rule{
		Name: "share while charging", Says: "The same charge goes through every capacitor of a chain, so the smallest takes the most volts: one at its least value, the others at their greatest.",
		Formula: "V1 = V · (1 ÷ C1) ÷ Σ(1 ÷ C)", Source: "charge is kept; no table needed",
	}
	ruleSettled = &why.Rule{
		Name: "share in the long run", Says: "Balancing resistors and leakage set the share: this piece leaks nothing, the others all they may, every resistor at the worse end of its tolerance.",
		Formula: "V1 = R1 · (V + Σ R·I of the others) ÷ ΣR, no more than V", Source: "Ohm's law",
	}
	ruleLeak = &why.Rule{
		Name: "leakage nobody stated", Says: "An electrolytic whose leakage is not stated is taken to leak up to this.",
		Formula: "I = 0.01 µA · C in µF · V rated + 3 µA", Source: "common practice, no source",
	}
	ruleWattShare = &why.Rule{
		Name: "share of the watts", Says: "The piece that takes the most, whether the place is fed with volts, with current or with anything between.",
		Formula: "P1 = P · greatest of R1 ÷ R and R·R1 ÷ (ΣR)²; side by side with 1 ÷ R in place of R", Source: "Ohm's law",
	}
	ruleAcross = &why.Rule{
		Name: "balancing resistor", Says: "A balancing resistor at its least value bears the worst share of its piece.",
		Formula: "P = V1² ÷ (R · (1 − tolerance))", Source: "Ohm's law",
	}
)

// stage is when the share of a piece is looked at.
type stage uint8

const (
	whenever stage = iota
	charging       // the moment volts come on: capacitors share by their farads
	settled        // in the long run: by balancing resistors and leakage
	across         // over a balancing resistor, at the worse of the two
)

// A joint is how the pieces of a demand stand together.
type joint struct {
	Made
	stage    stage
	balanced bool
	balance  unit.Spec  // of a balancing resistor
	body     *unit.Spec // at a balancing resistor: the piece it stands across
	kind     catalog.Kind
}

// asMade turns what places ask of one part into what they ask of each piece.
func (s *Scales) asMade(p *Part, base []*demand) []*demand {
	j := joint{Made: p.Made}
	if p.balance != nil {
		j.balanced = true
		j.balance = s.balanceSpec(p.balance)
	}
	return j.ask(base)
}

func (j joint) ask(base []*demand) []*demand {
	out := make([]*demand, 0, len(base)+2)
	add := func(a *demand, at stage) {
		with, how := *a, j
		how.stage, with.joint, with.section = at, &how, 0
		out = append(out, &with)
	}
	for _, a := range base {
		if a.q == limit.DCVolts && j.Way == Series {
			add(a, charging)
			add(a, settled)
			continue
		}
		add(a, whenever)
	}
	return out
}

// ideal makes the part no real one betters one of several: its tolerance is
// nothing, and as a balancing resistor it draws next to nothing.
func (j *joint) ideal(spec *unit.Spec) {
	spec.Tolerance = unit.Tolerance{Stated: true}
	if j.stage == across {
		spec.Unit, spec.Values = unit.Ohm, []float64{1e12}
	}
}

// balanceSpec is the marking of balancing resistors: of the offer named, else
// of what is asked for.
func (s *Scales) balanceSpec(p *Part) unit.Spec {
	if o, ok := s.desk.Offer(p.List, p.Number); ok && p.Number != "" {
		return o.Part.Spec
	}
	spec, _ := p.spec(unit.Ohm)
	return spec
}

// acrossAsks is what a balancing resistor must bear: at each place of the
// pieces it stands across, the watts of their worst share, and the volts
// where its row states any.
func (s *Scales) acrossAsks(p *Part) []*demand {
	j := joint{Made: p.body.Made, stage: across}
	if o, ok := s.bodyOf(p.body); ok {
		j.body, j.kind = &o.Part.Spec, o.Part.Kind
	}
	return j.over(s.places(s.plain(p.body)))
}

// over is what a balancing resistor bears at each place: watts, and the volts
// where its row states any.
func (j joint) over(places []*demand) []*demand {
	var out []*demand
	for _, a := range places {
		if a.bears.Quantity != limit.DCVolts {
			continue
		}
		for _, q := range []limit.Quantity{limit.Watts, limit.DCVolts} {
			with := *a
			with.q, with.joint = q, &j
			out = append(out, &with)
		}
	}
	return out
}

// bodyOf is the offer the pieces of a part are: the one named, else the first
// that passes.
func (s *Scales) bodyOf(p *Part) (*catalog.Offer, bool) {
	if p.Number != "" {
		return s.desk.Offer(p.List, p.Number)
	}
	best, ok := s.first(p, s.demands(p))
	return best.Offer, ok
}

// plain is a part as one piece would meet it.
func (s *Scales) plain(p *Part) *Part {
	one := *p
	one.Made, one.balance, one.Qty = Made{}, nil, max(1, p.Qty/p.PerPlace())
	return &one
}

// refuses says why an offer never goes into a place as one of several pieces;
// known is false where the ordinary rules say it.
func (j *joint) refuses(a *demand, o *catalog.Offer) (why string, known bool) {
	k := o.Part.Kind
	switch {
	case j.stage == across:
		if k != idealKind && k != catalog.Unknown && !k.IsResistor() {
			return "not a resistor, and a balancing resistor is wanted", true
		}
		return "", true
	case a.at.Role == amp.LineToChassis || a.q == limit.FuseCurrent:
		return "nothing made of several pieces goes into " + a.at.Ref, true
	case a.at.Role == amp.Coupler && j.Way == Series && j.balanced:
		return "balancing resistors across a coupling capacitor carry direct current from the plate to the grid", true
	case j.Sections && k != idealKind && len(o.Part.Spec.Values) < 2:
		return "it has no sections", true
	case !j.Sections && len(o.Part.Spec.Values) > 1:
		return "its sections share their negative: a can is no single piece", true
	}
	return "", false
}

// judgeJoint judges one piece against its own rating at its worst share.
func (a *demand) judgeJoint(o *catalog.Offer, reserve float64, worded bool) (rating.Judgment, bool) {
	spec := &o.Part.Spec
	rated := spec.Volts
	if a.q == limit.Watts {
		rated, reserve = spec.Watts, 0
	}
	if a.joint.stage == across && a.q == limit.DCVolts && rated == 0 {
		return rating.Judgment{}, false // few rows state what a resistor bears in volts
	}
	var l *limit.Limit
	if rated > 0 {
		r := a.rated(o, rated, worded)
		if a.joint.stage == across && a.q == limit.Watts {
			r.Unit = unit.Watt
		}
		l = &r
	}
	first := a.shared(a.doubted(a.bears, o), o, worded)
	if a.likeMade(rated) {
		made := a.shared(a.asPlace(), o, worded)
		if made.Missing == "" {
			j := rating.AsMade(a.bears, made.High, rated, a.q == limit.Watts && made.Doubt == "" && a.alikeWhole(spec), label(o, worded))
			j.Scenario, j.Bears = made.Scenario, made.Node
			return j, true
		}
		first = made
	}
	j := rating.JudgePart(first, l, reserve)
	if !a.solved() {
		return j, true
	}
	second := rating.JudgePart(a.shared(a.doubted(*a.second, o), o, worded), l, reserve)
	if worded {
		return rating.Settle(j, second), true
	}
	return rating.Settled(j, second), true
}

// likeMade reports whether only what the place was made with says anything.
func (a *demand) likeMade(rated float64) bool {
	return a.joint.stage != across && a.bears.Missing != "" && a.made > 0 && rated > 0 && !a.bears.Ended() && a.at.Role != amp.CathodeResistor && !a.solved()
}

// asPlace is what the place was made with, as if the place bore it.
func (a *demand) asPlace() stress.Stress {
	s := a.bears
	s.Interval, s.Inherited, s.Missing, s.Scenario = unit.Exactly(a.made), a.made, "", "as the place was made"
	s.Node = why.Given("what the place was made with", unit.Quantity{Amount: a.made, Unit: s.Unit}, "sheet "+s.Subject)
	return s
}

// alikeWhole reports whether the pieces together have the value of the part
// that stands in the place.
func (a *demand) alikeWhole(spec *unit.Spec) bool {
	whole := *spec
	whole.Values = []float64{a.joint.whole(spec.Values, spec.Unit)}
	return a.alike(&catalog.Offer{Part: catalog.Part{Spec: whole}})
}

// shared turns what a place bears into what the piece with the worst share
// bears.
func (a *demand) shared(s stress.Stress, o *catalog.Offer, worded bool) stress.Stress {
	if a.joint.stage == across {
		s.Quantity = a.q
	}
	if s.Missing != "" {
		return s
	}
	switch {
	case a.joint.stage == across:
		a.joint.acrossShare(&s, a.q, o, worded)
	case a.q == limit.Watts:
		a.wattShare(&s, &o.Part.Spec, where(o, worded), worded)
	case a.joint.stage == charging:
		a.joint.chargingShare(&s, &o.Part.Spec, o.Part.Kind, where(o, worded), worded)
	case a.joint.stage == settled:
		a.joint.settledShare(&s, &o.Part.Spec, o.Part.Kind, where(o, worded), worded)
	}
	return s
}
