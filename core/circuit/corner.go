package circuit

import (
	"math"
	"slices"
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
// tests. The search holds the ripple; its end is solved in full.
func (p *prospect) corner(fig Figure, up bool, ds []direction, slope []float64) (*corner, float64, error) {
	q, _ := p.sol.Figure(fig)
	signs := signsOf(slope, up)
	best, bestSigns := q, make([]int8, len(ds))
	for round := 0; round < cornerRounds; round++ {
		c, v, err := p.asked(fig, ds, signs, true)
		if err != nil {
			return nil, 0, err
		}
		if up && v > best || !up && v < best || round == 0 {
			best, bestSigns = v, signs
		}
		next, err := c.signs(fig, ds, up)
		if err != nil {
			return nil, 0, err
		}
		if slices.Equal(next, signs) {
			break
		}
		signs = next
	}
	return p.settled(fig, up, ds, bestSigns, q)
}

// settled solves the end of a search in full. The middle itself is no less
// extreme where the search found nothing beyond it.
func (p *prospect) settled(fig Figure, up bool, ds []direction, signs []int8, q float64) (*corner, float64, error) {
	c, v, err := p.asked(fig, ds, signs, false)
	if err != nil {
		return nil, 0, err
	}
	if up && v < q || !up && v > q {
		return &corner{values: p.spec.values, state: p.state, sol: p.sol}, q, nil
	}
	return c, v, nil
}

// signs says from a corner where each cause should go.
func (c *corner) signs(fig Figure, ds []direction, up bool) ([]int8, error) {
	byKnob, _, err := c.sol.Gradient([]Figure{fig})
	if err != nil {
		return nil, err
	}
	slope := make([]float64, len(ds))
	for i := range ds {
		slope[i] = ds[i].along(byKnob[0])
	}
	return signsOf(slope, up), nil
}

// asked returns a figure at one corner.
func (p *prospect) asked(fig Figure, ds []direction, signs []int8, near bool) (*corner, float64, error) {
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

// signsOf says to which end each cause goes.
func signsOf(slope []float64, up bool) []int8 {
	out := make([]int8, len(slope))
	for i, s := range slope {
		switch {
		case s > 0 == up && s != 0:
			out[i] = 1
		case s != 0:
			out[i] = -1
		}
	}
	return out
}
