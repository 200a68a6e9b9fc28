package circuit

import (
	"errors"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// Laws looks a tube, rectifier or diode type up; doubt says why no verdict
// resting on it may be better than not proven ("" if none).
type Laws func(typeNumber string) (law tube.Law, doubt string, ok bool)

// A Net is the circuit of one amp: its elements, unknown nodes, order of
// elimination and knobs. It does not change once made and may be shared.
type Net struct {
	Knobs  []Knob
	Doubts []string // why no verdict on this circuit may be better than not proven

	parts  []part
	byRef  map[string]int
	names  []string // of the unknowns, in the order of the sheet
	byName map[string]int
	links  []link
	tubes  []tubeAt
	rects  []rectifierAt
	supply supply
	prog   *program
	diag   []int32 // place of each unknown's diagonal
	knobAt map[Figured]int
	figs   []Figure
}

// compiler holds what is only needed while a sheet becomes a Net.
type compiler struct {
	*Net
	sheet []amp.Position
	laws  Laws
	swing map[string]bool
	rows  []int // sheet row of each part
	bad   []error
}

// Compile makes the circuit of a sheet. The error joins every reason why it
// cannot be solved, each an *Unsolved that names positions: a grid without a
// way to the chassis, a supply of a kind not covered, a tube without a law, a
// part without a value. Positions without nodes take no part.
func Compile(sheet []amp.Position, laws Laws) (*Net, error) {
	c := &compiler{sheet: sheet, laws: laws, Net: &Net{
		byRef: map[string]int{}, byName: map[string]int{}, knobAt: map[Figured]int{},
	}}
	c.supply.mains = -1
	c.findSwing()
	c.numberNodes()
	for i := range sheet {
		c.add(i)
	}
	c.findLegs()
	c.arrange()
	if len(c.bad) == 0 {
		c.bad = append(c.bad, c.loose()...)
	}
	if len(c.bad) > 0 {
		return nil, errors.Join(c.bad...)
	}
	c.listFigures()
	return c.Net, nil
}

func (c *compiler) fail(say string, refs ...string) {
	c.bad = append(c.bad, &Unsolved{Say: say, Refs: refs})
}

func (c *compiler) doubt(say string) { c.Doubts = append(c.Doubts, say) }

// kindOf says how a position acts; false for one that takes no part.
func kindOf(p *amp.Position) (partKind, bool) {
	if len(p.Nodes) == 0 && p.Kind != "mains" {
		return 0, false
	}
	switch p.Kind {
	case "resistor":
		return isResistor, true
	case "pot":
		return isPot, true
	case "electrolytic":
		return isCapacitor, true
	case "choke":
		return isChoke, true
	case "fuse", "switch", "jack":
		return isContact, len(p.Nodes) == 2
	case "triode", "pentode", "beam":
		return isTube, true
	case "rectifier", "diode":
		return isRectifier, true
	case "winding":
		return isWinding, true
	case "mains":
		return isMains, true
	}
	return isCapacitor, p.Kind == "capacitor" || strings.HasSuffix(p.Kind, " capacitor")
}

// lead returns the name of the node on the first of these leads that is
// drawn.
func lead(p *amp.Position, leads ...string) string {
	for _, l := range leads {
		if n, ok := p.Node(l); ok {
			return n
		}
	}
	return ""
}

// ends returns the names of the nodes of a two-lead part, in the direction
// its current is counted.
func ends(p *amp.Position) (a, b string) {
	a, b = lead(p, "a", "plus", "plate"), lead(p, "b", "minus", "cathode")
	if (a == "" || b == "") && len(p.Nodes) == 2 {
		return p.Nodes[0].Name, p.Nodes[1].Name
	}
	return a, b
}

// numberNodes gives every node that does not swing with the mains its index,
// in the order of the sheet. A node that only windings touch is none.
func (c *compiler) numberNodes() {
	for i := range c.sheet {
		p := &c.sheet[i]
		if k, ok := kindOf(p); !ok || k == isMains || k == isWinding {
			continue
		}
		for _, n := range p.Nodes {
			c.name(n.Name)
		}
	}
	for i := range c.sheet { // the foot of a supply winding may stand on nothing but the chassis
		p := &c.sheet[i]
		if k, ok := kindOf(p); ok && k == isWinding && c.feeds(p) {
			for _, n := range p.Nodes {
				c.name(n.Name)
			}
		}
	}
	c.byName[chassisNode] = len(c.names)
}

func (c *compiler) name(node string) {
	if _, known := c.byName[node]; known || node == chassisNode || c.swing[node] {
		return
	}
	c.byName[node] = len(c.names)
	c.names = append(c.names, node)
}

// at returns the index of a node, -1 for one that swings or is not there.
func (c *compiler) at(node string) int {
	if i, ok := c.byName[node]; ok {
		return i
	}
	return -1
}

// add makes the part of one row, its knobs and links.
func (c *compiler) add(row int) {
	p := &c.sheet[row]
	kind, ok := kindOf(p)
	if !ok {
		c.leftOut(p)
		return
	}
	i := len(c.parts)
	q := part{ref: p.Ref, kind: kind, first: len(c.Knobs), links: [2]int{len(c.links), 0}}
	c.parts, c.rows = append(c.parts, q), append(c.rows, row)
	c.byRef[p.Ref] = i
	switch kind {
	case isResistor:
		c.valued(p, Ohms, spreadResistor)
		c.join(i, linkOhms, lead(p, "a"), lead(p, "b"))
	case isPot:
		c.addPot(i, p)
	case isCapacitor:
		key := spreadCapacitor
		if p.Kind == "electrolytic" {
			key = spreadElectrolytic
		}
		c.valued(p, Farads, key)
		a, b := ends(p)
		c.join(i, linkFarads, a, b)
	case isChoke:
		c.valued(p, Henries, spreadHenries)
		c.extra(p, "dcr", Copper, unit.Ohm, spreadCopper, "its ohms are not stated (dcr=): the volts it drops are taken as none")
		a, b := ends(p)
		c.join(i, linkChoke, a, b)
	case isContact:
		a, b := ends(p)
		c.join(i, linkClosed, a, b)
	case isTube:
		c.addTube(i, p)
	case isRectifier:
		c.addRectifier(i, p)
	case isWinding:
		c.addWinding(i, p)
	case isMains:
		c.addMains(i, p)
	}
	c.parts[i].links[1] = len(c.links)
	for _, n := range p.Nodes {
		c.parts[i].nodes = append(c.parts[i].nodes, c.at(n.Name))
	}
	c.parts[i].loose = c.parts[i].loose || opensInStandby(p)
}

// opensInStandby reports a switch that the state of standby opens.
func opensInStandby(p *amp.Position) bool {
	return p.Kind == "switch" && (strings.EqualFold(p.Extra["opens"], amp.Standby) || string(p.Role) == amp.Standby)
}

// leftOut doubts a drawn part that should carry current but whose way of
// doing so is not known.
func (c *compiler) leftOut(p *amp.Position) {
	if (p.Kind == "switch" || p.Kind == "jack") && len(p.Nodes) > 2 {
		c.doubt(p.Ref + ": which of its contacts are closed is not known, so it is left out; write one row for each pair of leads that is joined")
	}
}

// join makes a link between two nodes by name. One whose end swings with the
// mains has no place in the matrix and belongs to a leg.
func (c *compiler) join(i int, sort linkSort, a, b string) {
	if a == "" || b == "" {
		c.fail(c.parts[i].ref+": one of its leads stands on no node", c.parts[i].ref)
	}
	c.links = append(c.links, link{part: i, a: c.at(a), b: c.at(b), sort: sort})
}

// valued makes the knob of a part's marked value.
func (c *compiler) valued(p *amp.Position, what Property, key string) {
	v := p.Spec.Value()
	if !(v > 0) {
		c.fail(p.Ref+" has no value", p.Ref)
	}
	k := Knob{Ref: p.Ref, Property: what, Value: v, Spread: DefaultSpreads().row(key).Amount, Why: key}
	if t := p.Spec.Tolerance; t.Stated {
		within := t.Within(1)
		k.Spread, k.Why = max(within.High-1, 1-within.Low), "sheet"
	}
	c.knob(k)
}

func (c *compiler) knob(k Knob) {
	c.knobAt[Figured{k.Ref, k.Property}] = len(c.Knobs)
	c.Knobs = append(c.Knobs, k)
}

// extra makes the knob of a figure in extra; one that is missing is zero and,
// where it matters, a doubt.
func (c *compiler) extra(p *amp.Position, key string, what Property, u unit.Unit, spread, missing string) {
	v := c.read(p, key, u, 0)
	if missing != "" && p.Extra[key] == "" {
		c.doubt(p.Ref + ": " + missing)
	}
	c.knob(Knob{Ref: p.Ref, Property: what, Value: v, Spread: DefaultSpreads().row(spread).Amount, Why: spread})
}

// read reads a figure in extra.
func (c *compiler) read(p *amp.Position, key string, u unit.Unit, otherwise float64) float64 {
	text, ok := p.Extra[key]
	if !ok {
		return otherwise
	}
	v, err := unit.Read(text, u)
	if err != nil {
		c.fail(p.Ref+": "+key+"="+text+" cannot be read", p.Ref)
		return otherwise
	}
	return v
}

func (c *compiler) addPot(i int, p *amp.Position) {
	c.valued(p, Ohms, spreadPot)
	turn := c.read(p, "turn", unit.None, 0.5)
	if turn < 0 || turn > 1 {
		c.fail(p.Ref+": turn= goes from 0 to 1", p.Ref)
	}
	k := Knob{Ref: p.Ref, Property: Turn, Value: turn, Why: "sheet"}
	if p.Extra["turn"] == "" {
		k.Spread, k.Why = DefaultSpreads().row(spreadTurn).Amount, spreadTurn
		c.parts[i].loose = true
	}
	c.knob(k)
	a, w, b := lead(p, "a"), lead(p, "wiper"), lead(p, "b")
	c.join(i, linkUpper, a, w)
	c.join(i, linkLower, w, b)
	c.join(i, linkTrack, a, b)
}
