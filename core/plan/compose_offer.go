package plan

import (
	"cmp"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/sorted"
	"lugworth/core/unit"
)

// A Making is one way to make the value of a part of several alike that the
// lists hold, weighed.
type Making struct {
	Candidate             // one piece at its worst share
	Balance    *Candidate // one balancing resistor; nil where none stands there
	Pieces     int        // of Offer, all places together
	Resistors  int        // balancing, all places together
	Landed     money.Decimal
	landedFail bool
}

// Passes reports whether the plan may take the making by itself: nothing of
// it is worse than not proven.
func (m *Making) Passes() bool {
	return m.Offered() && m.class <= passes && (m.Balance == nil || m.Balance.class <= passes)
}

// How many pieces of the lists are weighed for each way, and how many of them
// are returned.
const (
	bodiesTried = 8
	bodiesKept  = 3
)

// ways lists how a sort of part is made of several: capacitors of two,
// resistors of two or three, or all sections of one can.
func ways(sort partSort) []Made {
	two := []Made{{Pieces: 2, Way: Series}, {Pieces: 2, Way: Parallel}}
	switch sort {
	case capacitor:
		return append(two, Made{Pieces: 1, Way: Parallel, Sections: true})
	case resistor:
		return append(two, Made{Pieces: 3, Way: Series}, Made{Pieces: 3, Way: Parallel})
	}
	return nil
}

// Makings searches the lists for pieces that together make the value a part
// wants, the best few of each way, the best first: by class, then by what all of it costs landed. What
// is never offered is not among them. It looks at many offers, so it is asked
// for, and not part of deriving.
func (l *Line) Makings() []Making {
	if l.scales == nil || !composable(l.part, l.scales) {
		return nil
	}
	if have, ok := l.scales.makes[l.part]; ok {
		return have
	}
	out := l.search()
	if l.scales.makes == nil {
		l.scales.makes = map[*Part][]Making{}
	}
	l.scales.makes[l.part] = out
	return out
}

// Composable reports whether the part may be made of several pieces at all.
func (l *Line) Composable() bool { return l.scales != nil && composable(l.part, l.scales) }

func (l *Line) search() []Making {
	var out []Making
	for _, m := range ways(sortOf(l.part.Want)) {
		of := l.scales.makings(l.part, m)
		sorted.By(of, betterMaking)
		out = append(out, of[:min(len(of), bodiesKept)]...)
	}
	sorted.By(out, betterMaking)
	return out
}

// composable reports whether a part may be made of several at all: one value
// in places that take a capacitor or a resistor, none from the mains to the
// chassis, of no safety class.
func composable(p *Part, s *Scales) bool {
	if len(p.For) == 0 || p.body != nil || p.Want.ValueHigh == 0 || p.Want.Sections > 1 || p.Want.Class != "" {
		return false
	}
	for _, ref := range p.For {
		at, ok := s.desk.Amp.Find(ref)
		if !ok || at.Role == amp.LineToChassis || at.Role == amp.LineFuse {
			return false
		}
	}
	return true
}

func betterMaking(a, b Making) int {
	return cmp.Or(cmp.Compare(a.worst(), b.worst()), cmp.Compare(b2i(a.landedFail), b2i(b.landedFail)), a.Landed.Cmp(b.Landed),
		cmp.Compare(a.Pieces+a.Resistors, b.Pieces+b.Resistors), cmp.Compare(a.Offer.List, b.Offer.List), cmp.Compare(a.Offer.Number, b.Offer.Number))
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// worst is the class of the making: that of its worst part.
func (m *Making) worst() int {
	if m.Balance != nil {
		return max(m.class, m.Balance.class)
	}
	return m.class
}

// makings weighs the best few pieces of the lists for one way.
func (s *Scales) makings(p *Part, m Made) []Making {
	one := *s.plain(p)
	one.Made, one.List, one.Number = m, "", ""
	one.Qty = one.PerPlace() * len(one.For)
	places := s.places(s.plain(p))
	var out []Making
	for _, o := range s.leading(&one, places) {
		if got, ok := s.making(&one, o, places); ok {
			out = append(out, got)
		}
	}
	return out
}

// leading picks the priced pieces most worth weighing, the balancing
// resistors left aside.
func (s *Scales) leading(p *Part, places []*demand) []Priced {
	asks := (joint{Made: p.Made}).ask(places)
	sure := slices.DeleteFunc(asks, func(a *demand) bool { return a.joint.stage == settled })
	type classed struct {
		Priced
		class int
	}
	var all []classed
	for _, o := range s.pieces(p) {
		if c := s.classOf(o.Offer, sure); c < never && unpriced(o) == 0 {
			all = append(all, classed{o, c})
		}
	}
	sorted.By(all, func(a, b classed) int { return cmp.Compare(a.class, b.class) })
	out := make([]Priced, 0, bodiesTried)
	for _, c := range all[:min(len(all), bodiesTried)] {
		out = append(out, c.Priced)
	}
	return out
}

// making weighs one piece with the balancing resistor that suits it.
func (s *Scales) making(p *Part, o Priced, places []*demand) (Making, bool) {
	m := Making{Pieces: p.Qty}
	j := joint{Made: p.Made}
	if r, ok := s.balancing(j, o.Offer, places); ok {
		j.balanced, j.balance = true, r.Offer.Part.Spec
		c := s.weigh(r, p, acrossOf(j, o.Offer, places))
		m.Balance, m.Resistors = &c, p.Qty
	}
	m.Candidate = s.weigh(o, p, j.ask(places))
	m.Landed, m.landedFail = m.landed()
	return m, m.Offered() && (m.Balance == nil || m.Balance.Offered())
}

// landed is what all pieces cost at the shop's door.
func (m *Making) landed() (money.Decimal, bool) {
	sum, err := m.Cost.Landed.Mul(money.Whole(int64(m.Pieces)))
	if m.Balance == nil || err != nil {
		return sum, err != nil || m.Cost.Err != nil
	}
	more, err := m.Balance.Cost.Landed.Mul(money.Whole(int64(m.Resistors)))
	if err != nil {
		return sum, true
	}
	sum, err = sum.Add(more)
	return sum, err != nil || m.Cost.Err != nil || m.Balance.Cost.Err != nil
}

// The ohms between which a balancing resistor is looked for: common practice,
// no source. They only decide what is offered for judging.
const leastBalance, greatestBalance = 10e3, 4.7e6

// balancing finds the resistor for each piece of a chain: of those that bear
// the watts of the worst share, the greatest that keeps the share in the long
// run no worse than the share while charging, so that it loads the supply
// least; where none does, the one that keeps it lowest. Our own judgment.
// Chains of other than capacitors need none, and a coupler may have none.
func (s *Scales) balancing(j joint, body *catalog.Offer, places []*demand) (best Priced, ok bool) {
	at := slices.IndexFunc(places, func(a *demand) bool { return a.bears.Unit == unit.Volt })
	if j.Way != Series || at < 0 || !body.Part.Kind.IsCapacitor() || slices.ContainsFunc(places, func(a *demand) bool { return a.at.Role == amp.Coupler }) {
		return best, false
	}
	asks := acrossOf(j, body, places)
	bears := places[at].bears
	if places[at].solved() {
		bears = *places[at].second
	}
	kept, least := false, 0.0
	for _, r := range s.desk.Shelf(catalog.Want{Kinds: catalog.Resistors(), ValueLow: leastBalance, ValueHigh: greatestBalance}) {
		ohms := r.Offer.Part.Spec.Value()
		if unpriced(r) == 1 || len(r.Offer.Part.Spec.Values) != 1 || kept && ohms <= best.Offer.Part.Spec.Value() {
			continue
		}
		volts, good := j.runsAt(body, &r.Offer.Part.Spec, bears.High)
		if volts == 0 || kept && !good || !kept && !good && ok && volts >= least || s.classOf(r.Offer, asks) > passes {
			continue
		}
		best, ok, kept, least = r, true, good, volts
	}
	return best, ok
}

// runsAt is the worst share of v in the long run with a balancing resistor;
// good reports whether it is no worse than the share while charging. 0 where
// it is not known.
func (j joint) runsAt(body *catalog.Offer, balance *unit.Spec, v float64) (volts float64, good bool) {
	farads, _, missing := spreadOf(&body.Part.Spec, body.Part.Kind)
	ohms, _, lacks := spreadOf(balance, catalog.Resistor)
	leak, _, known := j.leakOf(&body.Part.Spec, body.Part.Kind)
	if missing != "" || lacks != "" || !known || v <= 0 {
		return 0, false
	}
	volts = settledVolts(alike(j.Pieces, ohms), leak, v, 0)
	return volts, volts <= v*chargeShare(alike(j.Pieces, farads), 0)*(1+near)
}

// acrossOf is what a balancing resistor over given pieces must bear.
func acrossOf(j joint, body *catalog.Offer, places []*demand) []*demand {
	over := joint{Made: j.Made, stage: across, body: &body.Part.Spec, kind: body.Part.Kind}
	return over.over(places)
}
