package app

import (
	"slices"

	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Stand is where an output tube idles at each mains that matters.
type Stand struct {
	Ref, Type string
	Law       tube.Law
	Specimen  tube.Specimen // as the first explanation of the readings has it
	Points    []StandPoint
	Amps      []circuit.Band // cathode current at each point
}

// A StandPoint is one operating point and its watts against the card.
type StandPoint struct {
	Say   string
	Mains unit.Voltage
	circuit.Point
	Watts rating.Judgment
}

// Stands are the output tubes at the bench and over the owner's range; nil
// where the circuit is not worked out.
func (m Model) Stands() []Stand {
	w := m.Work()
	mains, ok := m.BenchMains()
	if !w.Decides || !ok {
		return nil
	}
	if w.stands == nil || w.stood != mains {
		w.stood, w.stands = mains, nil
		for _, ref := range m.Asked() {
			if p, ok := m.Open.Job.Amp.Find(ref); ok {
				w.stands = append(w.stands, m.stand(w, ref, p.Type, m.standMains(mains, w.Ratio)))
			}
		}
	}
	return w.stands
}

// standMains are the mains a stage is looked at, each once.
func (m Model) standMains(bench unit.Voltage, ratio float64) []circuit.Scenario {
	own := m.Open.Job.Mains
	var out []circuit.Scenario
	add := func(say string, v unit.Voltage) {
		if v > 0 && !slices.ContainsFunc(out, func(s circuit.Scenario) bool { return sameMains(float64(s.High), float64(v)) }) {
			out = append(out, circuit.Scenario{Name: say, Low: v, High: v, Ratio: ratio})
		}
	}
	add("here", bench)
	add("owner, lowest", own.Low)
	add("owner, measured", own.Measured)
	add("owner, highest", own.High)
	return out
}

func (m Model) stand(w *Work, ref, typ string, at []circuit.Scenario) Stand {
	s := Stand{Ref: ref, Type: typ}
	s.Law, _, _ = w.Laws(typ)
	values := w.Calibration.Explained[0].Values
	read := func(p circuit.Property, usual float64) float64 {
		if k, ok := w.Net.Knob(ref, p); ok {
			return values[k]
		}
		return usual
	}
	s.Specimen = tube.Specimen{P: read(circuit.Perveance, 1), Shift: read(circuit.Shift, 0), Share: read(circuit.Share, 1)}
	figures := []circuit.Figure{{Ref: ref, Quantity: limit.PlateWatts}, {Ref: ref, Quantity: limit.CathodeCurrent}}
	bands := w.Calibration.Bands(circuit.Choice{Ratio: w.Ratio}, at, figures, w.Laws, nil)
	for i, sc := range at {
		p := StandPoint{Say: sc.Name, Mains: sc.High, Point: w.average(ref, sc)}
		p.Watts = m.judgeBand(typ, bands[2*i])
		s.Points, s.Amps = append(s.Points, p), append(s.Amps, bands[2*i+1])
	}
	return s
}

// average is the operating point between the explanations of the readings.
func (w *Work) average(ref string, sc circuit.Scenario) circuit.Point {
	var sum circuit.Point
	n := float64(len(w.Calibration.Explained))
	for _, e := range w.Calibration.Explained {
		sol, err := w.Net.Solve(e.Values, circuit.State{Mains: float64(sc.High), Ratio: w.Ratio}, e.Bench)
		if err != nil {
			return circuit.Point{}
		}
		p, _ := sol.Tube(ref)
		sum.Plate, sum.Screen, sum.Grid = sum.Plate+p.Plate/n, sum.Screen+p.Screen/n, sum.Grid+p.Grid/n
		sum.PlateAmps, sum.Total = sum.PlateAmps+p.PlateAmps/n, sum.Total+p.Total/n
	}
	return sum
}

// judgeBand holds the plate watts of a type against its card.
func (m Model) judgeBand(typ string, b circuit.Band) rating.Judgment {
	s := stress.Stress{Subject: b.Ref, Quantity: b.Quantity, Scenario: b.Scenario, Mains: b.Mains, Interval: b.Interval, Unit: b.Unit, Tier: 1, Missing: b.Missing, Doubt: b.Doubt}
	if ls := m.limitsOf(typ, b.Quantity); len(ls) > 0 {
		return rating.Judge(s, &ls[0])
	}
	return rating.Judge(s, nil)
}
