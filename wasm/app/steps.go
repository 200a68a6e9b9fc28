package app

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/unit"
)

// A Step is one reading of the chart in its fixed order.
type Step struct {
	At, Quantity string
	State        string // what the reading needs: no-load, off
	Say          string // the place, for people
	Done         string // what was read there at the mains in hand, "" if nothing
}

// Steps is the order of the chart: the high winding without load, the
// supply from the reservoir on, then each tube, and ohms and heaters last. A
// node that several parts stand on is read once.
func (m Model) Steps() []Step {
	if m.Open == nil {
		return nil
	}
	w := walk{a: &m.Open.Job.Amp, seen: map[string]bool{}}
	w.supply()
	w.tubes()
	w.rest()
	for i := range w.out {
		w.out[i].Done = m.read(w.out[i])
	}
	return w.out
}

// read is what stands in the chart for a step at the mains being entered, or
// at any where none is.
func (m Model) read(s Step) string {
	mains, err := unit.Read(m.Screen.Entry.Mains, unit.Volt)
	for _, r := range slices.Backward(m.Open.Job.Amp.Readings) {
		same := r.At == s.At && r.Quantity == s.Quantity
		if same && (r.Mains == 0 || err != nil || sameMains(float64(r.Mains), mains)) {
			return AsRead(r)
		}
	}
	return ""
}

// AsRead is a reading with the figures it was written with.
func AsRead(r amp.Reading) string {
	f := amp.ReadingFields(r)
	return f["value"] + " " + f["unit"]
}

// sameMains is true of two mains that are the same reading of a meter.
func sameMains(a, b float64) bool { return a-b < 0.05 && b-a < 0.05 }

type walk struct {
	a    *amp.Amp
	seen map[string]bool // quantity and node, or place
	out  []Step
}

func (w *walk) add(node string, s Step) {
	if node == "0" || node == "" || w.seen[s.Quantity+" "+node] {
		return
	}
	w.seen[s.Quantity+" "+node] = true
	w.out = append(w.out, s)
}

func (w *walk) supply() {
	for _, p := range w.a.WithRole(amp.HighWinding) {
		w.add(p.Ref, Step{At: p.Ref, Quantity: amp.RMSVolts, State: amp.NoLoad, Say: "high winding, one side to the center"})
	}
	for _, role := range []amp.Role{amp.Reservoir, amp.Smoothing, amp.BiasCapacitor} {
		for _, p := range w.a.WithRole(role) {
			if n, ok := p.Node("plus"); ok {
				w.add(n, Step{At: n, Quantity: amp.Volts, Say: string(role) + " " + p.Ref})
			}
		}
	}
}

// tubes reads the electrodes of the output tubes, then of the others.
func (w *walk) tubes() {
	output := w.a.WithRole(amp.OutputTube)
	for _, t := range output {
		w.electrode(t, "plate")
	}
	for _, t := range output {
		w.electrode(t, "screen")
	}
	for _, t := range output {
		w.electrode(t, "cathode")
	}
	for _, t := range output {
		if _, ok := t.Node("screen"); ok {
			w.add(t.Ref+":screen", Step{At: t.Ref + ":screen", Quantity: amp.Current, Say: t.Type + " screen"})
		}
	}
	for i := range w.a.Positions {
		if p := &w.a.Positions[i]; p.Role == "" && (p.Kind == "triode" || p.Kind == "pentode" || p.Kind == "beam") {
			w.electrode(p, "plate")
			w.electrode(p, "cathode")
		}
	}
}

// electrode reads a plate by its tube, anything shared by its node.
func (w *walk) electrode(t *amp.Position, role string) {
	n, ok := t.Node(role)
	if !ok {
		return
	}
	at := t.Ref + ":" + role
	if w.shared(n) {
		at = n
	}
	w.add(n, Step{At: at, Quantity: amp.Volts, Say: strings.TrimSpace(t.Type + " " + role)})
}

// shared reports whether more than one tube or capacitor stands on a node.
func (w *walk) shared(node string) bool {
	count := 0
	for i := range w.a.Positions {
		for _, n := range w.a.Positions[i].Nodes {
			if n.Name == node {
				count++
			}
		}
	}
	return count > 1
}

func (w *walk) rest() {
	for _, p := range w.a.WithRole(amp.CathodeResistor) {
		w.add(p.Ref, Step{At: p.Ref, Quantity: amp.Ohms, State: amp.Off, Say: "cathode resistor, marked " + p.Value})
	}
	for _, p := range w.a.WithRole(amp.HeaterWinding) {
		w.add(p.Ref, Step{At: p.Ref, Quantity: amp.RMSVolts, Say: "heaters"})
	}
}

func (m *Model) step(at, quantity string) (Step, bool) {
	for _, s := range m.Steps() {
		if s.At == at && s.Quantity == quantity {
			return s, true
		}
	}
	return Step{}, false
}

// goTo makes a step the reading being entered.
func (m *Model) goTo(s Step) {
	n := &m.Screen.Entry
	m.Screen.Ask = ""
	n.At, n.Quantity, n.Unit = s.At, s.Quantity, UnitOf(s.Quantity)
	switch s.State {
	case amp.Off:
		n.State = amp.Off
	case amp.NoLoad:
		n.State = amp.NoLoad
	default:
		if n.State == amp.Off || n.State == "" || strings.Contains(n.State, amp.NoLoad) {
			n.State = m.lastState()
		}
	}
}

// lastState is the state of the latest loaded reading: the next is likely
// taken the same way.
func (m *Model) lastState() string {
	for _, r := range slices.Backward(m.Open.Job.Amp.Readings) {
		if r.Mains > 0 && !r.Has(amp.NoLoad) && !r.Has(amp.Off) {
			return strings.Join(r.State, " ")
		}
	}
	return ""
}

// advance goes on to the first step nobody has read, after the one in hand
// where there is one.
func (m *Model) advance() {
	steps := m.Steps()
	from := slices.IndexFunc(steps, func(s Step) bool { return s.At == m.Screen.Entry.At && s.Quantity == m.Screen.Entry.Quantity }) + 1
	for i := range steps {
		s := steps[(from+i)%len(steps)]
		if s.Done == "" {
			m.goTo(s)
			return
		}
	}
	m.Screen.Entry.At = ""
}
