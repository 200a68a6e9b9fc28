package circuit

import (
	"cmp"
	"math"
	"slices"
)

// causes are what makes the end of a band what it is.
func (r *reach) causes(f Figure) []Cause {
	parts := make([]float64, len(r.parts))
	for i := range parts {
		parts[i] = math.Abs(r.parts[i]) + math.Abs(r.soft[i])
	}
	q, _ := r.p.sol.Figure(f)
	return causesOf(r.p.ds, parts, f.Ref, r.carry*math.Abs(q))
}

// causesOf names the three that contribute most to a width. parts are by
// direction; own is what carrying over adds, which is laid to the figure's
// own position.
func causesOf(ds []direction, parts []float64, ref string, own float64) []Cause {
	sum := map[Figured]float64{}
	var order []Figured
	add := func(f Figured, v float64) {
		if v = math.Abs(v); v == 0 || math.IsNaN(v) {
			return
		}
		if _, seen := sum[f]; !seen {
			order = append(order, f)
		}
		sum[f] += v
	}
	for i, d := range ds {
		add(Figured{d.ref, d.property}, parts[i])
	}
	add(Figured{ref, 0}, own)
	total := 0.0
	for _, f := range order {
		total += sum[f]
	}
	slices.SortStableFunc(order, func(a, b Figured) int { return cmp.Compare(sum[b], sum[a]) })
	var out []Cause
	for _, f := range order[:min(3, len(order))] {
		out = append(out, Cause{Ref: f.Ref, Property: f.Property, Part: sum[f] / total})
	}
	return out
}

var propertyWords = map[Property]string{
	Ohms: "resistance", Turn: "setting", Farads: "capacitance", Henries: "inductance", Copper: "winding resistance",
	Volts: "winding volts", Perveance: "current against its type", Shift: "grid volts against its type",
	Share: "share of plate and screen", Conduct: "conduction", HeaterLoad: "heater load",
}

// words names the property as a person would.
func (p Property) words() string {
	if w, ok := propertyWords[p]; ok {
		return w
	}
	return "as read, and carried over"
}

// Says names a cause: "R20 resistance"; a cause without a property is the
// error of the reading there, or of carrying it over.
func (c Cause) Says() string { return c.Ref + " " + c.Property.words() }
