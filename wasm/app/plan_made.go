package app

import (
	"strconv"
	"strings"

	"lugworth/core/job"
	"lugworth/core/plan"
	"lugworth/wasm/port"
)

func init() {
	pressed["several"] = func(m *Model, e event) []port.Effect {
		k := plan.TrialKey(e.ID, e.K)
		if m.Screen.Desk.Several == k {
			k = ""
		}
		m.Screen.Desk.Several = k
		return nil
	}
	pressed["make"] = func(m *Model, e event) []port.Effect { return m.makeOf(e) }
	changed["make-leak"] = func(m *Model, e event) []port.Effect { return m.makeLeak(e) }
}

// MakeValue writes a making as the value of its press: how, list and number
// of the piece, list and number of the balancing resistor.
func MakeValue(g plan.Making) string {
	s := g.Made.String() + "\t" + g.Offer.List + "\t" + g.Offer.Number
	if g.Balance != nil {
		s += "\t" + g.Balance.Offer.List + "\t" + g.Balance.Offer.Number
	}
	return s
}

// makeOf makes a part of several pieces; without a value it is one piece
// again, chosen by the plan.
func (m *Model) makeOf(e event) []port.Effect {
	o, i, ok := m.partOf(e)
	if !ok {
		return nil
	}
	if e.Value == "" {
		return m.writeParts(e, o, plan.Unmake(o.Parts, i), "one piece again")
	}
	g, ok := m.readMaking(e.Value)
	if !ok {
		return nil
	}
	m.Screen.Desk.Several = ""
	return m.writeParts(e, o, plan.Make(o.Parts, i, g), "made of "+g.Made.String())
}

func (m *Model) readMaking(value string) (g plan.Making, ok bool) {
	f := strings.Split(value, "\t")
	if len(f) != 3 && len(f) != 5 {
		return g, false
	}
	made, err := plan.ReadMade(f[0])
	g.Made = made
	if g.Offer, ok = m.Open.Books.Offer(f[1], f[2]); !ok || err != nil {
		return g, false
	}
	if len(f) == 5 {
		g.Balance = &plan.Candidate{}
		g.Balance.Offer, ok = m.Open.Books.Offer(f[3], f[4])
	}
	return g, ok
}

// makeLeak states what no piece of a part leaks more than; nothing takes it
// back.
func (m *Model) makeLeak(e event) []port.Effect {
	o, i, ok := m.partOf(e)
	if !ok || !o.Parts[i].Made.Is() {
		return nil
	}
	how := o.Parts[i].Made
	how.Leak = 0
	text := strings.TrimSpace(e.Value)
	if text != "" {
		text = ", leak " + text
	}
	made, err := plan.ReadMade(how.String() + text)
	if err != nil {
		m.Screen.Ask = err.Error()
		return nil
	}
	delete(m.Screen.Drafts, draftKey(e.Where))
	m.Screen.Ask = ""
	parts := append([]plan.Part(nil), o.Parts...)
	parts[i].Made = made
	return m.writeParts(e, o, parts, "leakage stated")
}

// partOf finds the part of an option that an event is about.
func (m *Model) partOf(e event) (*plan.Option, int, bool) {
	i, err := strconv.Atoi(e.K)
	if err != nil || m.Open == nil {
		return nil, 0, false
	}
	for k := range m.Open.Job.Options {
		if o := &m.Open.Job.Options[k]; o.ID == e.ID && i >= 0 && i < len(o.Parts) {
			return o, i, true
		}
	}
	return nil, 0, false
}

func (m *Model) writeParts(e event, o *plan.Option, parts []plan.Part, say string) []port.Effect {
	out := make([]any, len(parts))
	for i, p := range parts {
		out[i] = bodyOf(p)
	}
	m.Screen.Moved++
	return m.commit(e.Fresh, "part of "+o.ID+" "+say, set(job.KindOption, o.ID, map[string]any{"parts": out}))
}
