package plan

import (
	"cmp"
	"slices"
	"strconv"

	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
	"lugworth/core/why"
)

var ruleGreatest = &why.Rule{
	Name: "greatest value", Says: "A capacitor may be larger than marked by its plus tolerance; an electrolytic whose row states none counts as ±20 %.",
	Formula: "C · (1 + plus)", Source: "common practice, no source",
}

func greatest(v, minus, plus, high float64, source string) *why.Node {
	return why.Found(ruleGreatest, "greatest value", unit.Quantity{Amount: high, Unit: unit.Farad},
		why.Given("marked value", unit.Quantity{Amount: v, Unit: unit.Farad}, source),
		why.Given("plus tolerance", unit.Quantity{Amount: 100 * plus, Unit: unit.Percent}, source))
}

func givenAmps(a float64, source string) *why.Node {
	return why.Given("fuse as marked", unit.Quantity{Amount: a, Unit: unit.Ampere}, source)
}

func itoa(n int) string { return strconv.Itoa(n) }

// askKey names what a position asks of one sort of part.
type askKey struct {
	ref     string
	section int
	sort    partSort
	spare   int // pieces beyond one for each place
}

type partSort uint8

const (
	otherPart partSort = iota
	unsaid             // the need does not say what it is: the place does
	capacitor
	resistor
)

func sortOf(w catalog.Want) partSort {
	switch {
	case wantsAny(w, catalog.Kind.IsCapacitor):
		return capacitor
	case wantsAny(w, catalog.Kind.IsResistor):
		return resistor
	case len(w.Kinds) == 0:
		return unsaid
	}
	return otherPart
}

// sortAt is the sort of part a place holds.
func sortAt(at *amp.Position) partSort {
	switch at.Role {
	case amp.Reservoir, amp.Smoothing, amp.Coupler, amp.Bypass, amp.BiasCapacitor, amp.LineToChassis:
		return capacitor
	case amp.CathodeResistor, amp.PlateLoad, amp.GridLeak, amp.ScreenResistor:
		return resistor
	}
	switch at.Spec.Unit {
	case unit.Farad:
		return capacitor
	case unit.Ohm:
		return resistor
	}
	return otherPart
}

// demands lists what the positions of a part ask of it in this state.
func (s *Scales) demands(p *Part) []*demand {
	if p.body != nil {
		return s.acrossAsks(p)
	}
	if p.Made.Is() {
		return s.asMade(p, s.places(p))
	}
	return s.places(p)
}

// places lists what the positions of a part ask of one piece in each.
func (s *Scales) places(p *Part) []*demand {
	sort := sortOf(p.Want)
	out := make([]*demand, 0, len(p.For)+1)
	for i, ref := range p.For {
		asked := s.asks(askKey{ref, i, sort, max(0, p.Spare())})
		for k := range asked {
			out = append(out, &asked[k])
		}
	}
	return out
}

// asks works out what one position asks, once.
func (s *Scales) asks(k askKey) []demand {
	if have, ok := s.asked[k]; ok {
		return have
	}
	var out []demand
	if at, ok := s.desk.Amp.Find(k.ref); ok {
		out = s.desk.asks(at, k, s.model)
	}
	s.asked[k] = out
	return out
}

func (d *Desk) asks(at *amp.Position, k askKey, m *stress.Model) []demand {
	if at.Role == amp.LineFuse {
		return []demand{{at: at, q: limit.FuseCurrent, place: labelLimit(at)}}
	}
	want := k.sort
	if want == unsaid || want == resistor || want == capacitor {
		want = cmp.Or(sortAt(at), want)
	}
	switch want {
	case capacitor:
		return d.capacitorAsks(at, k, m)
	case resistor:
		s := d.at(m, func(v unit.Voltage) stress.Stress { return m.Resistor(at, v, stress.Top) }, at.Ref, limit.Watts, unit.Watt)
		return []demand{{at: at, q: limit.Watts, bears: s, second: d.second(m, at.Ref, limit.Watts), made: d.made(at, limit.Watts)}}
	}
	return nil
}

func (d *Desk) capacitorAsks(at *amp.Position, k askKey, m *stress.Model) []demand {
	section := k.section
	s := d.at(m, func(v unit.Voltage) stress.Stress { return m.Blocking(at, v, stress.Cold) }, at.Ref, limit.DCVolts, unit.Volt)
	out := []demand{{at: at, section: section, q: limit.DCVolts, bears: s, second: d.second(m, at.Ref, limit.DCVolts), made: d.made(at, limit.DCVolts)}}
	if at.Role == amp.Reservoir {
		out = append(out, demand{at: at, section: section, q: limit.FirstCapacitor, place: d.firstLimit(m), spare: k.spare, beside: d.beside(at)})
	}
	return out
}

// at asks for a stress at the top of the declared range; parts with a printed
// rating are judged there whatever the system of anything else.
func (d *Desk) at(m *stress.Model, f func(unit.Voltage) stress.Stress, ref string, q limit.Quantity, u unit.Unit) stress.Stress {
	if !d.Mains.Declared() {
		return stress.Stress{Subject: ref, Quantity: q, Unit: u, Missing: "the owner's mains range is not declared"}
	}
	return f(d.Mains.High)
}

func wantsAny(w catalog.Want, is func(catalog.Kind) bool) bool {
	for _, k := range w.Kinds {
		if is(k) {
			return true
		}
	}
	return false
}

// labelLimit is what the rating label of the amp says of a fuse; nil where
// there is none: no label is not enough data.
func labelLimit(p *amp.Position) *limit.Limit {
	label := p.Extra["label"]
	spec, err := unit.ReadSpec(label, unit.Ampere)
	if label == "" || err != nil || len(spec.Values) != 1 { // two figures are two supplies: which one holds is not said
		return nil
	}
	return &limit.Limit{Subject: p.Ref, Quantity: limit.FuseCurrent, High: spec.Values[0], HasHigh: true, Unit: unit.Ampere,
		System: limit.Marked, Source: "rating label", Mark: limit.User}
}

// firstLimit is the least first-capacitor limit of the rectifiers fitted; nil
// where one of them has none on its card, or another type takes its place.
func (d *Desk) firstLimit(m *stress.Model) *limit.Limit {
	var least *limit.Limit
	for _, p := range d.Amp.WithRole(amp.RectifierTube) {
		if _, changed := m.State().Tubes[p.Ref]; changed {
			return nil
		}
		c, _ := d.Cards(p.Type)
		ls := slices.DeleteFunc(c.LimitsOf(limit.FirstCapacitor), func(l limit.Limit) bool { return !l.HasHigh })
		if len(ls) == 0 {
			return nil
		}
		for _, l := range ls {
			if least == nil || l.High < least.High {
				l := l
				least = &l
			}
		}
	}
	return least
}

// beside names another capacitor on the first capacitor's node: the rectifier
// feeds their sum, and no single value tells it. "" where there is none.
func (d *Desk) beside(at *amp.Position) string {
	node, ok := at.Node("plus")
	for i := range d.Amp.Positions {
		p := &d.Amp.Positions[i]
		if p.Ref == at.Ref || p.Role != amp.Reservoir && p.Role != amp.Smoothing {
			continue
		}
		other, told := p.Node("plus")
		if ok && told && node == other || p.Role == amp.Reservoir && !(ok && told) {
			return p.Ref
		}
	}
	return ""
}
