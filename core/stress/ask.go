package stress

import (
	"math"

	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// probe is a kind of situation as far as what is asked in it goes.
type probe uint8

const (
	atWork probe = iota // what a verdict rests on
	shown               // tube figures beside it, at other mains
	cold
	standby
)

func probeOf(name string) probe {
	switch name {
	case Cold:
		return cold
	case Standby:
		return standby
	case Measured, Bench:
		return shown
	}
	return atWork
}

// ask lists the figures asked for in a situation: tubes at work, parts
// wherever they bear something. What bears a hundredth of what it does at
// work is never asked most of, and a part that bears nothing at all is not
// asked about.
func (c *Circuit) ask(name string) []circuit.Figure {
	k := probeOf(name)
	if fs, have := c.asked[k]; have {
		return fs
	}
	var out []circuit.Figure
	for _, f := range c.Figures {
		if c.asks(k, f) {
			out = append(out, f)
		}
	}
	if c.asked == nil {
		c.asked = map[probe][]circuit.Figure{}
	}
	c.asked[k] = out
	return out
}

func (c *Circuit) asks(k probe, f circuit.Figure) bool {
	switch f.Quantity {
	case limit.DCVolts, limit.Watts, limit.InverseVolts:
	default:
		return k == atWork || k == shown && ofTube(f.Quantity)
	}
	if k == shown {
		return false
	}
	work, known := c.probe(atWork, f)
	if k == atWork {
		return !known || work > nothing
	}
	now, ok := c.probe(k, f)
	if c.solution(probed{k, c.Matched.Mains}) != nil && !ok {
		return false // cut off from every supply
	}
	return !ok || !known || now > max(work/100, nothing)
}

// nothing is a volt or watt too small to be asked about.
const nothing = 1e-3

func ofTube(q limit.Quantity) bool {
	switch q {
	case limit.PlateVolts, limit.ScreenVolts, limit.PlateWatts, limit.ScreenWatts, limit.CathodeCurrent, limit.BothWatts:
		return true
	}
	return false
}

// needed says between which ends a figure is looked for: inside its limit
// where the amp as found is, and beyond it where it is not, so that a closer
// look is spent on the end that decides.
func (c *Circuit) needed(f circuit.Figure) (low, high float64, ok bool) {
	if c.Need == nil {
		return 0, 0, false
	}
	low, high, ok = c.Need(f)
	if v, known := c.probe(atWork, f); ok && known && v > high {
		return high, math.Inf(1), true
	}
	return low, high, ok
}

// probe is what one specimen of the amp as found gives at the mains of its
// chart; ok is false where that state has no solution.
func (c *Circuit) probe(k probe, f circuit.Figure) (float64, bool) {
	return c.at(probed{k, c.Matched.Mains}, f)
}

// probed is a kind of situation at one mains.
type probed struct {
	probe
	mains unit.Voltage
}

func (c *Circuit) at(p probed, f circuit.Figure) (float64, bool) {
	s := c.solution(p)
	if s == nil {
		return 0, false
	}
	v, ok := s.Figure(f)
	return math.Abs(v), ok
}

// solution solves one specimen of the amp as found, nil where it has none.
func (c *Circuit) solution(p probed) *circuit.Solution {
	s, have := c.probed[p]
	if !have {
		e := c.Matched.Explained[0]
		st := circuit.State{Name: "chart", Mains: float64(p.mains), Cold: p.probe == cold, Standby: p.probe == standby}
		s, _ = c.Matched.Net.Solve(e.Values, st, e.Bench)
		if c.probed == nil {
			c.probed = map[probed]*circuit.Solution{}
		}
		c.probed[p] = s
	}
	return s
}

// greaterAt reports whether a figure may be greater at the low mains than at
// the high one: by one specimen, with a fiftieth to spare.
func (c *Circuit) greaterAt(f circuit.Figure, low, high unit.Voltage) bool {
	if low <= 0 || low >= high {
		return false
	}
	a, ok1 := c.at(probed{atWork, low}, f)
	b, ok2 := c.at(probed{atWork, high}, f)
	return ok1 && ok2 && a > nothing && a > 0.98*b
}
