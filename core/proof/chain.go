package proof

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A chain turns the reason of one figure into the steps of a certificate. It
// states the figures the program found and works nothing out but mains ratios
// the reason leaves unsaid.
type chain struct {
	w      *Writer
	j      *Judged
	tap    string // in use
	tapped bool   // a ratio with taps was written
}

// whole writes the chain of the figure.
func (c *chain) whole() (Step, error) {
	if c.j.Solved != nil {
		return *c.j.Solved, nil
	}
	return c.step(c.j.Bears)
}

// step writes one reason and all below it.
func (c *chain) step(r *Reason) (Step, error) {
	if r == nil {
		return Step{}, errors.New("the figure has no reason")
	}
	switch r.Rule {
	case "":
		return c.fact(r)
	case Ratio:
		return c.ratio(r)
	case Peak:
		return c.peak(r)
	case CouplerVolts:
		return c.coupler(r)
	case "bigger cathode resistor":
		return c.bigger(r)
	case Recovers:
		return c.recovers(r)
	case WattsFollow:
		if c.j.Quantity == limit.Watts {
			return c.band(r, ResistorFollows)
		}
	}
	switch r.Rule {
	case ToCathode, CathodeCurrent, PlateWatts, ScreenWatts, ResistorWatts:
		return c.value(r)
	case VoltsFollow, SwitchOn, CurrentFollows, WattsFollow, Both, Greatest:
		return c.band(r, r.Rule)
	}
	return Step{}, fmt.Errorf("no rule %q in a certificate", r.Rule)
}

// fact writes a leaf, with the meter error of its reading.
func (c *chain) fact(r *Reason) (Step, error) {
	if !r.Number {
		return Step{}, fmt.Errorf("%s is no number", r.What)
	}
	s := c.plain(r)
	if id, ok := strings.CutPrefix(r.Where, "reading "); ok {
		m, found := c.w.readings[id]
		switch {
		case !found:
			return s, fmt.Errorf("no reading %q", id)
		case m.Stated:
			s.Error = Fact(m.Meter)
		case c.w.MeterKnown:
			s.Error = Fact(c.w.Meter)
		}
		return s, nil
	}
	if p, ok := c.position(r.Where); ok && r.Unit == unit.Ohm {
		s.Error = Fact(max(p.Spec.Tolerance.Plus, p.Spec.Tolerance.Minus))
	} else {
		s.Error = "0"
	}
	return s, nil
}

func (c *chain) position(where string) (*amp.Position, bool) {
	ref, ok := strings.CutPrefix(where, "sheet ")
	if !ok {
		return nil, false
	}
	return c.w.Amp.Find(ref)
}

// plain writes a leaf of which only the value counts.
func (c *chain) plain(r *Reason) Step {
	return Step{Value: Fact(r.High), Unit: r.Unit.String(), What: r.What, Where: r.Where}
}

func (c *chain) all(rs []*Reason) ([]Step, error) {
	out := make([]Step, 0, len(rs))
	for _, r := range rs {
		s, err := c.step(r)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

func (c *chain) value(r *Reason) (Step, error) {
	from, err := c.all(r.From)
	if r.Rule == CathodeCurrent && len(from) == 3 {
		from[2].Error = ""
	}
	return Step{Rule: r.Rule, What: r.What, Value: Figure(r.High), Unit: r.Unit.String(), From: from}, err
}

func (c *chain) band(r *Reason, rule string) (Step, error) {
	from, err := c.all(r.From)
	if rule == Greatest {
		for i := range from {
			from[i].Error = ""
		}
	}
	return Step{Rule: rule, What: r.What, High: Figure(r.High), Unit: r.Unit.String(), From: from}, err
}

// ratio writes what carries a reading to the mains of the verdict. The tap as
// found stands last: a tap moved down raises what stood before.
func (c *chain) ratio(r *Reason) (Step, error) {
	if len(r.From) < 2 {
		return Step{}, errors.New("a mains ratio without two mains")
	}
	id, _ := strings.CutPrefix(r.From[1].Where, "reading ")
	s := Step{Rule: Ratio, What: r.What, Value: Figure(r.High)}
	judged, at := c.plain(r.From[0]), c.plain(r.From[1])
	if s.From = []Step{judged, at}; len(r.From) == 2 {
		return s, nil
	}
	m, ok := c.w.readings[id]
	if !ok {
		return s, fmt.Errorf("no reading %q", id)
	}
	s.From = c.tapsOf(judged, at, m)
	return s, nil
}

func (c *chain) tapsOf(judged, at Step, m *amp.Reading) []Step {
	c.tapped = true
	tap := m.Tap
	if tap == "" {
		tap = c.w.Amp.Tap
	}
	return []Step{judged, {Value: c.tap, Unit: "V", What: tapInUse}, at,
		{Value: tap, Unit: "V", What: "tap at the reading", Where: at.Where}, {Value: c.w.Amp.Tap, Unit: "V", What: tapAsFound}}
}

// ratioOf writes the ratio of a reading that its reason leaves unsaid: as
// another of the same chain, at its own mains and tap.
func (c *chain) ratioOf(leaf *Reason, like *Step) (Step, error) {
	id, _ := strings.CutPrefix(leaf.Where, "reading ")
	m, ok := c.w.readings[id]
	if !ok || like == nil {
		return Step{}, fmt.Errorf("%s: no reading %q, or no mains ratio", leaf.What, id)
	}
	at := Step{Value: Fact(float64(m.Mains)), Unit: "V", What: "mains at the reading", Where: leaf.Where}
	s := Step{Rule: Ratio, What: "mains ratio", From: []Step{like.From[0], at}}
	if len(like.From) == 5 {
		s.From = c.tapsOf(like.From[0], at, m)
	}
	v, err := c.worked(&s)
	s.Value = Figure(v)
	return s, err
}

// worked is the ratio a step stands for.
func (c *chain) worked(s *Step) (float64, error) {
	v := make([]float64, len(s.From))
	for i, f := range s.From {
		var err error
		if v[i], err = strconv.ParseFloat(f.Value, 64); err != nil {
			return 0, fmt.Errorf("%s: %w", f.What, err)
		}
	}
	if len(v) == 2 {
		return v[0] / v[1], nil
	}
	return (v[0] / v[1]) / (v[2] / v[3]), nil
}

// ratioIn returns a mains ratio of a chain.
func ratioIn(s *Step) *Step {
	if s.Rule == Ratio {
		return s
	}
	for i := range s.From {
		if f := ratioIn(&s.From[i]); f != nil {
			return f
		}
	}
	return nil
}

func (c *chain) peak(r *Reason) (Step, error) {
	s, err := c.band(r, Peak)
	if err != nil || len(r.From) != 2 {
		return s, err
	}
	id, _ := strings.CutPrefix(r.From[0].Where, "reading ")
	if m, ok := c.w.readings[id]; ok {
		if p, ok := c.w.Amp.Find(m.At); ok && p.Extra["times"] == "2" {
			s.From = append(s.From, Step{Value: "2", What: "sides that add up", Where: "sheet " + p.Ref})
		}
	}
	return s, nil
}

func (c *chain) coupler(r *Reason) (Step, error) {
	s, err := c.band(r, CouplerVolts)
	if err != nil {
		return s, err
	}
	ratio, err := c.ratioOf(r.From[1], ratioIn(&s.From[0]))
	s.From = append(s.From, ratio)
	return s, err
}

// bigger writes the factor on current, or what it does to a band.
func (c *chain) bigger(r *Reason) (Step, error) {
	if len(r.From) == 3 {
		return c.factor(r)
	}
	rule := TubeChanged
	switch c.j.Quantity {
	case limit.Watts:
		rule = ResistorChanged
	case limit.DCVolts:
		rule = VoltsChanged
	}
	return c.band(r, rule)
}

func (c *chain) factor(r *Reason) (Step, error) {
	g := r.From[2]
	least, greatest := c.plain(g), c.plain(g)
	least.Value, least.What = Fact(g.Low), g.What+", least"
	greatest.What = g.What + ", greatest"
	return Step{Rule: Factor, What: r.What, Low: Figure(r.Low), High: Figure(r.High),
		From: []Step{c.plain(r.From[0]), c.plain(r.From[1]), least, greatest}}, nil
}

// recovers writes the rise after a change: the band, the factor, the no-load
// peak, the loaded volts and their ratio.
func (c *chain) recovers(r *Reason) (Step, error) {
	if len(r.From) != 2 || len(r.From[1].From) != 3 {
		return Step{}, errors.New("a recovery of the supply made from other than its parts")
	}
	up := r.From[1]
	from, err := c.all([]*Reason{r.From[0], up.From[0], up.From[1]})
	if err != nil {
		return Step{}, err
	}
	ratio, err := c.ratioOf(up.From[2], ratioIn(&from[0]))
	return Step{Rule: Recovers, What: r.What, High: Figure(r.High), Unit: r.Unit.String(),
		From: append(from, c.plain(up.From[2]), ratio)}, err
}

// sideBySide writes that more pieces than one may stand at the rectifier.
func sideBySide(s Step, j *Judged) Step {
	n := Step{Value: Fact(float64(int(j.High/j.Low + 0.5))), What: "pieces that may stand side by side", Where: "option " + j.Option}
	return Step{Rule: SideBySide, What: s.What, High: Figure(j.High), Unit: s.Unit, From: []Step{s, n}}
}
