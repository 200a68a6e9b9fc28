package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/wasm/draw"
)

// filtered reports whether a capacitor stands from a node to the chassis.
func (l *layout) filtered(node string) bool {
	return slices.ContainsFunc(l.on[node], func(i int) bool {
		return isCapacitor(l.ps[i].Kind) && slices.ContainsFunc(l.ps[i].Nodes, func(n amp.Node) bool { return n.Name == chassis })
	})
}

// alternates reports whether a node is fed straight from a winding, or over a
// resistor before a rectifier.
func (l *layout) alternates(node string) bool {
	if l.has(node, func(p *amp.Position) bool { return p.Kind == "winding" || p.Kind == "mains" }) {
		return true
	}
	return !l.filtered(node) && l.has(node, func(p *amp.Position) bool {
		return p.Kind == "resistor" && slices.ContainsFunc(p.Nodes, func(n amp.Node) bool {
			return n.Name != node && l.has(n.Name, func(q *amp.Position) bool { return q.Kind == "winding" })
		})
	}) && l.has(node, func(p *amp.Position) bool { return isRectifier(p.Kind) })
}

func (l *layout) has(node string, is func(*amp.Position) bool) bool {
	return slices.ContainsFunc(l.on[node], func(i int) bool { return is(&l.ps[i]) })
}

// amplifies reports whether a plate, grid or cathode stands on a node.
func (l *layout) amplifies(node string) bool {
	return l.has(node, func(p *amp.Position) bool {
		return isAmplifier(p.Kind) && slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return n.Name == node && n.Role != "screen" })
	})
}

// supplies are the chains that begin at a rectifier's output.
func (l *layout) supplies() []draw.Stage {
	var out []draw.Stage
	for i := range l.ps {
		if !isRectifier(l.ps[i].Kind) {
			continue
		}
		for _, n := range l.ps[i].Nodes {
			if n.Name == chassis || l.home[n.Name] != "" || l.alternates(n.Name) || l.amplifies(n.Name) {
				continue
			}
			s := draw.Stage{Subject: "Supply " + n.Name, Chain: true}
			l.chain(&s, n.Name, l.source(n.Name))
			out = append(out, s)
		}
	}
	return out
}

// source names the rectifiers that feed a node, and from where.
func (l *layout) source(node string) string {
	var refs, types, from []string
	for _, i := range l.on[node] {
		p := &l.ps[i]
		if !isRectifier(p.Kind) {
			continue
		}
		refs = append(refs, p.Ref)
		if p.Type != "" && !slices.Contains(types, p.Type) {
			types = append(types, p.Type)
		}
		for _, n := range p.Nodes {
			if n.Name != node && !slices.Contains(from, n.Name) {
				from = append(from, n.Name)
			}
		}
	}
	return joined(" ", strings.Join(refs, " "), strings.Join(types, " "), "from", strings.Join(from, " "))
}

// chain draws a node of a supply and then all that is fed from it.
func (l *layout) chain(s *draw.Stage, node, link string) {
	if n := len(s.Nodes); n > 0 {
		if parent, say, _ := strings.Cut(link, "\t"); parent != s.Nodes[n-1].Name {
			link = say + " from " + parent
		} else {
			link = say
		}
	}
	l.home[node] = "the supply"
	at := len(s.Nodes)
	s.Nodes = append(s.Nodes, draw.NodeBox{Name: node})
	taken := []int{}
	for _, i := range l.on[node] {
		p := &l.ps[i]
		if !isLink(p.Kind) {
			continue
		}
		for _, n := range p.Nodes {
			if n.Name == node || n.Name == chassis || l.home[n.Name] != "" || l.amplifies(n.Name) || l.alternates(n.Name) || p.Kind == "resistor" && !l.filtered(n.Name) {
				continue
			}
			taken = append(taken, i)
			l.chain(s, n.Name, node+"\t"+partSays(p))
		}
	}
	s.Nodes[at] = l.box(node, "", func(i int) bool {
		return isRectifier(l.ps[i].Kind) || slices.Contains(taken, i) || l.cameBy(i, node)
	})
	s.Nodes[at].Link = link
}

// cameBy is true of a link between two nodes of a supply: it is drawn between
// them.
func (l *layout) cameBy(i int, node string) bool {
	return isLink(l.ps[i].Kind) && !slices.ContainsFunc(l.ps[i].Nodes, func(n amp.Node) bool {
		return n.Name != node && l.home[n.Name] != "the supply"
	})
}
