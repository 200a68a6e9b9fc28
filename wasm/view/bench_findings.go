package view

import (
	"slices"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/shop"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

func benchFindingsView(m app.Model) []keyed.Node {
	r := m.Open.Result
	nodes := []keyed.Node{keyed.Row("div", "findings-head", part.Question("What do you see?", "A few words are enough now; the rest can wait."),
		part.Presses(part.Press("main", "New finding", "finding-new", ""), photoPress("Photo first", "", "camera")))}
	if len(r.Findings) == 0 {
		nodes = append(nodes, keyed.Row("div", "findings-none", part.Empty("Nothing found yet",
			"One finding for each thing that is wrong: what was seen, where, and how soon it must be dealt with. Say whether you saw it or conclude it.",
			"two-core cord cracked, capacitor from mains to chassis leaks: must, observed", keyed.Item{})))
		return append(nodes, firstSteps(m)...)
	}
	rows := make([]keyed.Node, 0, len(r.Findings))
	for i := range r.Findings {
		rows = append(rows, findingRow(m, &r.Findings[i]))
	}
	return append(nodes, keyed.Row("div", "findings", keyed.Class("stack"), keyed.Nodes(rows...)))
}

// findingRow is one finding: a line, and when it is open all that is known.
func findingRow(m app.Model, f *job.FindingResult) keyed.Node {
	id := f.Finding.ID
	open := m.Screen.Finding == id
	target := id
	if open {
		target = ""
	}
	var body []keyed.Node
	if open {
		body = findingBody(m, f)
	}
	return keyed.Row("section", "finding-"+id, keyed.LiveClass("bench-finding"+openClass(open)),
		keyed.El("h2", keyed.Class("bench-finding-head"), keyed.El("button", keyed.ID("finding-open-"+id), keyed.Attr("type", "button"), keyed.Class("item"),
			keyed.Attr("data-act", "finding-open"), keyed.Live("data-id", target), keyed.Live("aria-expanded", pressedWord(open)),
			keyed.El("span", keyed.Class("ref"), keyed.Text(id)),
			keyed.El("span", keyed.Class("item-say"), keyed.Text(orWords(string(f.Finding.Seen), "not described yet"))),
			keyed.El("span", keyed.Class("soft small"), keyed.Text(findingNote(f))))),
		keyed.Nodes(body...))
}

func openClass(open bool) string {
	if open {
		return " is-open"
	}
	return ""
}

func orWords(s, other string) string {
	if strings.TrimSpace(s) == "" {
		return other
	}
	return s
}

// findingNote is the pile and the basis, or what is still wanted.
func findingNote(f *job.FindingResult) string {
	note := joined(", ", orWords(string(f.Finding.Pile), "not sorted"), string(f.Finding.Basis))
	if len(f.Options) == 0 {
		return note + ", no work yet"
	}
	return note + ", " + count(len(f.Options), "way")
}

func findingBody(m app.Model, res *job.FindingResult) []keyed.Node {
	f := res.Finding
	id := f.ID
	seen := field(m, id, "finding/seen", "What is seen", string(f.Seen))
	seen.ID, seen.Lines = "finding-seen-"+id, 3
	place := field(m, id, "finding/place", "Where", string(f.Place))
	place.Hint = "can on the chassis"
	no := field(m, id, "finding/no", "If the owner says no", string(f.No))
	no.Lines, no.Hint = 2, "One sentence the owner understands."
	weight := field(m, id, "finding/value", "Weight", string(f.Value))
	weight.Number, weight.Hint = true, "0 to 1000: how much it is worth doing, for choosing under a ceiling"
	nodes := []keyed.Node{
		keyed.Row("div", "finding-words-"+id, keyed.Class("stack bench-body"),
			noteWhen(len(res.Lacks) > 0, "Still wanted: "+strings.Join(res.Lacks, "; ")+"."),
			seen.Item(), place.Item(),
			setChips("How soon", id, "finding/pile", string(f.Pile), part.Chip{Value: string(shop.Must), Say: "Must"}, part.Chip{Value: string(shop.Should), Say: "Should"}, part.Chip{Value: string(shop.Could), Say: "Could"}),
			noteWhen(res.Pile() == shop.Must && f.Pile != shop.Must, "The figures call for must: a leaking coupler is one, whatever was entered."),
			setChips("Seen or concluded", id, "finding/basis", string(f.Basis), part.Chip{Value: string(finding.Observed), Say: "Observed"}, part.Chip{Value: string(finding.Inferred), Say: "Inferred"}),
			no.Item()),
		keyed.Row("div", "finding-photos-"+id, keyed.Class("stack bench-body"), findingPhotos(m, id)),
		keyed.Row("div", "finding-figures-"+id, keyed.Class("stack bench-body"), figures(m, res)),
		keyed.Row("div", "finding-work-"+id, keyed.Class("stack bench-body"), findingWork(m, res)),
		keyed.Row("div", "finding-more-"+id, keyed.Class("stack bench-body"),
			more1(positionsSummary(f), positionChips(m, f)),
			more1("Cause, weight, earlier work", causeField(m, f), weight.Item(),
				field(m, id, "finding/earlier", "Earlier work found", string(f.Earlier)).Item(),
				field(m, id, "finding/code", "Date code on the part", string(f.Code)).Item(),
				field(m, id, "finding/hazard", "Hazard of the material", string(f.Hazard)).Item()),
			more1("Work out a leak from a grid shift", leakForm(m, f)),
			more1("Work out a drift from its marking", driftForm(m, f)),
			part.Presses(part.Press("quiet", "Remove finding "+id, "remove", id, keyed.Attr("data-k", job.KindFinding)))),
	}
	return nodes
}

func positionsSummary(f finding.Finding) string {
	if len(f.Positions) == 0 {
		return "Which parts of the amp?"
	}
	return "Parts of the amp: " + strings.Join(f.Positions, " ")
}

func positionChips(m app.Model, f finding.Finding) keyed.Item {
	ps := m.Positions()
	if len(ps) == 0 {
		return keyed.Several(part.Note("No parts are listed yet. With them the work can be judged: bring a circuit sheet, or add the parts that matter."),
			part.Press("", "List what stands where", "bench-part", benchParts))
	}
	var items []keyed.Item
	for _, p := range ps {
		items = append(items, doChip("finding-position", f.ID, p.Ref, "", p.Ref, joined(" ", p.Type, p.Value, p.Place), slices.Contains(f.Positions, p.Ref)))
	}
	return group("Parts of finding "+f.ID, "chips", items...)
}

func causeField(m app.Model, f finding.Finding) keyed.Item {
	c := field(m, f.ID, "finding/cause", "Caused by", f.Cause)
	c.Options = []keyed.Option{{Value: "", Say: "nothing else found"}}
	for _, other := range m.Open.Job.Findings {
		if other.ID != f.ID {
			c.Options = append(c.Options, keyed.Option{Value: other.ID, Say: joined(" ", other.ID, string(other.Seen))})
		}
	}
	c.Hint = "Where the cause is dealt with, this closes with it and is not paid for twice."
	return c.Item()
}

func leakForm(m app.Model, f finding.Finding) keyed.Item {
	form, last := nth("leak-"+f.ID, len(f.Leak)), finding.Leak{}
	if n := len(f.Leak); n > 0 {
		last = f.Leak[n-1]
	}
	shift := draft(m, form, "shift", "Grid shift", "volts that come with the capacitor")
	shift.Unit, shift.Number = "V", true
	source := draft(m, form, "source", "Volts behind it", "300")
	source.Unit, source.Number, source.Value = "V", true, m.Draft("draft", form, "source", string(last.Source))
	grid := draft(m, form, "grid_leak", "Grid leak", "220k")
	grid.Value = m.Draft("draft", form, "grid_leak", string(last.GridLeak))
	var drop []keyed.Node
	for i, l := range f.Leak {
		drop = append(drop, dropRow("finding-leak-drop", f.ID, i, joined(" ", l.At, string(l.Shift)+" V")))
	}
	return keyed.Several(keyed.El("form", keyed.ID("form-leak-"+f.ID), keyed.Class("stack"), keyed.Do("finding-leak", f.ID),
		anew(form, fields(placeField(m, form, "Capacitor", func(p amp.Position) bool { return p.Role == amp.Coupler }), shift, grid, source)),
		send("Work out the leak")), keyed.El("div", keyed.Class("presses"), keyed.Nodes(drop...)))
}

func driftForm(m app.Model, f finding.Finding) keyed.Item {
	d := finding.Drift{}
	if f.Drift != nil {
		d = *f.Drift
	}
	form := nth("drift-"+f.ID, len(d.Reads))
	with := func(name, label, hint, value string) part.Field {
		x := draft(m, form, name, label, hint)
		x.Value = m.Draft("draft", form, name, value)
		return x
	}
	meter := with("meter_percent", "Meter error", "empty takes the shop's", string(d.MeterPercent))
	meter.Unit, meter.Number = "%", true
	var drop []keyed.Node
	for i, r := range d.Reads {
		drop = append(drop, dropRow("finding-drift-drop", f.ID, i, joined(" ", r.At, string(r.Value))))
	}
	return keyed.Several(keyed.El("form", keyed.ID("form-drift-"+f.ID), keyed.Class("stack"), keyed.Do("finding-drift", f.ID),
		anew(form, fields(with("marked", "Marked", "100k", string(d.Marked)), with("tolerance", "Tolerance", "10%", string(d.Tolerance)), meter),
			fields(placeField(m, form, "Part", func(p amp.Position) bool { return slices.Contains(f.Positions, p.Ref) }), draft(m, form, "value", "Reads now", "124k"))),
		send("Hold it against its marking")), keyed.El("div", keyed.Class("presses"), keyed.Nodes(drop...)))
}

// dropRow takes one figure out of a finding. A row of its own, so that the
// form around it stays open.
func dropRow(act, id string, i int, say string) keyed.Node {
	return keyed.Row("span", act+"-"+id+"-"+itoa(i), part.Press("quiet", "Remove "+say, act, id, keyed.Attr("data-k", itoa(i))))
}

// placeField names a position: a choice where some fit, else a text.
func placeField(m app.Model, form, label string, fits func(amp.Position) bool) part.Field {
	f := draft(m, form, "at", label, "")
	var options []keyed.Option
	for _, p := range m.Positions() {
		if fits(p) {
			options = append(options, keyed.Option{Value: p.Ref, Say: joined(" ", p.Ref, p.Value, p.Place)})
		}
	}
	if len(options) > 0 {
		f.Options = append([]keyed.Option{{Value: "", Say: "which?"}}, options...)
	} else {
		f.Hint = "C5"
	}
	return f
}
