package job

import (
	"slices"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// A Failure is what would come of one thing failing, by the amp's own
// circuit. It is reported apart: it says what to expect, and is no reason for
// a verdict on what is fitted.
type Failure struct {
	Set     string // "" the amp as found
	Say     string // "C9 shorted: the bias is lost"
	Rows    []rating.Judgment
	Missing string // why nothing can be said of it
}

// leakOhms is what a coupler is taken to leak: 10 MΩ, enough to matter and
// long before it is heard. Our own judgment, no source.
const leakOhms = 10e6

// Failures works out what would come of each failure that amps of the kind
// are known for: the bias lost, a coupler leaking onto an output grid, a
// screen resistor open, an output tube pulled; and, though nothing has failed,
// of full signal where the card gives the currents. Both for the amp as found
// and under the set in force. It solves much, so it is asked for apart from
// Derive.
func (r *Result) Failures() []Failure {
	if !r.Circuit.Decides || !r.Job.Mains.Declared() {
		return nil
	}
	out := r.failures("", r.worlds.base)
	if r.Force >= 0 {
		if w := r.worlds.under(r.accepted()); w != r.worlds.base {
			out = append(out, r.failures(r.Sets[r.Force].Name, w)...)
		}
	}
	return out
}

func (r *Result) failures(set string, w *world) []Failure {
	if w.failures == nil {
		w.failures = []Failure{}
		for _, f := range r.failing() {
			w.failures = append(w.failures, r.failure(w, f))
		}
	}
	out := slices.Clone(w.failures)
	for i := range out {
		out[i].Set = set
	}
	return out
}

// A failing is one failure to be worked out.
type failing struct {
	say     string
	faults  []circuit.Fault
	drive   []circuit.DriveShare
	missing string
}

// failing lists the failures of this amp in the order of its sheet.
func (r *Result) failing() []failing {
	var out []failing
	one := func(say string, k circuit.FaultKind, ref string, ohms float64) {
		out = append(out, failing{say: say, faults: []circuit.Fault{{Kind: k, Ref: ref, Ohms: ohms}}})
	}
	a := &r.Job.Amp
	for i := range a.Positions {
		p := &a.Positions[i]
		switch {
		case p.Role == amp.BiasCapacitor, p.Role == amp.Bypass && r.underOutput(p):
			one(p.Ref+" shorted: the bias is lost", circuit.Short, p.Ref, 0)
		case p.Role == amp.Coupler && r.ontoOutput(p):
			one(p.Ref+" leaks "+unit.FormatAmount(leakOhms, unit.Ohm, -1), circuit.Leak, p.Ref, leakOhms)
		case p.Role == amp.ScreenResistor:
			one(p.Ref+" open: a screen is not fed", circuit.Open, p.Ref, 0)
		case p.Role == amp.OutputTube:
			one(p.Ref+" pulled", circuit.Pulled, p.Ref, 0)
		}
	}
	return append(out, r.fullSignal())
}

// underOutput reports whether a capacitor stands on an output tube's cathode.
func (r *Result) underOutput(p *amp.Position) bool { return r.onOutput(p, "cathode") }

// ontoOutput reports whether a coupler ends on an output tube's grid.
func (r *Result) ontoOutput(p *amp.Position) bool { return r.onOutput(p, "grid") }

func (r *Result) onOutput(p *amp.Position, electrode string) bool {
	for _, t := range r.Job.Amp.WithRole(amp.OutputTube) {
		at, ok := t.Node(electrode)
		if ok && at != "0" && slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return n.Name == at }) {
			return true
		}
	}
	return false
}

// fullSignal is full signal, by the mean currents a card publishes for it.
func (r *Result) fullSignal() failing {
	f := failing{say: "full signal, mean currents as the cards publish them"}
	for _, t := range r.Job.Amp.WithRole(amp.OutputTube) {
		d, ok := r.driven(t)
		if !ok {
			f.missing = "the card of " + t.Type + " publishes no currents at full signal near these plate volts"
			return f
		}
		f.drive = append(f.drive, d)
	}
	if len(f.drive) == 0 {
		f.missing = "no output tube stands in the sheet"
	}
	return f
}

// A published point answers for plate volts this far from its own, as a
// fraction. Our own judgment, no source.
const nearPoint = 0.15

// driven is what one tube draws more at full signal than at rest, by the
// published point nearest to its plate volts.
func (r *Result) driven(t *amp.Position) (d circuit.DriveShare, ok bool) {
	c, have := r.desk.Cards(t.Type)
	at, solved := r.Circuit.Calibration.Explained[0].Bench.Tube(t.Ref)
	if !have || !solved {
		return d, false
	}
	best := nearPoint
	for _, p := range c.Points() {
		plate, _ := p.Figure("plate volts")
		rest, ok1 := p.Each("plate current")
		most, ok2 := p.Each("max plate current")
		off := abs(plate/at.Plate - 1)
		if !ok1 || !ok2 || off > best {
			continue
		}
		best, ok = off, true
		d = circuit.DriveShare{Ref: t.Ref, Plate: max(most-rest, 0)}
		s0, ok1 := p.Each("screen current")
		s1, ok2 := p.Each("max screen current")
		if ok1 && ok2 {
			d.Screen = max(s1-s0, 0)
		}
	}
	return d, ok
}

// made keeps what the failure makes: a figure that is no higher than without
// it says nothing of the failure, nor does an empty socket.
func (r *Result) made(w *world, f failing, all []stress.Stress) []stress.Stress {
	return slices.DeleteFunc(all, func(s stress.Stress) bool {
		for _, x := range f.faults {
			if x.Ref == s.Subject && x.Kind == circuit.Pulled {
				return true
			}
		}
		was, ok := w.model.Solved(s.Subject, s.Quantity, s.Mains, stress.Top)
		return ok && was.Missing == "" && s.High <= was.High*1.01
	})
}

func abs(v float64) float64 { return max(v, -v) }

// failure works one failure out, and keeps what it takes to or past a limit
// that held without it, and the figure that comes nearest to its limit.
func (r *Result) failure(w *world, f failing) Failure {
	out := Failure{Say: f.say, Missing: f.missing}
	if f.missing != "" {
		return out
	}
	all, missing := w.model.Failing(stress.Failure{Name: f.say, Mains: r.Job.Mains.High, Faults: f.faults, Drive: f.drive})
	if missing != "" {
		out.Missing = missing
		return out
	}
	out.Rows = r.desk.Failed(r.made(w, f, all), f.drive != nil)
	if len(out.Rows) == 0 {
		out.Missing = "nothing that is judged bears more by it"
	}
	return out
}
