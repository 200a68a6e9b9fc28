package circuit

import (
	"math"
	"slices"

	"lugworth/core/limit"
)

// A corner is a specimen with every cause at one of its ends.
type corner struct {
	values Values
	state  State
	sol    *Solution
}

// cornerRounds is how often the signs of the slopes are taken anew.
const cornerRounds = 4

// corner searches the specimen that takes a figure furthest one way: every
// cause of ds to the end its slope points to, and again from there until the
// slopes keep their signs. In a linear circuit this is exact, for each volt
// is monotone in each part; with tubes it is a search, policed by samples in
// tests. The search holds the ripple; its end is solved in full. firm is
// false where the slopes never keep their signs: the figure has its peak
// between the ends, as the watts of a load do where it matches its source.
func (p *prospect) corner(fig Figure, up bool, ds []direction, slope []float64) (at *corner, v float64, firm bool, err error) {
	q, _ := p.figure(fig)
	_, signs, firm, err := p.search(fig, up, ds, slope)
	if err != nil {
		return nil, 0, false, err
	}
	at, v, err = p.settled(fig, up, ds, signs, q)
	return at, v, firm, err
}

// search finds the corner, and the figure there while the ripple is held.
func (p *prospect) search(fig Figure, up bool, ds []direction, slope []float64) (best float64, bestSigns []int8, firm bool, err error) {
	q, _ := p.figure(fig)
	signs := signsOf(ds, slope, up)
	best, bestSigns = q, make([]int8, len(ds))
	for round := 0; round < cornerRounds && !firm; round++ {
		c, v, err := p.cornerAt(fig, ds, signs, true)
		if err != nil {
			return 0, nil, false, err
		}
		if up && v > best || !up && v < best || round == 0 {
			best, bestSigns = v, signs
		}
		next, err := c.signs(fig, ds, up, signs)
		if err != nil {
			return 0, nil, false, err
		}
		firm = slices.Equal(next, signs)
		signs = next
	}
	return best, bestSigns, firm && (up || !mayCollapse(fig, q, slope)), nil
}

// mayCollapse reports watts of a tube that may fall to nothing by drawing
// nothing or by dropping no volts: there are two low ends, and a search finds
// one of them.
func mayCollapse(f Figure, q float64, slope []float64) bool {
	switch f.Quantity {
	case limit.PlateWatts, limit.ScreenWatts, limit.BothWatts:
		return sumAbs(slope) > mostFall*math.Abs(q)
	}
	return false
}

// settled solves the end of a search in full. Two supplies on one primary
// pull at each other by their pulses, which slopes do not show: causes without
// a slope are taken, all together, to where they load the mains most and
// least. The middle itself is no less extreme where nothing lies beyond it.
func (p *prospect) settled(fig Figure, up bool, ds []direction, signs []int8, q float64) (*corner, float64, error) {
	best, at := q, &corner{values: p.spec.values, state: p.state, sol: p.sol}
	for _, s := range loaded(ds, signs) {
		c, v, err := p.cornerAt(fig, ds, s, false)
		if err != nil {
			return nil, 0, err
		}
		if up && v > best || !up && v < best {
			best, at = v, c
		}
	}
	return at, best, nil
}

// loading says which way a knob loads the mains more.
var loading = map[Property]int8{Volts: 1, Conduct: 1, Copper: -1, Perveance: 1, Shift: 1}

// loaded gives a corner and, where a supply has no slope in it, the two with
// that supply's load at its ends.
func loaded(ds []direction, signs []int8) [][]int8 {
	more, less := slices.Clone(signs), slices.Clone(signs)
	apart := false
	for i, d := range ds {
		if w := loading[d.property]; signs[i] == 0 && w != 0 {
			more[i], less[i] = w, -w
			apart = apart || d.property == Volts
		}
	}
	if !apart {
		return [][]int8{signs}
	}
	return [][]int8{more, less}
}

// A cause that moves a figure by less than this part of all of them together
// keeps its end whatever its slope.
const noMatter = 1e-3

// signs says from a corner where each cause should go.
func (c *corner) signs(fig Figure, ds []direction, up bool, now []int8) ([]int8, error) {
	byKnob, _, err := c.sol.Gradient([]Figure{fig})
	if err != nil {
		return nil, err
	}
	slope, all := make([]float64, len(ds)), 0.0
	for i := range ds {
		slope[i] = ds[i].along(byKnob[0])
		all += math.Abs(slope[i])
	}
	out := signsOf(ds, slope, up)
	for i := range out {
		if math.Abs(slope[i]) < noMatter*all && ds[i].property != Farads {
			out[i] = now[i]
		}
	}
	return out, nil
}

// cornerAt returns a figure at one corner.
func (p *prospect) cornerAt(fig Figure, ds []direction, signs []int8, near bool) (*corner, float64, error) {
	c, err := p.at(ds, signs, near)
	if err != nil {
		return nil, 0, err
	}
	v, ok := c.sol.Figure(fig)
	if !ok || math.IsNaN(v) {
		return nil, 0, &Unsolved{State: p.state.Name, Say: "the circuit gives no figure at the end of its tolerances", Refs: []string{fig.Ref}}
	}
	return c, v, nil
}

// at solves one corner, or remembers it.
func (p *prospect) at(ds []direction, signs []int8, near bool) (*corner, error) {
	key := make([]byte, 0, len(signs)+2)
	key = append(key, byte(len(ds)), '0')
	if near {
		key[1] = '1'
	}
	for _, s := range signs {
		key = append(key, byte(s+1))
	}
	if c := p.found[string(key)]; c != nil {
		return c, nil
	}
	c := &corner{values: slices.Clone(p.spec.values), state: p.state}
	for i := range ds {
		ds[i].to(c.values, float64(signs[i]), p.a.net.Knobs)
	}
	solve := p.a.net.Solve
	if near {
		solve = p.a.net.SolveNear
	}
	var err error
	if c.sol, err = solve(c.values, c.state, p.sol); err != nil {
		return nil, err
	}
	p.found[string(key)] = c
	return c, nil
}

// signsOf says to which end each cause goes. A reservoir's farads have no
// slope while the ripple is held; more of them act as more winding volts do.
func signsOf(ds []direction, slope []float64, up bool) []int8 {
	out := make([]int8, len(slope))
	volts, most := int8(0), 0.0
	for i, s := range slope {
		switch {
		case s > 0 == up && s != 0:
			out[i] = 1
		case s != 0:
			out[i] = -1
		}
		if ds[i].property == Volts && math.Abs(s) > most {
			volts, most = out[i], math.Abs(s)
		}
	}
	for i := range out {
		if ds[i].property == Farads && out[i] == 0 {
			out[i] = volts
		}
	}
	return out
}
