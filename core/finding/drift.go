package finding

import (
	"fmt"
	"strings"

	"lugworth/core/unit"
	"lugworth/core/why"
)

// DriftWord is how a value stands against its tolerance; the zero value
// claims nothing.
type DriftWord string

const (
	// CannotSay: the meter's error reaches across the edge of the tolerance,
	// or nobody has stated it.
	CannotSay DriftWord = ""
	// In: inside its tolerance whatever the meter's error.
	In DriftWord = "in"
	// Out: outside whatever the meter's error.
	Out DriftWord = "out"
)

// String returns the words shown: "in", "out", "cannot say".
func (w DriftWord) String() string {
	if w == CannotSay {
		return "cannot say"
	}
	return string(w)
}

// A DriftVerdict is one value judged against its marking.
type DriftVerdict struct {
	At      string
	Read    unit.Quantity
	Word    DriftWord
	Percent float64 // how far the value as read is from its marking
	Points  float64 // percentage points beyond the tolerance, 0 if not out
	Reason  string
	Node    *why.Node
}

// RuleDrift holds a reading against a marked tolerance.
var RuleDrift = &why.Rule{
	Name:    "drift",
	Says:    "A part is out only where no error of the meter could put it inside, and in only where none could put it outside. A value at the edge is inside.",
	Formula: "out: v·(1 − m) > V·(1 + t) or v·(1 + m) < V·(1 − t)",
	Source:  "meaning of a marked tolerance; common practice, no source",
}

// A Marking is what a value should be and how well it can be read.
type Marking struct {
	Value      float64 // SI
	Unit       unit.Unit
	Tolerance  unit.Tolerance
	Meter      float64 // stated error of the meter, a fraction of the reading
	MeterKnown bool
}

// Judge holds one value as read against the marking.
//
//	100 kΩ ±10 %: 112 kΩ ±2 % may be 109.8 kΩ → cannot say
//	              112 kΩ ±1 % is at least 110.9 kΩ → out by 2 points
//
// Cannot say also where no tolerance is marked (a resistor without a band is
// commonly ±20 %, but that is for a person to say) or no meter error stated.
func (m Marking) Judge(at string, read float64) DriftVerdict {
	v := DriftVerdict{At: at, Read: unit.Quantity{Amount: read, Unit: m.Unit}}
	v.Percent = (read/m.Value - 1) * 100
	low, high := m.Value*(1-m.Tolerance.Minus), m.Value*(1+m.Tolerance.Plus)
	least, most := read*(1-m.Meter), read*(1+m.Meter)
	// A hair, so that a value at the very edge is inside on every machine.
	hair := 1e-9 * m.Value
	switch {
	case !m.Tolerance.Stated:
		v.Reason = "no tolerance is marked or stated"
	case !m.MeterKnown:
		v.Reason = "no meter error is stated with the finding or in the shop sheet"
	case least > high+hair:
		v.Word, v.Points = Out, v.Percent-100*m.Tolerance.Plus
	case most < low-hair:
		v.Word, v.Points = Out, -v.Percent-100*m.Tolerance.Minus
	case least >= low-hair && most <= high+hair:
		v.Word = In
	default:
		v.Reason = fmt.Sprintf("with a meter of ±%s %% it may be %s to %s", figure(100*m.Meter),
			unit.FormatAmount(least, m.Unit, -1), unit.FormatAmount(most, m.Unit, -1))
	}
	m.explain(&v, low, high)
	return v
}

// explain writes the sentence and the reason of a verdict.
func (m Marking) explain(v *DriftVerdict, low, high float64) {
	side := "above"
	if v.Percent < 0 {
		side = "below"
	}
	say := fmt.Sprintf("%s is %s %% %s %s", v.Read, figure(abs(v.Percent)), side, unit.Quantity{Amount: m.Value, Unit: m.Unit})
	switch v.Word {
	case Out:
		v.Reason = fmt.Sprintf("%s: out by %s points", say, figure(v.Points))
	case In:
		v.Reason = say + ": inside its tolerance"
	default:
		v.Reason = say + ": cannot say: " + v.Reason
	}
	from := []*why.Node{
		why.Given("value as read", v.Read, v.At),
		why.Given("marked value", unit.Quantity{Amount: m.Value, Unit: m.Unit}, "marking"),
	}
	if m.Tolerance.Stated {
		from = append(from,
			why.Given("least by its tolerance", unit.Quantity{Amount: low, Unit: m.Unit}, "marking"),
			why.Given("most by its tolerance", unit.Quantity{Amount: high, Unit: m.Unit}, "marking"))
	}
	if m.MeterKnown {
		from = append(from, why.Given("stated meter error", unit.Quantity{Amount: 100 * m.Meter, Unit: unit.Percent}, "meter"))
	}
	v.Node = why.Found(RuleDrift, "drift of "+v.At, why.Text(v.Word.String()), from...)
}

// drifts judges every value of a finding.
func drifts(f Finding, facts Facts, n *notes) []DriftVerdict {
	if f.Drift == nil {
		return nil
	}
	m, ok := marking(f.Drift, facts, n)
	if !ok {
		return nil
	}
	var out []DriftVerdict
	for _, r := range f.Drift.Reads {
		v, err := unit.Read(string(r.Value), m.Unit)
		switch {
		case err != nil:
			n.failed(err, "drift.reads", string(r.Value))
		case v < 0:
			n.problem("drift.reads", string(r.Value), unit.Negative, "")
		default:
			out = append(out, m.Judge(r.At, v))
		}
	}
	if len(f.Drift.Reads) == 0 {
		n.problem("drift.reads", "", unit.Missing, "")
	}
	return out
}

// marking reads what the part is marked and with what it was read.
func marking(d *Drift, facts Facts, n *notes) (Marking, bool) {
	m := Marking{Meter: facts.Meter, MeterKnown: facts.MeterKnown}
	spec, err := readMarked(string(d.Marked), string(d.Tolerance))
	if err != nil {
		n.failed(err, "drift.marked", strings.TrimSpace(string(d.Marked+" "+d.Tolerance)))
		return m, false
	}
	if spec.Value() <= 0 || !allEqual(spec.Values) {
		n.problem("drift.marked", string(d.Marked), unit.NoValue, "one value, above zero")
		return m, false
	}
	m.Value, m.Unit, m.Tolerance = spec.Value(), spec.Unit, spec.Tolerance
	if d.MeterPercent == "" {
		return m, true
	}
	p, err := percent(string(d.MeterPercent))
	if err != nil {
		n.failed(err, "drift.meter_percent", string(d.MeterPercent))
		m.Meter, m.MeterKnown = 0, false // what was stated is not known: not the default
		return m, true
	}
	m.Meter, m.MeterKnown = p, true
	return m, true
}

// readMarked reads value and tolerance. A bare number with k or M is ohms,
// the only part that is marked so; any other bare number is left to fail.
func readMarked(marked, tolerance string) (unit.Spec, error) {
	text := marked
	if tolerance != "" {
		text += " " + withPercent(tolerance)
	}
	spec, err := unit.ReadSpec(text, unit.None)
	if err == nil && spec.Unit != unit.None {
		return spec, nil
	}
	return unit.ReadSpec(text, unit.Ohm)
}

// withPercent gives a bare tolerance its signs: "10" reads as "±10%".
func withPercent(text string) string {
	t := strings.TrimSpace(text)
	if strings.Trim(t, "0123456789., ±+-/") != "" || t == "" {
		return t
	}
	if strings.ContainsAny(t[:1], "0123456789.,") {
		t = "±" + t
	}
	return t + "%"
}

// percent reads a stated error, "2" or "±2 %", as a fraction.
func percent(text string) (float64, error) {
	v, err := unit.Read(strings.Trim(text, "±% "), unit.None)
	if err != nil {
		return 0, err
	}
	if v < 0 || v >= 100 {
		return 0, unit.Problem{Cell: text, Code: unit.OutOfRange}
	}
	return v / 100, nil
}

func allEqual(vs []float64) bool {
	for _, v := range vs {
		if v != vs[0] {
			return false
		}
	}
	return true
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// figure writes a percentage with one decimal, none where it is whole.
func figure(v float64) string {
	return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
}
