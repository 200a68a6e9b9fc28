package view

import (
	"strings"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

func benchPartsView(m app.Model) []keyed.Node {
	ps := m.Positions()
	nodes := []keyed.Node{keyed.Row("div", "parts-head",
		part.Question("What stands where?", "The parts that verdicts rest on: windings, rectifier, filters, output tubes and what sets their bias, couplers, fuse."),
		part.Presses(part.Press("main", "Bring files", "open-file", "")),
		part.Note("A circuit sheet is named sheet.csv, a chart readings.csv; a price list may have any other name."))}
	if len(ps) == 0 {
		nodes = append(nodes, keyed.Row("div", "parts-none", part.Empty("No parts listed yet",
			"Bring the circuit as sheet.csv, or add the parts one by one. Nodes name what each lead stands on; the chassis is 0. Two parts on one node have the same name there.",
			"C1a, electrolytic, 20uF, 450V, plus=B1 minus=0, reservoir", keyed.Item{})))
	}
	rows := make([]keyed.Node, 0, len(ps))
	for i := range ps {
		rows = append(rows, positionRow(&ps[i]))
	}
	return append(nodes, positionForm(m), keyed.Row("ul", "positions", keyed.Class("list"), keyed.Nodes(rows...)))
}

func positionRow(p *amp.Position) keyed.Node {
	var nodes []string
	for _, n := range p.Nodes {
		nodes = append(nodes, n.Role+"="+n.Name)
	}
	return keyed.Row("li", "position-"+p.Ref, keyed.Class("line bench-row"),
		keyed.El("span", keyed.Class("ref"), keyed.Text(p.Ref)),
		keyed.El("span", keyed.Class("grow"), keyed.Text(joined(" · ", joined(" ", p.Type, p.Value, p.Rating, p.Kind), string(p.Role), p.Place)), keyed.El("br"),
			keyed.El("span", keyed.Class("soft small"), keyed.Text(strings.Join(nodes, "  ")))),
		keyed.Map(p.Remarks, part.Note),
		part.Press("quiet", "Remove", "remove", p.Ref, keyed.Attr("data-k", job.KindPosition), keyed.Attr("aria-label", "Remove "+p.Ref)))
}

// kindFirst are the kinds asked for most, put first in the list.
var kindFirst = []string{"electrolytic", "resistor", "film capacitor", "paper capacitor", "capacitor", "beam", "pentode", "triode", "rectifier", "winding", "fuse"}

func kindOptions() []keyed.Option {
	out := []keyed.Option{{Value: "", Say: "what kind?"}}
	seen := map[string]bool{}
	for _, k := range append(append([]string(nil), kindFirst...), amp.Kinds()...) {
		if !seen[k] {
			seen[k] = true
			out = append(out, keyed.Option{Value: k, Say: k})
		}
	}
	return out
}

func roleOptions() []keyed.Option {
	out := []keyed.Option{{Value: "", Say: "anything else"}}
	for _, r := range amp.Roles() {
		out = append(out, keyed.Option{Value: r, Say: r})
	}
	return out
}

func positionForm(m app.Model) keyed.Node {
	form := nth("position", len(m.Positions()))
	d := func(name, label, hint string) part.Field { return draft(m, form, name, label, hint) }
	kind := d("kind", "Kind", "")
	kind.Options = kindOptions()
	role := d("role", "What it does", "")
	role.Options = roleOptions()
	nodes := d("nodes", "Nodes", "a=B1 b=0")
	if leads := amp.Leads(kind.Value); len(leads) > 0 {
		nodes.Hint = strings.Join(leads, "=… ") + "=…; the chassis is 0"
	}
	return keyed.Row("form", "position-form", keyed.Class("card stack"), keyed.Do("position", ""), keyed.Attr("aria-label", "Add a part"),
		keyed.El("h2", keyed.Text("Add a part")),
		anew(form, fields(d("ref", "Name", "C1a"), kind, role),
			fields(d("value", "Value", valueHint(kind.Value)), d("rating", "Rating", "450V, 5W"), d("tolerance", "Tolerance", "10%")),
			fields(d("type", "Tube type", "6V6GT"), nodes, d("place", "Where", "can on the chassis")),
			fields(d("extra", "More, as key=value", extraHint(role.Value)), d("note", "Note", ""))),
		ask(m, "", false),
		part.Presses(send("Add the part")))
}

func valueHint(kind string) string {
	switch kind {
	case "winding":
		return "580: the volts across the whole of it"
	case "fuse":
		return "5A"
	case "resistor", "pot":
		return "250, 100k"
	}
	return "20uF, .02"
}

func extraHint(role string) string {
	if role == string(amp.LineFuse) {
		return "label=T2A: what the label asks for"
	}
	return "label=T2A on a fuse, matched=V4 on a tube"
}
