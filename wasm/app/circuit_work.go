package app

import (
	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/job"
	"lugworth/core/rating"
	"lugworth/core/unit"
)

// A Work is what the views ask of the amp's own circuit beyond what the
// result of the job holds. Each piece is worked out when a view asks for it
// and kept until a fact or a book changes.
type Work struct {
	*job.Circuit
	Ratio float64 // as circuit.State.Ratio, of the tap in the choice in force
	Tap   string  // that tap, "" where it is the one found

	next         []circuit.Measure
	noNext       string
	askedNext    bool
	inquest      *circuit.Inquest
	noInquest    string
	askedInquest bool

	mains   unit.Voltage // at the bench, of windows
	windows []circuit.Window
	types   []string // of tubes to be held side by side, nil until asked for
	left    []string // of them, not yet worked out
	choices []Fitting
	chosen  unit.Voltage // bench mains of choices
	stands  []Stand
	stood   unit.Voltage // bench mains of stands
}

// Work returns the circuit of the open amp.
func (m Model) Work() *Work {
	ratio, tap := m.tapRatio()
	w := m.Open.work
	if w == nil || w.Circuit != m.Open.Result.Circuit || w.Tap != tap {
		w = &Work{Circuit: m.Open.Result.Circuit, Ratio: ratio, Tap: tap}
		m.Open.work = w
	}
	return w
}

// tapRatio is what the volts of the windings are divided by on the tap that
// the choice in force moves to.
func (m Model) tapRatio() (ratio float64, tap string) {
	found, err := unit.Read(m.Open.Job.Amp.Tap, unit.Volt)
	if err != nil || found <= 0 {
		return 0, ""
	}
	for _, o := range m.Open.Result.Options {
		if v, err := unit.Read(o.Option.Tap, unit.Volt); o.Accepted && err == nil && v > 0 && v != found {
			ratio, tap = found/v, o.Option.Tap
		}
	}
	return ratio, tap
}

// Outputs are the output tubes of the open amp.
func (m Model) Outputs() []string {
	var out []string
	for _, p := range m.Open.Job.Amp.WithRole(amp.OutputTube) {
		out = append(out, p.Ref)
	}
	return out
}

// Asked are the output tubes to be asked about: one for all where they are of
// one type and stated to draw alike. For says which each answers for.
func (m Model) Asked() []string {
	all := m.Open.Job.Amp.WithRole(amp.OutputTube)
	if !m.Open.Job.Amp.Alike || len(all) == 0 {
		return m.Outputs()
	}
	for _, p := range all {
		if p.Type != all[0].Type {
			return m.Outputs()
		}
	}
	return m.Outputs()[:1]
}

// For names the tubes that the answer for one of [Model.Asked] is for.
func (m Model) For(ref string) []string {
	if len(m.Asked()) == 1 {
		return m.Outputs()
	}
	return []string{ref}
}

// Windows says what to dial at the mains of the bench, nil where the circuit
// is not worked out.
func (m Model) Windows() []circuit.Window {
	w := m.Work()
	mains, ok := m.BenchMains()
	if !w.Decides || !ok || !m.Open.Job.Mains.Declared() {
		return nil
	}
	if w.windows == nil || w.mains != mains {
		w.mains, w.windows = mains, w.Calibration.Windows(m.ask(mains, w))
	}
	return w.windows
}

func (m Model) ask(mains unit.Voltage, w *Work) circuit.Ask {
	sheet := m.Open.Books.Sheet
	return circuit.Ask{Mains: mains, Ratio: w.Ratio, Outputs: m.Asked(), Bounds: m.bounds, Meter: sheet.MeterPercent.Float() / 100, Known: sheet.Has("meter_percent")}
}

// bounds are the limits of a position's tube, each with the mains it is
// judged at.
func (m Model) bounds(ref string) []circuit.Bound {
	p, ok := m.Open.Job.Amp.Find(ref)
	if !ok {
		return nil
	}
	return m.boundsOf(p.Type)
}

func (m Model) boundsOf(typeNumber string) []circuit.Bound {
	card, ok := m.Open.Books.Cards.Find(typeNumber)
	if !ok {
		return nil
	}
	tap := m.Open.Job.Amp.Tap
	if _, moved := m.tapRatio(); moved != "" {
		tap = moved
	}
	var out []circuit.Bound
	for _, l := range card.Limits {
		if mains, scenario, ok := rating.At(l.System, m.Open.Job.Mains, tap); ok {
			out = append(out, circuit.Bound{Limit: l, Mains: mains, Scenario: scenario})
		}
	}
	return out
}
