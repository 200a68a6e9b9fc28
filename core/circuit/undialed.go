package circuit

import (
	"lugworth/core/amp"
	"lugworth/core/limit"
)

// unknown says what of the figures a window keeps dialing a current does not
// tell: volts nobody read go into the watts with all their spread, a screen
// nobody read has its watts by type, and tubes on one cathode resistor show
// only their sum. "" where all of it is known.
func (s *setter) unknown(p *amp.Position) string {
	f := &s.c.fits[0]
	for _, b := range s.bounds {
		volts, ok := voltsOf[b.Quantity]
		switch {
		case ok && !s.c.tubeAnchor(f, Figure{s.ref, volts}).ok:
			return "the " + string(volts) + " of " + s.ref + " were not read: a current alone does not tell its " + string(b.Quantity)
		case b.Quantity == limit.ScreenWatts && s.law.screen:
			return "the screen current of " + s.ref + " was not read: by type it is known to half at best"
		}
	}
	if node, _ := p.Node("cathode"); s.c.underCathode(s.c.joints.root(node)) == "" {
		return "" // each tube is dialed by itself
	}
	switch read, have := s.c.read[s.ref]; {
	case !have:
		return "no reading tells the current of " + s.ref
	case read.averaged:
		return "the current read is shared with tubes not stated to draw alike: an average"
	}
	return ""
}

// drawnWith is the current of all tubes whose cathodes stand on the node of
// this one's: what a resistor under it carries.
func (c *Calibration) drawnWith(ref string, s *Solution) float64 {
	p := &c.joints.parts[c.joints.byRef[ref]]
	node, _ := p.Node("cathode")
	sum := 0.0
	for _, x := range c.joints.pull[c.joints.root(node)] {
		if x.electrode == "cathode" {
			t, _ := s.Tube(c.joints.parts[x.part].Ref)
			sum += t.Total
		}
	}
	return sum
}
