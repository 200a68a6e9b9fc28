package stress

import (
	"slices"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// grids knows which nodes resistors join to the grid of an output tube: a
// grid stopper, or a bias feed, carries the negative bias past the grid's own
// node.
type grids struct {
	of      map[string]string // node → the next node of its group
	bias    map[string]bool   // groups that hold an output grid
	known   map[string]bool   // groups that hold another electrode or reach the chassis
	unclear bool              // an output tube's grid has no node
}

func newGrids(a *amp.Amp) *grids {
	g := &grids{of: map[string]string{}, bias: map[string]bool{}, known: map[string]bool{}}
	for i := range a.Positions {
		if p := &a.Positions[i]; resistive(p) {
			g.join(p)
		}
	}
	for i := range a.Positions {
		g.mark(&a.Positions[i])
	}
	return g
}

func resistive(p *amp.Position) bool {
	return p.Kind == "resistor" || p.Kind == "pot" || p.Spec.Unit == unit.Ohm
}

// root returns the node that stands for a group.
func (g *grids) root(node string) string {
	for next, ok := g.of[node]; ok; next, ok = g.of[node] {
		node = next
	}
	return node
}

// join makes one group of a resistor's nodes. The chassis joins nothing.
func (g *grids) join(p *amp.Position) {
	first := ""
	for _, n := range p.Nodes {
		switch at := g.root(n.Name); {
		case n.Name == chassis:
		case first == "":
			first = at
		case at != first:
			g.of[at] = first
		}
	}
}

// mark notes what a position says of the groups it stands on.
func (g *grids) mark(p *amp.Position) {
	grid, ok := p.Node("grid")
	if p.Role == amp.OutputTube {
		g.unclear = g.unclear || !ok
		g.bias[g.root(grid)] = true
		return
	}
	tube := slices.Contains([]string{"triode", "pentode", "beam"}, p.Kind)
	for _, n := range p.Nodes {
		if tube || resistive(p) && standsOn(p, chassis) {
			g.known[g.root(n.Name)] = true
		}
	}
}

// clear reports whether a coupler certainly has no lead on the bias of an
// output tube: both its nodes are known to belong elsewhere.
func (g *grids) clear(p *amp.Position) bool {
	if g.unclear || len(p.Nodes) < 2 {
		return false
	}
	for _, n := range p.Nodes {
		at := g.root(n.Name)
		if n.Name != chassis && (g.bias[at] || !g.known[at]) {
			return false
		}
	}
	return true
}
