package proof

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// A solved is one state of a circuit, read and being held against the laws.
type solved struct {
	c     *Circuit
	s     *State
	volts map[string]span // by node
	knob  map[string]span // by position and property
	laws  map[string]map[string]span
	sums  map[string]span
	amps  map[string]span // of an electrode or a two-lead part, by position and electrode
	most  float64         // greatest current
	unfed bool            // feeds are not held against their legs: for whoever writes a state
}

// circuit holds every state of a circuit against the laws of its parts.
func (k *checker) circuit(c *Circuit) error {
	for i := range c.States {
		z, err := c.solve(i)
		if _, twice := k.states[c.States[i].Name]; twice {
			err = errors.Join(err, errors.New("two states have one name"))
		}
		if err != nil {
			return fmt.Errorf("state %s: %w", c.States[i].Name, err)
		}
		k.states[c.States[i].Name] = z
		k.tally.States++
	}
	return nil
}

// solve reads a state and holds it: every knob inside its range, every
// element by its law, every sum of currents below the bound and as stated.
func (c *Circuit) solve(i int) (*solved, error) {
	z := newSolved(c, &c.States[i])
	if err := z.open(); err != nil {
		return nil, err
	}
	if err := z.elements(); err != nil {
		return nil, err
	}
	return z, z.sum()
}

func newSolved(c *Circuit, s *State) *solved {
	return &solved{c: c, s: s, volts: map[string]span{"0": exact(0)}, knob: map[string]span{}, laws: map[string]map[string]span{}, sums: map[string]span{}, amps: map[string]span{}}
}

func (z *solved) open() error { return errors.Join(z.read(), z.readLaws()) }

// elements adds up the currents of every element.
func (z *solved) elements() error {
	amps, feeds := 0, 0
	for i := range z.c.Elements {
		e := &z.c.Elements[i]
		if err := z.element(e, &amps, &feeds); err != nil {
			return fmt.Errorf("%s %s: %w", e.Kind, e.Ref, err)
		}
	}
	if amps != len(z.s.Amps) || feeds != len(z.s.Ripple) {
		return fmt.Errorf("%d currents and %d ripples are stated, the elements have %d and %d", len(z.s.Amps), len(z.s.Ripple), amps, feeds)
	}
	return nil
}

// read reads the volts and the knobs.
func (z *solved) read() error {
	if len(z.s.Volts) != len(z.c.Nodes) || len(z.s.Values) != len(z.c.Knobs) || len(z.s.Sums) != len(z.c.Nodes) {
		return errors.New("volts, sums or values are not one for each node and knob")
	}
	for i, n := range z.c.Nodes {
		v, _, err := number(z.s.Volts[i])
		if _, twice := z.volts[n]; err != nil || twice {
			return fmt.Errorf("node %s: %w", n, errors.Join(err, errors.New("not one number for one node")))
		}
		z.volts[n] = exact(v.mid())
	}
	for i, k := range z.c.Knobs {
		v, _, err1 := number(z.s.Values[i])
		low, _, err2 := number(k.Low)
		high, _, err3 := number(k.High)
		if err := errors.Join(err1, err2, err3); err != nil {
			return fmt.Errorf("%s %s: %w", k.Ref, k.Property, err)
		}
		if v.hi < low.lo || v.lo > high.hi {
			return fmt.Errorf("%s %s: read %s, outside the claimed %s to %s", k.Ref, k.Property, z.s.Values[i], k.Low, k.High)
		}
		z.knob[k.Ref+" "+k.Property] = exact(v.mid())
	}
	return nil
}

func (z *solved) readLaws() error {
	for _, l := range z.c.Laws {
		m := map[string]span{}
		for name, text := range map[string]string{"a": l.A, "d": l.D, "gamma": l.Gamma, "k": l.K, "m": l.M, "mu": l.Mu, "p": l.P, "phi": l.Phi, "pv": l.Pv, "vf": l.Vf} {
			if text == "" {
				continue
			}
			v, _, err := number(text)
			if err != nil {
				return fmt.Errorf("law of %s: %s: %w", l.Type, name, err)
			}
			m[name] = exact(v.mid())
		}
		z.laws[l.Type] = m
	}
	return nil
}

// of returns a knob; one that is not there is an error found later, as a span
// of which nothing is known.
func (z *solved) of(ref, property string) span {
	if v, ok := z.knob[ref+" "+property]; ok {
		return v
	}
	return span{math.NaN(), math.NaN()}
}

// rectifier is the law of a rectifier; one without a law conducts at a drop
// nobody knows.
func (z *solved) rectifier(ref string) map[string]span {
	for _, r := range z.c.Rectifiers {
		if l, ok := z.laws[r.Type]; ok && r.Ref == ref {
			return l
		}
	}
	return map[string]span{"vf": {math.NaN(), math.NaN()}}
}

// flow lets a current leave node a for node b.
func (z *solved) flow(a, b string, i span) {
	z.sums[a], z.sums[b] = z.sums[a].plus(i), z.sums[b].minus(i)
	z.most = max(z.most, i.abs().hi)
}

// element adds the currents of one element to the sums of its nodes.
func (z *solved) element(e *Element, amps, feeds *int) error {
	want := map[string]int{TriodeTube: 3, ScreenTube: 4}[e.Kind]
	if want == 0 {
		want = 2
	}
	if len(e.Nodes) != want || slices.ContainsFunc(e.Nodes, func(n string) bool { _, ok := z.volts[n]; return !ok }) {
		return fmt.Errorf("nodes %v: wants %d that have volts", e.Nodes, want)
	}
	off := z.off(e.Ref)
	switch e.Kind {
	case Capacitor:
		return nil
	case Contact, Feed:
		return z.stated(e, off, amps, feeds)
	case TriodeTube, ScreenTube:
		if off {
			return nil
		}
		return z.tube(e)
	}
	ohms, err := z.ohms(e)
	if err != nil || off {
		return err
	}
	i := z.drop(e.Nodes[0], e.Nodes[1]).over(greatest(ohms, exact(1e-3)))
	if !i.known() {
		return errors.New("its current is not known")
	}
	z.amps[e.Ref] = i
	z.flow(e.Nodes[0], e.Nodes[1], i)
	return nil
}

func (z *solved) off(ref string) bool { return slices.Contains(z.s.Off, ref) }

func (z *solved) drop(a, b string) span { return z.volts[a].minus(z.volts[b]) }

func (z *solved) ohms(e *Element) (span, error) {
	switch e.Kind {
	case Resistor:
		return z.of(e.Ref, Ohms), nil
	case UpperTrack:
		return z.of(e.Ref, Ohms).times(z.of(e.Ref, Turn)), nil
	case LowerTrack:
		return z.of(e.Ref, Ohms).times(exact(1).minus(z.of(e.Ref, Turn))), nil
	case Copper:
		return z.of(e.Ref, Windings), nil
	}
	return span{}, errors.New("no such kind of element")
}

// stated adds a current that is stated: of a contact, which its volts are
// too small to tell, and of a feed, which its legs must give.
func (z *solved) stated(e *Element, off bool, amps, feeds *int) error {
	if *amps >= len(z.s.Amps) {
		return errors.New("its current is not stated")
	}
	i, _, err := number(z.s.Amps[*amps])
	*amps++
	if err != nil {
		return err
	}
	i = exact(i.mid())
	z.flow(e.Nodes[0], e.Nodes[1], i)
	switch {
	case off && i.mid() != 0:
		return errors.New("it is off and carries a current")
	case e.Kind == Contact && !off:
		if d := z.drop(e.Nodes[0], e.Nodes[1]).minus(i.times(exact(1e-3))); d.abs().lo > 0.51e-10 { // half of one in the tenth decimal
			return fmt.Errorf("read %s A, and %s V across a milliohm", z.s.Amps[*amps-1], z.drop(e.Nodes[0], e.Nodes[1]))
		}
	case e.Kind == Feed:
		if *feeds++; !z.unfed {
			return z.feed(e, i, *feeds-1)
		}
	}
	return nil
}

// at is the sum of currents that leave a node, a picosiemens to the chassis
// with them.
func (z *solved) at(n string) span { return z.sums[n].plus(z.volts[n].times(exact(1e-12))) }

// sum holds the sum of currents at every node against what is stated, and
// against the bound, which may not be more than a millionth of the greatest
// current and a nanoampere.
func (z *solved) sum() error {
	limit := 1e-9 + 1e-6*z.most
	if err := near(z.s.Bound, out(limit, limit), 1); err != nil {
		return fmt.Errorf("bound, a nanoampere and a millionth of the greatest current: %w", err)
	}
	for i, n := range z.c.Nodes {
		got := z.at(n)
		if !got.known() || got.abs().lo > limit {
			return fmt.Errorf("node %s: currents leave a sum of %s A, bound %s", n, got, z.s.Bound)
		}
		if err := near(z.s.Sums[i], got, 0); err != nil {
			return fmt.Errorf("node %s: sum of currents: %w", n, err)
		}
	}
	return nil
}
