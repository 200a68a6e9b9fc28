package app

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

// The leaves of the plan: what may be fitted, how the amp stands, how long
// the work takes, and the shop's books.
const (
	LeafParts   = "parts"
	LeafRatings = "ratings"
	LeafLabor   = "labor"
	LeafBooks   = "books"
)

// A Desk is what is looked at on Plan and Order.
type Desk struct {
	Leaf    string // "" is LeafParts
	Book    string // of the books: see Books
	State   string // of the ratings: "found", or "" for under the choice in force
	Doubt   bool   // of the ratings: only what is not within
	All     bool   // of the candidates: all of them, however many
	Several string // part of which ways to make it of several pieces are shown
	List    string // price list that is open
	Confirm string // price list that is about to be removed
	AddPast bool   // this job's finished work is about to be added to the shop's
	Import  *Import
	Coming  Comings // price lists brought and not taken yet
	Terms   TermsForm
}

func init() {
	pressed["plan-leaf"] = func(m *Model, e event) []port.Effect {
		m.Screen.Desk.Leaf, m.Screen.Toast = e.Value, Toast{}
		return nil
	}
	pressed["plan-book"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.Book = e.Value; return nil }
	pressed["plan-state"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.State = e.Value; return nil }
	pressed["plan-doubt"] = func(m *Model, e event) []port.Effect {
		m.Screen.Desk.Doubt = e.Value == "doubt"
		return nil
	}
	pressed["plan-all"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.All = !m.Screen.Desk.All; return nil }
	pressed["plan-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Option, m.Screen.Part, m.Screen.Desk.All = e.ID, 0, false
		m.Screen.Desk.Leaf, m.Screen.Ask, m.Screen.Toast = LeafParts, "", Toast{}
		return nil
	}
	submitted["trial"] = func(m *Model, e event) []port.Effect { return m.tryPart(e) }
}

// tryPart asks about a part that is in no list, as it is marked.
func (m *Model) tryPart(e event) []port.Effect {
	text := strings.TrimSpace(e.form.Get("text"))
	if m.Open == nil || text == "" {
		return nil
	}
	id := ""
	for n := len(m.Open.Job.Trials) + 1; ; n++ {
		if id = "x" + strconv.Itoa(n); !m.Open.State.Known(job.KindTrial, id) {
			break
		}
	}
	m.clearDrafts("draft", "trial-"+e.ID)
	return m.commit(e.Fresh, "part asked about", set(job.KindTrial, id, map[string]any{"option": e.ID, "part": e.K, "text": text, "removed": false}))
}

// OpenOption is the option that is open on Plan: the one that was pressed,
// else the first of the choice in force whose first part is rated, else the
// first there is. nil where the job has none.
func (m Model) OpenOption() *job.OptionResult {
	r := m.Result()
	if r == nil || len(r.Options) == 0 {
		return nil
	}
	at := slices.IndexFunc(r.Options, func(o job.OptionResult) bool { return o.Option.ID == m.Screen.Option })
	if at < 0 {
		at = slices.IndexFunc(r.Options, func(o job.OptionResult) bool { return o.Accepted && judged(o) })
	}
	return &r.Options[max(at, 0)]
}

// judged reports whether something about the first part of an option is
// rated.
func judged(o job.OptionResult) bool {
	return len(o.Lines) > 0 && o.Lines[0].Chosen != nil && o.Lines[0].Chosen.Judged
}
