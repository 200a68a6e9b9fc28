package circuit

import (
	"maps"
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/tube"
)

// after is the amp once a choice is made: its circuit, and for each
// explanation the specimen with all that stays open.
type after struct {
	c     *Calibration
	net   *Net
	laws  Laws
	ratio float64
	fresh map[string]bool // tubes nobody has read, by row
	types map[string]string
	specs []spec

	inPlace []fittedTube
}

// A spec is one explanation after the choice. Directions before fresh belong
// to the amp as found; those from it on to what is new.
type spec struct {
	fit    *fit
	values Values
	ds     []direction
	from   []int // index of each kept direction in the fit
}

// after applies a choice.
func (c *Calibration) after(ch Choice, laws Laws) (*after, error) {
	if laws == nil {
		laws = c.bench.Laws
	}
	a := &after{c: c, net: c.Net, laws: laws, ratio: ch.Ratio, fresh: map[string]bool{}, types: map[string]string{}}
	a.renew(ch)
	if err := a.placed(ch); err != nil {
		return nil, err
	}
	a.listTubes()
	if len(a.types) > 0 {
		net, err := c.Net.Fit(a.types, laws)
		if err != nil {
			return nil, err
		}
		a.net = net
	}
	for i := range c.fits {
		a.specs = append(a.specs, a.spec(&c.fits[i], ch))
	}
	return a, nil
}

// renew lists the rows a choice fills with something nobody has read. A tube
// is named by its row or by its socket: "V1" means V1a and V1b.
func (a *after) renew(ch Choice) {
	for i := range a.c.joints.parts {
		p := &a.c.joints.parts[i]
		if !isOneOf(p.Kind, tubeKinds...) && !isOneOf(p.Kind, rectifierKinds...) {
			continue
		}
		for _, name := range []string{p.Ref, amp.Base(p.Ref)} {
			if typ := ch.Types[name]; typ != "" {
				a.types[p.Ref], a.fresh[p.Ref] = typ, true
			}
			if ch.Fresh[name] {
				a.fresh[p.Ref] = true
			}
		}
	}
}

// placed reports what a choice changes that has no place in the circuit: a
// change that is not reckoned with must not pass for none.
func (a *after) placed(ch Choice) error {
	var lost []string
	for f := range ch.Values {
		if _, ok := a.c.Net.Knob(f.Ref, f.Property); !ok {
			lost = append(lost, f.Ref)
		}
	}
	names := slices.Collect(maps.Keys(ch.Types))
	for ref, fresh := range ch.Fresh {
		if fresh {
			names = append(names, ref)
		}
	}
	for _, ref := range names {
		if !slices.ContainsFunc(a.c.joints.parts, func(p amp.Position) bool { return a.fresh[p.Ref] && (p.Ref == ref || amp.Base(p.Ref) == ref) }) {
			lost = append(lost, ref)
		}
	}
	if len(lost) == 0 {
		return nil
	}
	slices.Sort(lost)
	lost = slices.Compact(lost)
	return &Unsolved{Say: strings.Join(lost, ", ") + " has no place in the circuit, so what changing it does cannot be reckoned", Refs: lost}
}

// spec is one explanation after the choice.
func (a *after) spec(f *fit, ch Choice) spec {
	s := spec{fit: f, values: slices.Clone(f.values)}
	changed := map[int]bool{}
	var fresh []direction
	for i, k := range a.c.Net.Knobs {
		v, width, assumed, is := a.changed(k, i, ch)
		if !is {
			continue
		}
		changed[i] = true
		s.values[i] = v
		if width > 0 {
			fresh = append(fresh, direction{ref: k.Ref, property: k.Property, assumed: assumed, fresh: true, moves: []delta{{i, width}}})
		}
	}
	for i, d := range f.directions {
		if kept := without(d, changed); len(kept.moves) > 0 {
			s.ds = append(s.ds, kept)
			s.from = append(s.from, i)
		}
	}
	s.ds = append(s.ds, fresh...)
	return s
}

// changed returns a knob's value and half width after the choice.
func (a *after) changed(k Knob, i int, ch Choice) (v, width float64, assumed, is bool) {
	if m, ok := ch.Values[Figured{k.Ref, k.Property}]; ok {
		return m.Value, math.Abs(m.Value) * m.Tolerance, false, true
	}
	if !a.fresh[k.Ref] {
		return 0, 0, false, false
	}
	v, width = 1, a.c.halves[i].width
	switch k.Property {
	case Shift:
		v = 0
	case Perveance, Share, Conduct:
	default:
		return 0, 0, false, false
	}
	return v, width, true, true
}

func without(d direction, knobs map[int]bool) direction {
	d.moves = slices.DeleteFunc(slices.Clone(d.moves), func(m delta) bool { return knobs[m.knob] })
	return d
}

// A fittedTube is a tube or rectifier after the choice, with its law.
type fittedTube struct {
	ref   string
	law   tube.Law
	doubt string
}

// listTubes lists every tube and rectifier that takes part.
func (a *after) listTubes() {
	for i := range a.c.joints.parts {
		p := &a.c.joints.parts[i]
		if len(p.Nodes) == 0 || !isOneOf(p.Kind, tubeKinds...) && !isOneOf(p.Kind, rectifierKinds...) {
			continue
		}
		v := fittedTube{ref: p.Ref}
		typ := p.Type
		if t := a.types[p.Ref]; t != "" {
			typ = t
		}
		if a.laws != nil {
			v.law, v.doubt, _ = a.laws(typ)
		}
		a.inPlace = append(a.inPlace, v)
	}
}

// law returns the law of a row after the choice; the zero law if it has none.
func (a *after) law(ref string) tube.Law {
	for i := range a.inPlace {
		if a.inPlace[i].ref == ref {
			return a.inPlace[i].law
		}
	}
	return tube.Law{}
}
