package view

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/circuit"
	"lugworth/core/rating"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// nextCard lists what to read next, the most telling first.
func nextCard(m app.Model, s sight) keyed.Node {
	return keyed.Row("section", "next-readings", keyed.Class("card"), keyed.El("h2", keyed.Text("What should I measure next?")),
		keyed.If(len(s.Next) == 0, part.Note(nextNone(s))),
		keyed.If(len(s.Settles) > 0 || slices.ContainsFunc(s.Next, func(n nextReading) bool { return n.Live }), cautionWords("live-readings")),
		keyed.If(len(s.Next) > 0, keyed.El("ol", keyed.Class("list"), keyed.Each(s.Next, func(n nextReading) keyed.Node {
			return keyed.Row("li", "next-"+slug(n.At+"-"+n.Quantity), keyed.Class("line bench-row"),
				keyed.El("span", keyed.Class("grow"), keyed.El("b", keyed.Text(n.At)), keyed.Text(" "+n.Quantity), keyed.El("br"), keyed.El("span", keyed.Class("soft small"), keyed.Text(n.Say))),
				part.Press("", "Enter it", "measure-this", n.At, keyed.Attr("data-k", n.Quantity), keyed.Attr("aria-label", "Enter it: "+n.At+" "+n.Quantity)))
		}))),
		keyed.If(len(s.Settles) > 0, keyed.El("h3", keyed.Text("What open verdicts ask for")), keyed.El("ul", keyed.Class("remarks"), keyed.Map(s.Settles, func(say string) keyed.Item { return keyed.El("li", keyed.Text(say)) }))))
}

func nextNone(s sight) string {
	switch {
	case s.NoNext != "":
		return "Nothing can be ranked: " + s.NoNext + "."
	case s.Missing != "":
		return "Once the circuit decides, the places nobody has read are listed here, the one that narrows a verdict most first."
	}
	return "No place is left whose reading would narrow the watts or volts of the output tubes as they stand."
}

// suspectsCard lists the smallest sets of parts that explain the whole chart,
// once somebody asks: it may take a while.
func suspectsCard(m app.Model, s sight) keyed.Node {
	say := "Every reading agrees with the parts as marked, each within its tolerance: nothing needs to be explained."
	if s.Unexplain != "" {
		say = "No explanation: " + s.Unexplain + "."
	}
	can := m.Open.Result.Circuit.Net != nil
	return keyed.Row("section", "suspects", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Which parts would explain the chart?")),
		keyed.If(!can, part.Note("Once the sheet can be solved, the smallest sets of drifted or failed parts that explain every reading are looked for here.")),
		keyed.If(can && !s.Asked, keyed.El("p", keyed.Text("The smallest sets of drifted or failed parts with which the drawing gives every reading, one part first, then two. It takes some seconds.")),
			part.Presses(part.Press("", "Look for them", "circuit-suspects", ""))),
		keyed.If(can && s.Asked && len(s.Suspects) == 0, part.Note(say)),
		keyed.If(len(s.Suspects) > 0, keyed.El("ol", keyed.Class("list"), keyed.Each(s.Suspects, func(x suspect) keyed.Node {
			return keyed.Row("li", "suspect-"+slug(x.Say), keyed.Class("line bench-row"),
				keyed.El("span", keyed.Class("grow"), keyed.El("b", keyed.Text(strings.Join(x.Refs, " and "))), keyed.El("br"), keyed.Text(x.Say),
					keyed.If(x.Also != "", keyed.El("br"), keyed.El("span", keyed.Class("soft small"), keyed.Text("The chart cannot tell it from "+x.Also+".")))))
		})), part.Note("A set explains the readings; it proves nothing. Measure the part, out of circuit where needed, before it is called bad.")))
}

// spreadsCard is the table of what is assumed of parts, tubes and windings,
// each amount with its source, to be changed as keys of the shop sheet.
func spreadsCard(m app.Model, s sight) keyed.Node {
	if len(s.Spreads) == 0 {
		return keyed.Row("section", "spreads", part.Empty("No spreads yet", "How far a part may be from its marking, and a tube from its type, is assumed wherever nobody measured it. The amounts stand here once a circuit is worked out.", "", keyed.Item{}))
	}
	_, wrong := circuit.ReadSpreads(func(key string) (value, source string, ok bool) {
		e, ok := m.Open.Books.Sheet.Get(key)
		return e.Value, e.Source, ok
	})
	return keyed.Row("section", "spreads", keyed.Class("card stack"), keyed.El("h2", keyed.Text("What is assumed of parts nobody measured?")),
		keyed.El("p", keyed.Text("Every figure worked out through the circuit rests on these where a part or tube was not read. A wider spread makes a wider band and a more careful verdict. An amount of yours brings its own source.")),
		keyed.If(m.Shop.Demo, samplesNote(m)),
		keyed.El("div", keyed.Class("spread-line spread-head"), keyed.Attr("aria-hidden", "true"),
			keyed.El("span", keyed.El("span", keyed.Text("What")), keyed.El("span", keyed.Text("Amount"))), keyed.El("span", keyed.Text("Source"))),
		keyed.El("div", keyed.Class("spread-lines"), keyed.Each(s.Spreads, func(r circuit.SpreadRow) keyed.Node { return spreadRow(m, r, wrong) })))
}

func samplesNote(m app.Model) keyed.Item {
	return keyed.El("div", keyed.Class("line"), part.Note("These stand in the sample books. Make the books yours to change them."), part.Press("", "Make these mine", "books-own", ""))
}

// spreadRow is one assumption: its amount and its source.
func spreadRow(m app.Model, r circuit.SpreadRow, wrong []unit.Problem) keyed.Node {
	key := r.Key
	id := slug(key)
	e, _ := m.Open.Books.Sheet.Get(key)
	off := m.Shop.Demo || m.ReadOnly() != ""
	value := part.Field{ID: "spread-" + id, Label: capital(r.Says), Act: "sheet-value", For: key, Value: m.Draft("sheet-value", key, "", spreadText(r)), Off: off, Number: true, Unit: spreadUnit(r)}
	source := part.Field{ID: "spread-source-" + id, Label: "Source, " + r.Says, Act: "sheet-source", For: key, Value: m.Draft("sheet-source", key, "", r.Source), Off: off || e.Value == ""}
	for _, p := range wrong {
		if p.Column == key {
			value.Value, value.Problem = m.Draft("sheet-value", key, "", e.Value), "not used; it takes "+p.Hint
		}
	}
	return keyed.Row("div", "spread-line-"+id, keyed.Class("spread-line"), keyed.Attr("role", "group"), keyed.Attr("aria-label", capital(r.Says)), value.Item(), source.Item())
}

func spreadUnit(r circuit.SpreadRow) string {
	if r.Volts {
		return "± V"
	}
	return "± %"
}

// spreadText is the amount as one types it: percent, or volts.
func spreadText(r circuit.SpreadRow) string {
	v := r.Amount * 100
	if r.Volts {
		v = r.Amount
	}
	return strconv.FormatFloat(round6(v), 'f', -1, 64)
}

// round6 takes away what is a hair's breadth of binary fractions.
func round6(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', 6, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// throughCircuit stands with a verdict the circuit has a part in: what would
// settle it, and the way to what it assumes.
func throughCircuit(what string, j rating.Judgment) keyed.Item {
	return keyed.Several(
		keyed.If(j.ToSettle != "" && j.Kind != rating.Within && !strings.Contains(j.Reason(), j.ToSettle), keyed.El("p", keyed.Class("small"), keyed.Text("To settle it: "+j.ToSettle+"."))),
		keyed.If(j.Unsolved != "", keyed.El("p", keyed.Class("soft small"), keyed.Text("The amp's own circuit does not answer: "+j.Unsolved+"."))),
		keyed.If(j.Tier > 0, assumes(what)))
}

func assumes(what string) keyed.Item {
	return keyed.El("div", keyed.Class("line through"), keyed.El("span", keyed.Class("soft small"), keyed.Text("by the amp's own circuit")),
		part.Press("quiet", "What is assumed", "circuit-spreads", "", keyed.Attr("aria-label", "What is assumed for "+what)))
}

// bandWords is a band in the unit of the trade: "11.4 to 12.4 W".
func bandWords(iv unit.Interval, u unit.Unit) string {
	return strings.Replace(unit.FormatInterval(iv, u, -1), "–", " to ", 1)
}
