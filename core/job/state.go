package job

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/plan"
	"lugworth/core/rating"
	"lugworth/core/stress"
)

// world is the amp under one choice: its model, and the lines of options
// weighed under it.
type world struct {
	key   string
	model *stress.Model
	lines map[string][]plan.Line // by option

	standing []rating.Judgment
}

// worlds makes each state of the amp once; choices that leave the circuit
// alike share one.
type worlds struct {
	job   *Job
	desk  *plan.Desk
	found *stress.Model
	byKey map[string]*world
	at    map[string]int // option → index
}

func newWorlds(j *Job, d *plan.Desk, m *stress.Model) *worlds {
	w := &worlds{job: j, desk: d, found: m, byKey: map[string]*world{}, at: map[string]int{}}
	for i := range j.Options {
		w.at[j.Options[i].ID] = i
	}
	return w
}

// under returns the world of a choice.
func (w *worlds) under(accept []string) *world {
	s := w.state(accept)
	k := stateKey(s)
	if have, ok := w.byKey[k]; ok {
		return have
	}
	made := &world{key: k, model: w.found.With(s), lines: map[string][]plan.Line{}}
	w.byKey[k] = made
	return made
}

// state collects what the accepted options change in the circuit.
func (w *worlds) state(accept []string) stress.State {
	var s stress.State
	for _, id := range accept {
		i, ok := w.at[id]
		if !ok {
			continue
		}
		o := &w.job.Options[i]
		if o.Tap != "" && o.Tap != w.job.Amp.Tap {
			s.Tap, s.TapBy = o.Tap, o.ID
		}
		for k := range o.Parts {
			w.change(&s, o, &o.Parts[k])
		}
	}
	return s
}

// change notes a part that goes into a place the first-order rules know.
func (w *worlds) change(s *stress.State, o *plan.Option, p *plan.Part) {
	for _, ref := range p.For {
		at, ok := w.job.Amp.Find(ref)
		if !ok {
			continue
		}
		switch at.Role {
		case amp.CathodeResistor:
			if s.Resistors == nil {
				s.Resistors = map[string]stress.Change{}
			}
			s.Resistors[ref] = stress.Change{Option: o.ID, Ohms: w.ohms(p)}
		case amp.OutputTube:
			if s.Tubes == nil {
				s.Tubes = map[string]string{}
			}
			s.Tubes[ref] = o.ID
		}
	}
}

// ohms is the marked resistance of the part an option fits: of the offer it
// names, else of what it asks for.
func (w *worlds) ohms(p *plan.Part) float64 {
	if p.Number != "" {
		if o, ok := w.desk.Offer(p.List, p.Number); ok {
			return o.Part.Spec.Value()
		}
	}
	if p.Want.ValueHigh > 0 {
		return (p.Want.ValueLow + p.Want.ValueHigh) / 2
	}
	return 0
}

func stateKey(s stress.State) string {
	var b strings.Builder
	b.WriteString(s.Tap)
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
	if ls, ok := in.lines[id]; ok {
		return ls
	}
	o := &w.job.Options[w.at[id]]
	ls := make([]plan.Line, len(o.Parts))
	for k := range o.Parts {
		ls[k] = w.desk.Line(o, k, in.model)
	}
	in.lines[id] = ls
	return ls
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
