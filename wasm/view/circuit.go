package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/job"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// circuitLeaf is the amp's own circuit: drawn, row by row, held against its
// chart, and what is assumed of its parts.
func circuitLeaf(m app.Model) []keyed.Node {
	s := sightOf(m)
	switch m.Screen.Circuit.Place {
	case "", app.CircuitDrawing:
		s = s.drawn(m)
	case app.CircuitChart:
		s = s.charted(m)
	}
	return circuitView(m, s)
}

func circuitView(m app.Model, s sight) []keyed.Node {
	place := m.Screen.Circuit.Place
	if len(m.Positions()) == 0 && place != app.CircuitSpreads {
		place = app.CircuitRows
	}
	nodes := []keyed.Node{keyed.Row("section", "circuit", part.Question("What does the amp's own circuit say?", circuitUnder(m, s)),
		circuitPlaces(m, s, place)), circuitWrong(s, place == app.CircuitRows)}
	switch place {
	case app.CircuitRows:
		return append(nodes, circuitRows(m)...)
	case app.CircuitChart:
		return append(nodes, circuitChart(m, s)...)
	case app.CircuitSpreads:
		return append(nodes, spreadsCard(m, s))
	}
	return append(nodes, drawing(m, s)...)
}

// circuitUnder says in one line what the figures rest on.
func circuitUnder(m app.Model, s sight) string {
	switch {
	case len(m.Positions()) == 0:
		return "Nothing yet: it has no circuit sheet. Verdicts go by readings scaled with the mains."
	case s.Missing != "":
		return "Not worked out: " + s.Missing + ". Verdicts go by readings scaled with the mains."
	case s.Mains == 0:
		return "Worked out from the sheet alone: no reading matches it to this amp."
	}
	agree, all := 0, 0
	for _, r := range s.Residuals {
		if r.Agrees || against(r) {
			all++
		}
		if r.Agrees {
			agree++
		}
	}
	say := "Matched to the chart at " + volts(s.Mains) + " V mains: " + itoa(agree) + " of " + count(all, "reading") + " agree."
	return joined(" ", say, sentence(s.Doubt))
}

func circuitPlaces(m app.Model, s sight, open string) keyed.Item {
	if open == "" {
		open = app.CircuitDrawing
	}
	return part.Chips("Views of the circuit", "circuit-place", "", open,
		part.Chip{Value: app.CircuitDrawing, Say: "Drawing"},
		part.Chip{Value: app.CircuitRows, Say: "Sheet", Note: count(len(m.Positions()), "row")},
		part.Chip{Value: app.CircuitChart, Say: "Chart", Note: chartNote(s)},
		part.Chip{Value: app.CircuitSpreads, Say: "Spreads", Note: "what is assumed"})
}

func chartNote(s sight) string {
	n := 0
	for _, r := range s.Residuals {
		if against(r) {
			n++
		}
	}
	if n > 0 {
		return itoa(n) + " against it"
	}
	if len(s.Next) > 0 {
		return count(len(s.Next), "place") + " to read"
	}
	return "held against it"
}

// circuitWrong says what is wrong or floating, each in a sentence: all of it
// beside the sheet, folded elsewhere.
func circuitWrong(s sight, open bool) keyed.Node {
	var stops, rest []string
	for _, r := range s.Wrong {
		if r.Severity == circuit.Stops {
			stops = append(stops, ended(r.Say))
		} else {
			rest = append(rest, ended(r.Say))
		}
	}
	list := func(class string, all []string) keyed.Item {
		return keyed.El("ul", keyed.Class(class), keyed.Map(all, func(say string) keyed.Item { return keyed.El("li", keyed.Text(say)) }))
	}
	key, say := "circuit-wrong", "What keeps the circuit from being worked out: "+count(len(stops), "thing")
	if open {
		key += "-open"
	}
	return keyed.Row("section", key, keyed.Class("stack"),
		keyed.If(len(stops) > 0, keyed.El("details", keyed.Class("more"), keyed.If(open, keyed.Attr("open", "")), keyed.El("summary", keyed.Text(say)),
			keyed.El("div", keyed.Class("more-in stack"), list("plan-problems", stops), part.Note("Until that is settled the verdicts stay with the readings, scaled by the mains.")))),
		keyed.If(len(rest) > 0, more1(count(len(rest), "remark")+" on the sheet", list("remarks", rest))))
}

// ended is a sentence, whatever sign it ends with already.
func ended(s string) string {
	if strings.HasSuffix(s, "?") || strings.HasSuffix(s, ".") {
		return capital(s)
	}
	return sentence(s)
}

// drawing is the circuit as pictures, and the same as a table.
func drawing(m app.Model, s sight) []keyed.Node {
	stages := circuitStages(m.Positions(), s.Volts)
	return []keyed.Node{
		keyed.Row("div", "stages-say", keyed.Class("stages-say"), part.Note(drawnSays(s))),
		keyed.Row("div", "stages", keyed.Class("stages"), keyed.Each(stages, func(d draw.Stage) keyed.Node {
			return keyed.Row("section", "stage-"+slug(d.Subject), keyed.Class("card stage"), keyed.El("h2", keyed.Text(d.Subject)), keyed.El("div", keyed.Class("pic pic-wide"), keyed.Raw(draw.NodePicture(d))))
		})),
		nodesTable(stages),
	}
}

func drawnSays(s sight) string {
	say := "Each plate is a node: what was read there"
	if s.Missing == "" {
		say += ", what the matched circuit gives at that mains, and the most it comes to at either end of the owner's range and at switch-on"
	}
	return say + ". Beside it stand the parts on it, with the node each leads to; a heavy stroke and 0 is the chassis."
}

// nodesTable is what the pictures say, as a list.
func nodesTable(stages []draw.Stage) keyed.Node {
	cols := []part.Col{{Say: "Node"}, {Say: "Read", Num: true}, {Say: "Expected", Num: true}, {Say: "Worst", Num: true}, {Say: "On it", Wide: true}}
	var rows []keyed.Node
	seen := map[string]bool{}
	for _, d := range stages {
		for _, n := range d.Nodes {
			if n.Plain || seen[n.Name] {
				continue
			}
			seen[n.Name] = true
			rows = append(rows, part.TR("node-"+slug(n.Name), cols, keyed.El("b", keyed.Text(n.Name)), keyed.Text(n.Read), keyed.Text(n.Expected), keyed.Text(n.Worst), keyed.Text(onNode(d, n))))
		}
	}
	return keyed.Row("section", "nodes-list", more1("The same as a list", part.Table("Nodes of the circuit", cols, keyed.Nodes(rows...), keyed.Item{})))
}

func onNode(d draw.Stage, n draw.NodeBox) string {
	var out []string
	if n.Pin != "" {
		ref, _, _ := strings.Cut(d.Subject, " ")
		out = append(out, ref+" "+n.Pin)
	}
	if n.Link != "" {
		out = append(out, "fed by "+n.Link)
	}
	for _, p := range n.Parts {
		say := p.Say
		if p.Shape != draw.Remark {
			say += " to " + orWords(p.To, "the chassis")
		}
		out = append(out, say)
	}
	return joined("; ", append(out, n.Wrong)...)
}

// circuitRows is the sheet as it stands, and the two ways to make it grow.
func circuitRows(m app.Model) []keyed.Node {
	ps := m.Positions()
	nodes := []keyed.Node{keyed.Row("section", "sheet-load", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Load a circuit sheet")),
		keyed.El("p", keyed.Text("A CSV file with the columns ref, kind, type, value, rating, tolerance, nodes, place, note and extra. A row whose ref is here already takes its place; rows the file does not name stay.")),
		keyed.El("p", keyed.Class("example"), keyed.Text("R20,resistor,,250,5W,10%,a=K b=0,output cathodes,,role=cathode-resistor")),
		part.Presses(part.Press(mainWhen(len(ps) == 0), "Choose the file", "sheet-file", "", keyed.Flag("disabled", m.ReadOnly() != ""))))}
	nodes = append(nodes, blockForms(m)...)
	if len(ps) == 0 {
		return nodes
	}
	cols := []part.Col{{Say: "Ref"}, {Say: "What it is", Wide: true}, {Say: "Stands on"}, {Say: "More"}, {Say: "Change"}}
	var rows []keyed.Node
	for i := range ps {
		p := &ps[i]
		rows = append(rows, part.TR("row-"+slug(p.Ref), cols, keyed.El("b", keyed.Text(p.Ref)), keyed.Text(joined(", ", joined(" ", p.Kind, p.Type), joined(" ", p.Value, p.Rating, p.Tolerance), string(p.Role))),
			keyed.Text(nodesSay(p)), keyed.Text(moreSay(p)),
			part.Press("quiet", "Remove", "remove", p.Ref, keyed.Attr("data-k", job.KindPosition), keyed.Attr("aria-label", "Remove row "+p.Ref))))
	}
	return append(nodes, keyed.Row("section", "sheet-rows", keyed.Class("card"), part.Table("Rows of the circuit sheet", cols, keyed.Nodes(rows...), keyed.Item{})))
}

func mainWhen(on bool) string {
	if on {
		return "main"
	}
	return ""
}

func nodesSay(p *amp.Position) string {
	var out []string
	for _, n := range p.Nodes {
		out = append(out, n.Role+"="+n.Name)
	}
	return orWords(strings.Join(out, " "), "no node: takes no part")
}

func moreSay(p *amp.Position) string {
	return joined("; ", append([]string{amp.PositionFields(*p)["extra"], p.Note}, p.Remarks...)...)
}

// blockForms are the choice of a stage block and its form.
func blockForms(m app.Model) []keyed.Node {
	b := m.Block()
	var options []keyed.Option
	for _, o := range circuit.Blocks() {
		options = append(options, keyed.Option{Value: o.Name, Say: o.Name})
	}
	choose := part.Field{ID: "block-choose", Label: "Stage", Value: b.Name, Act: "block-choose", Options: options, Hint: b.Says}
	need, own := blockFields(m, b)
	key := slug(b.Name) + "-" + itoa(len(m.Positions()))
	return []keyed.Node{
		keyed.Row("section", "block-pick", keyed.Class("card stack"), keyed.El("h2", keyed.Text("Add a stage")),
			keyed.El("p", keyed.Text("A stage brings its usual parts. Stages join where they name the same node; the chassis is 0.")), choose.Item()),
		keyed.Row("form", "block-form-"+key, keyed.Class("card stack"), keyed.Do("block-add", b.Name), keyed.Attr("aria-label", "Add a stage: "+b.Name),
			keyed.El("h3", keyed.Text(b.Name)), part.Note(nodesSoFar(m)), fields(need...),
			keyed.If(len(own) > 0, more1("Values: where empty, the usual one", keyed.El("p", keyed.Text("A usual value is not this amp's. The row's note says where it was taken, and its tolerance counts.")), fields(own...))),
			keyed.El("div", keyed.Attr("role", "alert"), keyed.If(len(m.Screen.Circuit.Wrong) > 0, keyed.El("ul", keyed.Class("bench-wrong"),
				keyed.Map(m.Screen.Circuit.Wrong, func(w string) keyed.Item { return keyed.El("li", keyed.Text(w)) })))),
			part.Presses(send("Add the stage"))),
	}
}

// nodesSoFar names the nodes a stage may join.
func nodesSoFar(m app.Model) string {
	l := layout{ps: m.Positions()}
	l.gather()
	if len(l.nodes) == 0 {
		return "The first stage: no node has a name yet."
	}
	return "Nodes so far: " + strings.Join(l.nodes, " ") + "."
}

// blockFields are the blanks of a block: those that join it to others, and
// must be looked at, apart from the values that have a usual one.
func blockFields(m app.Model, b circuit.Block) (need, own []part.Field) {
	prefix := part.Field{ID: "block-prefix", Label: "Number in the names of its parts", Value: m.Draft("draft", "block", "prefix", m.BlockPrefix()), Act: "draft", For: "block", K: "prefix", Name: "prefix"}
	need = append(need, prefix)
	for _, p := range b.Params {
		f := part.Field{ID: "block-" + slug(p.Key), Label: capital(p.Says), Value: m.Draft("draft", "block", p.Key, ""), Act: "draft", For: "block", K: p.Key, Name: "p:" + p.Key}
		if p.Start != "" {
			f.Hint = "empty: " + strings.ReplaceAll(p.Start, "#", prefix.Value)
		}
		if p.Sort == circuit.OneWord {
			f.Hint = ""
			for _, o := range p.Of {
				f.Options = append(f.Options, keyed.Option{Value: o, Say: o})
			}
			if f.Value == "" {
				f.Value = p.Start
			}
		}
		if p.Start == "" || p.Sort != circuit.PartValue {
			need = append(need, f)
			continue
		}
		own = append(own, f)
	}
	return need, own
}

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
