package proof

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// A Solved is one solved state of a circuit in numbers, ready to be stated.
// Values are by knob, Volts by node, Amps by contact and feed in the order of
// the elements.
type Solved struct {
	Name                string
	Mains, Ratio, Shift float64
	Values, Volts, Amps []float64
	Off                 []string
	Drive               []Drive
}

// Decimals of what a state states: enough that one in the last place of any
// of them shows in a sum of currents, or in what a feed brings.
const (
	voltsDecimals = 10
	sumsDecimals  = 12
	ampsDecimals  = 13
)

// Digits is how many figures a knob has in a certificate. Round a specimen to
// them before it is solved.
const Digits = 8

// Rounded is a number with that many figures.
func Rounded(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', Digits, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// AddState states one solved state.
//
// Errors: it does not hold by the checker's own laws.
func (c *Circuit) AddState(in Solved) error {
	if in.Ratio == 0 {
		in.Ratio = 1
	}
	s := State{Name: in.Name, Mains: Fact(in.Mains), Ratio: Fact(in.Ratio), Shift: Fact(in.Shift), Off: in.Off, Drive: in.Drive,
		Amps: []string{}, Ripple: []string{}, Sums: []string{}, Values: []string{}, Volts: []string{}}
	for _, v := range in.Values {
		s.Values = append(s.Values, Fact(v))
	}
	for _, a := range in.Amps {
		s.Amps = append(s.Amps, places(a, ampsDecimals))
	}
	for _, v := range in.Volts {
		s.Volts = append(s.Volts, places(v, voltsDecimals))
	}
	c.States = append(c.States, s)
	err := c.fill(&c.States[len(c.States)-1])
	if err == nil {
		_, err = c.solve(len(c.States) - 1)
	}
	if err != nil {
		c.States = c.States[:len(c.States)-1]
		return fmt.Errorf("state %s: %w", in.Name, err)
	}
	return nil
}

// Figure returns a figure of a stated state, as a checker gets it.
//
// Errors: no such state or figure.
func (c *Circuit) Figure(state, ref, quantity string) (float64, error) {
	i := slices.IndexFunc(c.States, func(s State) bool { return s.Name == state })
	if i < 0 {
		return 0, fmt.Errorf("no state %q", state)
	}
	z, err := c.flows(&c.States[i])
	if err != nil {
		return 0, err
	}
	f, err := z.figure(ref, quantity)
	return f.mid(), err
}

func places(v float64, n int) string {
	t := strconv.FormatFloat(v, 'f', n, 64)
	if f, _ := strconv.ParseFloat(t, 64); f == 0 {
		return strconv.FormatFloat(0, 'f', n, 64)
	}
	return t
}

// fill adds what follows from the rest by the checker's laws: the sums, the
// bound, the ripple of every feed.
func (c *Circuit) fill(s *State) error {
	s.Sums, s.Ripple = make([]string, len(s.Volts)), make([]string, c.feeds())
	if err := c.sums(s); err != nil {
		return err
	}
	z := newSolved(c, s)
	if err := z.open(); err != nil {
		return err
	}
	amps, feeds := 0, 0
	for i := range c.Elements {
		e := &c.Elements[i]
		if e.Kind == Feed {
			d, err := z.rippleOf(e, s.Amps[amps])
			if err != nil {
				return err
			}
			s.Ripple[feeds] = places(d, voltsDecimals)
			feeds++
		}
		if e.Kind == Feed || e.Kind == Contact {
			amps++
		}
	}
	return nil
}

func (c *Circuit) feeds() (n int) {
	for i := range c.Elements {
		if c.Elements[i].Kind == Feed {
			n++
		}
	}
	return n
}

// rippleOf finds the shift of volts at which the legs bring a current.
func (z *solved) rippleOf(e *Element, text string) (float64, error) {
	want, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, err
	}
	v := z.drop(e.Nodes[1], e.Nodes[0]).mid()
	brings := func(d float64) (sum float64) {
		for i := range e.Legs {
			if p, on, err := z.pulse(&e.Legs[i]); err == nil && on {
				sum += p.mean(v - d)
			}
		}
		return sum
	}
	low, high := -0.02*math.Abs(v)-0.2, 0.02*math.Abs(v)+0.2
	if want == 0 {
		return 0, nil
	}
	for range 200 {
		d := (low + high) / 2
		if brings(d) < want {
			low = d
		} else {
			high = d
		}
	}
	return (low + high) / 2, nil
}

// sums states the sum of currents at every node, and the volts with as many
// decimals as move a sum.
func (c *Circuit) sums(s *State) error {
	held := c.contacts(s)
	z, err := c.flows(s)
	if err != nil {
		return err
	}
	for i, n := range c.Nodes {
		if !held[n] {
			s.Volts[i] = c.shortened(s, i, z)
		}
	}
	if z, err = c.flows(s); err != nil {
		return err
	}
	s.Bound = places(1e-9+1e-6*z.most, sumsDecimals)
	for i, n := range c.Nodes {
		s.Sums[i] = places(z.at(n).mid(), sumsDecimals)
	}
	return nil
}

// flows adds up every element's currents, feeds as they are stated.
func (c *Circuit) flows(s *State) (*solved, error) {
	z := newSolved(c, s)
	z.unfed = true
	if err := z.open(); err != nil {
		return nil, err
	}
	return z, z.elements()
}

// shortened keeps so many decimals of a node's volts that one in the last of
// them still moves a sum of currents.
func (c *Circuit) shortened(s *State, i int, z *solved) string {
	const step = 1e-6
	keep := s.Volts[i]
	v, err := strconv.ParseFloat(keep, 64)
	if err != nil {
		return keep
	}
	s.Volts[i] = places(v+step, voltsDecimals)
	moved, err := c.flows(s)
	s.Volts[i] = keep
	if err != nil {
		return keep
	}
	most := 0.0
	for _, n := range c.Nodes {
		most = max(most, math.Abs(moved.at(n).mid()-z.at(n).mid()))
	}
	d := math.Floor(math.Log10(most/step) + sumsDecimals - 0.4)
	return places(v, int(min(max(d, 1), voltsDecimals)))
}

// contacts makes the volts on both sides of every contact agree with its
// current to the last place, and returns the nodes beside contacts.
func (c *Circuit) contacts(s *State) map[string]bool {
	held := map[string]bool{}
	for range c.Elements {
		amps := 0
		for i := range c.Elements {
			e := &c.Elements[i]
			if e.Kind == Contact && !slices.Contains(s.Off, e.Ref) {
				held[e.Nodes[0]], held[e.Nodes[1]] = true, true
				c.level(s, e, s.Amps[amps])
			}
			if e.Kind == Feed || e.Kind == Contact {
				amps++
			}
		}
	}
	return held
}

// level sets the volts of a contact's first node from those of its second, or
// the other way about where the first is the chassis.
func (c *Circuit) level(s *State, e *Element, amps string) {
	i, _ := strconv.ParseFloat(amps, 64)
	from, to, sign := e.Nodes[1], e.Nodes[0], 1e-3
	if to == "0" {
		from, to, sign = to, from, -1e-3
	}
	v := 0.0
	if k := slices.Index(c.Nodes, from); k >= 0 {
		v, _ = strconv.ParseFloat(s.Volts[k], 64)
	}
	if k := slices.Index(c.Nodes, to); k >= 0 {
		s.Volts[k] = places(v+sign*i, voltsDecimals)
	}
}
