package circuit

import (
	"fmt"
	"slices"

	"lugworth/core/amp"
)

// tubesKnown asks for the law of every type in the sheet.
func tubesKnown(laws Laws) func(*wiring) []Remark {
	return func(w *wiring) []Remark {
		var out []Remark
		w.parts(func(p *amp.Position) {
			if r, ok := typeRemark(p, laws); ok {
				out = append(out, r)
			}
		}, slices.Concat(tubeKinds, rectifierKinds)...)
		return out
	}
}

func typeRemark(p *amp.Position, laws Laws) (Remark, bool) {
	r := Remark{Refs: []string{p.Ref}}
	if p.Type == "" {
		r.Say = fmt.Sprintf("%s has no type: write its type number", p.Ref)
		return r, true
	}
	if laws == nil {
		return r, false
	}
	_, doubt, ok := laws(p.Type)
	switch {
	case !ok:
		r.Say = fmt.Sprintf("%s: nothing is known of how a %s conducts; bring a card that states its law.* figures or its published points", p.Ref, p.Type)
	case doubt != "":
		r.Severity, r.Say = Tells, fmt.Sprintf("%s, %s: %s", p.Ref, p.Type, doubt)
	default:
		return r, false
	}
	return r, true
}

// gridsHeld tells of grids that nothing ties to the chassis for direct
// current: where such a grid settles, no figure counts.
func gridsHeld(w *wiring) []Remark {
	return w.held("grid", func(p *amp.Position, n string) string {
		return fmt.Sprintf("the grid of %s, node %s, has no way to the chassis for direct current. Is its grid leak missing, or a node misspelled?", p.Ref, n)
	})
}

func cathodesHeld(w *wiring) []Remark {
	return w.held("cathode", func(p *amp.Position, n string) string {
		return fmt.Sprintf("the cathode of %s, node %s, has no way to the chassis for direct current. Is its cathode resistor missing, or a node misspelled?", p.Ref, n)
	})
}

// held tells of electrodes of tubes that no part that lets direct current
// through ties to the chassis.
func (w *wiring) held(electrode string, say func(*amp.Position, string) string) []Remark {
	ground := w.reach([]string{chassisNode}, nil, dcWays)
	var out []Remark
	w.parts(func(p *amp.Position) {
		if n, ok := p.Node(electrode); ok && !ground[n] {
			out = append(out, Remark{Refs: []string{p.Ref}, Node: n, Say: say(p, n)})
		}
	}, tubeKinds...)
	return out
}

// platesFed tells of plates and screens that no supply feeds.
func platesFed(w *wiring) []Remark {
	var outputs []string
	w.parts(func(p *amp.Position) {
		if n, ok := p.Node("cathode"); ok && n != chassisNode {
			outputs = append(outputs, n)
		} else if n, ok := p.Node("b"); ok && n != chassisNode {
			outputs = append(outputs, n)
		}
	}, rectifierKinds...)
	supplied := w.reach(outputs, stopAtChassis, slices.Concat(plainWays, windingKinds))
	var out []Remark
	w.parts(func(p *amp.Position) {
		for _, electrode := range []string{"plate", "screen"} {
			if n, ok := p.Node(electrode); ok && !supplied[n] && n != chassisNode {
				out = append(out, Remark{Refs: []string{p.Ref}, Node: n,
					Say: fmt.Sprintf("the %s of %s, node %s, has no way to a supply. Is its load missing, or a node misspelled?", electrode, p.Ref, n)})
			}
		}
	}, tubeKinds...)
	return out
}

// nodesHeld tells of nodes that only capacitors lead to.
func nodesHeld(w *wiring) []Remark {
	ground := w.reach([]string{chassisNode}, nil, slices.Concat(dcWays, tubeKinds))
	var out []Remark
	for _, n := range w.names {
		on := w.leads[n]
		if ground[n] || len(on) < 2 || slices.ContainsFunc(on, func(l leadOn) bool { return w.idle(l.part) }) {
			continue
		}
		refs := make([]string, len(on))
		for i, l := range on {
			refs[i] = l.part.Ref
		}
		out = append(out, Remark{Refs: refs, Node: n,
			Say: fmt.Sprintf("nothing holds node %s for direct current: no part leads from it to the chassis or a supply", n)})
	}
	return out
}
