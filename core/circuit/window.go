package circuit

import (
	"math"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A Window says between which currents an output tube may be set to idle.
type Window struct {
	Ref     string
	Type    string
	Mains   unit.Voltage  // the mains it is dialed at
	Current unit.Interval // cathode current; Expected is what it draws now
	Least   string        // what sets the lower end
	Most    string        // what sets the upper end: limit, with source and mark
	Dial    []Dial        // what the meter must show, by method
	Ways    []string      // ways to a set point: "bias pot to ...", "R20 = 300 Ω"
	Missing string
	Doubt   string

	setTo    float64 // what the knob that sets it stands at, at the upper end
	together float64 // what all tubes on its cathode draw there
}

// A Dial is the meter reading to set by one method.
type Dial struct {
	Method    string    // "cathode resistor", "1-ohm resistor", "winding drop"
	At        string    // where the meter goes
	Low, High float64   // reading at the ends, SI; High leaves room for the method's error
	Unit      unit.Unit // volts or amps
	Error     float64   // of the method, a fraction of the current
	Terms     []string  // what the error is made of
	Caution   string    // live work: LiveReadings or WindingDrop
	Limit     limit.Quantity
}

// A Bound is one limit an output tube must keep, and the mains it is judged
// at.
type Bound struct {
	limit.Limit
	Mains    unit.Voltage
	Scenario string
}

// An Ask says for which window is asked.
type Ask struct {
	Mains   unit.Voltage // at the bench, where it is dialed
	Ratio   float64      // as State.Ratio, of the tap in use
	Outputs []string     // rows of the output tubes
	Bounds  func(ref string) []Bound
	Meter   float64 // error of the meter that is dialed with, as a fraction
	Known   bool    // whether that is stated
}

// Windows answers for each output tube between which idle currents it may be
// set, read at the bench mains, so that no bound is passed at the mains that
// bound is judged at.
//
// What sets the bias (a cathode resistor, a bias pot, the resistor of the
// bias supply) is turned in the matched circuit until the first bound is
// met, in each explanation of the readings; the least current counts. Dialing
// by a meter matches the circuit anew, so the watts asked for follow from the
// current read by the circuit's own ratio between the two mains, widened as
// every carried figure is. There is no limit on how cold a stage may idle:
// the lower end is the current it draws now, where that is inside.
func (c *Calibration) Windows(a Ask) []Window {
	out := make([]Window, 0, len(a.Outputs))
	for _, ref := range a.Outputs {
		out = append(out, c.window(&a, ref))
	}
	return out
}

func (c *Calibration) window(a *Ask, ref string) Window {
	i, ok := c.joints.byRef[ref]
	if !ok {
		return Window{Ref: ref, Missing: "no such tube on the sheet"}
	}
	p := &c.joints.parts[i]
	w := Window{Ref: ref, Type: p.Type, Mains: a.Mains, Doubt: c.Doubt}
	s := &setter{c: c, ask: a, ref: ref, law: c.lawOf(p.Type, &w)}
	for _, b := range a.Bounds(ref) {
		if b.HasHigh && b.Mains > 0 && dialed(b.Quantity) {
			s.bounds = append(s.bounds, b)
		}
	}
	if len(s.bounds) == 0 {
		w.Missing = "no limit on the watts or the current of " + p.Type + " is known"
		return w
	}
	if q, lacks := s.unbounded(); lacks && w.Doubt == "" {
		w.Doubt = "no limit on the " + string(q) + " of " + p.Type + " is known: the upper end does not keep it"
	}
	if w.Doubt == "" && !a.Known {
		w.Doubt = "the error of the meter that is dialed with is not stated"
	}
	if w.Doubt == "" {
		w.Doubt = s.unknown(p)
	}
	if s.knob, w.Missing = c.setBy(p); w.Missing != "" {
		return w
	}
	if w.Missing = s.solve(&w); w.Missing != "" {
		return w
	}
	c.dials(a, p, &w)
	return w
}

// dialed reports whether idle current moves a quantity up. Volts fall with
// it, so no current keeps them down.
func dialed(q limit.Quantity) bool {
	switch q {
	case limit.PlateWatts, limit.ScreenWatts, limit.BothWatts, limit.CathodeCurrent:
		return true
	}
	return false
}

// setBy finds what sets a tube's idle: its own cathode resistor, else the pot
// or resistor of the bias supply that moves its current most.
func (c *Calibration) setBy(p *amp.Position) (int, string) {
	node, _ := p.Node("cathode")
	if r := c.underCathode(c.joints.root(node)); r != "" {
		if k, ok := c.Net.Knob(r, Ohms); ok {
			return k, ""
		}
	}
	fig := Figure{p.Ref, limit.CathodeCurrent}
	slope, _, err := c.fits[0].sol.Gradient([]Figure{fig})
	if err != nil {
		return 0, err.Error()
	}
	best, most := -1, 0.0
	for i, k := range c.Net.Knobs {
		weight := 0.0
		switch {
		case k.Property == Turn:
			weight = 10 // what is there to be turned, before what must be soldered
		case k.Property == Ohms && c.negative(k.Ref):
			weight = 1
		}
		if by := weight * math.Abs(slope[0][i]) * max(c.fits[0].values[i], 1e-9); by > most {
			best, most = i, by
		}
	}
	now, _ := c.fits[0].sol.Figure(fig)
	if best < 0 || most < 1e-3*now {
		return 0, "nothing on the sheet sets this tube's idle: no resistor under its cathode, no bias supply"
	}
	return best, ""
}

// underCathode returns the resistor of some size from a cathode to the
// chassis.
func (c *Calibration) underCathode(node string) string {
	if node == chassisNode {
		return ""
	}
	for _, w := range c.joints.ways[node] {
		if p := &c.joints.parts[w.part]; w.far == chassisNode && p.Kind == "resistor" && p.Spec.Value() > oneOhm {
			return p.Ref
		}
	}
	return ""
}

// oneOhm is the greatest resistor that only measures current.
const oneOhm = 20

// negative reports whether a resistor stands in a negative supply.
func (c *Calibration) negative(ref string) bool {
	i, ok := c.joints.byRef[ref]
	if !ok {
		return false
	}
	for _, n := range c.joints.parts[i].Nodes {
		if v, ok := c.fits[0].sol.Node(n.Name); ok && v < -1 {
			return true
		}
	}
	return false
}
