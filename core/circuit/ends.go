package circuit

import "math"

// A Corner is one end of a band as one solved specimen: what a certificate
// needs to show it.
type Corner struct {
	Net      *Net // the circuit solved: that of the choice
	Values   Values
	State    State
	Solution *Solution
	Explains string  // the explanation it started from
	Model    float64 // the figure in the solution
	Factor   float64 // bench reading over bench model; 1 where nothing was read
	Carry    float64 // part of itself the figure is widened by when carried over
	Rest     float64 // added for what was there at the bench and moves less than its slope
	Room     float64 // added for what may lie beyond a solved corner
	End      float64 // the band's end this corner shows
}

// Corners returns the two ends of one figure's band in one scenario, each as
// a solved corner: End = (Model × Factor ± Rest ± Room) widened by Carry.
func (c *Calibration) Corners(ch Choice, sc Scenario, f Figure, laws Laws) (low, high Corner, err error) {
	a, err := c.after(ch, laws)
	if err != nil {
		return low, high, err
	}
	ps, err := a.prospects(sc, []Figure{f})
	if err != nil {
		return low, high, err
	}
	low.End, high.End = math.Inf(1), math.Inf(-1)
	for i, p := range ps {
		r, err := p.reach(f, p.slope[0], false, 0, 0)
		if err != nil {
			return low, high, err
		}
		for _, up := range []bool{false, true} {
			e, err := p.shown(r, f, up)
			if err != nil {
				return low, high, err
			}
			e.Explains = c.Explained[i*len(a.specs)/len(ps)].Name
			if up && e.End > high.End {
				high = e
			}
			if !up && e.End < low.End {
				low = e
			}
		}
	}
	return low, high, nil
}

// shown is one end of one prospect as a corner.
func (p *prospect) shown(r *reach, f Figure, up bool) (Corner, error) {
	q, _ := p.figure(f)
	k, w := p.factor(f), r.carry
	ds, slope, rest := p.split(r)
	c, v, firm, err := p.corner(f, up, ds, slope)
	if err != nil {
		return Corner{}, err
	}
	bare := beyond(v*k, rest, 0, up)
	end := beyond(v*k, rest, cornerRoom(q*k, slope, firm), up)
	out := Corner{Net: p.a.net, Values: c.values, State: c.state, Solution: c.sol, Model: v, Factor: k, Carry: w, Rest: math.Abs(bare - v*k), Room: math.Abs(end - bare)}
	if up {
		_, out.End = spreadBy(0, end, w)
	} else {
		out.End, _ = spreadBy(end, 0, w)
	}
	return out, nil
}
