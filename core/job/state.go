package job

import (
	"math"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// world is the amp under one choice: its model, and the lines of options
// weighed under it.
type world struct {
	model  *stress.Model
	scales *plan.Scales
	lines  [][]plan.Line // by option; nil until weighed
	costs  []partsCost   // by option; nil until priced

	standing []rating.Judgment
	parts    []rating.Judgment // as they would stand
	from     map[*world]compared
	failures []Failure // nil until asked for
}

// worlds makes each state of the amp once; choices that leave the circuit
// alike share one.
type worlds struct {
	job   *Job
	desk  *plan.Desk
	found *stress.Model
	base  *world // the amp as found
	byKey map[string]*world
	at    map[string]int  // option → index
	acts  []act           // what each option changes in the circuit
	moves map[string]bool // findings of which an option changes the circuit
}

// An act is what one option changes in the circuit. Most change nothing.
type act struct {
	tap       string
	resistors map[string]stress.Change // position → new resistor, its option left out
	tubes     []string
	types     map[string]string // position → type, where it is another
}

func (a act) nothing() bool { return a.tap == "" && a.resistors == nil && a.tubes == nil }

func newWorlds(j *Job, d *plan.Desk, m *stress.Model) *worlds {
	w := &worlds{job: j, desk: d, found: m, byKey: map[string]*world{}, at: make(map[string]int, len(j.Options)),
		acts: make([]act, len(j.Options)), moves: map[string]bool{}}
	roles := map[string]*amp.Position{}
	for i := range j.Amp.Positions {
		switch p := &j.Amp.Positions[i]; p.Role {
		case amp.CathodeResistor, amp.ScreenResistor, amp.OutputTube, amp.RectifierTube:
			roles[p.Ref] = p
		default:
			if m.HasCircuit() && drawnResistor(p) {
				roles[p.Ref] = p
			}
		}
	}
	for i := range j.Options {
		o := &j.Options[i]
		w.at[o.ID] = i
		w.acts[i] = w.act(o, roles)
		if !w.acts[i].nothing() {
			w.moves[o.Finding] = true
		}
	}
	w.base = w.under(nil)
	return w
}

// act works out what an option changes: the mains tap, and parts that go into
// places the first-order rules know.
func (w *worlds) act(o *plan.Option, roles map[string]*amp.Position) act {
	var a act
	if o.Tap != "" && o.Tap != w.job.Amp.Tap {
		a.tap = o.Tap
	}
	for k := range o.Parts {
		p := &o.Parts[k]
		for _, ref := range p.For {
			at, ok := roles[ref]
			switch {
			case !ok:
			case at.Role == amp.OutputTube, at.Role == amp.RectifierTube && !w.sameTube(p, at):
				a.tube(ref, w.typeOf(p), at)
			case at.Role == amp.RectifierTube, at.Role != amp.CathodeResistor && w.sameOhms(p, at):
			default:
				a.fit(ref, p, w.resistor(p))
			}
		}
	}
	return a
}

// fit notes a new resistor. Two in one place, or more pieces than places, may
// stand side by side or in a row: their ohms are then not known.
func (a *act) fit(ref string, p *plan.Part, r stress.Change) {
	if a.resistors == nil {
		a.resistors = map[string]stress.Change{}
	}
	if _, twice := a.resistors[ref]; twice || p.Spare() != 0 {
		r.Ohms = 0
	}
	a.resistors[ref] = r
}

// unstated stands for a tube type nothing tells: no card, no law.
const unstated = "(type not stated)"

// tube notes another tube, and its type where it is another.
func (a *act) tube(ref, typ string, at *amp.Position) {
	a.tubes = append(a.tubes, ref)
	if typ == "" {
		typ = unstated
	}
	if tube.Key(typ) == tube.Key(at.Type) {
		return
	}
	if a.types == nil {
		a.types = map[string]string{}
	}
	a.types[ref] = typ
}

// drawnResistor reports whether the circuit alone follows a change of a part:
// a resistor with nodes.
func drawnResistor(p *amp.Position) bool {
	return p.Kind == "resistor" && p.Spec.Unit == unit.Ohm && len(p.Nodes) == 2
}

// sameTube reports whether a part is of the type that stands in the place.
func (w *worlds) sameTube(p *plan.Part, at *amp.Position) bool {
	want := w.typeOf(p)
	return want != "" && tube.Key(want) == tube.Key(at.Type)
}

// typeOf is the type number of the tube an option fits, "" if nothing tells.
func (w *worlds) typeOf(p *plan.Part) string {
	if o, ok := w.desk.Offer(p.List, p.Number); ok && p.Number != "" {
		return o.Part.Tube
	}
	return p.Want.Tube
}

// sameOhms reports whether a resistor is of the value that stands there.
func (w *worlds) sameOhms(p *plan.Part, at *amp.Position) bool {
	was := at.Spec.Value()
	return was > 0 && math.Abs(w.ohms(p)/was-1) <= 0.02 && p.Spare() == 0
}

// resistor is the resistor an option fits, as marked.
func (w *worlds) resistor(p *plan.Part) stress.Change {
	c := stress.Change{Ohms: w.ohms(p)}
	if o, ok := w.desk.Offer(p.List, p.Number); ok && p.Number != "" {
		t := o.Part.Spec.Tolerance
		c.Tolerance, c.Stated = max(t.Plus, t.Minus), t.Stated
	}
	return c
}

// ohms is the marked resistance of the part an option fits: of the offer it
// names, else of what it asks for; 0 if neither tells one.
func (w *worlds) ohms(p *plan.Part) float64 {
	if p.Number != "" {
		if o, ok := w.desk.Offer(p.List, p.Number); ok {
			if s := o.Part.Spec; s.Unit == unit.Ohm && len(s.Values) == 1 {
				return p.Whole(s.Value(), unit.Ohm)
			}
			return 0
		}
	}
	if p.Want.ValueHigh > 0 {
		return (p.Want.ValueLow + p.Want.ValueHigh) / 2
	}
	return 0
}

// under returns the world of a choice.
func (w *worlds) under(accept []string) *world {
	s := w.state(accept)
	k := stateKey(s)
	if have, ok := w.byKey[k]; ok {
		return have
	}
	m := w.found.With(s)
	made := &world{model: m, scales: w.desk.Under(m), lines: make([][]plan.Line, len(w.job.Options))}
	w.byKey[k] = made
	return made
}

// state collects what the accepted options change in the circuit.
func (w *worlds) state(accept []string) stress.State {
	var s stress.State
	for _, id := range accept {
		if i, ok := w.at[id]; ok && !w.acts[i].nothing() {
			w.acts[i].into(&s, id)
		}
	}
	return s
}

func (a act) into(s *stress.State, by string) {
	switch {
	case a.tap == "" || a.tap == s.Tap:
	case s.Tap != "": // two choices move it to two taps: neither is known to hold
		s.Tap, s.TapBy = s.Tap+" and "+a.tap, s.TapBy+" and "+by
	default:
		s.Tap, s.TapBy = a.tap, by
	}
	for ref, r := range a.resistors {
		if s.Resistors == nil {
			s.Resistors = map[string]stress.Change{}
		}
		r.Option = by
		if was, twice := s.Resistors[ref]; twice { // two choices fit one place: which holds is not known
			r.Option, r.Ohms = was.Option+" and "+by, 0
		}
		s.Resistors[ref] = r
	}
	for _, ref := range a.tubes {
		if s.Tubes == nil {
			s.Tubes = map[string]string{}
		}
		s.Tubes[ref] = by
		if t, other := a.types[ref]; other {
			if s.Types == nil {
				s.Types = map[string]string{}
			}
			s.Types[ref] = t
		}
	}
}

func stateKey(s stress.State) string {
	if s.Tap == "" && s.Resistors == nil && s.Tubes == nil {
		return ""
	}
	var b strings.Builder
	b.WriteString(s.Tap + "@" + s.TapBy)
	for _, k := range keysOf(s.Resistors) {
		b.WriteString("|" + k + "=" + s.Resistors[k].Option)
	}
	for _, k := range keysOf(s.Tubes) {
		b.WriteString("|" + k + "~" + s.Tubes[k])
	}
	return b.String()
}

func keysOf[V any](m map[string]V) []string {
	if len(m) == 0 {
		return nil
	}
	ks := make([]string, 0, len(m))
	for k := range m {
		ks = append(ks, k)
	}
	slices.Sort(ks)
	return ks
}

// linesOf weighs the parts of one option under a world, once.
func (w *worlds) linesOf(id string, in *world) []plan.Line {
	i := w.at[id]
	if ls := in.lines[i]; ls != nil {
		return ls
	}
	o := &w.job.Options[i]
	ls := make([]plan.Line, len(o.Parts))
	for k := range o.Parts {
		ls[k] = in.scales.Line(o, k)
	}
	in.lines[i] = ls
	return ls
}

// pair returns the worlds of a choice without and with one option, its rivals
// left out. They are the choice's own world where no option of the finding
// changes the circuit.
func (w *worlds) pair(accept []string, own *world, id string) (off, on *world) {
	if !w.moves[w.job.Options[w.at[id]].Finding] {
		return own, own
	}
	return w.under(without(accept, id)), w.under(w.with(accept, id))
}

// with returns a choice with one option taken and those it excludes left out.
func (w *worlds) with(accept []string, id string) []string {
	o := &w.job.Options[w.at[id]]
	out := make([]string, 0, len(accept)+1)
	for _, a := range accept {
		i, ok := w.at[a]
		if a == id || ok && w.job.Options[i].Finding == o.Finding && !(w.job.Options[i].Both || o.Both) {
			continue
		}
		out = append(out, a)
	}
	return append(out, id)
}

// without returns a choice with one option left out.
func without(accept []string, id string) []string {
	return slices.DeleteFunc(slices.Clone(accept), func(a string) bool { return a == id })
}

// fitted returns the positions a choice fits parts into.
func (w *worlds) fitted(accept []string) map[string]bool {
	out := map[string]bool{}
	for _, id := range accept {
		if i, ok := w.at[id]; ok {
			for _, p := range w.job.Options[i].Parts {
				for _, ref := range p.For {
					out[ref] = true
				}
			}
		}
	}
	return out
}
