package view

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

func benchReadingsView(m app.Model) []keyed.Node {
	nodes := []keyed.Node{
		keyed.Row("div", "readings-head", part.Question("What do you read?", "Clip on with the power off, read by looking, enter afterward.")),
		cautionNodes(m), triageRow(m), stepsRow(m), readingForm(m),
	}
	nodes = append(nodes, charts(m)...)
	return append(nodes, checksRow(m), unplacedRow(m))
}

// stepsRow is the fixed order of the chart.
func stepsRow(m app.Model) keyed.Node {
	steps := m.Steps()
	if len(steps) == 0 {
		return keyed.Row("div", "reading-steps", part.Empty("No order yet", "Once the parts are listed, the chart is asked for in a fixed order. Until then name the place yourself: a node, or a part and its electrode.", "B1, or V3:plate",
			part.Press("", "List what stands where", "bench-part", benchParts)))
	}
	var items []keyed.Item
	for _, s := range steps {
		note := s.Done
		if note == "" {
			note = joined(", ", s.Quantity, s.State)
		}
		on := s.At == m.Screen.Entry.At && s.Quantity == m.Screen.Entry.Quantity
		items = append(items, doChip("entry-step", s.At, s.Quantity, "", s.At, note, on, keyed.Attr("title", s.Say)))
	}
	return keyed.Row("div", "reading-steps", labeled("In order", group("Places in the order of the chart", "chips bench-steps", items...)))
}

func readingForm(m app.Model) keyed.Node {
	n := m.Screen.Entry
	entry := func(name, label, value string) part.Field {
		return part.Field{ID: "reading-" + name, Label: label, Value: value, Act: "entry", For: name, Name: name}
	}
	at := entry("at", "Where", n.At)
	at.Hint = orWords(placeWords(m, n), "B1, V3:plate, HT")
	value := entry("value", "Reads", n.Value)
	value.Big, value.Number, value.Unit, value.K = true, true, n.Unit, nth("reading", len(m.Open.Job.Amp.Readings))
	return keyed.Row("form", "reading-form", keyed.Class("card stack"), keyed.Do("reading", ""), keyed.Attr("aria-label", "One reading"),
		at.Item(), quantityChips(n),
		keyed.El("div", keyed.Class("bench-reads"), anew(nth("reading", len(m.Open.Job.Amp.Readings)), value.Item()), unitChips(n)),
		mainsEntry(m, n), stateChips(m, n),
		ask(m, "reading-anyway", m.EntryReads()),
		keyed.El("div", keyed.Class("line"), send("Keep the reading"), keyed.El("span", keyed.Class("soft"), keyed.Text(stateWords(n)))),
		more1("Meter error of this reading", meterField(entry, n)),
		hidden("reading-quantity", "quantity", n.Quantity), hidden("reading-unit", "unit", n.Unit), hidden("reading-state", "state", n.State))
}

// stateWords says beside the button how the amp is said to stand.
func stateWords(n app.Entry) string {
	if n.State == "" {
		return "kept as an ordinary reading"
	}
	return "kept as " + strings.Join(strings.Fields(n.State), ", ")
}

func meterField(entry func(name, label, value string) part.Field, n app.Entry) keyed.Item {
	f := entry("meter_percent", "Error", n.Meter)
	f.Unit, f.Number, f.Hint = "%", true, "empty takes the shop's"
	return f.Item()
}

func hidden(id, name, value string) keyed.Item {
	return keyed.El("input", keyed.Attr("type", "hidden"), keyed.ID(id), keyed.Attr("name", name), keyed.Value(value))
}

// placeWords says which part the reading is taken at.
func placeWords(m app.Model, n app.Entry) string {
	for _, s := range m.Steps() {
		if s.At == n.At && s.Quantity == n.Quantity {
			return s.Say
		}
	}
	return ""
}

func quantityChips(n app.Entry) keyed.Item {
	var items []keyed.Item
	for _, q := range []struct{ v, say string }{{amp.Volts, "Volts DC"}, {amp.RMSVolts, "Volts AC"}, {amp.Current, "Current"}, {amp.Ohms, "Ohms"}, {amp.Shift, "Grid shift"}} {
		items = append(items, doChip("entry", "quantity", q.v, q.v, q.say, "", n.Quantity == q.v))
	}
	return group("What is read", "chips", items...)
}

func unitChips(n app.Entry) keyed.Item {
	var units []string
	switch n.Quantity {
	case amp.Current:
		units = []string{"mA", "µA", "A"}
	case amp.Ohms:
		units = []string{"Ω", "kΩ", "MΩ"}
	default:
		units = []string{"V", "mV"}
	}
	var items []keyed.Item
	for _, u := range units {
		items = append(items, doChip("entry", "unit", u, u, u, "", n.Unit == u))
	}
	return group("Unit", "chips", items...)
}

// mainsEntry asks for the mains at that moment, with the last one at one tap.
func mainsEntry(m app.Model, n app.Entry) keyed.Item {
	if n.Quantity == amp.Ohms {
		return keyed.Several(part.Note("Ohms only with the power off and the filters discharged and measured: no mains is asked for."), hidden("reading-mains", "mains", n.Mains))
	}
	f := part.Field{ID: "reading-mains", Label: "Mains at that moment", Value: n.Mains, Act: "entry", For: "mains", Name: "mains", Unit: "V", Number: true}
	last := strings.TrimPrefix(amp.SameAsLast(m.Open.Job.Amp.Readings), "same as last: ")
	value := strings.TrimSuffix(last, " V")
	return keyed.El("div", keyed.Class("line"), keyed.El("div", keyed.Class("bench-mains"), f.Item()),
		keyed.If(last != "", doChip("entry", "mains", "last", value, "Same as last", last, n.Mains == value)))
}

func stateChips(m app.Model, n app.Entry) keyed.Item {
	have := strings.Fields(n.State)
	var items []keyed.Item
	for _, s := range []struct{ v, say string }{{amp.NoLoad, "No load"}, {amp.Lifted, "Couplers lifted"}, {amp.TubesOut, "Tubes out"}, {amp.Check, "Check"}, {amp.Highest, "Highest from cold"}, {amp.LimiterIn, "Limiter in"}, {amp.Standby, "Standby open"}, {amp.Final, "Final chart"}, {amp.Off, "Power off"}} {
		items = append(items, doChip("entry", "state", s.v, s.v, s.say, "", slices.Contains(have, s.v)))
	}
	return keyed.Several(labeled("How the amp stood", group("State of the amp", "chips", items...)), keyed.If(secondChart(m, n), part.Note("There is a chart at another mains already. A reading marked Check tests the predictions from it and starts none.")))
}

// secondChart is true where readings of the chart stand at another mains than
// the one entered, which is not marked as a check.
func secondChart(m app.Model, n app.Entry) bool {
	v, err := unit.Read(n.Mains, unit.Volt)
	if err != nil || v == 0 || strings.Contains(n.State, amp.Check) || n.Quantity == amp.Ohms {
		return false
	}
	return slices.ContainsFunc(m.Open.Job.Amp.Readings, func(r amp.Reading) bool {
		d := float64(r.Mains) - v
		return r.Mains > 0 && !r.Has(amp.Check) && (d > 0.5 || d < -0.5)
	})
}

// ask is the question about what was just entered. anyway is the act that
// keeps it all the same, where it can be read at all.
func ask(m app.Model, anyway string, may bool) keyed.Item {
	on := m.Screen.Ask != ""
	return keyed.El("div", keyed.ID("ask-"+anyway), keyed.Attr("role", "alert"), keyed.Class("bench-ask"), keyed.Flag("hidden", !on),
		keyed.El("p", keyed.Class("bench-asks"), keyed.Text(m.Screen.Ask)),
		keyed.If(anyway != "", part.Press("", "It is right: keep it", anyway, "", keyed.Flag("hidden", !may))))
}

// charts are the readings, one table for each mains they were taken at.
func charts(m app.Model) []keyed.Node {
	rs := m.Open.Job.Amp.Readings
	var order []unit.Voltage
	for _, r := range rs {
		if !slices.Contains(order, r.Mains) {
			order = append(order, r.Mains)
		}
	}
	cols := []part.Col{{Say: "Where", Wide: true}, {Say: "Reads", Num: true}, {Say: "How"}, {Say: "Change"}}
	var out []keyed.Node
	for _, v := range order {
		var rows []keyed.Node
		for _, r := range rs {
			if r.Mains == v {
				rows = append(rows, part.TR("reading-"+r.ID, cols, readingCells(r)...))
			}
		}
		say := "Power off"
		if v > 0 {
			say = "At " + unit.FormatAmount(float64(v), unit.Volt, 1) + " mains"
		}
		out = append(out, keyed.Row("section", "chart-"+volts(v), part.Table(say, cols, keyed.Nodes(rows...), keyed.Item{})))
	}
	return out
}

func readingCells(r amp.Reading) []keyed.Item {
	return []keyed.Item{
		keyed.El("span", keyed.El("b", keyed.Text(r.At)), keyed.El("span", keyed.Class("soft small"), keyed.Text(" "+r.Quantity))),
		keyed.El("b", keyed.Class("lead"), keyed.Text(asRead(r))),
		keyed.El("span", keyed.Class("small"), keyed.Text(strings.Join(r.State, ", "))),
		part.Press("quiet", "Remove", "remove", r.ID, keyed.Attr("data-k", job.KindReading), keyed.Attr("aria-label", "Remove the reading of "+r.At)),
	}
}

// asRead is a reading with the figures it was written with.
func asRead(r amp.Reading) string { return app.AsRead(r) }

// checksRow holds the predictions against the check readings.
func checksRow(m app.Model) keyed.Node {
	checks := m.Open.Result.Checks
	if len(checks) == 0 {
		return keyed.Row("section", "checks")
	}
	cols := []part.Col{{Say: "Figure", Wide: true}, {Say: "Predicted", Num: true}, {Say: "Read", Num: true}, {Say: "Holds"}}
	var rows []keyed.Node
	for _, c := range checks {
		k := strings.ReplaceAll(fmt.Sprintf("check/%s/%s/%s", c.Subject, c.Quantity, volts(c.Mains)), " ", "-")
		key := m.Screen.Whys.Put(k, c.Node)
		predicted := unit.Quantity{Amount: c.Expected, Unit: c.Unit}.String()
		if c.High > c.Low {
			predicted = unit.Quantity{Amount: c.Low, Unit: c.Unit}.String() + " to " + unit.Quantity{Amount: c.High, Unit: c.Unit}.String()
		}
		mark, word := draw.Within, "agrees"
		if !c.Agrees {
			mark, word = draw.NotProven, "does not agree: not proven"
		}
		rows = append(rows, part.TR(k, cols,
			keyed.El("span", keyed.Text(c.Subject+" "+string(c.Quantity)+" at "+volts(c.Mains)+" V")), part.Why(key, predicted),
			keyed.El("span", keyed.Text(unit.Quantity{Amount: c.Measured, Unit: c.Unit}.String())), part.Verdict(mark, word)))
	}
	return keyed.Row("section", "checks", part.Table("Predictions held against check readings", cols, keyed.Nodes(rows...), keyed.Item{}))
}

// unplacedRow names readings at places no part stands on.
func unplacedRow(m app.Model) keyed.Node {
	if len(m.Positions()) == 0 {
		return keyed.Row("div", "unplaced")
	}
	ps := amp.Unplaced(m.Positions(), m.Open.Job.Amp.Readings)
	return keyed.Row("div", "unplaced", keyed.If(len(ps) > 0, keyed.El("ul", keyed.Class("bench-wrong"), keyed.Map(ps, func(p unit.Problem) keyed.Item {
		return keyed.El("li", keyed.Text(p.Error()))
	}))))
}
