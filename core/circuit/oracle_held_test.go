//go:build !js

package circuit_test

import "lugworth/core/amp"

// A supply says which nodes of a drawing belong to the rectifiers: the
// reservoirs, whose mean volts an op deck is given, and those that swing
// with the mains.
type supply struct {
	held  map[string]bool // reservoir nodes
	swing map[string]bool // winding ends and what lies between them and a rectifier
}

// supplyOf finds the supply of a drawing: a node at a rectifier or at a
// winding that takes part is a reservoir node if a capacitor of 1 µF or more
// stands on it, else it swings.
func supplyOf(d *drawing) supply {
	s := supply{map[string]bool{}, map[string]bool{}}
	big := map[string]bool{"0": true}
	touch := map[string]bool{}
	for i := range d.parts {
		p := &d.parts[i]
		a, b := d.ends(p)
		switch {
		case capacitive(p) && p.Spec.Value() >= 1e-6:
			big[a], big[b] = true, true
		case rectifying(p):
			touch[a], touch[b] = true, true
		}
	}
	for i := range d.parts {
		if p := &d.parts[i]; p.Kind == "winding" && d.feeds(p, touch) {
			for _, n := range p.Nodes {
				touch[d.at(n.Name)] = true
			}
		}
	}
	for n := range touch {
		switch {
		case n == "0":
		case big[n]:
			s.held[n] = true
		default:
			s.swing[n] = true
		}
	}
	return s
}

// feeds reports a winding that reaches a rectifier, itself or through one
// resistor. Any other (heaters) takes no part.
func (d *drawing) feeds(w *amp.Position, rectifier map[string]bool) bool {
	for _, n := range w.Nodes {
		at := d.at(n.Name)
		if at == "0" {
			continue
		}
		if rectifier[at] {
			return true
		}
		for i := range d.parts {
			p := &d.parts[i]
			if p.Kind != "resistor" {
				continue
			}
			a, b := d.ends(p)
			if a == at && rectifier[b] || b == at && rectifier[a] {
				return true
			}
		}
	}
	return false
}
