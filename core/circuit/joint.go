package circuit

import (
	"slices"

	"lugworth/core/amp"
)

// joints is a sheet seen from its readings: on which node an electrode
// stands, and through which parts the current of a node must pass. Fuses and
// closed switches are wire here.
type joints struct {
	parts []amp.Position
	byRef map[string]int
	one   map[string]string // node → the node it is joined to
	ways  map[string][]way  // two-lead parts that carry direct current, by node
	every map[string][]way  // and those that carry none
	pull  map[string][]pull // electrodes that draw current, by node

	filled map[string]bool // nodes a capacitor holds: no such node swings with the mains
}

// A way is a two-lead part that direct current can pass.
type way struct {
	part int
	far  string
}

// A pull is a plate, screen or cathode on a node.
type pull struct {
	part      int
	electrode string
}

func newJoints(sheet []amp.Position) *joints {
	j := &joints{parts: sheet, byRef: map[string]int{}, one: map[string]string{}, ways: map[string][]way{}, pull: map[string][]pull{}, filled: map[string]bool{}}
	for i := range sheet {
		j.byRef[sheet[i].Ref] = i
		if p := &sheet[i]; wireWhileWhole(p) {
			j.join(p.Nodes[0].Name, p.Nodes[1].Name)
		}
	}
	for i := range sheet {
		j.add(i)
	}
	j.every = map[string][]way{}
	for n, ws := range j.ways {
		j.every[n] = slices.Clone(ws)
	}
	j.prune()
	return j
}

// wireWhileWhole reports a two-lead part that is nothing but wire until it
// fails.
func wireWhileWhole(p *amp.Position) bool {
	return len(p.Nodes) == 2 && slices.Contains([]string{"fuse", "switch", "jack"}, p.Kind)
}

func (j *joints) join(a, b string) {
	a, b = j.root(a), j.root(b)
	if a == chassisNode {
		a, b = b, a
	}
	if a != b {
		j.one[a] = b
	}
}

// root returns the node that stands for all joined to this one.
func (j *joints) root(node string) string {
	for j.one[node] != "" {
		node = j.one[node]
	}
	return node
}

func (j *joints) add(i int) {
	p := &j.parts[i]
	switch {
	case isOneOf(p.Kind, "resistor", "choke"):
		a, b, ok := j.leads(p)
		if ok && a != b {
			j.ways[a] = append(j.ways[a], way{i, b})
			j.ways[b] = append(j.ways[b], way{i, a})
		}
	case isOneOf(p.Kind, capacitorKinds...):
		for _, n := range p.Nodes {
			j.filled[j.root(n.Name)] = true
		}
	case isOneOf(p.Kind, "pot", "winding", "lamp", "speaker"):
		for _, n := range p.Nodes {
			j.pull[j.root(n.Name)] = append(j.pull[j.root(n.Name)], pull{i, n.Role})
		}
	case isOneOf(p.Kind, tubeKinds...), isOneOf(p.Kind, rectifierKinds...):
		for _, n := range p.Nodes {
			if n.Role != "grid" {
				j.pull[j.root(n.Name)] = append(j.pull[j.root(n.Name)], pull{i, n.Role})
			}
		}
	}
}

func isOneOf(word string, words ...string) bool { return slices.Contains(words, word) }

// leads returns the nodes of a two-lead part.
func (j *joints) leads(p *amp.Position) (a, b string, ok bool) {
	if len(p.Nodes) != 2 {
		return "", "", false
	}
	return j.root(p.Nodes[0].Name), j.root(p.Nodes[1].Name), true
}

// prune takes away the ways that carry nothing: those to a node on which
// nothing but grids and capacitors stand.
func (j *joints) prune() {
	for again := true; again; {
		again = false
		for i := range j.parts {
			for _, n := range j.parts[i].Nodes {
				node := j.root(n.Name)
				if node != chassisNode && len(j.ways[node]) == 1 && len(j.pull[node]) == 0 {
					j.drop(node)
					again = true
				}
			}
		}
	}
}

// drop removes the only way of a node, at both its ends.
func (j *joints) drop(node string) {
	w := j.ways[node][0]
	j.ways[node] = nil
	j.ways[w.far] = slices.DeleteFunc(j.ways[w.far], func(o way) bool { return o.part == w.part })
}

// node returns the node a reading was taken on: named itself, or by an
// electrode that stands on it.
func (j *joints) node(at string) (string, bool) {
	if ref, electrode, ok := cutAt(at); ok {
		i, known := j.byRef[ref]
		if !known {
			return "", false
		}
		n, has := j.parts[i].Node(electrode)
		return j.root(n), has
	}
	for i := range j.parts {
		for _, n := range j.parts[i].Nodes {
			if n.Name == at {
				return j.root(at), true
			}
		}
	}
	return "", false
}

// A chain is the only way direct current has from one node to another.
type chain struct {
	parts []int
	end   string
}

// follow walks from a node away from the electrodes on it, through parts
// without a branch, to the first node whose volts are known.
func (j *joints) follow(node string, known func(string) bool) (chain, bool) {
	var c chain
	from := -1
	for at := node; ; {
		var next []way
		for _, w := range j.ways[at] {
			if w.part != from {
				next = append(next, w)
			}
		}
		if len(next) != 1 || at != node && len(j.pull[at]) > 0 {
			return c, false
		}
		c.parts = append(c.parts, next[0].part)
		c.end, from, at = next[0].far, next[0].part, next[0].far
		if c.end == chassisNode || known(c.end) {
			return c, true
		}
	}
}
