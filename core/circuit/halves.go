package circuit

import (
	"math"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A half is how far one knob may be from its value, and why it is taken so.
type half struct {
	width   float64 // absolute
	assumed bool    // from the spread table
	why     string
}

// halves gives every knob its half width: by the tolerance its row states,
// else by the spread table.
func halves(n *Net, sheet []amp.Position, table Spreads) []half {
	byRef := map[string]*amp.Position{}
	for i := range sheet {
		byRef[sheet[i].Ref] = &sheet[i]
	}
	out := make([]half, len(n.Knobs))
	for i, k := range n.Knobs {
		out[i] = halfOf(k, byRef[k.Ref], table)
	}
	return out
}

func halfOf(k Knob, p *amp.Position, table Spreads) half {
	if p == nil {
		p = &amp.Position{}
	}
	if t := p.Spec.Tolerance; t.Stated && statedFor(k.Property, p) {
		return half{width: math.Abs(k.Value) * max(t.Plus, t.Minus), why: "sheet"}
	}
	if k.Property == Turn && p.Extra["turn"] != "" {
		return half{width: turnByEye, why: "sheet"}
	}
	row := table.row(spreadKey(k.Property, p))
	h := half{width: row.Amount, assumed: true, why: row.Key}
	if !row.Volts && k.Property != Turn {
		h.width *= math.Abs(k.Value)
	}
	return h
}

// turnByEye is how well the setting of a pot is known that somebody read off
// it, as a part of the track: our own judgment, no source.
const turnByEye = 0.02

// statedFor reports whether a row's tolerance is that of the property.
func statedFor(p Property, at *amp.Position) bool {
	switch at.Spec.Unit {
	case unit.Ohm:
		return p == Ohms
	case unit.Farad:
		return p == Farads
	case unit.Henry:
		return p == Henries
	case unit.Volt:
		return p == Volts
	}
	return false
}

var spreadKeys = map[Property]string{
	Ohms: spreadResistor, Turn: spreadTurn, Farads: spreadCapacitor, Henries: spreadHenries, Copper: spreadCopper,
	Volts: spreadWinding, Perveance: spreadPerveance, Shift: spreadShiftSmall, Share: spreadShare,
	Conduct: spreadConduct, HeaterLoad: spreadHeaterLoad,
}

func spreadKey(q Property, p *amp.Position) string {
	switch {
	case q == Ohms && p.Kind == "pot":
		return spreadPot
	case q == Farads && p.Kind == "electrolytic":
		return spreadElectrolytic
	case q == Copper && p.Kind == "mains":
		return spreadSource
	case q == Shift && isOutput(p):
		return spreadShiftOutput
	}
	return spreadKeys[q]
}

// isOutput reports an output tube: stated to be one, or a screen tube that
// no plate resistor could feed is not asked for here.
func isOutput(p *amp.Position) bool { return p.Role == amp.OutputTube || p.Kind == "beam" }

// asRead replaces marked ohms by those read with the power off: the value,
// and the meter's error as half width. It returns which readings it used.
func asRead(n *Net, v Values, hs []half, ts []target) []int {
	var used []int
	for i := range ts {
		t := &ts[i]
		if t.kind != readOhms || t.amount <= 0 {
			continue
		}
		if t.reading.Has(amp.Final) || t.reading.Has(amp.Soak) {
			t.why = "read after the work: of another state of the amp"
			continue
		}
		k, ok := n.Knob(t.ref, Ohms)
		if !ok {
			k, ok = n.Knob(t.ref, Copper)
		}
		if !ok {
			t.why = t.ref + " has no ohms in the circuit"
			continue
		}
		v[k] = t.amount
		hs[k] = half{width: t.err, why: "reading " + t.reading.ID}
		used = append(used, i)
	}
	return used
}

// unloaded sets the volts of every winding whose open volts were read, at the
// primary's nominal: a center-tapped one is read on one side.
func unloaded(n *Net, v Values, hs []half, ts []target, j *joints) []int {
	nominal := nominalMains(j.parts)
	var used []int
	for i := range ts {
		t := &ts[i]
		k, ok := n.Knob(t.ref, Volts)
		if t.kind != readWinding || t.why != "" || !ok || nominal <= 0 || t.amount <= 0 || !mayStart(&t.reading) {
			continue
		}
		whole := nominal / (t.state.Mains * ratioOf(t.state.Ratio))
		if _, tapped := j.parts[j.byRef[t.ref]].Node("ct"); tapped {
			whole *= 2
		}
		v[k] = t.amount * whole
		hs[k] = half{width: t.err * whole, why: "reading " + t.reading.ID}
		used = append(used, i)
	}
	return used
}

// mayStart reports a reading of the amp as found, loaded or not.
func mayStart(r *amp.Reading) bool {
	return !slices.ContainsFunc([]string{amp.Check, amp.Final, amp.Soak, amp.LimiterIn, amp.Off}, r.Has)
}

func ratioOf(r float64) float64 {
	if r == 0 {
		return 1
	}
	return r
}

// nominalMains is what the mains row says the primary is made for.
func nominalMains(parts []amp.Position) float64 {
	for i := range parts {
		if parts[i].Kind == "mains" {
			return parts[i].Spec.Value()
		}
	}
	return 0
}
