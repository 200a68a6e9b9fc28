package plan

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Desk is everything candidates are weighed with. It is read only.
type Desk struct {
	Amp     *amp.Amp
	Mains   intake.Mains
	Cards   func(string) (tube.Card, bool)
	Reserve float64 // the shop's reserve on rated volts, a fraction
	Find    func(catalog.Want) []*catalog.Offer
	Offer   func(list, number string) (*catalog.Offer, bool)
	Cost    func(*catalog.Offer) Cost
	Reasons map[string]string           // reasons the technician recorded, by option
	Trials  map[string][]*catalog.Offer // parts asked about without a list, by TrialKey
}

// demand is what one position asks of a part in one quantity.
type demand struct {
	at      *amp.Position
	section int
	q       limit.Quantity
	bears   stress.Stress
	made    float64      // what the place was made with, 0 unknown
	place   *limit.Limit // a limit that belongs to the place, not to the part
}

// Line weighs every offer for one part under one state of the amp and names
// the one the plan takes.
func (d *Desk) Line(o *Option, i int, m *stress.Model) Line {
	p := &o.Parts[i]
	l := Line{Option: o.ID, Finding: o.Finding, Part: i, Qty: p.Qty}
	asks := d.demands(p, m)
	for _, offer := range d.offers(p) {
		l.Candidates = append(l.Candidates, d.weigh(offer, p, asks))
	}
	for _, offer := range d.Trials[TrialKey(o.ID, itoa(i))] {
		l.Candidates = append(l.Candidates, d.weigh(offer, p, asks))
	}
	slices.SortStableFunc(l.Candidates, better)
	d.choose(&l, p, o)
	return l
}

// TrialKey names a part of an option.
func TrialKey(option, part string) string {
	if part == "" {
		part = "0"
	}
	return option + "\x00" + part
}

// offers returns what the lists hold for the part, the named offer among them.
func (d *Desk) offers(p *Part) []*catalog.Offer {
	var found []*catalog.Offer
	if len(p.Want.Kinds) > 0 || p.Want.Tube != "" {
		found = d.Find(p.Want)
	}
	if p.Number == "" {
		return found
	}
	named, ok := d.Offer(p.List, p.Number)
	if !ok || slices.Contains(found, named) {
		return found
	}
	return append([]*catalog.Offer{named}, found...)
}

// weigh judges one offer against everything asked of it.
func (d *Desk) weigh(o *catalog.Offer, p *Part, asks []demand) Candidate {
	c := Candidate{Offer: o, Named: p.Number != "" && o.List == p.List && o.Number == p.Number}
	c.Cost = d.Cost(o)
	c.Kind = rating.Within
	for _, a := range asks {
		if a.at.Role == amp.LineToChassis && o.Part.Kind.IsCapacitor() && !strings.HasPrefix(o.Part.Class, "Y") {
			c.Refused = "an ordinary capacitor never goes from the mains to the chassis: remove it, or a safety class made for the place, by licensed practice"
			continue
		}
		j, ok := a.judge(o, d.Reserve)
		if !ok {
			continue
		}
		c.Judged = true
		c.Rows = append(c.Rows, j)
		if rating.Less(j.Kind, c.Kind) {
			c.Kind = j.Kind
		}
	}
	c.class = class(c)
	return c
}

// class sorts candidates: 0 every rating within, 1 nothing worse than "as the
// place was made" or a limit the card does not give, 2 the row does not tell
// its own rating, 3 below reserve, 4 never offered.
func class(c Candidate) int {
	worst := 0
	for _, r := range c.Rows {
		k := 0
		switch {
		case r.Kind.Over():
			k = 4
		case r.Kind == rating.BelowReserve:
			k = 3
		case r.Kind == rating.NotEnoughData && r.Because == rating.NoLimit && r.Quantity != limit.FirstCapacitor:
			k = 2
		case r.Kind == rating.NotEnoughData && r.HasLimit:
			k = 2
		case r.Kind != rating.Within:
			k = 1
		}
		worst = max(worst, k)
	}
	if c.Refused != "" {
		return 4
	}
	return worst
}

// better puts the candidate the plan would take first: class, then landed
// price, then list and number so that the order never depends on chance.
func better(a, b Candidate) int {
	return cmp.Or(
		cmp.Compare(a.class, b.class),
		cmp.Compare(unpriced(a), unpriced(b)),
		a.Cost.Landed.Cmp(b.Cost.Landed),
		cmp.Compare(a.Offer.List, b.Offer.List),
		cmp.Compare(a.Offer.Number, b.Offer.Number),
		cmp.Compare(a.Offer.Line, b.Offer.Line),
	)
}

func unpriced(c Candidate) int {
	if !c.Offer.Priced || c.Cost.Err != nil {
		return 1
	}
	return 0
}

// choose names the technician's offer, else the cheapest that passes.
func (d *Desk) choose(l *Line, p *Part, o *Option) {
	for i := range l.Candidates {
		c := &l.Candidates[i]
		if p.Number != "" && !c.Named || p.Number == "" && c.class > 1 {
			continue
		}
		l.Chosen = c
		break
	}
	switch {
	case l.Chosen == nil && p.Number != "":
		l.Problem = "offer " + p.List + " " + p.Number + " is in no list that is loaded"
	case l.Chosen == nil && len(l.Candidates) == 0:
		l.Problem = "no offer in any list for " + p.Is
	case l.Chosen == nil:
		l.Problem = "no offer passes for " + p.Is + "; name one and record the reason, or add a list"
	case !l.Chosen.Offered():
		l.Problem = "may not be ordered: " + d.refusal(l.Chosen)
	case unpriced(*l.Chosen) == 1:
		l.Problem = "the row gives no price"
	case l.Chosen.Kind == rating.BelowReserve && d.Reasons[o.ID] == "":
		l.NeedsReason = true
		l.Problem = "below the shop's reserve: needs a recorded reason"
	}
}

func (d *Desk) refusal(c *Candidate) string {
	if c.Refused != "" {
		return c.Refused
	}
	j, _ := c.Decides()
	return j.Reason()
}

// made returns what a place was made with, in the quantity asked for.
func made(p *amp.Position, q limit.Quantity) float64 {
	if q == limit.Watts {
		return p.Spec.Watts
	}
	return p.Spec.Volts
}

// judge weighs one offer for one demand. ok is false where the offer is not
// of a kind the demand speaks of.
func (a demand) judge(o *catalog.Offer, reserve float64) (rating.Judgment, bool) {
	switch a.q {
	case limit.FirstCapacitor:
		return a.judgeFirst(o), true
	case limit.FuseCurrent:
		return a.judgeFuse(o), true
	}
	rated := o.Part.Spec.Volts
	if a.q == limit.Watts {
		rated, reserve = o.Part.Spec.Watts, 0
	}
	if a.bears.Missing != "" && a.made > 0 && rated > 0 && !a.bears.Ended() {
		return rating.AsMade(a.bears, a.made, rated, a.q == limit.Watts, label(o)), true
	}
	return rating.JudgePart(a.bears, a.rated(o, rated), reserve), true
}

// rated is the part's own printed rating, nil where the row gives none.
func (a demand) rated(o *catalog.Offer, v float64) *limit.Limit {
	if v <= 0 {
		return nil
	}
	return &limit.Limit{
		Subject: label(o), Quantity: a.q, High: v, HasHigh: true, Unit: a.bears.Unit,
		System: limit.Marked, Source: where(o), Mark: limit.User,
	}
}

func label(o *catalog.Offer) string { return o.List + " " + o.Number }

func where(o *catalog.Offer) string {
	if o.File == "" {
		return "price list " + o.List
	}
	return o.File + ":" + itoa(o.Line)
}

// electrolyticSpread is the tolerance an electrolytic has where its row
// states none. Common practice, no source.
const electrolyticSpread = 0.2

// judgeFirst judges the first capacitor's greatest value against what the
// rectifier may feed.
func (a demand) judgeFirst(o *catalog.Offer) rating.Judgment {
	s := firstStress(a.at.Ref, o.Part.Spec, a.section, where(o))
	j := rating.Judge(s, a.place)
	if j.Kind == rating.OverInherited {
		j.Kind = rating.OverWorsened
	}
	return j
}

func firstStress(ref string, spec unit.Spec, section int, source string) stress.Stress {
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
	s.Node = greatest(v, minus, plus, s.High, source)
	return s
}

func (a demand) judgeFuse(o *catalog.Offer) rating.Judgment {
	s := fuseStress(a.at.Ref, o.Part.Spec, where(o))
	j := rating.JudgePart(s, a.place, 0)
	if j.Kind == rating.Within && s.High < a.place.High*(1-1e-9) {
		j.Kind, j.Because = rating.NotProven, rating.Doubtful
		j.Detail = "a smaller fuse than the label says: it may open in ordinary use"
	}
	return j
}

func fuseStress(ref string, spec unit.Spec, source string) stress.Stress {
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
