package view

import (
	"strings"

	"lugworth/core/circuit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

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
