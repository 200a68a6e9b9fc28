package app

import (
	"math"

	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/wasm/port"
)

func init() {
	pressed["circuit-suspects"] = func(m *Model, e event) []port.Effect {
		if m.Open != nil {
			m.Work().askSuspects(*m)
		}
		return nil
	}
}

// Inquest is the answer to which parts would explain the chart, nil until it
// was asked for; say is why there is none.
func (w *Work) Inquest() (q *circuit.Inquest, say string, asked bool) {
	return w.inquest, w.noInquest, w.askedInquest
}

// NextReadings ranks the readings nobody has taken by how much each would
// narrow the watts and volts of the output tubes at the top of the owner's
// range; say is why there is no ranking.
func (m Model) NextReadings() (next []circuit.Measure, say string) {
	w := m.Work()
	if !w.Decides || !m.Open.Job.Mains.Declared() {
		return nil, ""
	}
	if !w.askedNext {
		w.askedNext = true
		w.askNext(m)
	}
	return w.next, w.noNext
}

func (w *Work) askNext(m Model) {
	var fs []circuit.Figure
	for _, ref := range m.Outputs() {
		for _, q := range []limit.Quantity{limit.PlateWatts, limit.ScreenWatts, limit.PlateVolts, limit.ScreenVolts} {
			fs = append(fs, circuit.Figure{Ref: ref, Quantity: q})
		}
	}
	high := m.Open.Job.Mains.High
	top := circuit.Scenario{Name: stress.Top, Low: high, High: high, Ratio: w.Ratio}
	next, err := w.Calibration.Next(circuit.Choice{Ratio: w.Ratio}, []circuit.Scenario{top}, fs, w.Laws, m.need)
	w.next = next
	if err != nil {
		w.noNext = err.Error()
	}
}

// need says below what a figure of an output tube must lie.
func (m Model) need(f circuit.Figure) (low, high float64, ok bool) {
	high = math.Inf(1)
	for _, b := range m.bounds(f.Ref) {
		if b.Quantity == f.Quantity && b.HasHigh {
			high, ok = min(high, b.High), true
		}
	}
	return math.Inf(-1), high, ok
}

// askSuspects looks for the smallest sets of parts that explain the chart, at
// first with every other part anywhere in its tolerance. Where that explains
// a chart which the match does not, the parts are held closer to their
// marking. Two parts at most: three take longer than anyone waits.
func (w *Work) askSuspects(m Model) {
	if w.Net == nil {
		return
	}
	w.askedInquest, w.noInquest = true, ""
	a, sheet := &m.Open.Job.Amp, m.Open.Books.Sheet
	bench := circuit.Bench{Sheet: a.Positions, Readings: a.Readings, Laws: w.Laws, Tap: a.Tap, Alike: a.Alike,
		Meter: sheet.MeterPercent.Float() / 100, Known: sheet.Has("meter_percent"), Spreads: w.Spreads}
	for _, slack := range []float64{1, 0.5, 0} {
		q, err := circuit.Suspects(w.Net, circuit.Inquiry{Bench: bench, Slack: slack, Most: 2})
		if err != nil {
			w.inquest, w.noInquest = nil, err.Error()
			return
		}
		if w.inquest = q; !q.Fine || w.Decides {
			return
		}
	}
}
