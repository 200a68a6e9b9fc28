package view

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/core/shop"
	"lugworth/core/sorted"
	"lugworth/core/unit"
	"lugworth/core/why"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// figures are what was worked out of a finding, each with its reason.
func figures(m app.Model, r *job.FindingResult) keyed.Item {
	id := r.Finding.ID
	var items []keyed.Item
	line := func(k, name, figure, say string, n *why.Node) {
		value := keyed.El("b", keyed.Text(figure))
		if key := m.Screen.Whys.Put("finding/"+id+"/"+k, n); key != "" {
			value = part.Why(key, figure, keyed.ID("why-"+id+"-"+k))
		}
		items = append(items, keyed.El("li", keyed.Class("line bench-row"), keyed.El("span", keyed.Class("ref"), keyed.Text(name)), value, keyed.El("span", keyed.Class("grow soft"), keyed.Text(say))))
	}
	for i, l := range r.Leaks {
		figure := l.Shift.String()
		if l.Current > 0 {
			figure = l.Current.String() + ", " + l.Resistance.String()
		}
		line("leak"+itoa(i), l.At, figure, l.Effect, l.Node)
	}
	for i, d := range r.Drifts {
		line("drift"+itoa(i), d.At, d.Read.String()+": "+d.Word.String(), d.Reason, d.Node)
	}
	if r.Match != nil {
		line("match", "pair", unit.FormatAmount(100*r.Match.Spread, unit.Percent, 1), r.Match.Reason, r.Match.Node)
	}
	if r.Date != nil {
		items = append(items, keyed.El("li", keyed.Class("line bench-row"), keyed.El("span", keyed.Class("ref"), keyed.Text("date")), keyed.El("span", keyed.Text(r.Date.String()))))
	}
	var wrong []keyed.Item
	for _, p := range r.Problems {
		wrong = append(wrong, keyed.El("li", keyed.Text(p.Error())))
	}
	return keyed.Several(
		keyed.If(len(items) > 0, keyed.El("ul", keyed.Class("list"), keyed.Attr("aria-label", "Worked out of "+id), keyed.Several(items...))),
		keyed.Map(hazards(r), func(h finding.Hazard) keyed.Item { return part.Caution("Hazard: "+h.Key, h.Say+memoryMark(h.Mark)) }),
		keyed.If(len(wrong) > 0, keyed.El("ul", keyed.Class("bench-wrong"), keyed.Several(wrong...))))
}

func hazards(r *job.FindingResult) []finding.Hazard {
	return slices.DeleteFunc(slices.Clone(r.Hazards), func(h finding.Hazard) bool { return h.Level == finding.NoHazard })
}

// findingWork is the work attached, and the shop's tasks to attach.
func findingWork(m app.Model, r *job.FindingResult) keyed.Item {
	var ways []keyed.Item
	for _, i := range r.Options {
		o := &m.Open.Job.Options[i]
		ways = append(ways, keyed.El("li", keyed.Class("line bench-row"), keyed.El("span", keyed.Class("ref"), keyed.Text(o.ID)),
			keyed.El("span", keyed.Class("grow"), keyed.Text(joined(", ", strings.TrimSuffix(o.Say, "."), hoursOf(o)))),
			part.Press("quiet", "Remove", "remove", o.ID, keyed.Attr("data-k", job.KindOption), keyed.Attr("aria-label", "Remove "+o.ID))))
	}
	return keyed.Several(
		keyed.El("h3", keyed.Text("Work")),
		keyed.If(len(ways) > 0, keyed.El("ul", keyed.Class("list"), keyed.Several(ways...))),
		keyed.If(len(ways) == 0, part.Note("No work is attached. Without it the owner has nothing to say yes or no to.")),
		taskChips(m, r.Finding),
		more1("Work of your own", ownWork(m, r.Finding)))
}

// ownWork is the form for work that is in no list.
func ownWork(m app.Model, f finding.Finding) keyed.Item {
	form := nth("work-"+f.ID, optionsOf(m, f.ID))
	d := func(name, label, hint string) part.Field { return draft(m, form, name, label, hint) }
	hours := func(name, label string) part.Field {
		x := d(name, label, "")
		x.Unit, x.Number = "h", true
		return x
	}
	parts := d("parts", "Parts, one a line", "3 electrolytic 22uF")
	parts.Lines = 2
	choice := func(name, label string, words ...string) part.Field {
		x := d(name, label, "")
		x.Options = []keyed.Option{{Value: "", Say: "not said"}}
		for _, w := range words {
			x.Options = append(x.Options, keyed.Option{Value: w, Say: w})
		}
		return x
	}
	return keyed.El("form", keyed.ID("form-work-"+f.ID), keyed.Class("stack"), keyed.Do("option-new", f.ID),
		anew(form, fields(d("id", "Name", "empty takes the next free one"), d("say", "What is done", "three under the chassis")),
			keyed.El("div", keyed.Class("fields-3"), hours("low", "Least").Item(), hours("mode", "Likely").Item(), hours("high", "Most").Item()),
			setUpTicks(m, form), parts.Item(),
			fields(choice("look", "Look after", "as made", "close", "modern"), choice("matter", "Original part", "untouched", "in place", "bagged", "consumed"), choice("undo", "Undo", "U0", "U1", "U2", "U3"))),
		ask(m, "", false), send("Add the work"))
}

// optionsOf counts the work attached to a finding.
func optionsOf(m app.Model, id string) (n int) {
	for _, o := range m.Open.Job.Options {
		if o.Finding == id {
			n++
		}
	}
	return n
}

// setUpTicks are the shared set-ups of the job, else of the shop's list.
func setUpTicks(m app.Model, form string) keyed.Item {
	type setUp struct{ id, say string }
	var all []setUp
	seen := map[string]bool{}
	for _, s := range m.Open.Job.SetUps {
		all, seen[s.ID] = append(all, setUp{s.ID, s.Say}), true
	}
	for _, t := range m.Open.Books.Library.SetUps() {
		if !seen[t.ID] {
			all = append(all, setUp{t.ID, t.Say})
		}
	}
	return keyed.Map(all, func(s setUp) keyed.Item {
		id := form + "-setup-" + s.id
		return keyed.El("label", keyed.Class("tick"), keyed.Attr("for", id),
			keyed.El("input", keyed.Attr("type", "checkbox"), keyed.ID(id), keyed.Attr("name", "setup:"+s.id), keyed.Checked(false)),
			keyed.El("span", keyed.Text("Shared, "+s.id+": "+s.say)))
	})
}

func hoursOf(o *plan.Option) string {
	if o.High.IsZero() {
		return "no hours stated"
	}
	return o.Low.String() + " to " + o.High.String() + " h, likely " + o.Mode.String()
}

// task is one name of the shop's library: its ways belong together.
type task struct {
	name, say string
	ways      int
	fits      int // words it shares with the finding
}

func taskChips(m app.Model, f finding.Finding) keyed.Item {
	search := draft(m, "tasks-"+f.ID, "search", "Attach work of the shop's list", "type a part of its name: can, bypass, jack")
	search.Name = ""
	typed := strings.ToLower(strings.TrimSpace(search.Value))
	likely, others := sortTasks(m.Open.Books.Library, typed, findingText(m, f))
	chip := func(t task) keyed.Item {
		note := t.say
		if t.ways > 1 {
			note = itoa(t.ways) + " ways"
		}
		return doChip("task-attach", f.ID, t.name, "", t.name, note, false)
	}
	draw := func(label string, ts []task) keyed.Item { return group(label, "chips", mapped(ts, chip)...) }
	switch {
	case len(m.Open.Books.Library.Tasks) == 0:
		return part.Note("The shop's list of tasks is empty: bring tasks.csv.")
	case typed != "":
		return keyed.Several(search.Item(), draw("Tasks found", likely), keyed.If(len(likely) == 0, part.Note("No task of that name.")))
	case len(likely) == 0:
		return keyed.Several(search.Item(), more1("All "+itoa(len(others))+" tasks of the shop", draw("All tasks", others)))
	}
	return keyed.Several(search.Item(), draw("Likely tasks", likely), more1("The shop's "+itoa(len(others))+" other tasks", draw("Other tasks", others)))
}

func mapped[T any](xs []T, f func(T) keyed.Item) []keyed.Item {
	out := make([]keyed.Item, len(xs))
	for i, x := range xs {
		out[i] = f(x)
	}
	return out
}

// findingText is the words of a finding and of its parts' roles.
func findingText(m app.Model, f finding.Finding) string {
	words := []string{string(f.Seen), string(f.Place)}
	for _, ref := range f.Positions {
		if p, ok := m.Open.Job.Amp.Find(ref); ok {
			words = append(words, string(p.Role), p.Kind)
		}
	}
	return strings.ToLower(strings.Join(words, " "))
}

// sortTasks parts the library's task names: those that fit what was typed, or
// without it the finding's own words, and the rest, each in the order of the
// file.
func sortTasks(l shop.Library, typed, text string) (likely, others []task) {
	var all []task
	for _, t := range l.Tasks {
		if t.Shared() {
			continue
		}
		words := strings.ToLower(t.Task + " " + t.Say + " " + t.Fits)
		at := slices.IndexFunc(all, func(x task) bool { return x.name == t.Task })
		if at < 0 {
			all = append(all, task{name: t.Task, say: t.Say})
			at = len(all) - 1
		}
		all[at].ways++
		if typed != "" && strings.Contains(words, typed) {
			all[at].fits = 1
		} else if typed == "" {
			all[at].fits = max(all[at].fits, shares(strings.ToLower(t.Task+" "+t.Fits), text))
		}
	}
	for _, t := range all {
		if t.fits > 0 {
			likely = append(likely, t)
		} else {
			others = append(others, t)
		}
	}
	sorted.By(likely, func(a, b task) int { return cmp.Compare(b.fits, a.fits) })
	if typed == "" && len(likely) > 6 {
		others = append(slices.Clone(likely[6:]), others...)
		likely = likely[:6]
	}
	return likely, others
}

// shares counts the words of four letters and more, plural or not, that stand
// in both texts. "tube" and "from" say too little.
func shares(task, text string) int {
	n := 0
	split := func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') }
	have := map[string]bool{}
	for _, w := range strings.FieldsFunc(text, split) {
		have[strings.TrimSuffix(w, "s")] = true
	}
	counted := map[string]bool{}
	for _, w := range strings.FieldsFunc(task, split) {
		w = strings.TrimSuffix(w, "s")
		if len(w) >= 3 && !dull[w] && have[w] && !counted[w] {
			counted[w] = true
			n++
		}
	}
	return n
}

var dull = map[string]bool{"tube": true, "from": true, "the": true, "and": true, "one": true, "output": true, "resistor": true, "capacitor": true, "chassi": true, "out": true}
