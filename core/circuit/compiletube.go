package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// law looks a type up; a tube without one cannot be solved.
func (c *compiler) law(p *amp.Position) (tube.Law, string) {
	l, doubt, ok := c.laws(p.Type)
	switch {
	case p.Type == "":
		c.fail(p.Ref+" has no type", p.Ref)
	case !ok:
		c.fail(p.Ref+": no current law is known for "+p.Type, p.Ref)
	case !fits(p.Kind, l.Kind):
		c.fail(p.Ref+" is drawn as "+p.Kind+", but "+p.Type+" is a "+l.Kind, p.Ref)
	}
	return l, doubt
}

// fits reports whether a law serves a row of that kind.
func fits(kind, law string) bool {
	screened := law == tube.Pentode || law == tube.Beam
	switch kind {
	case "triode":
		return law == tube.Triode
	case "pentode", "beam":
		return screened
	}
	return law == tube.Rectifier || law == tube.Diode
}

// addTube makes a section of a tube and its knobs.
func (c *compiler) addTube(i int, p *amp.Position) {
	l, doubt := c.law(p)
	t := tubeAt{
		part: i, plate: c.at(lead(p, "plate")), grid: c.at(lead(p, "grid")), cathode: c.at(lead(p, "cathode")),
		screen: len(c.names), law: l, doubt: doubt, screened: p.Kind != "triode",
	}
	if t.screened {
		t.screen = c.at(lead(p, "screen"))
	}
	if t.plate < 0 || t.grid < 0 || t.cathode < 0 || t.screen < 0 {
		c.fail(p.Ref+" stands on the mains transformer's winding itself, or on no node", p.Ref)
	}
	shift := spreadShiftSmall
	if p.Role == amp.OutputTube {
		shift = spreadShiftOutput
	}
	c.factor(p, "p", Perveance, spreadPerveance)
	c.knob(Knob{Ref: p.Ref, Property: Shift, Value: c.read(p, "shift", unit.Volt, 0), Spread: DefaultSpreads().row(shift).Amount, Why: shift})
	if t.screened {
		c.factor(p, "share", Share, spreadShare)
	}
	c.parts[i].tube = len(c.tubes)
	c.tubes = append(c.tubes, t)
}

// factor makes a knob that is 1 for the type as published.
func (c *compiler) factor(p *amp.Position, key string, what Property, spread string) {
	v := c.read(p, key, unit.None, 1)
	if !(v > 0) {
		c.fail(p.Ref+": "+key+"= must be above zero", p.Ref)
	}
	c.knob(Knob{Ref: p.Ref, Property: what, Value: v, Spread: DefaultSpreads().row(spread).Amount, Why: spread})
}

// addRectifier makes one plate of a rectifier tube, or a diode.
func (c *compiler) addRectifier(i int, p *amp.Position) {
	l, doubt := c.law(p)
	if l.Kind == tube.Rectifier && !(l.Pv > 0) {
		c.fail(p.Ref+": the drop of "+p.Type+" is not known", p.Ref)
	}
	if l.Kind == tube.Rectifier {
		c.factor(p, "conduct", Conduct, spreadConduct)
	}
	c.parts[i].tube = len(c.rects)
	c.rects = append(c.rects, rectifierAt{part: i, law: l, doubt: doubt, group: -1})
}

// addWinding makes the knobs of a winding that feeds a rectifier. Another
// one is only copper between nodes that something else stands on.
func (c *compiler) addWinding(i int, p *amp.Position) {
	if c.feeds(p) {
		c.valued(p, Volts, spreadWinding)
		c.extra(p, "dcr", Copper, unit.Ohm, spreadCopper, "its ohms are not stated (dcr=): they are taken as none, so the supply sags more than is reckoned")
		return
	}
	a, t, b := lead(p, "a"), lead(p, "ct"), lead(p, "b")
	switch {
	case t != "" && c.at(t) >= 0:
		c.coil(i, a, t, 0.5)
		c.coil(i, t, b, 0.5)
	default:
		c.coil(i, a, b, 1)
	}
}

func (c *compiler) coil(i int, a, b string, share float64) {
	if x, y := c.at(a), c.at(b); x >= 0 && y >= 0 && x != y {
		c.links = append(c.links, link{part: i, a: x, b: y, sort: linkCopper, share: share})
	}
}

// addMains reads the one row of the mains.
func (c *compiler) addMains(i int, p *amp.Position) {
	s := &c.supply
	if s.mains >= 0 {
		c.fail("there is more than one mains row", p.Ref, c.parts[s.mains].ref)
		return
	}
	s.mains, s.nominal, s.hertz = i, p.Spec.Value(), c.read(p, "hz", unit.Hertz, 60)
	if !(s.nominal > 0) || !(s.hertz > 0) {
		c.fail(p.Ref+" states no nominal volts or frequency", p.Ref)
	}
	if p.Extra["hz"] == "" {
		c.doubt(p.Ref + ": the frequency is not stated (hz=), 60 Hz is taken")
	}
	c.extra(p, "rs", Copper, unit.Ohm, spreadSource, "the ohms of the primary are not stated (rs=): they are taken as none, so the supply sags more than is reckoned")
	c.extra(p, "heater", HeaterLoad, unit.Watt, spreadHeaterLoad, "")
}
