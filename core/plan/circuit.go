package plan

import (
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// both judges a figure by readings scaled with the mains and, where it
// answers, by the amp's own circuit.
func (d *Desk) both(m *stress.Model, s stress.Stress, l *limit.Limit) rating.Judgment {
	j := rating.Judge(s, l)
	second, ok := m.Solved(s.Subject, s.Quantity, s.Mains, s.Scenario)
	if s.Scenario == stress.Top {
		second, ok = d.greatest(m, s.Subject, s.Quantity)
	}
	if !ok {
		return j
	}
	return rating.Settle(j, rating.Judge(second, l))
}

// place judges a part that stands in the amp by both tiers, the circuit in
// whichever situation asks most of it.
func (d *Desk) place(m *stress.Model, s stress.Stress, l *limit.Limit, reserve float64) rating.Judgment {
	j := rating.JudgeFound(s, l, reserve)
	second, ok := d.greatest(m, s.Subject, s.Quantity)
	if !ok {
		return j
	}
	return rating.Settle(j, rating.JudgeFound(withDoubt(second, s), l, reserve))
}

// greatest is what the circuit asks of a part over the owner's range.
func (d *Desk) greatest(m *stress.Model, ref string, q limit.Quantity) (stress.Stress, bool) {
	if !d.Mains.Declared() || !m.HasCircuit() {
		return stress.Stress{}, false
	}
	return m.Greatest(ref, q, d.Mains.High)
}

// second is what the circuit asks of a place, nil where it does not answer.
func (d *Desk) second(m *stress.Model, ref string, q limit.Quantity) *stress.Stress {
	if s, ok := d.greatest(m, ref, q); ok {
		return &s
	}
	return nil
}

// withDoubt keeps a doubt about the part itself, whatever the tier: volts
// marked as AC are so for both.
func withDoubt(second, first stress.Stress) stress.Stress {
	if second.Doubt == "" && first.Doubt == doubtAC(true) {
		second.Doubt = first.Doubt
	}
	return second
}

// otherPart judges a part of which no first-order rule says what it must
// bear: by the circuit alone, if it answers and the part has a rating.
func (d *Desk) otherPart(out []rating.Judgment, m *stress.Model, p *amp.Position) []rating.Judgment {
	if p.Role == amp.LineToChassis {
		return out // not a place of the circuit
	}
	for _, q := range []limit.Quantity{limit.DCVolts, limit.Watts} {
		l, reserve := d.ownLimit(p, q)
		if l == nil {
			continue
		}
		s, ok := d.greatest(m, p.Ref, q)
		if !ok {
			continue
		}
		if q == limit.DCVolts && s.Doubt == "" {
			s.Doubt = doubtAC(p.Spec.AC)
		}
		out = append(out, rating.JudgeFound(s, l, reserve))
	}
	return out
}

// ownLimit is the rating printed on a part that decides: volts of a
// capacitor, watts of a resistor.
func (d *Desk) ownLimit(p *amp.Position, q limit.Quantity) (*limit.Limit, float64) {
	switch {
	case q == limit.DCVolts && p.Spec.Unit == unit.Farad:
		return printed(p, q, p.Spec.Volts, unit.Volt), d.Reserve
	case q == limit.Watts && p.Spec.Unit == unit.Ohm:
		return printed(p, q, p.Spec.Watts, unit.Watt), 0
	}
	return nil, 0
}

// rippleOf judges the ripple current of a capacitor whose row states a limit:
// ripple=200mA.
func (d *Desk) rippleOf(out []rating.Judgment, m *stress.Model, p *amp.Position) []rating.Judgment {
	v, err := unit.Read(p.Extra["ripple"], unit.Ampere)
	if p.Extra["ripple"] == "" || err != nil || v <= 0 {
		return out
	}
	s, ok := d.greatest(m, p.Ref, circuit.RippleCurrent)
	if !ok {
		return out
	}
	s.Unit = unit.Ampere
	return append(out, rating.JudgeFound(s, printed(p, circuit.RippleCurrent, v, unit.Ampere), 0))
}

// rectifierQuantities are what the cards of rectifiers limit and the circuit
// answers.
var rectifierQuantities = []limit.Quantity{limit.OutputCurrent, limit.PeakCurrent, limit.InverseVolts}

// rectifiers judges rectifiers by the circuit: no reading tells their
// currents.
func (d *Desk) rectifiers(m *stress.Model) []rating.Judgment {
	if !m.HasCircuit() {
		return nil
	}
	var out []rating.Judgment
	whole := map[string]bool{}
	for _, p := range d.Amp.WithRole(amp.RectifierTube) {
		for _, q := range rectifierQuantities {
			ref := rectifierRef(p, q)
			if q == limit.OutputCurrent && whole[ref] {
				continue
			}
			whole[ref] = true
			out = d.rectifier(out, m, ref, q, d.limits(typeIn(m, p), q))
		}
	}
	return out
}

// rectifier judges one figure of a rectifier against every limit its card
// states. What it blocks is most before the tubes conduct.
func (d *Desk) rectifier(out []rating.Judgment, m *stress.Model, ref string, q limit.Quantity, ls []limit.Limit) []rating.Judgment {
	for i := range ls {
		at := d.places(ls[i].System, m, false)
		if len(at) == 0 {
			continue
		}
		s, ok := m.Solved(ref, q, at[0].mains, at[0].scenario)
		if q == limit.InverseVolts {
			s, ok = d.greatest(m, ref, q)
		}
		if ok {
			out = append(out, rating.Judge(s, &ls[i]))
		}
	}
	return out
}

// rectifierRef is what a figure of a rectifier is of: its output current is
// limited for the whole tube, all plates together.
func rectifierRef(p *amp.Position, q limit.Quantity) string {
	if q == limit.OutputCurrent {
		return amp.Base(p.Ref)
	}
	return p.Ref
}

// The ends nothing asks for.
var negative, positive = math.Inf(-1), math.Inf(1)

// Needed says between which ends a figure must lie to be within: what the
// circuit looks at more closely where its cautious band is not.
func (d *Desk) Needed() circuit.Need {
	return func(f circuit.Figure) (low, high float64, ok bool) {
		p, ok := d.Amp.Find(f.Ref)
		if !ok {
			return 0, 0, false
		}
		if l, reserve := d.ownLimit(p, f.Quantity); l != nil {
			return negative, l.High / (1 + max(reserve, 0)), true
		}
		high = positive
		for _, l := range d.limits(p.Type, f.Quantity) {
			if l.HasHigh {
				high = min(high, l.High)
				ok = true
			}
		}
		return negative, high, high < positive
	}
}

// Judged lists the figures of a circuit that the desk asks for.
func (d *Desk) Judged(all []circuit.Figure) []circuit.Figure {
	out := make([]circuit.Figure, 0, len(all))
	for _, f := range all {
		if d.judges(f) {
			out = append(out, f)
		}
	}
	return out
}

func (d *Desk) judges(f circuit.Figure) bool {
	p, ok := d.Amp.Find(f.Ref)
	switch f.Quantity {
	case limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts:
		return ok && p.Role == amp.OutputTube
	case limit.CathodeCurrent, limit.BothWatts:
		return ok && p.Role == amp.OutputTube && d.mayLimit(f.Quantity)
	case limit.DCVolts:
		return ok && p.Spec.Unit == unit.Farad
	case limit.Watts:
		return ok && p.Spec.Unit == unit.Ohm
	case circuit.RippleCurrent:
		return ok && p.Extra["ripple"] != ""
	case limit.OutputCurrent, limit.PeakCurrent, limit.InverseVolts:
		return d.limitsRectifier(f)
	}
	return false
}

// mayLimit reports whether the card of any output tube that stands in the amp
// or may be fitted limits a quantity. A type an option brings is not known
// here; its limits are then asked for with the rest.
func (d *Desk) mayLimit(q limit.Quantity) bool {
	for _, t := range d.Amp.WithRole(amp.OutputTube) {
		if d.limits(t.Type, q) != nil {
			return true
		}
	}
	return slices.ContainsFunc(d.Brings, func(typ string) bool { return d.limits(typ, q) != nil })
}

// limitsRectifier reports whether the card of a rectifier limits a figure,
// which may be of a whole tube of several plates.
func (d *Desk) limitsRectifier(f circuit.Figure) bool {
	for _, p := range d.Amp.WithRole(amp.RectifierTube) {
		if p.Ref != f.Ref && amp.Base(p.Ref) != f.Ref {
			continue
		}
		for _, typ := range append([]string{p.Type}, d.Brings...) {
			if d.limits(typ, f.Quantity) != nil {
				return true
			}
		}
	}
	return false
}

// typeIn is the type that stands in a place under a state of the amp.
func typeIn(m *stress.Model, p *amp.Position) string {
	if t := m.State().Types[p.Ref]; t != "" {
		return t
	}
	return p.Type
}

// Failed judges what positions bear in a failure, and keeps what is not
// within and, of the rest, the one nearest to its limit. At full signal the
// watts of a tube are not judged: part of them goes to the speaker.
func (d *Desk) Failed(all []stress.Stress, signal bool) []rating.Judgment {
	var out []rating.Judgment
	var nearest *rating.Judgment
	for _, s := range all {
		p, ok := d.Amp.Find(s.Subject)
		if !ok || signal && (s.Quantity == limit.PlateWatts || s.Quantity == limit.BothWatts) {
			continue
		}
		for _, l := range d.limitsHere(p, s.Quantity) {
			j := rating.JudgeFound(s, &l, 0)
			m, known := j.Margin()
			switch {
			case j.Kind != rating.Within && m < 0:
				out = append(out, j)
			case known && (nearest == nil || m < marginOf(nearest)):
				nearest = &j
			}
		}
	}
	if nearest != nil && len(out) == 0 {
		out = append(out, *nearest)
	}
	return out
}

func marginOf(j *rating.Judgment) float64 {
	m, _ := j.Margin()
	return m
}

// limitsHere are the limits a position is judged by: its own rating, else
// what the card of its type states.
func (d *Desk) limitsHere(p *amp.Position, q limit.Quantity) []limit.Limit {
	if l, _ := d.ownLimit(p, q); l != nil {
		return []limit.Limit{*l}
	}
	return d.limits(p.Type, q)
}
