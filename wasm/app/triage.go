package app

import (
	"strings"

	"lugworth/core/amp"
	triage "lugworth/core/bench"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

func init() {
	// check records how one check before the first power came out; a press on
	// what is recorded takes it back.
	pressed["check"] = func(m *Model, e event) []port.Effect {
		return m.commit(e.Fresh, "", set(job.KindCheck, e.ID, map[string]any{"result": e.Value, "at": e.At}))
	}
	submitted["power-anyway"] = func(m *Model, e event) []port.Effect { return m.powerAnyway(e) }

	pressed["park"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog = "park"
		return nil
	}
	submitted["park"] = func(m *Model, e event) []port.Effect { return m.parkJob(e) }
	// resume takes the work up again: value "measured" when someone has just
	// measured the filters, "seen" when nothing was open, "later" to be asked
	// again.
	pressed["resume"] = func(m *Model, e event) []port.Effect {
		m.closeDialog()
		fields := map[string]any{"seen": true}
		switch e.Value {
		case "later":
			return nil
		case "measured":
			fields["discharged"] = "yes"
		}
		return m.commit(e.Fresh, "taken up again", change{job.KindPark, fields})
	}
	pressed["resume-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Dialog = "resume"
		return nil
	}
}

// Gate is what the checks before the first power say.
func (m Model) Gate() triage.Gate { return triage.GateOf(m.Open.Job.Triage) }

// Unpowered reports whether the chart of readings with the power on is still
// closed: checks are missing, and nobody has powered the amp here yet.
func (m Model) Unpowered() bool {
	if m.Open == nil || m.Gate().Open {
		return false
	}
	for _, r := range m.Open.Job.Amp.Readings {
		if r.Quantity != amp.Ohms {
			return false
		}
	}
	return true
}

// powerAnyway passes over every check that is missing, for one reason.
func (m *Model) powerAnyway(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	reason := strings.TrimSpace(e.form.Get("reason"))
	if reason == "" {
		m.Screen.Ask = "Why is it powered without these checks? The reason stands in the report."
		return nil
	}
	g := m.Gate()
	var changes []change
	for _, c := range append(g.Wants, g.Failed...) {
		changes = append(changes, set(job.KindCheck, c.ID, map[string]any{"result": string(triage.Overridden), "say": reason, "at": e.At}))
	}
	m.Screen.Ask, m.Screen.Drafts = "", map[string]string{}
	return m.commit(e.Fresh, "Powered without these checks, reason recorded", changes...)
}

// parkJob notes how the amp is left.
func (m *Model) parkJob(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	f := e.form
	m.closeDialog()
	m.Screen.Drafts = map[string]string{}
	return m.commit(e.Fresh, "put down", change{job.KindPark, map[string]any{"at": e.At, "discharged": f.Get("discharged"),
		"lifted": strings.TrimSpace(f.Get("lifted")), "out": strings.TrimSpace(f.Get("out")), "next": strings.TrimSpace(f.Get("next")), "seen": false}})
}
