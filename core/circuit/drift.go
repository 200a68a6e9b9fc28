package circuit

import "math"

// drifting finds the nodes that nothing holds: no way over conductors or
// rectifiers to the chassis. A grid on such a node leaves its tube's current
// open, so there is no answer; other nodes have no volts worth naming.
func (p *setup) drifting() ([]bool, *Unsolved) {
	n := p.net
	group := make([]int, len(n.names)+1)
	for i := range group {
		group[i] = i
	}
	for i := range n.links {
		if l := &n.links[i]; l.a >= 0 && l.b >= 0 && p.g[i] > 0 {
			merge(group, l.a, l.b)
		}
	}
	for i := range n.supply.ports {
		q := &n.supply.ports[i]
		for _, k := range q.legs {
			if !p.legs[k].dead {
				merge(group, q.plus, q.minus)
			}
		}
	}
	ground := find(group, len(n.names))
	adrift := make([]bool, len(n.names))
	for i := range adrift {
		adrift[i] = find(group, i) != ground
	}
	for i := range n.tubes {
		t := &n.tubes[i]
		if t.grid < len(adrift) && adrift[t.grid] && p.alive(t, i, adrift) {
			ref := n.parts[t.part].ref
			return nil, p.unsolved("the grid of "+ref+", node "+n.names[t.grid]+", has no way to the chassis", ref, n.names[t.grid])
		}
	}
	return adrift, nil
}

// alive reports a tube that could draw current: its cathode and its plate or
// screen are held.
func (p *setup) alive(t *tubeAt, i int, adrift []bool) bool {
	held := func(n int) bool { return n >= len(adrift) || !adrift[n] }
	return !p.off[i] && held(t.cathode) && (held(t.plate) || t.screened && held(t.screen))
}

// find returns the head of a node's group.
func find(group []int, i int) int {
	for group[i] != i {
		group[i] = group[group[i]]
		i = group[i]
	}
	return i
}

func merge(group []int, a, b int) { group[find(group, a)] = find(group, b) }

// loose returns why the circuit as drawn has nodes without an answer: an
// electrode of a tube that no conductor leads away from.
func (c *compiler) loose() []error {
	p, u := c.setUp(c.Sheet(), State{})
	if u != nil {
		return []error{u}
	}
	adrift, u := p.drifting()
	if u != nil {
		return []error{u}
	}
	var out []error
	for i := range c.tubes {
		t := &c.tubes[i]
		names := [4]string{"plate", "screen", "grid", "cathode"}
		for k, n := range t.nodes() {
			if n < len(adrift) && adrift[n] {
				ref := c.parts[t.part].ref
				out = append(out, &Unsolved{Say: "the " + names[k] + " of " + ref + ", node " + c.names[n] + ", has no way to the supply or the chassis", Refs: []string{ref, c.names[n]}})
			}
		}
	}
	return out
}

// findDrift looks what a leak a hundred times as large would move: ten
// gigohms from every node, less than any real amp leaks. A grid that hangs on
// its own cathode through a megohm moves with it by some tenths of a percent
// and is sound; what moves by more than one percent is held by nothing. Where
// a tube's current goes with it, there is no answer; a node that moves alone
// has no volts worth naming.
func (w *work) findDrift(sol *Solution) *Unsolved {
	n := len(w.net.names)
	d := w.trial
	for i := range n {
		d[i] = 99 * leak * sol.x[i]
	}
	solve(w.net.prog, sol.slopes, d)
	moved := false
	for i := range n {
		moved = moved || !sol.adrift[i] && math.Abs(d[i]) > driftPart*math.Abs(sol.x[i])+driftLeast
	}
	if !moved {
		return nil
	}
	return w.leakMore(sol)
}

// leakMore solves again with the greater leak and compares.
func (w *work) leakMore(sol *Solution) *Unsolved {
	w.leak = 100 * leak
	found := w.newton(60) || w.relax()
	w.leak = leak
	if !found {
		return w.unsolved("a node is held by nothing, and no steady state was found")
	}
	name := ""
	for i := range w.net.names {
		if !sol.adrift[i] && math.Abs(w.x[i]-sol.x[i]) > driftPart*math.Abs(sol.x[i])+driftLeast {
			sol.adrift[i] = true
			name = w.net.names[i]
		}
	}
	more := point{setup: w.setup, x: w.x}
	more.allTubes()
	for i := range sol.tubes {
		a, b := sol.tubes[i], more.tubes[i]
		ia, ib := a.Plate+a.Screen+a.Grid, b.Plate+b.Screen+b.Grid
		if math.Abs(ia-ib) > quiet+driftPart*math.Abs(ia) {
			ref := w.net.parts[w.net.tubes[i].part].ref
			return w.unsolved("the current of "+ref+" hangs on a node that nothing holds ("+name+")", ref, name)
		}
	}
	return nil
}
