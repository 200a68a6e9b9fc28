package app

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/core/shop"
	"lugworth/wasm/port"
)

func init() {
	// set commits one field: id is the entity, k is kind/field.
	changed["set"] = func(m *Model, e event) []port.Effect { return m.setField(e, strings.TrimSpace(e.Value)) }
	changed["tick"] = func(m *Model, e event) []port.Effect { return m.setField(e, e.Checked) }
	pressed["set"] = func(m *Model, e event) []port.Effect { return m.setField(e, e.Value) }

	pressed["finding-new"] = func(m *Model, e event) []port.Effect { return m.newFinding(e) }
	pressed["finding-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Finding, m.Screen.Toast = e.ID, Toast{}
		return nil
	}
	pressed["remove"] = func(m *Model, e event) []port.Effect {
		return m.commit(e.Fresh, e.K+" "+e.ID+" removed", set(e.K, e.ID, map[string]any{"removed": true}))
	}

	submitted["reading"] = func(m *Model, e event) []port.Effect { return m.addReading(e, false) }
	pressed["reading-anyway"] = func(m *Model, e event) []port.Effect { return m.addReading(e, true) }
	submitted["position"] = func(m *Model, e event) []port.Effect { return m.addPosition(e) }

	pressed["task-attach"] = func(m *Model, e event) []port.Effect { return m.attach(e) }
	pressed["option-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Option = e.ID
		m.Screen.Part, _ = strconv.Atoi(e.K)
		return nil
	}
	pressed["choose"] = func(m *Model, e event) []port.Effect { return m.choose(e) }
	changed["reason"] = func(m *Model, e event) []port.Effect {
		delete(m.Screen.Drafts, draftKey(e.Where))
		return m.commit(e.Fresh, "reason recorded", set(job.KindReason, e.ID, map[string]any{"option": e.ID, "say": strings.TrimSpace(e.Value)}))
	}

	pressed["accept"] = func(m *Model, e event) []port.Effect { return m.accept(e) }
	changed["accept"] = func(m *Model, e event) []port.Effect { return m.accept(e) }
	pressed["pick"] = func(m *Model, e event) []port.Effect {
		m.Screen.Moved++
		return m.commit(e.Fresh, "choice "+e.ID+" in force", change{job.KindPick, map[string]any{"name": e.ID}})
	}
	submitted["set-save"] = func(m *Model, e event) []port.Effect { return m.saveSet(e) }
	pressed["take-best"] = func(m *Model, e event) []port.Effect { return m.takeBest(e) }
}

// setField makes one field of one entity hold a value.
func (m *Model) setField(e event, value any) []port.Effect {
	kind, field, ok := strings.Cut(e.K, "/")
	if !ok || m.Open == nil {
		return nil
	}
	delete(m.Screen.Drafts, draftKey(e.Where))
	delete(m.Screen.Drafts, draftKey(port.Where{Act: e.Act, ID: e.ID, K: e.K}))
	return m.commit(e.Fresh, "", set(kind, e.ID, map[string]any{field: value}))
}

// newFinding starts a finding with the next free number and opens it. Value
// may name its pile.
func (m *Model) newFinding(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	id := m.freeFinding()
	fields := map[string]any{"basis": "observed"}
	if e.Value != "" {
		fields["pile"] = e.Value
	}
	effects := m.commit(e.Fresh, "finding "+id, set(job.KindFinding, id, fields))
	m.Screen.Finding = id
	return append(effects, port.FocusOn{ID: "finding-seen-" + id})
}

// freeFinding is the next name no finding has had.
func (m *Model) freeFinding() string {
	for n := len(m.Open.Job.Findings) + 1; ; n++ {
		if id := "F" + strconv.Itoa(n); !m.Open.State.Known(job.KindFinding, id) {
			return id
		}
	}
}

// nextReading returns the number of the next reading.
func (m *Model) nextReading() int {
	n := len(m.Open.Job.Amp.Readings) + 1
	for m.Open.State.Known(job.KindReading, "r"+strconv.Itoa(n)) {
		n++
	}
	return n
}

// addReading records a reading once it can be read; one that looks mistyped
// is asked about first.
func (m *Model) addReading(e event, sure bool) []port.Effect {
	if m.Open == nil {
		return nil
	}
	if !sure {
		f := e.form
		m.Screen.Entry = Entry{At: f.Get("at"), Quantity: f.Get("quantity"), Value: f.Get("value"), Unit: f.Get("unit"), Mains: f.Get("mains"), State: f.Get("state"), Meter: f.Get("meter_percent")}
	}
	n := m.Screen.Entry
	id := "r" + strconv.Itoa(m.nextReading())
	fields := entryFields(n)
	fields["id"] = id
	before := m.Open.Job.Amp.Readings
	r, problems := amp.NewReading(fields, before)
	if len(problems) > 0 {
		m.Screen.Ask, m.Screen.Toast = readingWants(problems[0]), Toast{}
		return nil
	}
	if r.Quantity != amp.Ohms && m.Unpowered() {
		m.Screen.Ask, m.Screen.Toast = "The checks before the first power are not done. They stand above: do them, or pass over them for a reason. Ohms can be read before.", Toast{}
		return nil
	}
	if q := amp.Plausible(before, r); q != "" && !sure {
		m.Screen.Ask, m.Screen.Toast = q, Toast{}
		return nil
	}
	body := map[string]any{}
	for k, v := range fields {
		if v != "" {
			body[k] = v
		}
	}
	m.Screen.Ask = ""
	m.Screen.Drafts = map[string]string{}
	effects := m.commit(e.Fresh, strings.TrimSpace(id+" kept: "+n.At+" "+n.Value+" "+n.Unit+atMains(fields["mains"])), change{job.KindReading, body})
	m.Screen.Entry.Value = ""
	m.advance()
	return append(effects, port.FocusOn{ID: "reading-value"})
}

func (m *Model) addPosition(e event) []port.Effect {
	body := map[string]any{}
	fields := map[string]string{}
	for _, f := range e.form.Fields {
		if v := strings.TrimSpace(f.Value); v != "" {
			body[f.Name], fields[f.Name] = v, v
		}
	}
	body["id"] = fields["ref"]
	if _, problems := amp.NewPosition(fields); len(problems) > 0 {
		m.Screen.Ask = problems[0].Error()
		return nil
	}
	m.Screen.Ask = ""
	m.clearDrafts("draft", "position")
	effects := m.commit(e.Fresh, "position "+fields["ref"], m.whole(change{job.KindPosition, body}))
	return append(effects, port.FocusOn{ID: "position-ref"})
}

// attach copies every way of a library task to a finding, as options.
func (m *Model) attach(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	var cs []change
	at := m.positionsOf(e.ID)
	for _, t := range m.Open.Books.Library.Ways(e.K) {
		id := t.ID
		if m.Open.State.Has(job.KindOption, id) && m.optionFinding(id) != e.ID {
			id = e.ID + "-" + t.ID
		}
		cs = append(cs, m.whole(set(job.KindOption, id, m.optionBody(e.ID, t, at))))
		cs = append(cs, m.setUps(t)...)
	}
	cs = append(cs, m.fromTask(e.ID, e.K)...)
	return m.commit(e.Fresh, "task attached to "+e.ID, cs...)
}

func (m *Model) positionsOf(finding string) []string {
	for _, f := range m.Open.Job.Findings {
		if f.ID == finding {
			return f.Positions
		}
	}
	return nil
}

func (m *Model) optionFinding(id string) string {
	for _, o := range m.Open.Job.Options {
		if o.ID == id {
			return o.Finding
		}
	}
	return ""
}

// setUps adds the shared set-ups and the states of access a task names, where
// the job has them not.
func (m *Model) setUps(t shop.Task) []change {
	var cs []change
	l := m.Open.Books.Library
	for _, s := range append(l.SetUps(), l.Access(t)...) {
		if !(s.State() || slices.Contains(t.SetUps, s.ID)) || m.Open.State.Has(job.KindSetUp, s.ID) {
			continue
		}
		body := map[string]any{"say": s.Say, "low": s.Low.String(), "mode": s.Mode.String(), "high": s.High.String()}
		if s.State() {
			body["from"] = s.From()
		}
		cs = append(cs, m.whole(set(job.KindSetUp, s.ID, body)))
	}
	return cs
}

// optionBody writes a library task as the option of a finding.
func (m *Model) optionBody(finding string, t shop.Task, at []string) map[string]any {
	task, _, _ := strings.Cut(t.ID, "/")
	b := map[string]any{"finding": finding, "task": task, "say": t.Say, "low": t.Low.String(), "mode": t.Mode.String(), "high": t.High.String(),
		"look": string(t.Look), "matter": string(t.Matter), "undo": string(t.Undo), "disclosure": t.Disclosure, "tap": t.Tap, "both": t.Both}
	if t.Value > 0 {
		b["value"] = strconv.Itoa(t.Value)
	}
	if len(t.SetUps) > 0 {
		b["setups"] = list(t.SetUps)
	}
	if len(t.Needs) > 0 {
		b["needs"] = list(t.Needs)
	}
	if len(t.In) > 0 {
		b["state"] = list(t.In)
	}
	if len(t.After) > 0 {
		b["after"] = list(t.After)
	}
	if t.Wait != "" {
		b["wait"] = t.Wait
	}
	if t.Chance > 0 {
		b["chance"] = strconv.Itoa(t.Chance)
	}
	var parts []any
	for _, p := range t.Parts {
		parts = append(parts, m.partBody(p, at))
	}
	if len(parts) > 0 {
		b["parts"] = parts
	}
	if t.Other != "" {
		o := map[string]any{"say": t.Other, "price": t.OtherPrice.String(), "carriage": t.OtherCarriage.String()}
		if t.OtherDays >= 0 {
			o["days"] = strconv.Itoa(t.OtherDays)
		}
		b["other"] = []any{o}
	}
	return b
}

// partBody writes a need of the library, for those of the finding's positions
// that such a part can go into.
func (m *Model) partBody(n shop.Need, at []string) map[string]any {
	p := map[string]any{"qty": strconv.Itoa(n.Count), "is": n.Say}
	if n.List != "" && !m.sampleOffer(n.List) {
		p["list"], p["number"] = n.List, n.Number
	}
	w, _ := plan.ReadWant(n.Say)
	var fits []any
	for _, ref := range at {
		if pos, ok := m.Open.Job.Amp.Find(ref); ok && plan.Fits(w, pos) {
			fits = append(fits, ref)
		}
	}
	if len(fits) > 0 {
		p["for"] = fits
	}
	return p
}

func list(words []string) []any {
	out := make([]any, len(words))
	for i, w := range words {
		out[i] = w
	}
	return out
}

// choose names an offer for one part of an option: value is list, tab, number;
// empty takes the name away and lets the plan choose.
func (m *Model) choose(e event) []port.Effect {
	i, err := strconv.Atoi(e.K)
	if err != nil || m.Open == nil {
		return nil
	}
	for _, o := range m.Open.Job.Options {
		if o.ID != e.ID || i >= len(o.Parts) {
			continue
		}
		var parts []any
		for k, p := range o.Parts {
			if k == i {
				p.List, p.Number, _ = strings.Cut(e.Value, "\t")
			}
			parts = append(parts, bodyOf(p))
		}
		m.Screen.Moved++
		return m.commit(e.Fresh, "part of "+o.ID+" chosen", set(job.KindOption, o.ID, map[string]any{"parts": parts}))
	}
	return nil
}

func bodyOf(p plan.Part) map[string]any {
	b := map[string]any{"qty": strconv.Itoa(p.Qty), "is": p.Is}
	if len(p.For) > 0 {
		b["for"] = list(p.For)
	}
	if p.Number != "" {
		b["list"], b["number"] = p.List, p.Number
	}
	if p.Made.Is() {
		b["made"] = p.Made.String()
	}
	if p.Across > 0 {
		b["across"] = strconv.Itoa(p.Across - 1)
	}
	return b
}

// firstSet is the name of the choice that the first yes begins.
const firstSet = "On the phone"

// accept turns one option over in the choice in force.
func (m *Model) accept(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	r := m.Open.Result
	name := m.Open.Job.Pick
	m.Screen.Near = m.optionFinding(e.ID)
	var cs []change
	if r.Force < 0 {
		name = firstSet
		cs = append(cs, change{job.KindPick, map[string]any{"name": name}})
	}
	cs = append(cs, change{job.KindSet, map[string]any{"name": name, "accept": list(r.Turn(e.ID))}})
	m.Screen.Moved++
	return m.commit(e.Fresh, "", cs...)
}

// saveSet keeps the choice in force under another name and works on that one.
func (m *Model) saveSet(e event) []port.Effect {
	name := strings.TrimSpace(e.form.Get("name"))
	if m.Open == nil || name == "" {
		return nil
	}
	return m.commit(e.Fresh, "choice "+name, change{job.KindSet, map[string]any{"name": name, "accept": list(m.Open.Result.Accepted())}},
		change{job.KindPick, map[string]any{"name": name}})
}
