package plan

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// stageQuantities are the figures of an output tube that are always reported,
// with or without a limit on the card.
// Others, which few sheets limit, are reported where the card limits them.
var stageQuantities = []limit.Quantity{limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts}

// Standing judges everything in the amp that a price list does not decide:
// output tubes, heaters, and, for the amp as found, the capacitors and the
// fuse that stand in it.
//
// Each figure is judged where its limit's rating system asks, and shown at
// the owner's measured mains and, as found, at the mains of the chart.
func (d *Desk) Standing(m *stress.Model, found bool) []rating.Judgment {
	tubes, heaters := d.Amp.WithRole(amp.OutputTube), d.Amp.WithRole(amp.HeaterWinding)
	out := make([]rating.Judgment, 0, (len(tubes)*len(stageQuantities)+len(heaters)+1)*3)
	for _, t := range tubes {
		for _, q := range stageQuantities {
			out = d.tube(out, m, t, q, found)
		}
		for _, q := range []limit.Quantity{limit.CathodeCurrent, limit.BothWatts} {
			if d.limits(typeIn(m, t), q) != nil {
				out = d.tube(out, m, t, q, found)
			}
		}
	}
	for _, h := range heaters {
		out = append(out, d.heater(m, h, found)...)
	}
	out = append(out, d.rectifiers(m)...)
	if found {
		out = append(out, d.foundParts(m)...)
	}
	return out
}

// limits returns the card's limits of one quantity; nil where there is no
// card or no such limit.
func (d *Desk) limits(tubeType string, q limit.Quantity) []limit.Limit {
	c, ok := d.Cards(tubeType)
	if !ok {
		return nil
	}
	return c.LimitsOf(q)
}

// place is one mains to judge or show a figure at.
type place struct {
	mains    unit.Voltage
	scenario string
}

// places lists where a figure is shown: where its limit is judged first.
func (d *Desk) places(sys limit.System, m *stress.Model, found bool) []place {
	tap := m.State().Tap
	if tap == "" {
		tap = d.Amp.Tap
	}
	v, scenario, ok := rating.At(sys, d.Mains, tap)
	if !ok {
		return nil
	}
	out := []place{{v, scenario}}
	if d.Mains.Measured > 0 && d.Mains.Measured != v {
		out = append(out, place{d.Mains.Measured, stress.Measured})
	}
	if c := m.Chart(); found && c > 0 && c != v && c != d.Mains.Measured {
		out = append(out, place{c, stress.Bench})
	}
	return out
}

// tube adds one quantity of an output tube, judged against every limit the
// card states: all hold.
func (d *Desk) tube(out []rating.Judgment, m *stress.Model, t *amp.Position, q limit.Quantity, found bool) []rating.Judgment {
	if !d.Mains.Declared() {
		return append(out, rating.Judgment{Subject: t.Ref, Quantity: q, Because: rating.NoRange})
	}
	ls := d.limits(typeIn(m, t), q)
	for _, p := range d.places(limit.Unstated, m, found) {
		if len(ls) == 0 {
			out = append(out, d.both(m, m.Tube(t, q, p.mains, p.scenario), nil))
		}
	}
	for i := range ls {
		for _, p := range d.places(ls[i].System, m, found) {
			out = append(out, d.both(m, m.Tube(t, q, p.mains, p.scenario), &ls[i]))
		}
	}
	return out
}

// heater judges a heater winding at both ends of the range and at the
// owner's mains, by every limit of the tubes it feeds.
func (d *Desk) heater(m *stress.Model, h *amp.Position, found bool) []rating.Judgment {
	ls := d.heaterLimits(h)
	if !d.Mains.Declared() {
		return []rating.Judgment{{Subject: h.Ref, Quantity: limit.HeaterVolts, Because: rating.NoRange}}
	}
	at := []place{{d.Mains.High, stress.Top}}
	if d.Mains.Low != d.Mains.High {
		at = append(at, place{d.Mains.Low, stress.Bottom})
	}
	if v := d.Mains.Measured; v > 0 && v != d.Mains.High && v != d.Mains.Low {
		at = append(at, place{v, stress.Measured})
	}
	if c := m.Chart(); found && c > 0 && c != d.Mains.High && c != d.Mains.Measured {
		at = append(at, place{c, stress.Bench})
	}
	var out []rating.Judgment
	for _, p := range at {
		s := m.Heater(h, p.mains, p.scenario)
		if len(ls) == 0 {
			out = append(out, rating.Judge(s, nil))
		}
		for i := range ls {
			out = append(out, rating.Judge(s, &ls[i]))
		}
	}
	return out
}

// heaterLimits returns the heater limits a winding is judged by: those of the
// output tubes, else of the rectifiers, that the volts marked on it agree
// with. An unmarked winding is taken for the output tubes' only where it is
// the one winding; nil where nothing says which tubes it feeds.
func (d *Desk) heaterLimits(h *amp.Position) []limit.Limit {
	marked := h.Spec.Value()
	if marked == 0 && len(d.Amp.WithRole(amp.HeaterWinding)) > 1 {
		return nil
	}
	for _, role := range []amp.Role{amp.OutputTube, amp.RectifierTube} {
		var out []limit.Limit
		for _, t := range d.Amp.WithRole(role) {
			for _, l := range d.limits(t.Type, limit.HeaterVolts) {
				if (marked == 0 || l.Holds(marked)) && !slices.Contains(out, l) {
					out = append(out, l)
				}
			}
		}
		if len(out) > 0 || marked == 0 {
			return out
		}
	}
	return nil
}

// foundParts judges the capacitors and the fuse that stand in the amp.
func (d *Desk) foundParts(m *stress.Model) []rating.Judgment {
	var out []rating.Judgment
	for i := range d.Amp.Positions {
		p := &d.Amp.Positions[i]
		switch p.Role {
		case amp.Reservoir, amp.Smoothing, amp.Coupler, amp.Bypass:
			s := d.at(m, func(v unit.Voltage) stress.Stress { return m.Blocking(p, v, stress.Cold) }, p.Ref, limit.DCVolts, unit.Volt)
			if s.Doubt == "" {
				s.Doubt = doubtAC(p.Spec.AC || strings.Contains(p.Rating, "~"))
			}
			out = append(out, d.place(m, s, printed(p, limit.DCVolts, p.Spec.Volts, unit.Volt), d.Reserve))
			if p.Role == amp.Reservoir {
				first := firstStress(p.Ref, &p.Spec, 0, "sheet "+p.Ref, true)
				(&demand{beside: d.beside(p)}).several(&first)
				out = append(out, rating.Judge(first, d.firstLimit(m)))
			}
		case amp.CathodeResistor:
			s := d.at(m, func(v unit.Voltage) stress.Stress { return m.Resistor(p, v, stress.Top) }, p.Ref, limit.Watts, unit.Watt)
			out = append(out, d.place(m, s, printed(p, limit.Watts, p.Spec.Watts, unit.Watt), 0))
		case amp.LineFuse:
			out = append(out, rating.Judge(fuseStress(p.Ref, &p.Spec, "sheet "+p.Ref), labelLimit(p)))
		default:
			out = d.otherPart(out, m, p)
		}
		out = d.rippleOf(out, m, p)
	}
	return out
}

// Parts judges the parts that stand in the amp as they would stand under a
// choice, those it replaces too.
func (d *Desk) Parts(m *stress.Model) []rating.Judgment { return d.foundParts(m) }

// Harm adds what a choice does to the parts that stay. What it eases there is
// no reason to choose it.
func (e Effect) Harm(kept Effect) Effect {
	e.Worsens = append(slices.Clip(e.Worsens), kept.Worsens...)
	e.Breaks = append(slices.Clip(e.Breaks), kept.Breaks...)
	e.Blurs = append(slices.Clip(e.Blurs), kept.Blurs...)
	return e
}

// printed is the rating printed on the part that stands there, nil if none
// can be read.
func printed(p *amp.Position, q limit.Quantity, v float64, u unit.Unit) *limit.Limit {
	if v <= 0 {
		return nil
	}
	return &limit.Limit{Subject: p.Ref, Quantity: q, High: v, HasHigh: true, Unit: u, System: limit.Marked, Source: "sheet " + p.Ref, Mark: limit.User}
}

// An Effect is what an option does to figures of the amp, besides the parts
// it fits.
type Effect struct {
	Cures   []rating.Judgment // verdicts it lifts to within
	Worsens []rating.Judgment // quantities it takes further over, already exceeded as found
	Breaks  []rating.Judgment // limits it takes a quantity over: never offered
	Blurs   []rating.Judgment // verdicts it takes from within to a lesser one
}

// Compare sorts what changes from one standing to another, row by row: the
// rows of both come from Standing of the same amp. Rows that are only shown,
// at the owner's measured mains or at the chart's, forbid nothing. Figures
// that end because other tubes are fitted are read again and count as no
// change.
func Compare(before, after []rating.Judgment) Effect {
	was := map[key]rating.Judgment{}
	for _, j := range before {
		was[keyOf(j)] = j
	}
	var e Effect
	for _, a := range after {
		b, ok := was[keyOf(a)]
		shown := onlyShown(a)
		switch {
		case !ok:
		case a.Kind == rating.Within && b.Kind != rating.Within:
			e.Cures = append(e.Cures, a)
		case shown:
		case a.Kind.Over() && b.Kind.Over():
			if further(a, b) && !widened(a, b) {
				e.Worsens = append(e.Worsens, a)
			}
		case a.Kind.Over() && !b.Kind.Over():
			e.Breaks = append(e.Breaks, a)
		case b.Kind == rating.Within && a.Kind != rating.Within && !endedBy(a) && !widened(a, b):
			e.Blurs = append(e.Blurs, a)
		}
	}
	return e
}

// endedBy reports whether a row has no verdict because other tubes are fitted.
func endedBy(j rating.Judgment) bool {
	return stress.Ends(j.Detail) || j.Kind == rating.NotProven && !j.HasFigure
}

// widened reports whether a figure is only less well known, or was not known
// to begin with: it rests on new tubes of the same type, which are read again
// once they are in, and count as no change until then.
func widened(a, b rating.Judgment) bool {
	return a.Fresh && (b.Fresh || a.Movers == b.Movers)
}

// onlyShown reports whether a row decides nothing: it stands beside the one
// judged where the limit's rating system asks.
func onlyShown(j rating.Judgment) bool {
	return j.Scenario == stress.Measured || j.Scenario == stress.Bench
}

// further reports whether a lies further over its limit than b. A choice that
// brings a quantity down which another choice has raised does no harm.
func further(a, b rating.Judgment) bool {
	ma, oka := a.Margin()
	mb, okb := b.Margin()
	return !oka || !okb || ma < mb-1e-9
}

type key struct {
	subject, scenario string
	q                 limit.Quantity
	limit             limit.Limit
}

// keyOf names a row. A part's row shows the worst of several situations, and
// which that is may change with the choice.
func keyOf(j rating.Judgment) key {
	k := key{j.Subject, j.Scenario, j.Quantity, j.Limit}
	if j.Quantity == limit.DCVolts || j.Quantity == limit.Watts || j.Quantity == limit.InverseVolts {
		k.scenario = ""
	}
	return k
}

// Offered reports whether the option may be put to the owner: it breaks no
// limit, and takes nothing further over unless it cures something.
func (e Effect) Offered() bool {
	cures := slices.ContainsFunc(e.Cures, func(j rating.Judgment) bool { return !onlyShown(j) })
	return len(e.Breaks) == 0 && (len(e.Worsens) == 0 || cures)
}

// NeedsReason reports whether the technician must record why.
func (e Effect) NeedsReason() bool { return len(e.Worsens) > 0 || len(e.Blurs) > 0 }

// Says names what asks for a recorded reason, "" if nothing does.
func (e Effect) Says() string {
	switch {
	case len(e.Worsens) > 0:
		return "takes a limit already exceeded as found further over"
	case len(e.Blurs) > 0:
		return "leaves " + e.Blurs[0].Subject + " " + string(e.Blurs[0].Quantity) + " " + e.Blurs[0].Kind.String() + ", which was within"
	}
	return ""
}
