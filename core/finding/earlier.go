package finding

import "strings"

// An Earlier is one thing somebody did to the amp before, or a part that is
// not of its time, with the basis for saying so.
type Earlier struct {
	On      string // the place or part
	What    string
	Basis   string // "observed", "inferred", a date code; never empty
	Finding string // "" where only a date code says it
}

// EarlierWork lists earlier work: every finding that names it, in the order
// found, then every part whose date code stands apart from the amp.
func EarlierWork(all []Finding, b Build) []Earlier {
	var out []Earlier
	for _, f := range all {
		if f.Earlier == "" {
			continue
		}
		e := Earlier{On: string(f.Place), What: string(f.Earlier), Basis: string(f.Basis), Finding: f.ID}
		if e.On == "" {
			e.On = strings.Join(f.Positions, ", ")
		}
		if e.What == "yes" {
			e.What = string(f.Seen)
		}
		if e.Basis == "" {
			e.Basis = "basis not stated"
		}
		if f.Code != "" {
			e.Basis += ", date code " + string(f.Code)
		}
		out = append(out, e)
	}
	for _, o := range b.Outliers {
		out = append(out, Earlier{On: o.On, What: o.Why, Basis: "date code " + o.Code})
	}
	return out
}
