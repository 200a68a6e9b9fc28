package app

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/limit"
	"lugworth/core/rating"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
	"lugworth/wasm/port"
)

// A Fitting is one tube type with one size of what sets its bias, judged over
// the owner's range, and what it draws at the bench.
type Fitting struct {
	circuit.Alternative
	By    string          // the option of the job that would fit the resistor, "" if none
	Plate rating.Judgment // watts of the plate against the card
	Rest  []rating.Judgment
	Bench circuit.Band // cathode current at the bench mains
	Tubes int          // whose current flows in the resistor
}

// fitTag names the next step of holding choices side by side.
const fitTag = "idle-fit"

func init() {
	pressed["idle-options"] = func(m *Model, e event) []port.Effect {
		if m.Open == nil {
			return nil
		}
		return m.startFit()
	}
	elapsed[fitTag] = func(m *Model, e event) []port.Effect { return m.nextFit() }
}

// Fittings are the tube types and bias resistors of the output stage side by
// side, as far as they are worked out: done of all types. asked is false until
// somebody wants them.
func (m Model) Fittings() (fs []Fitting, done, all int, asked bool) {
	w := m.Work()
	return w.choices, len(w.types) - len(w.left), len(w.types), w.types != nil
}

// startFit begins with the type that is fitted; the page is drawn between one
// type and the next, for all of them take some seconds on a tablet.
func (m *Model) startFit() []port.Effect {
	w := m.Work()
	mains, ok := m.BenchMains()
	outs := m.Outputs()
	if !w.Decides || !ok || len(outs) == 0 || !m.Open.Job.Mains.Declared() {
		return nil
	}
	first, _ := m.Open.Job.Amp.Find(outs[0])
	w.choices, w.chosen, w.types = nil, mains, m.fitTypes(first)
	w.left = w.types
	return []port.Effect{port.After{Tag: fitTag}}
}

// nextFit works out one more type.
func (m *Model) nextFit() []port.Effect {
	if m.Open == nil {
		return nil
	}
	w := m.Work()
	if len(w.left) == 0 {
		return nil
	}
	w.choices = append(w.choices, m.fittings(w, w.left[0], m.Outputs())...)
	if w.left = w.left[1:]; len(w.left) == 0 {
		return nil
	}
	return []port.Effect{port.After{Tag: fitTag}}
}

// fittings are one type with every resistor.
func (m Model) fittings(w *Work, typ string, outs []string) []Fitting {
	first, ok := m.Open.Job.Amp.Find(outs[0])
	if !ok {
		return nil
	}
	ohms, by := m.optionOhms(m.cathodeResistor(first))
	at := m.judgedAt(typ)
	held := w.Calibration.Alternatives(outs, []string{typ}, ohms, circuit.Scenario{Name: at.Scenario, Low: at.Mains, High: at.Mains, Ratio: w.Ratio}, w.Laws)
	bench := w.Calibration.Alternatives(outs, []string{typ}, ohms, circuit.Scenario{Name: stress.Bench, Low: w.chosen, High: w.chosen, Ratio: w.Ratio}, w.Laws)
	var out []Fitting
	for i, a := range held {
		f := Fitting{Alternative: a, Bench: bench[i].Amps, Tubes: m.sharing(first)}
		if i > 0 && i-1 < len(by) {
			f.By = by[i-1]
		}
		m.judgeFitting(&f, m.fitVolts(w, &f, first, outs, at))
		out = append(out, f)
	}
	return out
}

// judgedAt is the mains at which the plate watts of a type are judged.
func (m Model) judgedAt(typ string) circuit.Bound {
	for _, b := range m.boundsOf(typ) {
		if b.Quantity == limit.PlateWatts {
			return b
		}
	}
	return circuit.Bound{Mains: m.Open.Job.Mains.High, Scenario: stress.Top}
}

// fitVolts are the bands of the plate and screen volts of one fitting, the
// resistor as one that would be bought: within 5 %, as its watts have it.
func (m Model) fitVolts(w *Work, f *Fitting, first *amp.Position, outs []string, at circuit.Bound) []circuit.Band {
	ch := circuit.Choice{Ratio: w.Ratio}
	if f.By != "" {
		ch.Values = map[circuit.Figured]circuit.Marked{{Ref: f.Ref, Property: circuit.Ohms}: {Value: f.Ohms, Tolerance: 0.05}}
	}
	if f.Type != first.Type {
		ch.Types = map[string]string{}
		for _, ref := range outs {
			ch.Types[ref] = f.Type
		}
	}
	sc := circuit.Scenario{Name: at.Scenario, Low: at.Mains, High: at.Mains, Ratio: w.Ratio}
	return w.Calibration.Bands(ch, []circuit.Scenario{sc}, []circuit.Figure{{Ref: first.Ref, Quantity: limit.PlateVolts}, {Ref: first.Ref, Quantity: limit.ScreenVolts}}, w.Laws, nil)
}

func (m Model) judgeFitting(f *Fitting, more []circuit.Band) {
	for _, b := range append([]circuit.Band{f.Alternative.Plate, f.Screen, f.Amps}, more...) {
		q := b.Figure
		s := stress.Stress{Subject: b.Ref, Quantity: q.Quantity, Scenario: b.Scenario, Mains: b.Mains, Interval: b.Interval, Unit: b.Unit, Tier: 1, Missing: b.Missing, Doubt: b.Doubt}
		limits := m.limitsOf(f.Type, q.Quantity)
		if q.Quantity == limit.PlateWatts {
			f.Plate = rating.Judge(s, nil)
		}
		for i := range limits {
			j := rating.Judge(s, &limits[i])
			if q.Quantity == limit.PlateWatts && i == 0 {
				f.Plate = j
				continue
			}
			f.Rest = append(f.Rest, j)
		}
	}
}

func (m Model) limitsOf(typ string, q limit.Quantity) []limit.Limit {
	card, _ := m.Open.Books.Cards.Find(typ)
	return card.LimitsOf(q)
}

// fitTypes are the type that is fitted, then the others of the cards that
// have the same electrodes, a law, and a limit on their plate watts.
func (m Model) fitTypes(p *amp.Position) []string {
	types := []string{p.Type}
	for _, c := range m.Open.Books.Cards.All() {
		screen := c.Kind == tube.Beam || c.Kind == tube.Pentode
		if c.Answers(p.Type) || screen != (p.Kind != "triode") || c.Kind == tube.Rectifier || !outputSize(c) {
			continue
		}
		if _, _, ok := tube.LawOf(c, true, c.Type); ok {
			types = append(types, c.Type)
		}
	}
	return types
}

// outputSize leaves small tubes out: an output tube bears 5 W or more.
func outputSize(c tube.Card) bool {
	return slices.ContainsFunc(c.LimitsOf(limit.PlateWatts), func(l limit.Limit) bool { return l.High >= 5 })
}

// optionOhms are the sizes that options of the job would fit in place of a
// resistor, and those options.
func (m Model) optionOhms(ref string) (ohms []float64, by []string) {
	for _, o := range m.Open.Job.Options {
		for _, part := range o.Parts {
			words := strings.Fields(part.Is)
			if ref == "" || len(words) == 0 || !slices.Contains(part.For, ref) {
				continue
			}
			spec, err := unit.ReadSpec(words[len(words)-1], unit.Ohm)
			if v := spec.Value(); err == nil && v > 0 && !slices.Contains(ohms, v) {
				ohms, by = append(ohms, v), append(by, o.ID)
			}
		}
	}
	return ohms, by
}

// cathodeResistor is the resistor under a tube's cathode that sets its bias.
func (m Model) cathodeResistor(t *amp.Position) string {
	node, _ := t.Node("cathode")
	for _, p := range m.Open.Job.Amp.WithRole(amp.CathodeResistor) {
		if slices.ContainsFunc(p.Nodes, func(n amp.Node) bool { return n.Name == node }) {
			return p.Ref
		}
	}
	return ""
}

// sharing is how many output tubes stand on a tube's cathode node.
func (m Model) sharing(t *amp.Position) int {
	node, _ := t.Node("cathode")
	n := 0
	for _, p := range m.Open.Job.Amp.WithRole(amp.OutputTube) {
		if k, _ := p.Node("cathode"); k == node {
			n++
		}
	}
	return n
}
