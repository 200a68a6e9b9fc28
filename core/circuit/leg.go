package circuit

import "lugworth/core/amp"

// A hop is one step of a leg from node to node.
type hop struct {
	to      string
	section section // share 0: none
	link    int     // -1: none
	group   int     // -1: none
}

// findLegs follows every way from a node that holds still, through windings,
// resistors and rectifiers in their forward direction, to another such node.
// A rectifier that is in no such way, or in more than one, belongs to a
// supply of a kind that is not covered.
func (c *compiler) findLegs() {
	hops := c.hops()
	for _, start := range append(append([]string(nil), c.names...), chassisNode) {
		c.follow(hops, start, start, nil, map[string]bool{})
	}
	used := make([]int, len(c.supply.groups))
	for _, l := range c.supply.legs {
		for _, g := range l.groups {
			used[g]++
		}
	}
	for g, n := range used {
		c.judgeGroup(g, n)
	}
	if c.supply.mains < 0 && len(c.supply.legs) > 0 {
		c.fail("no row of kind mains says at which mains volts the windings have their volts")
	}
	c.sharedCopper()
}

func (c *compiler) judgeGroup(g, ways int) {
	refs := c.groupRefs(g)
	switch {
	case ways == 0:
		c.fail(refs[0]+": no winding drives a current through it straight into a reservoir; a supply through a capacitor, or of more than two steps, is not covered", refs...)
	case ways > 1:
		c.fail(refs[0]+": its current has more than one way back through the windings; such a supply is not covered", refs...)
	}
}

func (c *compiler) groupRefs(g int) []string {
	var refs []string
	for _, r := range c.supply.groups[g].members {
		refs = append(refs, c.parts[c.rects[r].part].ref)
	}
	return refs
}

// hops lists the steps away from every node.
func (c *compiler) hops() map[string][]hop {
	hops := map[string][]hop{}
	both := func(a, b string, h hop) {
		h.to = b
		hops[a] = append(hops[a], h)
		h.to, h.section.share = a, -h.section.share
		hops[b] = append(hops[b], h)
	}
	groups := map[[2]string]int{}
	for i := range c.parts {
		p := &c.sheet[c.rows[i]]
		switch c.parts[i].kind {
		case isResistor, isContact:
			if a, b := ends(p); c.swing[a] || c.swing[b] {
				both(a, b, hop{link: c.parts[i].links[0], group: -1})
			}
		case isRectifier:
			a, k := ends(p)
			c.grouped(i, [2]string{a, k}, groups, hops)
		case isWinding:
			if c.feeds(p) {
				for _, h := range coils(p) {
					both(h.from, h.to, hop{section: section{i, h.share}, link: -1, group: -1})
				}
			}
		}
	}
	return hops
}

// grouped puts a rectifier with those that stand parallel to it.
func (c *compiler) grouped(i int, on [2]string, groups map[[2]string]int, hops map[string][]hop) {
	g, ok := groups[on]
	if !ok {
		g = len(c.supply.groups)
		groups[on] = g
		c.supply.groups = append(c.supply.groups, group{})
		hops[on[0]] = append(hops[on[0]], hop{to: on[1], link: -1, group: g})
	}
	r := c.parts[i].tube
	c.rects[r].group = g
	c.supply.groups[g].members = append(c.supply.groups[g].members, r)
}

type coil struct {
	from, to string
	share    float64
}

// coils returns the coils of a winding, each from its foot to its dotted end.
func coils(p *amp.Position) []coil {
	a, t, b := lead(p, "a"), lead(p, "ct"), lead(p, "b")
	if t == "" {
		return []coil{{b, a, 1}}
	}
	return []coil{{t, a, 0.5}, {b, t, 0.5}}
}

// follow extends a way by every step that leads on.
func (c *compiler) follow(hops map[string][]hop, start, at string, way []hop, seen map[string]bool) {
	for _, h := range hops[at] {
		switch {
		case seen[h.to] || h.to == start:
		case c.swing[h.to]:
			seen[h.to] = true
			c.follow(hops, start, h.to, append(way, h), seen)
			seen[h.to] = false
		default:
			c.take(start, h.to, append(way, h))
		}
	}
}

// take makes a leg of a way that passes a winding and a rectifier.
func (c *compiler) take(from, to string, way []hop) {
	var l leg
	for _, h := range way {
		if h.section.share != 0 {
			l.sections = append(l.sections, h.section)
		}
		if h.link >= 0 {
			l.links = append(l.links, h.link)
		}
		if h.group >= 0 {
			l.groups = append(l.groups, h.group)
		}
	}
	if len(l.sections) == 0 || len(l.groups) == 0 {
		return
	}
	l.port = c.portOf(c.at(to), c.at(from))
	p := &c.supply.ports[l.port]
	p.legs = append(p.legs, len(c.supply.legs))
	c.supply.legs = append(c.supply.legs, l)
}

func (c *compiler) portOf(plus, minus int) int {
	for i, p := range c.supply.ports {
		if p.plus == plus && p.minus == minus {
			return i
		}
	}
	c.supply.ports = append(c.supply.ports, port{plus: plus, minus: minus})
	return len(c.supply.ports) - 1
}

// direction is the sign with which the mains drives a leg.
func (c *compiler) direction(l *leg) float64 {
	sum := 0.0
	for _, s := range l.sections {
		sum += s.share * c.Knobs[c.parts[s.part].first].Value
	}
	return sum
}

// sharedCopper marks ports charged in both half cycles, and doubts a winding
// that charges two reservoirs in the same half cycle: its ohms are then
// passed by both currents at once, which the legs do not know of.
func (c *compiler) sharedCopper() {
	type use struct {
		part int
		half float64
		sign bool
	}
	seen := map[use]int{}
	for i := range c.supply.legs {
		l := &c.supply.legs[i]
		up := c.direction(l) > 0
		p := &c.supply.ports[l.port]
		if first := &c.supply.legs[p.legs[0]]; (c.direction(first) > 0) != up {
			p.full = true
		}
		for _, s := range l.sections {
			u := use{s.part, s.share, up}
			if other, ok := seen[u]; ok && other != l.port {
				c.doubt(c.parts[s.part].ref + " charges two reservoirs at once: what its ohms take from both is reckoned apart")
			}
			seen[u] = l.port
		}
	}
}
