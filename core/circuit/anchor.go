package circuit

import (
	"math"

	"lugworth/core/limit"
	"lugworth/core/tube"
)

// How much further than both explanations a figure may lie when it is carried
// from one state to another, from this program's own trial on simulated
// specimens and a study of measured ones; there is no published source.
const (
	// What remains at no change at all: parts of a percent from each of many
	// parts that nobody measured, and a type law a little off.
	carryPower = 0.02
	// Volts do not hang on the tube's law; a supply's regulation does.
	carryVolts = 0.005
	// The exponent of a real tube differs from its type's: the error grows
	// with the change of current, three parts in ten of it.
	carryCurrent = 0.30
	// And with the change of electrode volts, two parts in ten.
	carryChange = 0.20
	// A type whose law rests on one published point is known less well.
	carryPowerOne, carryCurrentOne = 0.03, 0.40
	// Where a reckoning has only the current of the cathode: what the plate
	// draws is known by type. (Bands take it from the spread table.)
	screenUnread = 0.05
	// The screen's own watts: its current read, and not.
	screenCarry, screenByType = 0.05, 0.50
	// No more change of a logarithm than this counts: the state is another
	// one altogether.
	mostChange = 2.0
	// Heater volts move the grid volts a tube needs: from memory, of the
	// order of contact potential; one sign for all tubes of an amp.
	heaterVolts = 0.2 // V for each tenth of the heater volts
)

// An anchor is what the bench readings say of a figure.
type anchor struct {
	factor float64 // read over model
	err    float64 // of the reading, relative
	ok     bool
}

// How a figure follows the mains, at most: volts in proportion, currents and
// watts by their product with a current between the first and the three-halves
// power of the volts.
const powerOfMains = 2.5

// anchor returns what was read of a figure at the bench. The mains beside a
// reading is known to half of its last figure.
func (c *Calibration) anchor(f *fit, fig Figure) anchor {
	a := c.readOf(f, fig)
	if fig.Quantity == limit.Watts || carriesPower(fig) {
		a.err += powerOfMains * c.mainsGrain
	} else {
		a.err += c.mainsGrain
	}
	return a
}

func (c *Calibration) readOf(f *fit, fig Figure) anchor {
	i, ok := c.joints.byRef[fig.Ref]
	if !ok {
		return anchor{}
	}
	p := &c.joints.parts[i]
	if isOneOf(p.Kind, tubeKinds...) {
		return c.tubeAnchor(f, fig)
	}
	switch fig.Quantity {
	case limit.DCVolts, limit.Watts:
	default:
		return anchor{}
	}
	a, b, ok := c.joints.leads(p)
	if !ok || fig.Quantity == limit.Watts && !c.ohmsRead(fig.Ref) {
		return anchor{} // volts alone do not tell watts
	}
	return c.across(f, a, b, fig.Quantity == limit.Watts)
}

// ohmsRead reports whether a part's ohms were read with the power off.
func (c *Calibration) ohmsRead(ref string) bool {
	for i := range c.targets {
		if t := &c.targets[i]; t.kind == readOhms && t.ref == ref && t.why == "" && t.amount > 0 {
			return true
		}
	}
	return false
}

func (c *Calibration) tubeAnchor(f *fit, fig Figure) anchor {
	p := &c.joints.parts[c.joints.byRef[fig.Ref]]
	node := func(lead string) string { n, _ := p.Node(lead); return c.joints.root(n) }
	read, drawn := c.read[fig.Ref]
	one := anchor{factor: 1, err: read.err, ok: drawn && read.err > 0 && !read.averaged}
	switch fig.Quantity {
	case limit.PlateVolts:
		return c.across(f, node("plate"), node("cathode"), false)
	case limit.ScreenVolts:
		return c.across(f, node("screen"), node("cathode"), false)
	case limit.CathodeCurrent:
		return one
	case limit.PlateWatts, limit.BothWatts:
		return one.times(c.across(f, node("plate"), node("cathode"), false))
	case limit.ScreenWatts:
		return one.times(c.across(f, node("screen"), node("cathode"), false))
	}
	return anchor{}
}

func (a anchor) times(b anchor) anchor {
	// All were read with one meter: its error counts at most twice.
	return anchor{factor: a.factor * b.factor, err: min(a.err+b.err, 2*max(a.err, b.err)), ok: a.ok && b.ok}
}

// across compares the volts between two nodes, as read, with the model's; a
// node within a fiftieth of the whole of the chassis may be unread.
func (c *Calibration) across(f *fit, a, b string, squared bool) anchor {
	ra, ma, ea, oka := c.nodeRead(f, a)
	rb, mb, eb, okb := c.nodeRead(f, b)
	model := ma - mb
	switch {
	case oka && !okb && math.Abs(mb) < math.Abs(model)/50:
		rb, okb = mb, true
	case okb && !oka && math.Abs(ma) < math.Abs(model)/50:
		ra, oka = ma, true
	}
	got := ra - rb
	if !oka || !okb || a == b || got == 0 || model == 0 || got*model < 0 {
		return anchor{}
	}
	out := anchor{factor: got / model, err: (ea + eb) / math.Abs(got), ok: true}
	if squared {
		out.factor, out.err = out.factor*out.factor, 2*out.err
	}
	return out
}

// nodeRead returns a node's volts as read and as the model has them.
func (c *Calibration) nodeRead(f *fit, node string) (read, model, err float64, ok bool) {
	if node == chassisNode {
		return 0, 0, 0, true
	}
	model, _ = f.sol.Node(node)
	ch := &chooser{ts: c.targets}
	read, err, ok = ch.volts(node)
	return read, model, err, ok
}

// carry is how much further than the explanations an anchored figure may lie
// by the tube's law: the rules above, which have nothing to do with one
// another, so that their squares add. The meter's error comes beside it.
func (c *Calibration) carry(f *fit, fig Figure, now *Solution, law tube.Law) float64 {
	if !carriesPower(fig) {
		return carryVolts
	}
	base, slope := carryPower, carryCurrent
	if law.Points == 1 {
		base, slope = carryPowerOne, carryCurrentOne
	}
	was, _ := f.sol.Tube(fig.Ref)
	is, _ := now.Tube(fig.Ref)
	w := math.Hypot(base, math.Hypot(slope*change(was.Total, is.Total), carryChange*change(was.Plate, is.Plate)))
	switch read := c.read[fig.Ref]; {
	case fig.Quantity != limit.ScreenWatts:
	case read.screen:
		w = math.Hypot(w, screenCarry)
	default:
		w += screenByType
	}
	return w
}

// change is |ln(is ÷ was)|, up to where no carrying over makes sense.
func change(was, is float64) float64 {
	if !(was > 0) || !(is > 0) {
		return mostChange
	}
	return min(math.Abs(math.Log(is/was)), mostChange)
}
