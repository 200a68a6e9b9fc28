package job

import (
	"strconv"

	"lugworth/core/circuit"
	"lugworth/core/rating"
	"lugworth/core/unit"
)

// The section "circuit" of result.json. It is left out where the sheet names
// no mains transformer.
type (
	// OutCircuit is the amp's own circuit: whether it decides, and on what.
	OutCircuit struct {
		Decides   bool          `json:"decides"`
		Missing   []string      `json:"missing"`
		Mains     string        `json:"mains"`
		Doubt     string        `json:"doubt"`
		Remarks   []OutRemark   `json:"remarks"`
		Nodes     []OutNode     `json:"nodes"`
		Residuals []OutResidual `json:"residuals"`
		Spreads   []OutSpread   `json:"spreads"`
		Tiers     []OutTiers    `json:"tiers"`
		Failures  []OutFailure  `json:"failures"`
	}
	// OutRemark is one thing to know of the sheet.
	OutRemark struct {
		Severity string   `json:"severity"`
		Refs     []string `json:"refs"`
		Node     string   `json:"node"`
		Say      string   `json:"say"`
	}
	// OutNode is one node at the mains of the chart, over all explanations of
	// the readings.
	OutNode struct {
		Node string `json:"node"`
		Low  string `json:"low"`
		High string `json:"high"`
	}
	// OutResidual is one reading against the matched circuit.
	OutResidual struct {
		Reading  string `json:"reading"`
		At       string `json:"at"`
		Quantity string `json:"quantity"`
		Read     string `json:"read"`
		Low      string `json:"low"`
		High     string `json:"high"`
		Unit     string `json:"unit"`
		Agrees   bool   `json:"agrees"`
		Used     bool   `json:"used"`
		Why      string `json:"why"`
	}
	// OutSpread is one row of the table of assumptions: a fraction, or volts.
	OutSpread struct {
		Key    string `json:"key"`
		Says   string `json:"says"`
		Amount string `json:"amount"`
		Unit   string `json:"unit"`
		Source string `json:"source"`
	}
	// OutTiers is one figure by both tiers.
	OutTiers struct {
		Set         string   `json:"set"`
		Subject     string   `json:"subject"`
		Quantity    string   `json:"quantity"`
		Scenario    string   `json:"scenario"`
		Mains       string   `json:"mains"`
		Unit        string   `json:"unit"`
		Scaled      *OutBand `json:"scaled"`
		Circuit     *OutBand `json:"circuit"`
		Decides     int      `json:"decides"`
		Assumed     bool     `json:"assumed"`
		Contradicts string   `json:"contradicts"`
		Settle      string   `json:"settle"`
	}
	// OutBand is what one tier says.
	OutBand struct {
		Low      string `json:"low"`
		Expected string `json:"expected"`
		High     string `json:"high"`
		Kind     string `json:"kind"`
	}
	// OutFailure is what one failure would do. It is no verdict on what is
	// fitted.
	OutFailure struct {
		Set      string       `json:"set"`
		Say      string       `json:"say"`
		Missing  string       `json:"missing"`
		Verdicts []OutVerdict `json:"verdicts"`
	}
)

// outCircuit writes the section; nil where there is no circuit to speak of.
func (r *Result) outCircuit() *OutCircuit {
	c := r.Circuit
	if !drawn(&r.Job.Amp) {
		return nil
	}
	out := &OutCircuit{Decides: c.Decides, Missing: append([]string{}, c.Missing...), Nodes: []OutNode{}, Remarks: []OutRemark{}, Residuals: []OutResidual{}, Tiers: r.outTiers(), Failures: []OutFailure{}}
	for _, m := range c.Remarks {
		out.Remarks = append(out.Remarks, OutRemark{m.Severity.String(), append([]string{}, m.Refs...), m.Node, m.Say})
	}
	for _, s := range c.Spreads {
		u := ""
		if s.Volts {
			u = symbol(unit.Volt)
		}
		out.Spreads = append(out.Spreads, OutSpread{s.Key, s.Says, strconv.FormatFloat(s.Amount, 'g', -1, 64), u, s.Source})
	}
	if c.Calibration != nil {
		out.Mains, out.Doubt = plainVolts(c.Calibration.Mains), c.Calibration.Doubt
		out.Nodes = outNodes(c)
	}
	for _, x := range c.Residuals() {
		out.Residuals = append(out.Residuals, outResidual(x))
	}
	for _, f := range r.Failures() {
		of := OutFailure{Set: f.Set, Say: f.Say, Missing: f.Missing, Verdicts: []OutVerdict{}}
		for _, j := range f.Rows {
			of.Verdicts = append(of.Verdicts, Row{Set: f.Set, Judgment: j}.out())
		}
		out.Failures = append(out.Failures, of)
	}
	return out
}

func outNodes(c *Circuit) []OutNode {
	out := []OutNode{}
	for _, n := range c.Net.Nodes() {
		if v, ok := c.NodeAt(n); ok {
			out = append(out, OutNode{n, decimal(v.Low, unit.Volt), decimal(v.High, unit.Volt)})
		}
	}
	return out
}

// NodeAt returns the volts of a node to the chassis at the mains of the
// chart: the ends are the explanations of the readings.
func (c *Circuit) NodeAt(node string) (v unit.Interval, ok bool) {
	if c.Calibration == nil {
		return v, false
	}
	for i, e := range c.Calibration.Explained {
		n, have := e.Bench.Node(node)
		if !have {
			return v, false
		}
		if i == 0 {
			v = unit.Exactly(n)
		}
		v.Low, v.High = min(v.Low, n), max(v.High, n)
	}
	v.Expected = (v.Low + v.High) / 2
	return v, true
}

func outResidual(x circuit.Residual) OutResidual {
	u := x.Reading.Unit
	return OutResidual{x.Reading.ID, x.Reading.At, x.Reading.Quantity, decimal(x.Reading.Amount, u), decimal(x.Model.Low, u), decimal(x.Model.High, u), symbol(u), x.Agrees, x.Used, x.Why}
}

// outTiers lists every figure of the stage and the parts that the circuit
// answers, with what readings scaled by the mains say beside it.
func (r *Result) outTiers() []OutTiers {
	out := []OutTiers{}
	for _, row := range r.Rows() {
		if row.Option == "" && row.Part == "" && (row.Tier == 1 || row.Other != nil) {
			out = append(out, row.tiers())
		}
	}
	return out
}

func (r Row) tiers() OutTiers {
	t := OutTiers{Set: r.Set, Subject: r.Subject, Quantity: string(r.Quantity), Scenario: r.Scenario, Mains: plainVolts(r.Mains),
		Unit: symbol(r.Unit), Decides: r.Tier, Assumed: r.Assumed, Contradicts: r.Against, Settle: r.ToSettle}
	both := [2]*OutBand{}
	both[r.Tier] = outBand(r.Interval, r.Kind, r.Unit)
	if o := r.Other; o != nil {
		both[o.N] = outBand(o.Interval, o.Kind, r.Unit)
	}
	t.Scaled, t.Circuit = both[0], both[1]
	return t
}

func outBand(i unit.Interval, k rating.Verdict, u unit.Unit) *OutBand {
	return &OutBand{decimal(i.Low, u), decimal(i.Expected, u), decimal(i.High, u), k.Slug()}
}
