package circuit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// matching is what a calibration keeps to itself.
type matching struct {
	bench   Bench
	joints  *joints
	targets []target
	state   State // of the chart
	halves  []half
	fits    []fit             // one for each explanation
	byKnob  [][]float64       // slopes of every figure at the chart
	read    map[string]tubeOf // tubes whose current was read
	unread  []string          // output tubes whose current no reading tells
	heaters float64           // heater volts of the chart over the rated ones

	mainsGrain float64 // half of the last figure of the chart's mains, a part of it
}

// A fit is one explanation with the ways in which it may be otherwise and
// still agree with the readings.
type fit struct {
	match
	pins       []pin
	directions []direction
	figures    map[Figure]float64
	slopes     map[Figure][]float64 // by direction
}

// tubeOf is what the readings tell of one tube.
type tubeOf struct {
	err      float64 // of its current, relative
	screen   bool    // its screen current was read
	together bool    // the reading is of several tubes at once
	averaged bool    // and they are not stated to draw alike
}

// The two ways to explain a tube whose current was read, and the name of the
// only specimen where nothing was.
const (
	byCurrent = "current"
	byBias    = "bias"
	byType    = "type"
)

// Calibrate matches a circuit to what was read: windings to the volts of
// their reservoirs, each tube to its current twice over, once by drawing more
// or less than its type and once by another grid voltage, and ohms nobody
// measured to the drop over them. What no reading tells keeps its spread.
// Readings marked as checks, final, soak or taken behind a limiter are
// compared, not used.
//
// The error is an *Unsolved where the circuit has no solution at the chart's
// mains.
func Calibrate(n *Net, b Bench) (*Calibration, error) {
	if b.Spreads == nil {
		b.Spreads = DefaultSpreads()
	}
	chart := chartMains(b.Readings)
	c := &Calibration{Net: n, Readings: b.Readings, Spreads: b.Spreads, matching: &matching{bench: b, read: map[string]tubeOf{}}}
	c.joints = newJoints(b.Sheet)
	if chart == 0 {
		c.Doubt = "nothing was read on this amp: figures rest on type data and marked parts"
		chart = nominalMains(b.Sheet)
	}
	if chart == 0 {
		return nil, &Unsolved{Say: "neither a reading nor the mains row says at which mains the amp stands"}
	}
	c.Mains = unit.Voltage(chart)
	c.state = State{Name: fmt.Sprintf("the chart at %g V", chart), Mains: chart}
	c.targets = targetsOf(&b, c.joints, chart)
	base := n.Sheet()
	c.halves = halves(n, b.Sheet, b.Spreads)
	used := asRead(n, base, c.halves, c.targets)
	used = append(used, unloaded(n, base, c.halves, c.targets, c.joints)...)
	if err := c.explain(base); err != nil {
		return nil, err
	}
	c.heaters = c.heaterPart()
	for i := range c.targets {
		if t := &c.targets[i]; t.bench {
			c.mainsGrain = max(c.mainsGrain, float64(t.reading.MainsStep)/2/chart)
		}
	}
	c.doubts()
	return c, c.compare(used)
}

// explain finds the specimens that agree with the readings.
func (c *Calibration) explain(base Values) error {
	kinds := []struct {
		name string
		p    Property
	}{{byCurrent, Perveance}, {byBias, Shift}}
	var first error
	for i, k := range kinds {
		ch := &chooser{net: c.Net, j: c.joints, ts: c.targets, values: base, halves: c.halves, taken: map[int]bool{}}
		ch.tubes(k.p)
		told := len(ch.pins)
		ch.supplies()
		ch.parts()
		if told == 0 {
			k.name = byType
		}
		f, err := c.fit(base, ch.pins)
		if err != nil {
			if first == nil {
				first = err
			}
			continue
		}
		c.note(f.pins)
		c.fits = append(c.fits, f)
		c.Explained = append(c.Explained, Explanation{Name: k.name, Values: f.values, Bench: f.sol})
		if told == 0 && i == 0 {
			return nil // without a tube's current both are the same
		}
	}
	if len(c.fits) == 0 {
		return first
	}
	if first != nil {
		c.doubt("only one explanation of the readings has a solution (" + first.Error() + ")")
	}
	return nil
}

// fit matches, and leaves out a reading that tells nothing of what it was to
// be matched to.
func (c *Calibration) fit(base Values, pins []pin) (fit, error) {
	m := &matcher{net: c.Net, base: base, state: c.state, pins: pins, ts: c.targets}
	start, err := c.Net.Solve(base, c.state, nil)
	if err != nil {
		return fit{}, err
	}
	m.pins = m.telling(start)
	var from *fit
	if len(c.fits) > 0 {
		from, start = &c.fits[0], c.fits[0].sol
	}
	found, err := m.run(m.begin(from), start)
	if err != nil {
		return fit{}, err
	}
	f := fit{match: found, pins: m.pins}
	f.directions = c.ways(m, &f)
	return f, c.figuresOf(&f)
}

// telling drops the pins that could go to their limit and move their reading
// by less than the meter can tell.
func (m *matcher) telling(s *Solution) []pin {
	jac := m.jacobian(make([]float64, len(m.pins)), s)
	var keep []pin
	for i, p := range m.pins {
		t := &m.ts[p.target]
		if moves := math.Abs(jac[i][i]) * p.limit; moves > 1e-4 && moves > 2*t.err/m.scale(t) {
			keep = append(keep, p)
		}
	}
	return keep
}

// note keeps what the pins tell of each tube.
func (c *Calibration) note(pins []pin) {
	for _, p := range pins {
		for _, ref := range p.tubes {
			t := c.read[ref]
			if p.screen {
				t.screen = true
			} else {
				t.err = p.err
				t.together, t.averaged = len(p.tubes) > 1, !c.alike(p.tubes)
			}
			c.read[ref] = t
		}
	}
	for ref, t := range c.read {
		if t.screen && t.err == 0 {
			delete(c.read, ref)
		}
	}
}

func (c *Calibration) outputTube(ref string) bool {
	i, ok := c.joints.byRef[ref]
	return ok && isOutput(&c.joints.parts[i])
}

// figuresOf keeps what the chart's state gives for every figure. Both
// explanations stand at nearly one point of every tube: the slopes of the
// first serve for both.
func (c *Calibration) figuresOf(f *fit) error {
	fs := c.Net.Figures()
	if len(c.fits) == 0 {
		byKnob, _, err := f.sol.Gradient(fs)
		if err != nil {
			return err
		}
		c.byKnob = byKnob
	}
	f.figures, f.slopes = map[Figure]float64{}, map[Figure][]float64{}
	for i, fig := range fs {
		v, ok := f.sol.Figure(fig)
		if !ok {
			continue
		}
		f.figures[fig] = v
		s := make([]float64, len(f.directions))
		for k := range f.directions {
			s[k] = f.directions[k].along(c.byKnob[i])
		}
		f.slopes[fig] = s
	}
	return nil
}

// heaterPart is the heater volts at the chart's mains over the rated ones: as
// read on a heater winding, else as the mains stand to the primary.
func (c *Calibration) heaterPart() float64 {
	part, off := 0.0, -1.0
	for i := range c.targets {
		r := &c.targets[i].reading
		at, ok := c.joints.byRef[c.targets[i].ref]
		if !ok || r.Quantity != amp.RMSVolts || !mayMatch(r) {
			continue
		}
		if p := &c.joints.parts[at]; p.Role == amp.HeaterWinding && p.Spec.Value() > 0 {
			// Of several windings the one furthest off its rating counts.
			v := r.Amount / p.Spec.Value() * float64(c.Mains) / float64(r.Mains)
			if d := math.Abs(math.Log(max(v, 1e-3))); d > off {
				part, off = v, d
			}
		}
	}
	if off >= 0 {
		return part
	}
	if nominal := nominalMains(c.joints.parts); nominal > 0 {
		return float64(c.Mains) / nominal
	}
	return 1
}

func (c *Calibration) doubt(say string) {
	if c.Doubt == "" {
		c.Doubt = say
	} else if !strings.Contains(c.Doubt, say) {
		c.Doubt += "; " + say
	}
}

// doubts says what is lacking for a figure to count.
func (c *Calibration) doubts() {
	for _, d := range c.Net.Doubts {
		c.doubt(d)
	}
	if c.Doubt != "" && len(c.read) == 0 {
		return
	}
	for i := range c.joints.parts {
		p := &c.joints.parts[i]
		if _, read := c.read[p.Ref]; isOutput(p) && len(p.Nodes) > 0 && !read {
			c.unread = append(c.unread, p.Ref)
		}
	}
	if !c.bench.Known && slices.ContainsFunc(c.Readings, func(r amp.Reading) bool { return !r.Stated }) {
		c.doubt("the error of the meter is not stated")
	}
}
