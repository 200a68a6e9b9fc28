package circuit

import "slices"

// A feed is a winding, the rectifiers it feeds and the node they fill.
type feed struct {
	winding    int
	rectifiers []int
	node       string
}

// feeds finds every winding that reaches a rectifier, straight or through
// resistors.
func (j *joints) feeds() []feed {
	var out []feed
	for i := range j.parts {
		if p := &j.parts[i]; p.Kind == "winding" && len(p.Nodes) > 0 {
			if f := j.feed(i); len(f.rectifiers) > 0 && f.node != "" {
				out = append(out, f)
			}
		}
	}
	return out
}

func (j *joints) feed(winding int) feed {
	f := feed{winding: winding}
	swings := j.swings(winding)
	for i := range j.parts {
		p := &j.parts[i]
		if !isOneOf(p.Kind, rectifierKinds...) {
			continue
		}
		a, b, ok := j.leads(p)
		if !ok || swings[a] == swings[b] {
			continue
		}
		f.rectifiers = append(f.rectifiers, i)
		far := a
		if swings[a] {
			far = b
		}
		if far != chassisNode && f.node == "" {
			f.node = far
		}
	}
	return f
}

// swings are the nodes that follow a winding's ends: the ends, and what hangs
// on them by a resistor and leads to a rectifier.
func (j *joints) swings(winding int) map[string]bool {
	out := map[string]bool{}
	for _, n := range j.parts[winding].Nodes {
		if at := j.root(n.Name); n.Role != "ct" && at != chassisNode && !j.filled[at] {
			out[at] = true
			for _, w := range j.ways[at] {
				if j.rectified(w.far) && w.far != chassisNode {
					out[w.far] = true
				}
			}
		}
	}
	return out
}

func (j *joints) rectified(node string) bool {
	return slices.ContainsFunc(j.pull[node], func(p pull) bool { return isOneOf(j.parts[p.part].Kind, rectifierKinds...) })
}

// mostWinding is how far the logarithm of a winding's volts may be from the
// sheet's: about a third. Sheets round, and primaries are made for other
// mains than the sheet says.
const mostWinding = 0.3

// supplies pins each winding to the first reading on its side: its volts, or,
// where those were read with nothing drawn, what stands between.
func (c *chooser) supplies() {
	for _, f := range c.j.feeds() {
		t := c.nearest(f.node)
		k, ok := c.net.Knob(c.j.parts[f.winding].Ref, Volts)
		if t < 0 || !ok {
			continue
		}
		p := pin{target: t, moves: []move{{knob: k, by: 1}}, limit: mostWinding}
		if read := !c.halves[k].assumed && c.halves[k].why != "sheet"; read {
			p.moves, p.limit = c.between(f), mostWidths
		}
		if len(p.moves) > 0 {
			c.taken[t] = true
			c.pins = append(c.pins, p)
		}
	}
}

// between moves the copper and the rectifiers of a supply together, each in
// proportion to its half width: more ohms go with less conduction.
func (c *chooser) between(f feed) []move {
	var out []move
	add := func(ref string, p Property, sign float64) {
		if k, ok := c.net.Knob(ref, p); ok && c.values[k] > 0 && c.halves[k].width > 0 {
			out = append(out, move{knob: k, by: sign * c.halves[k].width / c.values[k]})
		}
	}
	add(c.j.parts[f.winding].Ref, Copper, 1)
	for i := range c.j.parts {
		if c.j.parts[i].Kind == "mains" {
			add(c.j.parts[i].Ref, Copper, 1)
		}
	}
	for _, r := range f.rectifiers {
		add(c.j.parts[r].Ref, Conduct, -1)
	}
	return out
}

// nearest is the free reading closest to a node, by parts walked; -1 if none.
func (c *chooser) nearest(node string) int {
	seen := map[string]bool{chassisNode: true, node: true}
	for queue := []string{node}; len(queue) > 0; queue = queue[1:] {
		if t := c.free(queue[0]); t >= 0 {
			return t
		}
		for _, w := range c.j.every[queue[0]] {
			if !seen[w.far] {
				seen[w.far] = true
				queue = append(queue, w.far)
			}
		}
	}
	return -1
}
