package amp

import "lugworth/core/unit"

// Unplaced returns a problem for each reading whose place stands nowhere in
// the sheet: neither a node, nor a position, nor an electrode of one. The
// readings stay; nothing can be worked out from them.
func Unplaced(positions []Position, readings []Reading) []unit.Problem {
	places := map[string]bool{"0": true}
	var names []string
	add := func(name string) {
		if !places[name] {
			places[name] = true
			names = append(names, name)
		}
	}
	for i := range positions {
		p := &positions[i]
		add(p.Ref)
		add(Base(p.Ref))
		for _, n := range p.Nodes {
			add(n.Name)
			add(p.Ref + ":" + n.Role)
		}
	}
	var problems []unit.Problem
	for _, r := range readings {
		if !places[r.At] {
			problems = append(problems, unit.Problem{File: r.ID, Column: "at", Cell: r.At, Code: unit.UnknownWord, Hint: nearest(r.At, names)})
		}
	}
	return problems
}
