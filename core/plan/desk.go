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
	"lugworth/core/sorted"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Desk is everything candidates are weighed with. It is read only.
type Desk struct {
	Amp     *amp.Amp
	Mains   intake.Mains
	Cards   func(string) (tube.Card, bool)
	Reserve float64                     // the shop's reserve on rated volts, a fraction
	Shelf   func(catalog.Want) []Priced // what the lists hold, as Cheapest orders it
	Offer   func(list, number string) (*catalog.Offer, bool)
	Lost    func(list, number string) string // why Offer finds none; may be nil
	Cost    func(*catalog.Offer) Cost
	Reasons map[string]string           // reasons the technician recorded, by option
	Brings  []string                    // tube types that options fit
	Trials  map[string][]*catalog.Offer // parts asked about without a list, by TrialKey
	Joints  map[*catalog.Offer]Joint    // of Trials: those made of several pieces
}

// A Priced is one offer with what a piece of it costs.
type Priced struct {
	Offer *catalog.Offer
	Cost  Cost
}

// Cheapest puts the offer the plan would take first: priced before unpriced,
// then by landed price, then by list, number and line so that the order never
// depends on chance.
func Cheapest(a, b Priced) int {
	return cmp.Or(
		cmp.Compare(unpriced(a), unpriced(b)),
		a.Cost.Landed.Cmp(b.Cost.Landed),
		cmp.Compare(a.Offer.List, b.Offer.List),
		cmp.Compare(a.Offer.Number, b.Offer.Number),
		cmp.Compare(a.Offer.Line, b.Offer.Line),
	)
}

func unpriced(p Priced) int {
	if !p.Offer.Priced || p.Cost.Err != nil {
		return 1
	}
	return 0
}

// Scales weigh offers under one state of the amp. What a position asks of a
// part is worked out once and kept.
type Scales struct {
	desk  *Desk
	model *stress.Model
	asked map[askKey][]demand
	refs  map[string]bool // positions of the amp, once asked for
	fits  map[*Part][]Priced
	makes map[*Part][]Making

	weighed map[*Part][]Candidate // of the parts looked at last
}

// has reports whether the amp has a position.
func (s *Scales) has(ref string) bool {
	if s.refs == nil {
		s.refs = make(map[string]bool, len(s.desk.Amp.Positions))
		for i := range s.desk.Amp.Positions {
			s.refs[s.desk.Amp.Positions[i].Ref] = true
		}
	}
	return s.refs[ref]
}

// Under returns the scales of one state of the amp.
func (d *Desk) Under(m *stress.Model) *Scales {
	return &Scales{desk: d, model: m, asked: map[askKey][]demand{}}
}

// demand is what one position asks of a part in one quantity.
type demand struct {
	at      *amp.Position
	section int
	q       limit.Quantity
	bears   stress.Stress
	second  *stress.Stress // what the amp's own circuit says it bears; nil where it does not answer
	made    float64        // what the place was made with, 0 unknown
	place   *limit.Limit   // a limit that belongs to the place, not to the part
	spare   int            // pieces beyond one for each place
	beside  string         // another capacitor on the same node
	joint   *joint         // how several pieces stand in the place; nil for one
}

// Line names the offer the plan takes for one part: the technician's, else
// the cheapest that passes. Candidates weighs all of them when asked.
func (s *Scales) Line(o *Option, i int) Line {
	p := &o.Parts[i]
	l := Line{Option: o.ID, Finding: o.Finding, Part: i, Qty: p.Qty, part: p, scales: s}
	asks := s.demands(p)
	if p.Number != "" {
		if named, ok := s.desk.Offer(p.List, p.Number); ok {
			c := s.weigh(Priced{named, s.desk.Cost(named)}, p, asks)
			l.Chosen = &c
		}
	} else if best, ok := s.first(p, asks); ok {
		c := s.weigh(best, p, asks)
		l.Chosen = &c
	}
	s.desk.settle(&l, p, o)
	return l
}

// first returns the cheapest offer of the best class there is, if that class
// passes. It stops as soon as no later offer can be better.
func (s *Scales) first(p *Part, asks []*demand) (best Priced, ok bool) {
	floor := s.floor(p, asks)
	for _, o := range s.shelf(p) {
		switch c := s.classOf(o.Offer, asks); {
		case c <= floor:
			return o, true
		case c == passes && !ok:
			best, ok = o, true
		}
	}
	return best, ok
}

// passes is the last class the plan takes by itself.
const passes = 1

// floor is the best class any offer can reach: a place that was never read
// keeps even the strongest part from being proven.
func (s *Scales) floor(p *Part, asks []*demand) int {
	worst := 0
	for _, a := range asks {
		worst = max(worst, s.classOf(a.ideal(p), []*demand{a}))
	}
	return min(worst, passes)
}

// ideal is a part no real one betters: of any rating, least where less is
// better, and of the value that stands there as far as the need allows.
func (a *demand) ideal(p *Part) *catalog.Offer {
	v := a.at.Spec.Value()
	if v > 0 && p.Want.ValueHigh > 0 {
		v = min(max(v, p.Want.ValueLow), p.Want.ValueHigh)
	}
	spec := unit.Spec{Unit: a.at.Spec.Unit, Values: []float64{v}, Volts: 1 / tiny, Watts: 1 / tiny}
	switch a.q {
	case limit.FirstCapacitor:
		spec.Unit, spec.Values = unit.Farad, []float64{tiny}
	case limit.FuseCurrent:
		spec.Unit, spec.Values = unit.Ampere, []float64{tiny}
	}
	if a.joint != nil {
		a.joint.ideal(&spec)
	}
	return &catalog.Offer{Part: catalog.Part{Kind: idealKind, Class: "Y1", Spec: spec}}
}

// tiny is a value nothing real falls below.
const tiny = 1e-30

// classOf is the class of an offer without the words of its judgments.
func (s *Scales) classOf(o *catalog.Offer, asks []*demand) int {
	worst := 0
	for _, a := range asks {
		if refused(a, o) != "" {
			return never
		}
		if j, ok := a.judge(o, s.desk.Reserve, false); ok {
			worst = max(worst, classOf(j))
		}
	}
	return worst
}

// shelf returns what the lists hold for a part that names what it wants.
func (s *Scales) shelf(p *Part) []Priced {
	if len(p.Want.Kinds) == 0 && p.Want.Tube == "" {
		return nil
	}
	if p.Made.Is() {
		return s.pieces(p)
	}
	return s.desk.Shelf(p.Want)
}

// TrialKey names a part of an option.
func TrialKey(option, part string) string {
	if part == "" {
		part = "0"
	}
	return option + "\x00" + part
}

// weighedMost is how many parts keep their candidates weighed: those of one
// option that is looked at.
const weighedMost = 8

// Candidates weighs every offer for the part: those of the lists, the named
// one, the trials; the one the plan would take first. The caller must not
// change them.
func (l *Line) Candidates() []Candidate {
	if l.scales == nil {
		return nil
	}
	s := l.scales
	if have, ok := s.weighed[l.part]; ok {
		return have
	}
	if s.weighed == nil || len(s.weighed) >= weighedMost {
		s.weighed = map[*Part][]Candidate{}
	}
	s.weighed[l.part] = l.candidates()
	return s.weighed[l.part]
}

func (l *Line) candidates() []Candidate {
	s, p := l.scales, l.part
	asks := s.demands(p)
	var out []Candidate
	named := false
	for _, o := range s.shelf(p) {
		c := s.weigh(o, p, asks)
		named = named || c.Named
		out = append(out, c)
	}
	if o, ok := s.desk.Offer(p.List, p.Number); ok && !named && p.Number != "" {
		out = append(out, s.weigh(Priced{o, s.desk.Cost(o)}, p, asks))
	}
	for _, o := range s.desk.Trials[TrialKey(l.Option, itoa(l.Part))] {
		out = append(out, s.tried(Priced{o, s.desk.Cost(o)}, p))
	}
	sorted.By(out, better)
	return out
}

// refused says why an offer never goes into a place, "" if it may: an ordinary
// capacitor from the mains to the chassis, or another sort of part than the
// place holds, whose rating is of something else.
func refused(a *demand, o *catalog.Offer) string {
	k := o.Part.Kind
	if a.joint != nil {
		if why, known := a.joint.refuses(a, o); known {
			return why
		}
	}
	switch {
	case k == idealKind:
	case a.at.Role == amp.LineToChassis && !k.IsResistor() && !strings.HasPrefix(o.Part.Class, "Y"):
		return "an ordinary capacitor never goes from the mains to the chassis: remove it, or a safety class made for the place, by licensed practice"
	case a.q == limit.FuseCurrent && k != catalog.Fuse && k != catalog.Unknown:
		return "not a fuse, and " + a.at.Ref + " holds one"
	case (a.q == limit.DCVolts || a.q == limit.FirstCapacitor) && !k.IsCapacitor() && k != catalog.Unknown:
		return "not a capacitor, and " + a.at.Ref + " holds one"
	case a.q == limit.Watts && !k.IsResistor() && k != catalog.Unknown:
		return "not a resistor, and " + a.at.Ref + " holds one"
	case a.at.Role == amp.Coupler && k == catalog.Electrolytic:
		return "an electrolytic leaks: it never goes from a plate to a grid"
	}
	return ""
}

// idealKind marks the part no real one betters.
const idealKind catalog.Kind = 255

// weigh judges one offer against everything asked of it.
func (s *Scales) weigh(o Priced, p *Part, asks []*demand) Candidate {
	c := Candidate{Offer: o.Offer, Cost: o.Cost, Named: p.Number != "" && o.Offer.List == p.List && o.Offer.Number == p.Number}
	if len(asks) > 0 {
		c.Kind = rating.Within // until a row says less; with none, nothing is known
	}
	c.Rows = make([]rating.Judgment, 0, len(asks))
	c.joins(asks)
	for _, a := range asks {
		if why := refused(a, o.Offer); why != "" {
			c.Refused, c.class = why, never
			continue
		}
		j, ok := a.judge(o.Offer, s.desk.Reserve, true)
		if !ok {
			continue
		}
		c.Judged = true
		c.Rows = append(c.Rows, j)
		c.rest(a, &j)
		c.class = max(c.class, classOf(j))
		if rating.Less(j.Kind, c.Kind) {
			c.Kind = j.Kind
		}
	}
	return c
}

// never is the class of what is never offered.
const never = 4

// classOf sorts judgments: 0 within, 1 nothing worse than "as the place was
// made" or a limit the card does not give, 2 either the row does not tell its
// own rating or nobody knows what the place bears, 3 below reserve, 4 never
// offered. A candidate is of its worst.
func classOf(r rating.Judgment) int {
	switch {
	case r.Kind.Over():
		return never
	case r.Kind == rating.BelowReserve:
		return 3
	case r.Kind == rating.NotEnoughData && (r.HasLimit || r.Quantity != limit.FirstCapacitor):
		return 2
	case r.Kind != rating.Within:
		return passes
	}
	return 0
}

// better puts the candidate the plan would take first: by class, then as
// Cheapest does.
func better(a, b Candidate) int {
	return cmp.Or(cmp.Compare(a.class, b.class), Cheapest(Priced{a.Offer, a.Cost}, Priced{b.Offer, b.Cost}))
}

// settle says what stands in the way of ordering the line.
func (d *Desk) settle(l *Line, p *Part, o *Option) {
	c := l.Chosen
	lost := slices.IndexFunc(p.For, func(ref string) bool { return !l.scales.has(ref) })
	switch {
	case lost >= 0:
		l.Problem = "no position " + p.For[lost] + " in the amp: nothing says what the part must bear"
	case c == nil && p.Number != "":
		l.Problem = "offer " + p.List + " " + p.Number + " " + d.lost(p)
	case c == nil && len(l.scales.shelf(p)) == 0:
		l.Problem = "no offer in any list for " + p.Is
	case c == nil:
		l.Problem = "no offer passes for " + p.Is + "; name one and record the reason, or add a list"
	case !c.Offered():
		l.Problem = "may not be ordered: " + d.refusal(c)
	case unpriced(Priced{c.Offer, c.Cost}) == 1:
		l.Problem = noPrice(c)
	case c.Kind == rating.BelowReserve && d.Reasons[o.ID] == "":
		l.NeedsReason = true
		l.Problem = "below the shop's reserve: needs a recorded reason"
	}
}

func (d *Desk) lost(p *Part) string {
	if d.Lost == nil {
		return "is in no list that is loaded: bring the list, or choose another part"
	}
	return d.Lost(p.List, p.Number)
}

func noPrice(c *Candidate) string {
	if c.Cost.Err != nil {
		return c.Cost.Err.Error()
	}
	return "the row gives no price"
}

func (d *Desk) refusal(c *Candidate) string {
	if c.Refused != "" {
		return c.Refused
	}
	j, _ := c.Decides()
	return j.Reason()
}
