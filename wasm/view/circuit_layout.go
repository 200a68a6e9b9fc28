package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/wasm/draw"
)

// nodeVolts are the volts of one node as printed; "" where there are none.
type nodeVolts struct{ Read, Expected, Worst, Wrong string }

const chassis = "0"

// circuitStages lays a sheet out for drawing: first the supplies, each a chain
// from its rectifier down, then each tube with the nodes of its electrodes and
// those behind them, then what belongs to neither. Every node is drawn with
// its parts once.
func circuitStages(ps []amp.Position, volts map[string]nodeVolts) []draw.Stage {
	l := layout{ps: ps, volts: volts, home: map[string]string{}}
	l.gather()
	out := l.supplies()
	tubes := l.tubes()
	l.spread(tubes)
	out = append(out, l.drawTubes(tubes)...)
	return append(out, l.rest()...)
}

type layout struct {
	ps    []amp.Position
	volts map[string]nodeVolts
	nodes []string          // in the order of the sheet, without the chassis
	on    map[string][]int  // positions that stand on a node
	home  map[string]string // where a node is drawn with its parts
}

func (l *layout) gather() {
	l.on = map[string][]int{}
	for i := range l.ps {
		for _, n := range l.ps[i].Nodes {
			if n.Name == chassis {
				continue
			}
			if l.on[n.Name] == nil {
				l.nodes = append(l.nodes, n.Name)
			}
			if at := l.on[n.Name]; len(at) == 0 || at[len(at)-1] != i {
				l.on[n.Name] = append(at, i)
			}
		}
	}
}

func isAmplifier(kind string) bool { return kind == "triode" || kind == "pentode" || kind == "beam" }

func isRectifier(kind string) bool { return kind == "rectifier" || kind == "diode" }

func isCapacitor(kind string) bool {
	return kind == "electrolytic" || strings.HasSuffix(kind, "capacitor")
}

// isLink is true of what passes direct current along a supply.
func isLink(kind string) bool {
	return slices.Contains([]string{"resistor", "choke", "fuse", "switch", "lamp", "jack"}, kind)
}

// A tubeNodes is one tube and the nodes drawn with it.
type tubeNodes struct {
	p     *amp.Position
	extra []string
}

// tubes take the nodes of their electrodes, each node the first that asks.
func (l *layout) tubes() []tubeNodes {
	var out []tubeNodes
	for i := range l.ps {
		p := &l.ps[i]
		if !isAmplifier(p.Kind) || len(p.Nodes) == 0 {
			continue
		}
		for _, n := range p.Nodes {
			if n.Name != chassis && l.home[n.Name] == "" {
				l.home[n.Name] = p.Ref
			}
		}
		out = append(out, tubeNodes{p: p})
	}
	return out
}

// spread gives each further node to the tube it is nearest to.
func (l *layout) spread(tubes []tubeNodes) {
	for again := true; again; {
		again = false
		for t := range tubes {
			var found []string
			for _, node := range l.nodes {
				if l.home[node] == "" && !l.alternates(node) && l.touches(node, tubes[t].p.Ref) {
					found = append(found, node)
				}
			}
			for _, node := range found {
				l.home[node] = tubes[t].p.Ref
			}
			tubes[t].extra = append(tubes[t].extra, found...)
			again = again || len(found) > 0
		}
	}
}

// touches reports whether a part stands from a node to one drawn with a tube.
func (l *layout) touches(node, ref string) bool {
	return l.has(node, func(p *amp.Position) bool {
		return !isRectifier(p.Kind) && slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return n.Name != node && l.home[n.Name] == ref })
	})
}

var pinOrder = []string{"plate", "screen", "grid", "cathode"}

func (l *layout) drawTubes(tubes []tubeNodes) []draw.Stage {
	var out []draw.Stage
	for _, t := range tubes {
		s := draw.Stage{Subject: joined(" ", t.p.Ref, t.p.Type), Tube: true}
		for _, pin := range pinOrder {
			if n, ok := t.p.Node(pin); ok {
				s.Nodes = append(s.Nodes, l.pinBox(t.p, n, pin))
			}
		}
		for _, n := range t.extra {
			s.Nodes = append(s.Nodes, l.box(n, "", nil))
		}
		out = append(out, s)
	}
	return out
}

// pinBox is the node of an electrode: with its parts where it is at home.
func (l *layout) pinBox(p *amp.Position, node, pin string) draw.NodeBox {
	if node == chassis {
		return draw.NodeBox{Pin: pin, Name: "0, chassis", Plain: true}
	}
	if l.home[node] == p.Ref {
		return l.box(node, pin, func(i int) bool { return &l.ps[i] == p })
	}
	b := l.bare(node, pin)
	b.Parts = []draw.Lead{{Say: "see " + l.home[node], Shape: draw.Remark}}
	return b
}

func (l *layout) bare(node, pin string) draw.NodeBox {
	v := l.volts[node]
	return draw.NodeBox{Pin: pin, Name: node, Read: v.Read, Expected: v.Expected, Worst: v.Worst, Wrong: v.Wrong}
}

// box is a node with all parts on it but those that skip names.
func (l *layout) box(node, pin string, skip func(int) bool) draw.NodeBox {
	b := l.bare(node, pin)
	var remarks []draw.Lead
	for _, i := range l.on[node] {
		if skip != nil && skip(i) {
			continue
		}
		p := &l.ps[i]
		if isAmplifier(p.Kind) {
			remarks = append(remarks, draw.Lead{Say: p.Ref + " " + leadsOn(p, node), Shape: draw.Remark})
			continue
		}
		b.Parts = append(b.Parts, leadOf(p, node))
	}
	b.Parts = append(b.Parts, remarks...)
	return b
}

// rest are the nodes drawn nowhere else.
func (l *layout) rest() []draw.Stage {
	s := draw.Stage{Subject: "Windings and other nodes"}
	for _, n := range l.nodes {
		if l.home[n] == "" {
			s.Nodes = append(s.Nodes, l.box(n, "", nil))
		}
	}
	if len(s.Nodes) == 0 {
		return nil
	}
	return []draw.Stage{s}
}

func leadsOn(p *amp.Position, node string) string {
	var out []string
	for _, n := range p.Nodes {
		if n.Name == node {
			out = append(out, n.Role)
		}
	}
	return strings.Join(out, " ")
}

// leadOf is a part seen from one of its nodes.
func leadOf(p *amp.Position, node string) draw.Lead {
	var to []string
	for _, n := range p.Nodes {
		switch {
		case n.Name == node:
		case n.Name != chassis:
			to = append(to, n.Name)
		case len(p.Nodes) > 2:
			to = append(to, chassis)
		}
	}
	return draw.Lead{Say: partSays(p), To: strings.Join(to, " "), Shape: shapeOf(p.Kind)}
}

// partSays names a part as short as a drawing needs it.
func partSays(p *amp.Position) string {
	if isRectifier(p.Kind) || isAmplifier(p.Kind) {
		return joined(" ", p.Ref, p.Type)
	}
	value, _, _ := strings.Cut(p.Value, " ")
	if p.Kind == "winding" || p.Kind == "mains" {
		value += " V"
	}
	return joined(" ", p.Ref, value)
}

func shapeOf(kind string) draw.Shape {
	switch {
	case isCapacitor(kind):
		return draw.Holds
	case kind == "resistor" || kind == "pot" || kind == "lamp":
		return draw.Resists
	case kind == "choke" || kind == "winding" || kind == "transformer":
		return draw.Wound
	}
	return draw.Other
}
