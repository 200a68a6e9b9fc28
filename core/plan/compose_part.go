package plan

import (
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// Join ties balancing resistors to the pieces they stand across, once all
// parts of an option are read, and counts both.
// Errors: what does not count up, or stands across nothing.
func Join(parts []Part) []error {
	var wrong []error
	for i := range parts {
		p := &parts[i]
		if p.Across == 0 {
			continue
		}
		body, err := p.over(parts, i)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		p.body, body.balance = body, p
	}
	for i := range parts {
		if err := parts[i].counts(); err != nil {
			wrong = append(wrong, err)
		}
	}
	return wrong
}

// over finds the part that part i of parts stands across.
func (p *Part) over(parts []Part, i int) (*Part, error) {
	at := p.Across - 1
	switch {
	case at < 0 || at >= len(parts) || at == i || parts[at].Across != 0:
		return nil, fmt.Errorf("%q stands across part %d, which is no part that can be balanced", p.Is, at)
	case parts[at].Made.Way != Series:
		return nil, fmt.Errorf("%q stands across %q, whose pieces are not in series: there is nothing to balance", p.Is, parts[at].Is)
	case parts[at].balance != nil:
		return nil, fmt.Errorf("%q stands across %q, which is balanced already", p.Is, parts[at].Is)
	case len(p.For) > 0 || p.Made.Is():
		return nil, fmt.Errorf("%q stands across the pieces of %q and goes into no place of its own", p.Is, parts[at].Is)
	}
	return &parts[at], nil
}

// counts reports pieces that do not count up: more or fewer would stand in
// the places in a way nobody judged.
func (p *Part) counts() error {
	want := 0
	switch {
	case p.body != nil:
		want = p.body.PerPlace() * len(p.body.For)
	case p.Made.Is():
		want = p.PerPlace() * len(p.For)
	default:
		return nil
	}
	if want == 0 {
		return fmt.Errorf("%q is made of several pieces and goes into no place: nothing says what they bear", p.Is)
	}
	if p.Qty != want {
		return fmt.Errorf("%q takes %d pieces, and %d are written", p.Is, want, p.Qty)
	}
	return nil
}

// Make returns the parts of an option with part i made of several pieces, its
// balancing resistors as a part of their own at the end.
func Make(parts []Part, i int, m Making) []Part {
	out := Unmake(parts, i)
	if i < 0 || i >= len(out) || !m.Made.Is() {
		return out
	}
	p := &out[i]
	p.Made, p.List, p.Number = m.Made, m.Offer.List, m.Offer.Number
	p.Qty = p.PerPlace() * max(1, len(p.For))
	if m.Balance != nil {
		o := m.Balance.Offer
		out = append(out, Part{Qty: p.Qty, Is: "resistor " + unit.Quantity{Amount: o.Part.Spec.Value(), Unit: unit.Ohm}.String(),
			List: o.List, Number: o.Number, Across: i + 1})
		out[len(out)-1].Want, _ = ReadWant(out[len(out)-1].Is)
	}
	return out
}

// Unmake returns the parts of an option with part i one piece a place again,
// chosen by the plan, and without its balancing resistors.
func Unmake(parts []Part, i int) []Part {
	var out []Part
	for k, p := range parts {
		if p.Across == i+1 {
			continue
		}
		if k == i && p.Made.Is() {
			p.Qty = max(1, p.Qty/p.PerPlace())
			p.Made, p.List, p.Number = Made{}, "", ""
		}
		p.body, p.balance = nil, nil
		out = append(out, p)
	}
	for k := range out { // what stood behind a part taken out has moved up
		gone := 0
		for at := range parts {
			if parts[at].Across == i+1 && at+1 < out[k].Across {
				gone++
			}
		}
		out[k].Across -= gone
	}
	return out
}

// pieces returns what the lists hold for the pieces of a part, as Cheapest
// orders it.
func (s *Scales) pieces(p *Part) []Priced {
	u := unit.Farad
	if sortOf(p.Want) == resistor {
		u = unit.Ohm
	}
	all := s.desk.Shelf(p.Made.piece(p.Want, u))
	if p.Want.ValueHigh == 0 {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(o Priced) bool {
		whole := p.Made.whole(o.Offer.Part.Spec.Values, u)
		return whole < p.Want.ValueLow*(1-near) || whole > p.Want.ValueHigh*(1+near)
	})
}

// near is float noise only.
const near = 1e-9

// tried weighs a part that was asked about without a list: as one piece, or
// as the pieces the question names.
func (s *Scales) tried(o Priced, p *Part) Candidate {
	if p.body != nil {
		return s.weigh(o, p, s.demands(p))
	}
	one := s.plain(p)
	t, several := s.desk.Joints[o.Offer]
	if !several {
		return s.weigh(o, one, s.places(one))
	}
	j := joint{Made: t.Made, balanced: t.Balance != ""}
	j.balance, _ = (&Part{Is: "resistor " + t.Balance}).spec(unit.Ohm)
	places := s.places(one)
	c := s.weigh(o, one, j.ask(places))
	if j.balanced {
		r := catalog.Offer{List: o.Offer.List, Number: o.Offer.Number, Text: t.Balance, Part: catalog.Part{Kind: catalog.Resistor, Spec: j.balance}}
		c.withBalance(s.weigh(Priced{Offer: &r}, one, acrossOf(j, o.Offer, places)))
	}
	return c
}

// withBalance adds how the balancing resistors that were asked about stand: a
// making is no better than its worst part.
func (c *Candidate) withBalance(b Candidate) {
	c.Rows, c.class, c.Judged = append(c.Rows, b.Rows...), max(c.class, b.class), c.Judged || b.Judged
	if c.Refused == "" {
		c.Refused = b.Refused
	}
	if rating.Less(b.Kind, c.Kind) {
		c.Kind = b.Kind
	}
}

// joins notes how several pieces make up a place, and their value together.
func (c *Candidate) joins(asks []*demand) {
	for _, a := range asks {
		if a.joint == nil || a.joint.stage == across {
			continue
		}
		c.Made, c.Value = a.joint.Made, a.joint.value(c.Offer)
		return
	}
}

// value is the interval of the whole by tolerance; the zero interval where
// the row tells too little.
func (j *joint) value(o *catalog.Offer) unit.Interval {
	spec := o.Part.Spec
	if j.Sections {
		var bodies []unit.Interval
		for _, v := range spec.Values {
			one := spec
			one.Values = []float64{v}
			of, _, missing := spreadOf(&one, o.Part.Kind)
			if missing != "" {
				return unit.Interval{}
			}
			bodies = append(bodies, of)
		}
		return sumOf(bodies)
	}
	of, _, missing := spreadOf(&spec, o.Part.Kind)
	if missing != "" {
		return unit.Interval{}
	}
	return j.Way.joined(alike(j.Pieces, of), spec.Unit)
}

// rest judges what each other piece bears while one bears the worst share.
func (c *Candidate) rest(a *demand, r *rating.Judgment) {
	if a.joint == nil || a.joint.stage == across {
		return
	}
	var left rating.Judgment
	if a.joint.Way == Series && a.q == limit.DCVolts && r.HasFigure {
		whole := a.bears.High
		if r.Tier == 1 && a.second != nil {
			whole = a.second.High
		}
		each := max(0, whole-r.Worst) / float64(a.joint.Pieces-1)
		s := stress.Stress{Subject: r.Subject, Quantity: r.Quantity, Scenario: r.Scenario, Mains: r.Mains, Interval: unit.Exactly(each), Unit: r.Unit, Doubt: r.Doubted}
		var l *limit.Limit
		if r.HasLimit {
			l = &r.Limit
		}
		left = rating.JudgePart(s, l, r.Reserve)
	}
	for len(c.Rest) < len(c.Rows)-1 {
		c.Rest = append(c.Rest, rating.Judgment{})
	}
	c.Rest = append(c.Rest, left)
}
