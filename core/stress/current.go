package stress

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/formula"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// current returns the cathode current of one tube as read, and whether it is
// an average over tubes not known to draw alike.
func (m *Model) current(t *amp.Position) (figure, bool) {
	if r := m.read(t.Ref, "cathode", amp.Current); r != nil {
		return m.working(r, "cathode current"), false
	}
	v := m.read(t.Ref, "cathode", amp.Volts)
	res, shared := m.cathodeResistor(t)
	if v == nil || res == nil {
		return lacking("cathode current of %s cannot be told: neither it nor the drop over a cathode resistor was read", t.Ref), false
	}
	if missing := m.alone(t, res); missing != "" {
		return lacking("%s", missing), false
	}
	fv := m.take(v, "cathode volts")
	fr := m.resistance(res)
	if fr.missing != "" {
		return fr, false
	}
	ik, err := formula.CathodeCurrent(unit.Voltage(fv.amount), unit.Resistance(fr.amount), shared)
	if err != nil {
		return lacking("%s", err), false
	}
	f := figure{amount: float64(ik), reading: v, err: quotientErr(fv.err, fr.err)}
	f.rest(fv, fr)
	f.node = why.Found(RuleCathodeCurrent, "cathode current as read", amps(f.amount), fv.node, fr.node,
		why.Given("tubes on the resistor", why.Text(fmt.Sprint(shared)), "sheet "+res.Ref))
	return f, shared > 1 && !m.in.Amp.Alike
}

// Idle returns the cathode and plate current of a tube as read; ok is false
// where either cannot be told.
func (m *Model) Idle(t *amp.Position) (cathode, plate unit.Current, ok bool) {
	k, _ := m.current(t)
	g2 := m.screenCurrent(t)
	if k.missing != "" || g2.missing != "" {
		return 0, 0, false
	}
	return unit.Current(k.amount), unit.Current(k.amount - g2.amount), true
}

// cathodeResistor returns the resistor from the tube's cathode to the chassis
// and how many output tubes stand on it.
func (m *Model) cathodeResistor(t *amp.Position) (*amp.Position, int) {
	node, ok := t.Node("cathode")
	if !ok || node == chassis {
		return nil, 0
	}
	shared := 0
	for _, o := range m.outputTubes() {
		if n, _ := o.Node("cathode"); n == node {
			shared++
		}
	}
	for _, p := range m.index.cathodes {
		for _, n := range p.Nodes {
			if n.Name == node {
				return p, shared
			}
		}
	}
	return nil, shared
}

// alone says why the resistor's drop does not tell the tubes' current: it must
// be the only way from the cathode's node to the chassis.
func (m *Model) alone(t, res *amp.Position) string {
	node, _ := t.Node("cathode")
	if !standsOn(res, chassis) {
		return res.Ref + " does not run from the cathode to the chassis, so its drop alone does not tell the current"
	}
	for i := range m.in.Amp.Positions {
		p := &m.in.Amp.Positions[i]
		if p.Ref != res.Ref && passes(p) && standsOn(p, node) {
			return p.Ref + " stands beside " + res.Ref + " on the cathode, so the drop alone does not tell the current"
		}
	}
	return ""
}

const chassis = "0"

func standsOn(p *amp.Position, node string) bool {
	return slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return n.Name == node })
}

// passes reports whether a part may carry direct current, and is no tube.
func passes(p *amp.Position) bool {
	switch p.Role {
	case amp.Reservoir, amp.Smoothing, amp.Coupler, amp.Bypass, amp.BiasCapacitor, amp.LineToChassis, amp.OutputTube:
		return false
	}
	switch p.Kind {
	case "triode", "pentode", "beam", "electrolytic":
		return false
	}
	return p.Spec.Unit != unit.Farad && !strings.HasSuffix(p.Kind, "capacitor")
}

// resistance returns the ohms of a position: as measured with power off, else
// as marked, with its marked tolerance as the error. Marked ohms may have
// drifted since: nothing is proven by them.
func (m *Model) resistance(p *amp.Position) figure {
	if r := m.index.loaded[key{p.Ref, amp.Ohms}]; r != nil {
		return m.take(r, "resistance as measured")
	}
	if len(p.Spec.Values) == 1 && p.Spec.Unit == unit.Ohm && p.Spec.Tolerance.Stated {
		t := p.Spec.Tolerance
		return figure{amount: p.Spec.Values[0], err: math.Max(t.Plus, t.Minus), known: true,
			odd:  p.Ref + " was not measured with the power off: it may have drifted from its marking",
			node: why.Given("resistance as marked", unit.Quantity{Amount: p.Spec.Values[0], Unit: unit.Ohm}, "sheet "+p.Ref)}
	}
	return lacking("%s was not measured and its tolerance is not known", p.Ref)
}
