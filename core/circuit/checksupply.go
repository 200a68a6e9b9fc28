package circuit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"lugworth/core/amp"
)

// valued are the kinds whose value the circuit needs, and what it is.
var valuedKinds = map[string]string{
	"resistor": "ohms", "pot": "ohms of its whole track", "choke": "henries", "winding": "volts across the whole of it", "mains": "nominal volts",
	"capacitor": "farads", "film capacitor": "farads", "paper capacitor": "farads", "ceramic capacitor": "farads", "mica capacitor": "farads", "electrolytic": "farads",
}

// stated are the figures in extra without which a supply is only half known.
var statedExtras = []struct{ kind, key, say string }{
	{"winding", "dcr", "its ohms are not stated (dcr=): how far the supply sags is not known"},
	{"choke", "dcr", "its ohms are not stated (dcr=): the volts it drops are not known"},
	{"mains", "rs", "the ohms of its primary are not stated (rs=): how far the supply sags is not known"},
	{"mains", "heater", "the watts of the heaters are not stated (heater=): what they take from the high volts is not known"},
	{"mains", "hz", "its frequency is not stated (hz=)"},
	{"pot", "turn", "where its wiper stands is not stated (turn=)"},
}

// valuesMissing tells of drawn parts without the figure the circuit needs.
func valuesMissing(w *wiring) []Remark {
	var out []Remark
	for i := range w.sheet {
		p := &w.sheet[i]
		what := valuedKinds[p.Kind]
		if what == "" || len(p.Nodes) == 0 && p.Kind != "mains" || p.Kind != "mains" && w.idle(p) {
			continue
		}
		switch {
		case len(p.Spec.Values) > 1:
			out = append(out, Remark{Refs: []string{p.Ref}, Say: fmt.Sprintf("%s holds %d sections on one pair of nodes: write one row for each", p.Ref, len(p.Spec.Values))})
		case !(p.Spec.Value() > 0):
			out = append(out, Remark{Refs: []string{p.Ref}, Say: fmt.Sprintf("%s has no value: write its %s", p.Ref, what)})
		}
		for _, s := range statedExtras {
			if s.kind == p.Kind && p.Extra[s.key] == "" {
				out = append(out, Remark{Severity: Doubts, Refs: []string{p.Ref}, Say: p.Ref + ": " + s.say})
			}
		}
	}
	return out
}

// mainsThere asks for one mains row where a winding feeds a rectifier.
func mainsThere(w *wiring) []Remark {
	var mains, fed []string
	for i := range w.sheet {
		switch p := &w.sheet[i]; {
		case p.Kind == "mains":
			mains = append(mains, p.Ref)
		case p.Kind == "winding" && w.fed(p):
			fed = append(fed, p.Ref)
		}
	}
	switch {
	case len(fed) == 0 && len(w.names) > 0:
		return []Remark{{Say: "no winding feeds a rectifier: the amp has no supply"}}
	case len(mains) == 0 && len(fed) > 0:
		return []Remark{{Refs: fed, Say: "no row of kind mains says at which mains volts the windings have their volts"}}
	case len(mains) > 1:
		return []Remark{{Refs: mains, Say: "there is more than one mains row: " + strings.Join(mains, ", ")}}
	}
	return nil
}

// windingsReturn tells of windings whose current finds no way back.
func windingsReturn(w *wiring) []Remark {
	ground := w.reach([]string{chassisNode}, nil, plainWays)
	var out []Remark
	w.parts(func(p *amp.Position) {
		if !w.fed(p) {
			return
		}
		if ct, ok := p.Node("ct"); ok {
			if !ground[ct] {
				out = append(out, Remark{Refs: []string{p.Ref}, Node: ct, Say: fmt.Sprintf("the center tap of %s, node %s, has no way to the chassis", p.Ref, ct)})
			}
			return
		}
		if !w.returns(p, ground) {
			out = append(out, Remark{Refs: []string{p.Ref}, Say: fmt.Sprintf("the current of %s has no way back: no end of it goes to the chassis, to a second rectifier of a bridge or to the middle of two capacitors. Is its center tap missing?", p.Ref)})
		}
	}, "winding")
	return out
}

// returns reports whether a winding without a tap lets current out and in
// again: one end on the chassis or between capacitors, or both ends on
// rectifiers of either direction.
func (w *wiring) returns(p *amp.Position, ground map[string]bool) bool {
	both := 0
	for _, n := range p.Nodes {
		if ground[n.Name] || w.has(n.Name, capacitorKinds) {
			return true
		}
		if w.pointing(n.Name, "plate", "a") && w.pointing(n.Name, "cathode", "b") {
			both++
		}
	}
	return both == len(p.Nodes)
}

// pointing reports whether a rectifier stands on the node with that lead.
func (w *wiring) pointing(n string, roles ...string) bool {
	return slices.ContainsFunc(w.leads[n], func(l leadOn) bool {
		return slices.Contains(rectifierKinds, l.part.Kind) && slices.Contains(roles, l.role)
	})
}

// windingSide returns the nodes from which a winding is reached through
// resistors alone.
func (w *wiring) windingSide() map[string]bool {
	side := map[string]bool{}
	w.parts(func(p *amp.Position) {
		if !w.fed(p) {
			return
		}
		for _, n := range p.Nodes {
			if n.Role != "ct" && n.Name != chassisNode {
				maps.Copy(side, w.near(n.Name))
			}
		}
	}, "winding")
	return side
}

// rectifiersFilled tells of rectifiers without a capacitor behind them.
func rectifiersFilled(w *wiring) []Remark {
	side := w.windingSide()
	var out []Remark
	w.parts(func(p *amp.Position) {
		for _, n := range p.Nodes {
			if side[n.Name] || n.Name == chassisNode || !w.fromWinding(p, side) || w.filled(n.Name) {
				continue
			}
			say := fmt.Sprintf("no capacitor stands behind %s, at node %s. Is the first filter capacitor missing?", p.Ref, n.Name)
			if w.has(n.Name, []string{"choke"}) {
				say = fmt.Sprintf("a choke and no capacitor stands behind %s, at node %s: a supply with choke input is not covered", p.Ref, n.Name)
			}
			out = append(out, Remark{Refs: []string{p.Ref}, Node: n.Name, Say: say})
		}
	}, rectifierKinds...)
	return out
}

// filled reports whether a capacitor stands on the node or behind a closed
// switch or a fuse.
func (w *wiring) filled(n string) bool {
	for near := range w.reach([]string{n}, stopAtChassis, []string{"fuse", "switch", "jack"}) {
		if w.has(near, capacitorKinds) {
			return true
		}
	}
	return false
}

func (w *wiring) fromWinding(p *amp.Position, side map[string]bool) bool {
	return slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return side[n.Name] })
}

// coupledBias tells of rectifiers that a winding reaches through a capacitor
// only.
func coupledBias(w *wiring) []Remark {
	side := w.windingSide()
	var out []Remark
	w.parts(func(p *amp.Position) {
		if w.fromWinding(p, side) {
			return
		}
		for _, n := range p.Nodes {
			if c := w.across(n.Name, side); c != "" && n.Name != chassisNode {
				out = append(out, Remark{Refs: []string{p.Ref, c}, Node: n.Name,
					Say: fmt.Sprintf("%s gets its alternating volts through the capacitor %s: a bias supply of that kind is not covered", p.Ref, c)})
				return
			}
		}
	}, rectifierKinds...)
	return out
}

// across returns the capacitor that leads from a node to a winding.
func (w *wiring) across(n string, side map[string]bool) string {
	reached := w.reach([]string{n}, stopAtChassis, []string{"resistor"})
	for _, near := range w.names {
		if c := w.capacitorTo(near, side); reached[near] && c != "" {
			return c
		}
	}
	return ""
}

func (w *wiring) capacitorTo(n string, side map[string]bool) string {
	if n == chassisNode {
		return ""
	}
	for _, l := range w.leads[n] {
		if slices.Contains(capacitorKinds, l.part.Kind) && slices.ContainsFunc(l.part.Nodes, func(o amp.Node) bool { return o.Name != n && side[o.Name] }) {
			return l.part.Ref
		}
	}
	return ""
}
