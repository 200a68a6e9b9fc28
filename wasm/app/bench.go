package app

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/finding"
	"lugworth/core/job"
	"lugworth/core/unit"
	"lugworth/wasm/port"
)

func init() {
	pressed["bench-part"] = func(m *Model, e event) []port.Effect {
		m.Screen.Bench, m.Screen.Ask, m.Screen.Toast = e.ID, "", Toast{}
		if e.ID == "readings" && m.Open != nil && m.Screen.Entry.At == "" {
			m.advance()
		}
		return nil
	}
	changed["draft"] = func(m *Model, e event) []port.Effect {
		m.Screen.Drafts[draftKey(e.Where)] = e.Value
		return nil
	}
	pressed["draft"] = changed["draft"]
	typed["entry"] = func(m *Model, e event) []port.Effect { m.enter(e.ID, e.Value); return nil }
	changed["entry"] = typed["entry"]
	pressed["entry"] = func(m *Model, e event) []port.Effect { m.enter(e.ID, e.Value); return m.afterEntry(e.ID) }
	pressed["entry-step"] = func(m *Model, e event) []port.Effect {
		if s, ok := m.step(e.ID, e.K); ok {
			m.goTo(s)
		}
		return []port.Effect{port.FocusOn{ID: "reading-value", Select: true}}
	}
	pressed["finding-position"] = func(m *Model, e event) []port.Effect { return m.turnPosition(e) }
	submitted["finding-leak"] = func(m *Model, e event) []port.Effect { return m.addLeak(e) }
	pressed["finding-leak-drop"] = func(m *Model, e event) []port.Effect { return m.dropLeak(e) }
	submitted["finding-drift"] = func(m *Model, e event) []port.Effect { return m.addDrift(e) }
	pressed["finding-drift-drop"] = func(m *Model, e event) []port.Effect { return m.dropDrift(e) }
	submitted["date-code"] = func(m *Model, e event) []port.Effect { return m.addDateCode(e) }
	pressed["date-code-year"] = func(m *Model, e event) []port.Effect { return m.settleDateCode(e) }
	pressed["date-code-drop"] = func(m *Model, e event) []port.Effect { return m.dropDateCode(e) }
	submitted["option-new"] = func(m *Model, e event) []port.Effect { return m.newOption(e) }
	changed["amp-taps"] = func(m *Model, e event) []port.Effect {
		taps := strings.FieldsFunc(e.Value, func(r rune) bool { return strings.ContainsRune(" ,;/", r) })
		delete(m.Screen.Drafts, draftKey(e.Where))
		return m.commit(e.Fresh, "", set(job.KindAmp, "", map[string]any{"taps": list(taps)}))
	}
}

// openBench opens the part of the bench that lacks something first. It stays
// open while it is filled in.
func (m *Model) openBench() {
	m.Screen.Entry, m.Screen.Ask, m.Screen.Bench = Entry{Quantity: amp.Volts, Unit: "V"}, "", "intake"
	if HasIntake(m.Open.Job) {
		m.Screen.Bench = "findings"
	}
	if m.Open.Job.Park.Parked() {
		m.Screen.Dialog = "resume"
	}
}

// HasIntake is true once the supply and the amp are known.
func HasIntake(j *job.Job) bool { return j.Mains.Declared() && j.Amp.Maker+j.Amp.Model != "" }

// enter puts a text into one field of the reading being entered; a state is
// turned over.
func (m *Model) enter(field, value string) {
	n := &m.Screen.Entry
	m.Screen.Ask = ""
	switch field {
	case "at":
		n.At = strings.TrimSpace(value)
	case "quantity":
		n.Quantity, n.Unit = value, UnitOf(value)
		if value == amp.Ohms {
			n.State = amp.Off
		} else if n.State == amp.Off {
			n.State = m.lastState()
		}
	case "value":
		n.Value = value
	case "unit":
		n.Unit = value
	case "mains":
		n.Mains = strings.TrimSpace(value)
	case "state":
		n.State = turned(n.State, value)
	case "meter_percent":
		n.Meter = strings.TrimSpace(value)
	}
}

// readingWants says what a reading lacks, in the words of the form.
func readingWants(p unit.Problem) string {
	if p.Code == unit.Missing {
		switch p.Column {
		case "mains":
			say := "The mains at that moment is not entered. Without it the reading cannot be carried to the owner's supply."
			if p.Hint != "" {
				say += " Is it the " + p.Hint + "?"
			}
			return say
		case "value":
			return "What does it read? No figure is entered."
		case "at":
			return "Where is it read? Name a node, or a part and its electrode: B1, V3:plate."
		}
	}
	return p.Error()
}

// afterEntry sends the focus on once a chip filled a field.
func (m *Model) afterEntry(field string) []port.Effect {
	if field == "mains" {
		return []port.Effect{port.FocusOn{ID: "reading-value"}}
	}
	return nil
}

// turned is a list of words with one word taken in or out.
func turned(words, word string) string {
	all := strings.Fields(words)
	if i := slices.Index(all, word); i >= 0 {
		return strings.Join(slices.Delete(all, i, i+1), " ")
	}
	return strings.Join(append(all, word), " ")
}

// UnitOf is the unit a quantity is usually written in at the bench.
func UnitOf(quantity string) string {
	switch quantity {
	case amp.Current:
		return "mA"
	case amp.Ohms:
		return "Ω"
	}
	return "V"
}

// Nth stands between the name of a form and the count of what it has sent.
const Nth = "#"

// clearDrafts forgets what was typed into the fields of one form.
func (m *Model) clearDrafts(act, id string) {
	for k := range m.Screen.Drafts {
		if strings.HasPrefix(k, act+"/"+id+"/") || strings.HasPrefix(k, act+"/"+id+Nth) {
			delete(m.Screen.Drafts, k)
		}
	}
}

func (m *Model) finding(id string) (finding.Finding, bool) {
	if m.Open == nil {
		return finding.Finding{}, false
	}
	for _, f := range m.Open.Job.Findings {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// turnPosition takes one position into a finding, or out of it.
func (m *Model) turnPosition(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	if !ok {
		return nil
	}
	refs := slices.Clone([]string(f.Positions))
	if i := slices.Index(refs, e.K); i >= 0 {
		refs = slices.Delete(refs, i, i+1)
	} else {
		refs = append(refs, e.K)
	}
	return m.commit(e.Fresh, "", set(job.KindFinding, f.ID, map[string]any{"positions": list(refs)}))
}

// addLeak adds one grid shift to a finding.
func (m *Model) addLeak(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	shift := strings.TrimSpace(e.form.Get("shift"))
	if !ok || shift == "" {
		return nil
	}
	l := finding.Leak{At: strings.TrimSpace(e.form.Get("at")), Shift: finding.Text(shift),
		GridLeak: finding.Text(strings.TrimSpace(e.form.Get("grid_leak"))), Source: finding.Text(strings.TrimSpace(e.form.Get("source")))}
	m.clearDrafts("draft", "leak-"+f.ID)
	return append(m.setLeaks(e, f.ID, append(slices.Clone(f.Leak), l)), port.FocusOn{ID: "leak-" + f.ID + "-at"})
}

func (m *Model) dropLeak(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	i, err := strconv.Atoi(e.K)
	if !ok || err != nil || i < 0 || i >= len(f.Leak) {
		return nil
	}
	return m.setLeaks(e, f.ID, slices.Delete(slices.Clone(f.Leak), i, i+1))
}

func (m *Model) setLeaks(e event, id string, all []finding.Leak) []port.Effect {
	var body any
	if len(all) > 0 {
		body = all
	}
	return m.commit(e.Fresh, "", set(job.KindFinding, id, map[string]any{"leak": body}))
}

// addDrift adds one value as read to the drift of a finding.
func (m *Model) addDrift(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	if !ok {
		return nil
	}
	d := finding.Drift{}
	if f.Drift != nil {
		d = *f.Drift
	}
	d.Marked, d.Tolerance = finding.Text(strings.TrimSpace(e.form.Get("marked"))), finding.Text(strings.TrimSpace(e.form.Get("tolerance")))
	d.MeterPercent = finding.Text(strings.TrimSpace(e.form.Get("meter_percent")))
	if v := strings.TrimSpace(e.form.Get("value")); v != "" {
		d.Reads = append(slices.Clone(d.Reads), finding.Read{At: strings.TrimSpace(e.form.Get("at")), Value: finding.Text(v)})
	}
	if d.Marked == "" && len(d.Reads) == 0 {
		return nil
	}
	m.clearDrafts("draft", "drift-"+f.ID)
	effects := m.commit(e.Fresh, "", set(job.KindFinding, f.ID, map[string]any{"drift": d}))
	return append(effects, port.FocusOn{ID: "drift-" + f.ID + "-at"})
}

func (m *Model) dropDrift(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	i, err := strconv.Atoi(e.K)
	if !ok || err != nil || f.Drift == nil || i < 0 || i >= len(f.Drift.Reads) {
		return nil
	}
	d := *f.Drift
	d.Reads = slices.Delete(slices.Clone(d.Reads), i, i+1)
	var body any = d
	if len(d.Reads) == 0 {
		body = nil
	}
	return m.commit(e.Fresh, "", set(job.KindFinding, f.ID, map[string]any{"drift": body}))
}

// addDateCode adds a code stamped on a part.
func (m *Model) addDateCode(e event) []port.Effect {
	code := strings.TrimSpace(e.form.Get("code"))
	if m.Open == nil || code == "" {
		return nil
	}
	m.clearDrafts("draft", "code")
	effects := m.setDateCodes(e, append(slices.Clone(m.Open.Job.Amp.DateCodes), amp.DateCode{On: strings.TrimSpace(e.form.Get("on")), Code: code}))
	return append(effects, port.FocusOn{ID: "code-on"})
}

func (m *Model) settleDateCode(e event) []port.Effect {
	return m.changeDateCode(e, func(all []amp.DateCode, i int) []amp.DateCode { all[i].Year = e.Value; return all })
}

func (m *Model) dropDateCode(e event) []port.Effect {
	return m.changeDateCode(e, func(all []amp.DateCode, i int) []amp.DateCode { return slices.Delete(all, i, i+1) })
}

func (m *Model) changeDateCode(e event, do func([]amp.DateCode, int) []amp.DateCode) []port.Effect {
	i, err := strconv.Atoi(e.K)
	if m.Open == nil || err != nil || i < 0 || i >= len(m.Open.Job.Amp.DateCodes) {
		return nil
	}
	return m.setDateCodes(e, do(slices.Clone(m.Open.Job.Amp.DateCodes), i))
}

func (m *Model) setDateCodes(e event, all []amp.DateCode) []port.Effect {
	return m.commit(e.Fresh, "", set(job.KindAmp, "", map[string]any{"date_codes": all}))
}

// entryFields are the fields of the reading being entered. Ohms are read with
// the power off: the mains in hand is kept for the next reading only.
func entryFields(n Entry) map[string]string {
	fields := map[string]string{"at": n.At, "quantity": n.Quantity, "value": n.Value, "unit": n.Unit, "mains": n.Mains, "state": n.State, "meter_percent": n.Meter}
	if n.Quantity == amp.Ohms {
		fields["mains"] = ""
	}
	return fields
}

func atMains(mains string) string {
	if mains == "" {
		return ", power off"
	}
	return " at " + mains + " V mains"
}

// EntryReads reports whether the reading being entered can be read, so that
// only its likelihood is in question.
func (m Model) EntryReads() bool {
	if m.Open == nil {
		return false
	}
	_, problems := amp.NewReading(entryFields(m.Screen.Entry), m.Open.Job.Amp.Readings)
	return len(problems) == 0
}
