package view

import (
	"slices"
	"strings"

	"lugworth/core/circuit"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// circuitChart holds the circuit against the chart: what agrees, what to read
// next, and which parts would explain what does not agree.
func circuitChart(m app.Model, s sight) []keyed.Node {
	return []keyed.Node{residualsCard(s), nextCard(m, s), suspectsCard(m, s)}
}

func residualsCard(s sight) keyed.Node {
	if len(s.Residuals) == 0 {
		return keyed.Row("section", "residuals", part.Empty("No chart to hold it against", "The circuit is matched to the readings of the chart. It needs the volts of the first filter, of the output tubes' plates, screens and cathodes, all at one mains.",
			"plates 318 V, cathode 19.0 V, at 117.0 V mains", part.Press("main", "To the chart", "measure-this", "")))
	}
	cols := []part.Col{{Say: "Where", Wide: true}, {Say: "Read", Num: true}, {Say: "Circuit gives", Num: true}, {Say: "Holds"}}
	rows := make([]keyed.Node, len(s.Residuals))
	for i, r := range s.Residuals {
		rows[i] = part.TR("residual-"+slug(orWords(r.Reading.ID, itoa(i))), cols,
			keyed.El("span", keyed.El("b", keyed.Text(r.Reading.At)), keyed.Text(" "+joined(", ", r.Reading.Quantity, strings.Join(r.Reading.State, " "))),
				keyed.If(r.Why != "", keyed.El("br"), keyed.El("span", keyed.Class("soft small"), keyed.Text(r.Why)))),
			keyed.Text(asRead(r.Reading)), keyed.Text(modelWords(r)), residualVerdict(r))
	}
	return keyed.Row("section", "residuals", keyed.Class("card"), keyed.El("h2", keyed.Text("Does it explain the readings?")),
		part.Table("The circuit held against the chart", cols, keyed.Nodes(rows...), keyed.Item{}),
		keyed.If(slices.ContainsFunc(s.Residuals, against),
			part.Note("A reading that does not agree is never averaged away. Until it is explained the verdicts stay with the readings, scaled by the mains.")))
}

func modelWords(r circuit.Residual) string {
	if r.Model == (unit.Interval{}) {
		return ""
	}
	return bandWords(r.Model, r.Reading.Unit)
}

// against reports whether a reading speaks against the circuit.
func against(r circuit.Residual) bool {
	return !r.Agrees && (r.Why == "" || r.Model != unit.Interval{})
}

func residualVerdict(r circuit.Residual) keyed.Item {
	switch {
	case !against(r) && r.Why != "":
		return part.Verdict(draw.NotEnoughData, "not compared")
	case !r.Agrees:
		return part.Verdict(draw.NotProven, "does not agree: not proven")
	case r.Used:
		return part.Verdict(draw.Within, "agrees, matched to it")
	}
	return part.Verdict(draw.Within, "agrees")
}
