package circuit

import (
	"fmt"
	"math"

	"lugworth/core/limit"
	"lugworth/core/tube"
)

// A cause that moves a figure by less than this part of it does not matter to
// whether the figure counts.
const matters = 0.01

// Heaters outside these parts of their rated volts: what the cathode gives is
// not known.
const leastHeater, mostHeater = 0.9, 1.1

// How far past the points a law rests on a tube may stand: below half of the
// least volts and above 1.6 times the most no verdict rests on it.
const leastRange, mostRange = 0.5, 1.6

// doubt says why no verdict on a figure may be better than not proven, "" if
// nothing speaks against it.
func (p *prospect) doubt(r *reach, f Figure, q float64, byKnob []float64, law tube.Law) string {
	c := p.a.c
	own := law.Kind != "" && law.Kind != tube.Rectifier && law.Kind != tube.Diode
	if pt, ok := p.sol.Tube(f.Ref); own && ok && pt.Total < quiet {
		own = false // a tube that draws nothing hangs on no law
	}
	switch read := c.read[f.Ref]; {
	case own && read.averaged && !p.a.fresh[f.Ref]:
		return "the current read is shared with tubes not stated to draw alike: an average"
	case own && f.Quantity == limit.ScreenWatts && !read.screen:
		return "the screen current of " + f.Ref + " was not read: by type it is known to half at best"
	}
	if say := p.unreadDoubt(r, f, q, byKnob); say != "" {
		return say
	}
	if own {
		if say := p.outOfRange(f.Ref, law); say != "" {
			return say
		}
	}
	if say := p.heaterDoubt(r, q, own); say != "" {
		return say
	}
	if say := p.turnDoubt(r, q); say != "" {
		return say
	}
	return p.lawDoubt(r, f, q, byKnob)
}

// outOfRange says where a tube stands outside what its law was fitted to.
func (p *prospect) outOfRange(ref string, law tube.Law) string {
	pt, ok := p.sol.Tube(ref)
	if !ok || law.Most <= law.Least || !(pt.Total > 0) {
		return ""
	}
	v, what := pt.Screen, "screen"
	if law.Kind == tube.Triode {
		v, what = pt.Plate, "plate"
	}
	if v < leastRange*law.Least || v > mostRange*law.Most {
		return fmt.Sprintf("%s at %.0f V of %s is far from the %.0f to %.0f V its law rests on", ref, v, what, law.Least, law.Most)
	}
	return ""
}

func (p *prospect) heaterDoubt(r *reach, q float64, own bool) string {
	if h := p.heaters(); !p.state.Cold && own && (h < leastHeater || h > mostHeater) {
		return fmt.Sprintf("heaters at %.0f %% of their rated volts: what the cathodes give is not known", 100*h)
	}
	if h := p.a.c.heaters; own && (h < leastHeater || h > mostHeater) {
		return fmt.Sprintf("read with the heaters at %.0f %% of their rated volts: what the cathodes gave then tells little", 100*h)
	}
	for i, d := range p.ds {
		if d.ref == "heaters" && d.law && math.Abs(r.parts[i])+math.Abs(r.soft[i]) > matters*math.Abs(q) {
			return "heater volts move this figure, and by how much is from memory"
		}
	}
	return ""
}

// lawDoubt names the first tube or rectifier whose law is in doubt, or that
// stands far from the points of its law, and that this figure hangs on.
func (p *prospect) lawDoubt(r *reach, f Figure, q float64, byKnob []float64) string {
	for i := range p.a.inPlace {
		g := &p.a.inPlace[i]
		out := p.outOfRange(g.ref, g.law)
		switch {
		case g.doubt == "" && out == "":
		case g.ref != f.Ref && p.hangsOn(r, f, q, g.ref, byKnob) <= matters*math.Abs(q):
		case g.doubt != "":
			return g.ref + ": " + g.doubt
		default:
			return out
		}
	}
	return ""
}

// hangsOn is how far a figure moves by what is open of one tube or rectifier.
// What readings settle is not open, whatever its law.
func (p *prospect) hangsOn(r *reach, f Figure, q float64, ref string, byKnob []float64) float64 {
	sum := 0.0
	bench, was := p.spec.fit.figures[f], p.spec.fit.slopes[f]
	for i, d := range p.ds {
		if d.ref != ref || d.ripple {
			continue
		}
		moved := d.along(byKnob)
		if r.basis == Anchored && i < len(p.spec.from) {
			moved -= was[p.spec.from[i]] * q / bench
		}
		sum += math.Abs(moved)
	}
	return sum
}

// unreadDoubt names an output tube whose current no reading tells and that
// this figure hangs on. Of new tubes nobody expects a reading.
func (p *prospect) unreadDoubt(r *reach, f Figure, q float64, byKnob []float64) string {
	for _, ref := range p.a.c.unread {
		if p.a.fresh[ref] {
			continue
		}
		if pt, ok := p.sol.Tube(ref); ok && pt.Total < quiet {
			continue
		}
		if ref == f.Ref || p.hangsOn(r, f, q, ref, byKnob) > matters*math.Abs(q) {
			return "no reading tells the current of " + ref
		}
	}
	return ""
}

// turnDoubt names a pot whose setting nobody stated and that this figure
// hangs on.
func (p *prospect) turnDoubt(r *reach, q float64) string {
	for i, d := range p.ds {
		if d.property == Turn && d.assumed && math.Abs(r.parts[i]) > matters*math.Abs(q) {
			return d.ref + ": where its wiper stands is not stated (turn=)"
		}
	}
	return ""
}
