package circuit

import "lugworth/core/amp"

// Nodes on the mains side of the rectifiers swing with the mains and have no
// mean worth naming. They are those on which only windings, rectifiers and
// resistors (or fuses, closed switches) stand whose other end swings too. A
// node between rectifiers and one resistor to the reservoir counts as well:
// the resistor is in series with the rectifiers.

// standing is what stands on one node, as rows of the sheet.
type standing struct {
	windings, rectifiers, resistors []int
	other                           bool
}

// findSwing finds the swinging nodes of the sheet.
func (c *compiler) findSwing() {
	on := c.standings()
	c.swing = map[string]bool{}
	for n, s := range on {
		c.swing[n] = !s.other && n != chassisNode
	}
	for changed := true; changed; {
		changed = false
		for n := range on { // the greatest set does not depend on the order
			if c.swing[n] && !c.mayswing(n, on[n]) {
				c.swing[n], changed = false, true
			}
		}
	}
	c.keepFed(on)
}

func (c *compiler) standings() map[string]*standing {
	on := map[string]*standing{}
	for i := range c.sheet {
		p := &c.sheet[i]
		kind, ok := kindOf(p)
		if !ok || kind == isMains {
			continue
		}
		for _, n := range p.Nodes {
			s := on[n.Name]
			if s == nil {
				s = &standing{}
				on[n.Name] = s
			}
			s.put(i, kind)
		}
	}
	return on
}

func (s *standing) put(row int, kind partKind) {
	switch kind {
	case isWinding:
		s.windings = append(s.windings, row)
	case isRectifier:
		s.rectifiers = append(s.rectifiers, row)
	case isResistor, isContact:
		s.resistors = append(s.resistors, row)
	default:
		s.other = true
	}
}

// mayswing holds the resistors of a node against the rule.
func (c *compiler) mayswing(n string, s *standing) bool {
	if len(s.windings) == 0 && len(s.rectifiers) > 0 && len(s.resistors) <= 1 {
		return true // in series with its rectifiers, wherever the resistor goes
	}
	for _, r := range s.resistors {
		if !c.swing[across(&c.sheet[r], n)] {
			return false
		}
	}
	return true
}

// across returns the other node of a two-lead part.
func across(p *amp.Position, n string) string {
	a, b := ends(p)
	if a == n {
		return b
	}
	return a
}

// keepFed keeps only the groups of swinging nodes that hold both a winding
// and a rectifier: a heater winding feeds nothing.
func (c *compiler) keepFed(on map[string]*standing) {
	seen := map[string]bool{}
	for n := range on { // groups do not depend on the order
		if !c.swing[n] || seen[n] {
			continue
		}
		group, winding, rectifier := c.spreadFrom(n, on, seen)
		for _, m := range group {
			c.swing[m] = winding && rectifier
		}
	}
}

// spreadFrom collects the swinging nodes joined to one.
func (c *compiler) spreadFrom(start string, on map[string]*standing, seen map[string]bool) (group []string, winding, rectifier bool) {
	seen[start] = true
	group = []string{start}
	for k := 0; k < len(group); k++ {
		s := on[group[k]]
		winding = winding || len(s.windings) > 0
		rectifier = rectifier || len(s.rectifiers) > 0
		for _, rows := range [][]int{s.windings, s.rectifiers, s.resistors} {
			for _, r := range rows {
				for _, n := range c.sheet[r].Nodes {
					if c.swing[n.Name] && !seen[n.Name] {
						seen[n.Name] = true
						group = append(group, n.Name)
					}
				}
			}
		}
	}
	return group, winding, rectifier
}

// feeds reports whether a winding has an end that swings, and so feeds a
// rectifier.
func (c *compiler) feeds(p *amp.Position) bool {
	for _, n := range p.Nodes {
		if c.swing[n.Name] {
			return true
		}
	}
	return false
}
