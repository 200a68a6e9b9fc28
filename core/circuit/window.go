package circuit

import (
	"fmt"
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

	setTo float64 // what the knob that sets it stands at, at the upper end
}

// A Dial is the meter reading to set by one method.
type Dial struct {
	Method    string    // "cathode resistor", "1-ohm resistor", "winding drop"
	At        string    // where the meter goes
	Low, High float64   // reading at the ends, SI; High leaves room for the method's error
	Unit      unit.Unit // volts or amps
	Error     float64   // of the method, a fraction of the current
	Terms     []string  // what the error is made of
	Caution   string    // live work
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
		w.Missing = "no limit on the watts or the current of a " + p.Type + " is known"
		return w
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

// A setter turns one knob until a bound is met.
type setter struct {
	c      *Calibration
	ask    *Ask
	ref    string
	law    carrier
	knob   int
	bounds []Bound
}

// carrier is what the rules for carrying over ask of a type.
type carrier struct {
	one    bool // its law rests on one published point
	screen bool // it has a screen whose current was not read
}

func (c *Calibration) lawOf(typ string, w *Window) carrier {
	if c.bench.Laws == nil {
		return carrier{}
	}
	l, doubt, _ := c.bench.Laws(typ)
	if w.Doubt == "" {
		w.Doubt = doubt
	}
	return carrier{one: l.Points == 1, screen: l.D > 0 && !c.read[w.Ref].screen}
}

// turned is one setting of the knob in one explanation.
type turned struct {
	current float64 // at the bench mains
	over    float64 // greatest figure over its bound, 1 is met
	by      int     // that bound
}

// solve finds the greatest current of each explanation, and keeps the least.
func (s *setter) solve(w *Window) string {
	w.Current.High = math.Inf(1)
	for i := range s.c.fits {
		f := &s.c.fits[i]
		now, err := s.at(f, f.values[s.knob])
		if err != nil {
			return err.Error()
		}
		w.Current.Expected += now.current / float64(len(s.c.fits))
		t, x, say := s.meet(f, now)
		if say != "" {
			return say
		}
		if t.current < w.Current.High {
			w.Current.High = t.current
			b := s.bounds[t.by]
			w.Most = fmt.Sprintf("%s at %s:%s, %s, %s", b.Quantity, b.Mains, b.Range(), b.System, b.Source)
			if b.Mark == limit.Memory {
				w.Most += " (from memory)"
				w.Doubt = "the limit that decides is from memory"
			}
			w.Ways, w.setTo = []string{s.way(x)}, x
		}
	}
	w.Current.Low, w.Least = 0, "no limit: how cold a stage may idle is a matter of sound"
	if w.Current.Expected < w.Current.High {
		w.Current.Low, w.Least = w.Current.Expected, "what it draws now; a colder idle passes no limit and is a matter of sound"
	} else {
		w.Current.Low = w.Current.High
		w.Least = "it draws more than it may: bring it down; colder passes no limit and is a matter of sound"
	}
	return ""
}

// threeFigures rounds a size for people.
func threeFigures(v float64) float64 {
	if !(v > 0) {
		return v
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/unit) * unit
}

// way is the setting in words.
func (s *setter) way(x float64) string {
	k := s.c.Net.Knobs[s.knob]
	if k.Property == Turn {
		return fmt.Sprintf("%s to about %.0f %% of its track from end a, then by the meter", k.Ref, 100*x)
	}
	return fmt.Sprintf("%s of about %s in place of %s, then by the meter", k.Ref, unit.Short(threeFigures(x), unit.Ohm), unit.Short(threeFigures(k.Value), unit.Ohm))
}

// at solves one setting: the current at the bench mains, and how far the
// figures are toward their bounds at the mains those are judged at.
func (s *setter) at(f *fit, x float64) (turned, error) {
	v := append(Values(nil), f.values...)
	v[s.knob] = x
	bench, err := s.c.Net.Solve(v, State{Mains: float64(s.ask.Mains), Ratio: s.ask.Ratio}, f.sol)
	if err != nil {
		return turned{}, err
	}
	was, _ := bench.Tube(s.ref)
	t := turned{current: was.Total}
	at := map[unit.Voltage]*Solution{s.ask.Mains: bench}
	for i, b := range s.bounds {
		sol := at[b.Mains]
		if sol == nil {
			if sol, err = s.c.Net.Solve(v, State{Mains: float64(b.Mains), Ratio: s.ask.Ratio}, bench); err != nil {
				return t, err
			}
			at[b.Mains] = sol
		}
		q, ok := sol.Figure(Figure{s.ref, b.Quantity})
		is, _ := sol.Tube(s.ref)
		if !ok || !(was.Total > 0) {
			return t, &Unsolved{Say: "the circuit gives no " + string(b.Quantity), Refs: []string{s.ref}}
		}
		if over := q * (1 + s.carry(b.Quantity, was, is)) / b.High; over > t.over {
			t.over, t.by = over, i
		}
	}
	return t, nil
}

// carry is the room for carrying the dialed current to the bound's mains: the
// rules of anchor.go, with the meter counted once for the current and once
// for the volts.
func (s *setter) carry(q limit.Quantity, was, is Point) float64 {
	base, slope := carryPower, carryCurrent
	if s.law.one {
		base, slope = carryPowerOne, carryCurrentOne
	}
	w := base + 2*s.ask.Meter + slope*change(was.Total, is.Total) + carryChange*change(was.Plate, is.Plate)
	switch {
	case q == limit.ScreenWatts && s.law.screen:
		w += screenByType
	case q == limit.ScreenWatts:
		w += screenCarry
	case q == limit.PlateWatts && s.law.screen:
		w += screenUnread
	}
	return w
}

// rounds of the search: the setting is then good to a thousandth.
const settings = 18

// meet turns the knob until the first bound is met, by halving between a
// setting within and one beyond.
func (s *setter) meet(f *fit, now turned) (turned, float64, string) {
	x := f.values[s.knob]
	in, out, found := now, x, false
	inX, outX := x, x
	for _, step := range s.steps(x) {
		t, err := s.at(f, step)
		if err != nil {
			continue // a setting the circuit has no answer for is no setting
		}
		switch {
		case now.over <= 1 && t.over > 1 && (!found || math.Abs(step-x) < math.Abs(outX-x)):
			outX, found = step, true
		case now.over > 1 && t.over <= 1 && (!found || math.Abs(step-x) < math.Abs(inX-x)):
			in, inX, found = t, step, true
		}
	}
	if !found {
		if now.over <= 1 {
			return turned{}, out, "no setting of " + s.c.Net.Knobs[s.knob].Ref + " takes this tube to a limit"
		}
		return turned{}, out, "no setting of " + s.c.Net.Knobs[s.knob].Ref + " brings this tube inside its limits: the bias supply does not reach"
	}
	for range settings {
		mid := (inX + outX) / 2
		t, err := s.at(f, mid)
		if err != nil || t.over > 1 {
			outX = mid
			continue
		}
		in, inX = t, mid
		if t.over > 0.9995 {
			break
		}
	}
	return in, inX, ""
}

// steps are the settings tried around the one in use.
func (s *setter) steps(x float64) []float64 {
	if s.c.Net.Knobs[s.knob].Property == Turn {
		return []float64{0.02, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 0.98}
	}
	return []float64{x / 4, x / 2.5, x / 1.7, x / 1.3, x * 1.3, x * 1.7, x * 2.5, x * 4}
}
