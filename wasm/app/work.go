package app

import (
	"strconv"
	"strings"

	"lugworth/core/job"
	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/shop"
	"lugworth/wasm/port"
)

// newOption adds a way of the technician's own to a finding: its name, hours
// and what it does to the amp. The parts it fits are written one a line,
// "3 electrolytic 22uF".
func (m *Model) newOption(e event) []port.Effect {
	f, ok := m.finding(e.ID)
	get := func(name string) string { return strings.TrimSpace(e.form.Get(name)) }
	if !ok {
		return nil
	}
	m.Screen.Ask = ""
	if problem := hoursProblem(get("say"), get("low"), get("mode"), get("high")); problem != "" {
		m.Screen.Ask = problem
		return nil
	}
	id := get("id")
	if id == "" {
		id = m.freeOption(f.ID)
	}
	if m.Open.State.Has(job.KindOption, id) {
		m.Screen.Ask = "there is work named " + id + " already: choose another name"
		return nil
	}
	body := map[string]any{"finding": f.ID, "say": get("say"), "low": get("low"), "mode": get("mode"), "high": get("high"),
		"look": get("look"), "matter": get("matter"), "undo": get("undo")}
	setups, cs := m.wantedSetUps(e)
	if len(setups) > 0 {
		body["setups"] = setups
	}
	if parts := m.typedParts(get("parts"), f.Positions); len(parts) > 0 {
		body["parts"] = parts
	}
	m.clearDrafts("draft", "work-"+f.ID)
	effects := m.commit(e.Fresh, id+" added to "+f.ID, append([]change{m.whole(set(job.KindOption, id, body))}, cs...)...)
	return append(effects, port.FocusOn{ID: "work-" + f.ID + "-id"})
}

// hoursProblem says what is wrong with the hours of a piece of work.
func hoursProblem(say, low, mode, high string) string {
	if say == "" {
		return "what is done has no name yet"
	}
	var three labor.Three
	for _, h := range []struct {
		name, text string
		into       *money.Decimal
	}{{"least", low, &three.Low}, {"likely", mode, &three.Mode}, {"most", high, &three.High}} {
		v, err := money.ReadDecimal(h.text, money.Either)
		if err != nil {
			return h.name + " hours: " + err.Error()
		}
		*h.into = v
	}
	if err := three.Check(); err != nil {
		return err.Error()
	}
	return ""
}

// freeOption is a name for work that nothing has yet: "T-A2", then "T-A2-2".
func (m *Model) freeOption(finding string) string {
	base := "T-" + finding
	for n := 0; ; n++ {
		id := base
		if n > 0 {
			id += "-" + strconv.Itoa(n+1)
		}
		if !m.Open.State.Known(job.KindOption, id) {
			return id
		}
	}
}

// wantedSetUps are the shared set-ups ticked, and those of the shop's list
// that the job lacks yet.
func (m *Model) wantedSetUps(e event) ([]any, []change) {
	var ids []any
	var cs []change
	for _, f := range e.form.Fields {
		id, ok := strings.CutPrefix(f.Name, "setup:")
		if !ok || !f.Checked {
			continue
		}
		ids = append(ids, id)
		if !m.Open.State.Has(job.KindSetUp, id) {
			if t, known := m.Open.Books.Library.Find(id); known {
				cs = append(cs, m.setUps(shop.Task{SetUps: []string{t.ID}})...)
			}
		}
	}
	return ids, cs
}

// typedParts reads one part a line, a count first.
func (m *Model) typedParts(text string, at []string) []any {
	var parts []any
	for _, line := range strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == ';' }) {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		n := shop.Need{Count: 1, Say: line}
		if first, rest, ok := strings.Cut(line, " "); ok {
			if c, err := strconv.Atoi(strings.TrimSuffix(first, "x")); err == nil && c > 0 {
				n.Count, n.Say = c, strings.TrimSpace(rest)
			}
		}
		parts = append(parts, m.partBody(n, at))
	}
	return parts
}

// fromTask gives a finding the pile and the words for a no of the task
// attached to it, where it has none of its own.
func (m *Model) fromTask(id, name string) []change {
	f, ok := m.finding(id)
	ways := m.Open.Books.Library.Ways(name)
	if !ok || len(ways) == 0 {
		return nil
	}
	fields := map[string]any{}
	if f.No == "" && ways[0].No != "" {
		fields["no"] = ways[0].No
	}
	if f.Pile == "" && ways[0].Pile != "" {
		fields["pile"] = string(ways[0].Pile)
	}
	if len(fields) == 0 {
		return nil
	}
	return []change{set(job.KindFinding, id, fields)}
}
