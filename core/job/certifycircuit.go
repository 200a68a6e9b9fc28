package job

import (
	"fmt"
	"math"
	"slices"

	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/proof"
	"lugworth/core/tube"
)

// CertifyCorners states the circuit of an amp after a choice, with the solved
// corners at the two ends of each figure's band in one scenario, and returns
// with it the ends by figure. name tells the circuit's states from others of
// the same certificate.
//
// Errors: a corner has no solution, or one the checker of certificates would
// refuse; a scenario in which something has failed, which no certificate
// states.
func CertifyCorners(name string, c *circuit.Calibration, ch circuit.Choice, sc circuit.Scenario, fs []circuit.Figure, laws circuit.Laws) (proof.Circuit, map[circuit.Figure][2]proof.End, error) {
	k := cornering{ends: map[circuit.Figure][2]proof.End{}}
	low, high, err := c.Ranges(ch, sc, laws)
	if err != nil {
		return k.out, nil, err
	}
	for _, f := range fs {
		l, h, err := c.Corners(ch, sc, f, laws)
		if err != nil {
			return k.out, nil, err
		}
		var ends [2]proof.End
		for i, corner := range []circuit.Corner{l, h} {
			if ends[i], err = k.corner(name+", "+sc.Name, f, corner, low, high, i == 1); err != nil {
				return k.out, nil, err
			}
		}
		k.ends[f] = ends
	}
	k.out.Name = name
	return k.out, k.ends, nil
}

type cornering struct {
	out    proof.Circuit
	ends   map[circuit.Figure][2]proof.End
	states []stating
}

// A stating is a specimen that was solved and stated; figures share it.
type stating struct {
	name   string
	values circuit.Values
	mains  float64
	sol    *circuit.Solution
	trace  circuit.Trace
}

// corner is one end of a figure's band by a corner.
func (k *cornering) corner(name string, f circuit.Figure, c circuit.Corner, low, high circuit.Values, upper bool) (proof.End, error) {
	end := proof.End{Factor: c.Factor, Rest: c.Rest, Carry: c.Carry}
	s, err := k.state(name, c, low, high)
	if err != nil {
		return end, err
	}
	end.State = s.name
	if end.Model, err = k.out.Figure(s.name, f.Ref, string(f.Quantity)); err != nil {
		return end, err
	}
	if crest := crestOf(s, f, end.Model) * c.Factor; upper {
		end.Rest += crest
	} else {
		end.Rest -= crest
	}
	return end, nil
}

// state solves a corner with its numbers as they will be written, and states
// it, once.
func (k *cornering) state(name string, c circuit.Corner, low, high circuit.Values) (*stating, error) {
	v := slices.Clone(c.Values)
	for i := range v {
		v[i] = proof.Rounded(v[i])
	}
	for i := range k.states {
		if s := &k.states[i]; s.mains == c.State.Mains && slices.Equal(s.values, v) {
			return s, nil
		}
	}
	sol, err := c.Net.Solve(v, c.State, c.Solution)
	if err != nil {
		return nil, err
	}
	t, ok := sol.Trace()
	if !ok {
		return nil, fmt.Errorf("%s: a state in which something has failed is not certified", name)
	}
	if len(k.states) == 0 {
		k.circuit(c.Net, &t, low, high)
	}
	s := stating{fmt.Sprintf("%s, specimen %d", name, len(k.states)+1), v, c.State.Mains, sol, t}
	k.states = append(k.states, s)
	return &s, k.out.AddState(stated(s.name, c.State, v, &t))
}

// crestOf is what the ripple adds to the mean volts across a part, or to the
// watts the direct current alone makes in it.
func crestOf(s *stating, f circuit.Figure, model float64) float64 {
	whole, ok := s.sol.Figure(f)
	switch {
	case !ok:
		return 0
	case f.Quantity == limit.Watts:
		return max(0, whole-model)
	case f.Quantity != limit.DCVolts:
		return 0
	}
	for _, p := range s.trace.Paths {
		if p.Ref == f.Ref {
			return whole - math.Abs(voltsOf(&s.trace, p.Nodes[0])-voltsOf(&s.trace, p.Nodes[1]))
		}
	}
	return 0
}

func voltsOf(t *circuit.Trace, node string) float64 {
	if i := slices.Index(t.Nodes, node); i >= 0 {
		return t.Volts[i]
	}
	return 0
}

// stated puts a solved state into the form a certificate is written from.
func stated(name string, st circuit.State, v circuit.Values, t *circuit.Trace) proof.Solved {
	out := proof.Solved{Name: name, Mains: st.Mains, Ratio: st.Ratio, Shift: st.Shift, Values: v, Volts: t.Volts, Off: slices.Compact(slices.Sorted(slices.Values(t.Off)))}
	for _, p := range t.Paths {
		if p.Kind == circuit.PathContact {
			out.Amps = append(out.Amps, p.Amps)
		}
		if p.Drive.Plate != 0 || p.Drive.Screen != 0 {
			out.Drive = append(out.Drive, proof.Drive{Ref: p.Ref, Plate: proof.Fact(p.Drive.Plate), Screen: proof.Fact(p.Drive.Screen)})
		}
	}
	for _, f := range t.Feeds {
		out.Amps = append(out.Amps, f.Amps)
	}
	return out
}

var elementKinds = map[circuit.PathKind]string{
	circuit.PathOhms: proof.Resistor, circuit.PathUpper: proof.UpperTrack, circuit.PathLower: proof.LowerTrack, circuit.PathCopper: proof.Copper,
	circuit.PathContact: proof.Contact, circuit.PathTriode: proof.TriodeTube, circuit.PathScreened: proof.ScreenTube, circuit.PathOpen: proof.Capacitor,
}

var properties = map[circuit.Property]string{
	circuit.Ohms: proof.Ohms, circuit.Turn: proof.Turn, circuit.Copper: proof.Windings, circuit.Volts: proof.Turns, circuit.Perveance: proof.Perveance,
	circuit.Shift: proof.Shift, circuit.Share: proof.Share, circuit.Conduct: proof.Conduct, circuit.HeaterLoad: proof.HeaterLoad,
	circuit.Farads: "farads", circuit.Henries: "henries",
}

// circuit states the elements, the laws and the ranges, which all corners of
// one choice and scenario share.
func (k *cornering) circuit(n *circuit.Net, t *circuit.Trace, low, high circuit.Values) {
	c := &k.out
	c.Elements, c.Laws, c.Nodes, c.Nominal, c.States = []proof.Element{}, []proof.Law{}, t.Nodes, proof.Fact(t.Nominal), []proof.State{}
	for _, p := range t.Paths {
		c.Elements = append(c.Elements, proof.Element{Kind: elementKinds[p.Kind], Ref: p.Ref, Nodes: p.Nodes, Type: p.Law.Type})
		k.law(p.Law)
	}
	for i, f := range t.Feeds {
		c.Elements = append(c.Elements, proof.Element{Kind: proof.Feed, Ref: fmt.Sprintf("supply %d", i+1), Nodes: []string{f.Minus, f.Plus}, Legs: k.legs(f.Legs)})
	}
	for i, knob := range n.Knobs {
		c.Knobs = append(c.Knobs, proof.Knob{Ref: knob.Ref, Property: properties[knob.Property], Low: proof.Fact(proof.Rounded(low[i])), High: proof.Fact(proof.Rounded(high[i])), Why: knob.Why})
	}
}

func (k *cornering) legs(ls []circuit.FeedingLeg) []proof.Leg {
	var out []proof.Leg
	for _, l := range ls {
		leg := proof.Leg{Series: l.Series}
		for _, c := range l.Coils {
			leg.Coils = append(leg.Coils, proof.Coil{Ref: c.Ref, Share: proof.Fact(c.Share)})
		}
		for _, g := range l.Drops {
			var group []string
			for _, r := range g {
				group = append(group, r.Ref)
				k.rectifier(r)
			}
			leg.Drops = append(leg.Drops, group)
		}
		out = append(out, leg)
	}
	return out
}

func (k *cornering) rectifier(r circuit.Path) {
	one := proof.Rectifier{Ref: r.Ref, Type: r.Law.Type}
	if !slices.Contains(k.out.Rectifiers, one) {
		k.out.Rectifiers = append(k.out.Rectifiers, one)
	}
	k.law(r.Law)
}

// law states the constants of a type once.
func (k *cornering) law(l tube.Law) {
	if l.Type == "" || slices.ContainsFunc(k.out.Laws, func(o proof.Law) bool { return o.Type == l.Type }) {
		return
	}
	out := proof.Law{Type: l.Type}
	switch l.Kind {
	case tube.Rectifier:
		out.Pv = proof.Fact(l.Pv)
	case tube.Diode:
		out.Vf = proof.Fact(l.Vf)
	default:
		out.P, out.Mu, out.K, out.Gamma, out.Phi = proof.Fact(l.P), proof.Fact(l.Mu), proof.Fact(l.K), proof.Fact(l.Gamma), proof.Fact(l.Phi)
		if l.Kind != tube.Triode {
			out.D, out.A, out.M = proof.Fact(l.D), proof.Fact(l.A), proof.Fact(l.M)
		}
	}
	k.out.Laws = append(k.out.Laws, out)
}
