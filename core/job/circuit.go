package job

import (
	"errors"
	"reflect"
	"slices"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/plan"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Circuit is the amp's own circuit as the job's sheet and readings give it.
// Where Decides is false every verdict is by readings scaled with the mains,
// and Missing says why.
type Circuit struct {
	Net         *circuit.Net         // nil where the sheet has no circuit, or one that cannot be solved
	Calibration *circuit.Calibration // nil where nothing could be matched
	Laws        circuit.Laws
	Spreads     circuit.Spreads  // what is assumed where nobody measured, as the shop's sheet has it
	Remarks     []circuit.Remark // what is wrong with the sheet, or missing from it
	Missing     []string         // why the circuit does not decide; empty where it does
	Decides     bool
}

// Residuals are the readings held against the matched circuit.
func (c *Circuit) Residuals() []circuit.Residual {
	if c.Calibration == nil {
		return nil
	}
	return c.Calibration.Residuals
}

// newCircuit makes the circuit of a job's sheet and matches it to the chart.
func newCircuit(j *Job, b *Books, cards func(string) (tube.Card, bool)) (*Circuit, []unit.Problem) {
	c := &Circuit{Laws: func(t string) (tube.Law, string, bool) {
		card, ok := cards(t)
		return tube.LawOf(card, ok, t)
	}}
	spreads, problems := circuit.ReadSpreads(func(key string) (value, source string, ok bool) {
		e, ok := b.Sheet.Get(key)
		return e.Value, e.Source, ok
	})
	c.Spreads = spreads
	if !drawn(&j.Amp) {
		c.Missing = []string{"the sheet names no mains transformer: there is no circuit to solve"}
		return c, problems
	}
	c.Remarks = circuit.Check(j.Amp.Positions, c.Laws)
	c.match(j, b)
	return c, problems
}

// circuitFacts is what the circuit and everything solved of it rest on.
type circuitFacts struct {
	positions []amp.Position
	readings  []amp.Reading
	tap       string
	taps      []string
	alike     bool
	brings    []string
	books     *shelf // stands for the books: cards, spreads, reserve and meter
}

// solved makes the circuit, or takes over the one before where nothing it
// rests on has changed. What cannot be read of the spreads is returned.
func (g *ground) solved(j *Job, b *Books, cards func(string) (tube.Card, bool), was *ground) []unit.Problem {
	a := &j.Amp
	g.rests = circuitFacts{a.Positions, a.Readings, a.Tap, a.Taps, a.Alike, g.desk.Brings, b.shelf}
	if was != nil && was.tier != nil && was.rests.books == b.shelf && reflect.DeepEqual(was.rests, g.rests) {
		g.circuit, g.tier, g.misread = was.circuit, was.tier, was.misread
		g.tier.Forget(mostWorlds)
		return g.misread
	}
	g.circuit, g.misread = newCircuit(j, b, cards)
	g.tier = g.circuit.tier(g.desk, a)
	return g.misread
}

// brings lists the tube types that options fit, in order.
func brings(j *Job, d *plan.Desk) []string {
	var out []string
	w := worlds{desk: d}
	for i := range j.Options {
		for k := range j.Options[i].Parts {
			if t := w.typeOf(&j.Options[i].Parts[k]); t != "" && !slices.Contains(out, t) {
				out = append(out, t)
			}
		}
	}
	return out
}

// drawn reports whether a sheet means to be a circuit: it has the mains.
func drawn(a *amp.Amp) bool {
	return slices.ContainsFunc(a.Positions, func(p amp.Position) bool { return p.Kind == "mains" })
}

// match compiles the sheet, matches it and holds every reading against it.
func (c *Circuit) match(j *Job, b *Books) {
	for _, r := range c.Remarks {
		if r.Severity == circuit.Stops {
			c.Missing = append(c.Missing, r.Say)
		}
	}
	net, err := circuit.Compile(j.Amp.Positions, c.Laws)
	if err != nil {
		c.missing(err)
		return
	}
	if len(c.Missing) > 0 {
		return
	}
	c.Net = net
	c.Calibration, err = circuit.Calibrate(net, circuit.Bench{
		Sheet: j.Amp.Positions, Readings: j.Amp.Readings, Laws: c.Laws, Tap: j.Amp.Tap, Alike: j.Amp.Alike,
		Meter: b.Sheet.MeterPercent.Float() / 100, Known: b.Sheet.Has("meter_percent"), Spreads: c.Spreads,
	})
	if err != nil {
		c.Calibration = nil
		c.missing(err)
		return
	}
	for _, r := range c.Calibration.Residuals {
		if against(r) {
			c.Missing = append(c.Missing, contradiction(r))
		}
	}
	c.Decides = len(c.Missing) == 0
}

// missing notes every reason of an error, each once.
func (c *Circuit) missing(err error) {
	var each []error
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		each = many.Unwrap()
	} else {
		each = []error{err}
	}
	for _, e := range each {
		say := e.Error()
		var u *circuit.Unsolved
		if errors.As(e, &u) && len(u.Refs) > 0 && u.State == "" {
			say = u.Say
		}
		if !slices.Contains(c.Missing, say) {
			c.Missing = append(c.Missing, say)
		}
	}
}

// against reports whether a reading speaks against the matched circuit. One
// that could not be compared does not.
func against(r circuit.Residual) bool {
	return !r.Agrees && (r.Why == "" || r.Model != unit.Interval{})
}

func contradiction(r circuit.Residual) string {
	s := "the reading of " + r.Reading.At + ", " + amount(r.Reading.Amount, r.Reading.Unit) + ", speaks against the circuit, which gives " + band(r.Model, r.Reading.Unit)
	if r.Why != "" {
		s += ": " + r.Why
	}
	return s
}

// tier is the circuit as the desk asks it, nil where it does not decide.
func (c *Circuit) tier(d *plan.Desk, a *amp.Amp) *stress.Circuit {
	if !c.Decides {
		return nil
	}
	return &stress.Circuit{Matched: c.Calibration, Laws: c.Laws, Need: d.Needed(), Figures: d.Judged(c.Net.Figures()),
		Standby: circuit.HasStandby(a.Positions)}
}

// CircuitOf returns what a row by the amp's own circuit was solved under: the
// choice made in the circuit and the scenario. ok is false for a row the
// circuit does not decide.
func (r *Result) CircuitOf(row *Row) (ch circuit.Choice, sc circuit.Scenario, ok bool) {
	if row.Tier != 1 || !row.HasFigure {
		return ch, sc, false
	}
	m := r.worlds.under(r.chosen(row)).model
	ch, missing := m.Chosen()
	return ch, m.ScenarioOf(row.Scenario, row.Mains), missing == ""
}
