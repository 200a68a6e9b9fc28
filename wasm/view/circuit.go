package view

import (
	"strings"

	"lugworth/core/amp"
	"lugworth/core/circuit"
	"lugworth/core/job"
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
