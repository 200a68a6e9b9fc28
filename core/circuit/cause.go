package circuit

import (
	"math"
	"slices"
)

// causes are what makes the end of a band what it is.
func (r *reach) causes(f Figure) []Cause {
	parts := make([]float64, len(r.parts))
	for i := range parts {
		parts[i] = math.Abs(r.parts[i]) + math.Abs(r.soft[i])
	}
	q, _ := r.p.figure(f)
	return causesOf(r.p.ds, parts, f.Ref, r.carry*math.Abs(q))
}

// causesOf names the three that contribute most to a width. parts are by
// direction; own is what carrying over adds, which is laid to the figure's
// own position.
func causesOf(ds []direction, parts []float64, ref string, own float64) []Cause {
	var all []share
	total := 0.0
	add := func(f Figured, v float64) {
		if v = math.Abs(v); v == 0 || math.IsNaN(v) {
			return
		}
		total += v
		if i := slices.IndexFunc(all, func(s share) bool { return s.Figured == f }); i >= 0 {
			all[i].part += v
			return
		}
		all = append(all, share{f, v})
	}
	for i, d := range ds {
		add(Figured{d.ref, d.property}, parts[i])
	}
	add(Figured{ref, 0}, own)
	var out []Cause
	for len(out) < 3 && len(all) > 0 {
		most := 0
		for i := range all {
			if all[i].part > all[most].part {
				most = i
			}
		}
		out = append(out, Cause{Ref: all[most].Ref, Property: all[most].Property, Part: all[most].part / total})
		all = slices.Delete(all, most, most+1)
	}
	return out
}

// A share is what one property contributes to a width.
type share struct {
	Figured
	part float64
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
