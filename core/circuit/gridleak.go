package circuit

// gridVolts is what a grid's own current may make of the volts over its leak:
// from tube to tube it differs many times over, and the law has one set of
// constants for all. Our own judgment, no source.
const gridVolts = 0.5

// leaksGrid reports a resistor that carries nothing but the current of grids:
// on one of its sides nothing stands but grids, capacitors and resistors that
// lead to such.
func (n *Net) leaksGrid(part int) bool {
	p := &n.parts[part]
	if p.kind != isResistor || len(p.nodes) != 2 {
		return false
	}
	return n.onlyGrids(p.nodes[0], part) || n.onlyGrids(p.nodes[1], part)
}

// onlyGrids walks from a node, not over the given part, and reports whether it
// meets grids and nothing that draws or feeds otherwise.
func (n *Net) onlyGrids(from, without int) bool {
	seen, grids := map[int]bool{from: true}, false
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		grid, other := n.standsOn(at)
		if other || at < 0 || at >= len(n.names) {
			return false
		}
		grids = grids || grid
		for i := range n.links {
			l := &n.links[i]
			if l.part == without || l.sort == linkFarads || l.a != at && l.b != at {
				continue
			}
			if l.sort != linkOhms {
				return false
			}
			far := l.a + l.b - at
			if !seen[far] {
				seen[far] = true
				queue = append(queue, far)
			}
		}
	}
	return grids
}

// standsOn reports grids, and other electrodes or reservoirs, on a node.
func (n *Net) standsOn(node int) (grid, other bool) {
	for i := range n.tubes {
		t := &n.tubes[i]
		grid = grid || t.grid == node
		other = other || t.plate == node || t.cathode == node || t.screened && t.screen == node
	}
	for _, q := range n.supply.ports {
		other = other || q.plus == node || q.minus == node
	}
	return grid, other
}
