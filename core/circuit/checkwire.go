package circuit

import (
	"slices"

	"lugworth/core/amp"
)

// chassis is the name of the node every volt is measured against.
const chassisNode = "0"

// A lead is one lead of a part on a node.
type leadOn struct {
	part *amp.Position
	role string
}

func (l leadOn) String() string { return "the " + leadWord(l.role) + " of " + l.part.Ref }

func leadWord(role string) string {
	switch role {
	case "a", "b":
		return role + " lead"
	case "plus", "minus":
		return role + " lead"
	case "ct":
		return "center tap"
	}
	return role
}

// wiring is a sheet seen as what is connected with what.
type wiring struct {
	sheet []amp.Position
	names []string // nodes in the order of the sheet
	leads map[string][]leadOn
}

func wire(sheet []amp.Position) *wiring {
	w := &wiring{sheet: sheet, leads: map[string][]leadOn{}}
	for i := range sheet {
		for _, n := range sheet[i].Nodes {
			if _, seen := w.leads[n.Name]; !seen {
				w.names = append(w.names, n.Name)
			}
			w.leads[n.Name] = append(w.leads[n.Name], leadOn{&sheet[i], n.Role})
		}
	}
	return w
}

// parts calls f with every part of the given kinds that has nodes.
func (w *wiring) parts(f func(*amp.Position), kinds ...string) {
	for i := range w.sheet {
		if p := &w.sheet[i]; len(p.Nodes) > 0 && slices.Contains(kinds, p.Kind) {
			f(p)
		}
	}
}

// What lets direct current through.
var (
	plainWays      = []string{"resistor", "pot", "choke", "fuse", "switch", "jack", "lamp", "speaker"}
	windingKinds   = []string{"winding"}
	rectifierKinds = []string{"rectifier", "diode"}
	tubeKinds      = []string{"triode", "pentode", "beam"}
	capacitorKinds = []string{"capacitor", "film capacitor", "paper capacitor", "ceramic capacitor", "mica capacitor", "electrolytic"}
	dcWays         = slices.Concat(plainWays, windingKinds, rectifierKinds)
)

// reach returns the nodes that parts of the given kinds connect with the
// start, which is among them. Nodes in stop are reached and not passed.
func (w *wiring) reach(start []string, stop func(string) bool, kinds []string) map[string]bool {
	seen := map[string]bool{}
	for _, s := range start {
		seen[s] = true
	}
	for queue := slices.Clone(start); len(queue) > 0; queue = queue[1:] {
		n := queue[0]
		if stop != nil && stop(n) {
			continue
		}
		for _, l := range w.leads[n] {
			if !slices.Contains(kinds, l.part.Kind) {
				continue
			}
			for _, other := range l.part.Nodes {
				if !seen[other.Name] {
					seen[other.Name] = true
					queue = append(queue, other.Name)
				}
			}
		}
	}
	return seen
}

func stopAtChassis(n string) bool { return n == chassisNode }

// has reports whether a node carries a lead of one of the kinds.
func (w *wiring) has(n string, kinds []string) bool {
	return slices.ContainsFunc(w.leads[n], func(l leadOn) bool { return slices.Contains(kinds, l.part.Kind) })
}

// fed reports whether a winding leads to a rectifier, straight or through
// resistors; one that does not takes no part.
func (w *wiring) fed(p *amp.Position) bool {
	return slices.ContainsFunc(p.Nodes, func(n amp.Node) bool {
		return n.Role != "ct" && n.Name != chassisNode && w.toRectifier(n.Name)
	})
}

func (w *wiring) toRectifier(end string) bool {
	near := w.near(end)
	return slices.ContainsFunc(w.names, func(n string) bool {
		return near[n] && (n == end || !w.ends(n)) && w.has(n, rectifierKinds)
	})
}

// near returns what a winding's end reaches through resistors, up to the
// chassis and to where a capacitor stands.
func (w *wiring) near(end string) map[string]bool {
	return w.reach([]string{end}, func(n string) bool {
		return w.ends(n) && (n != end || w.has(n, []string{"electrolytic"}))
	}, plainWays)
}

// ends reports whether the way from a winding stops at a node: the chassis,
// or one where a capacitor stands.
func (w *wiring) ends(n string) bool { return n == chassisNode || w.has(n, capacitorKinds) }

// idle reports whether a part takes no part in the circuit: heater windings,
// and what stands between the line and the primary.
func (w *wiring) idle(p *amp.Position) bool {
	switch p.Kind {
	case "winding":
		return !w.fed(p)
	case "mains", "cord", "transformer", "speaker":
		return true
	}
	return p.Role == amp.LineFuse || p.Role == amp.LineToChassis
}
