package app

import (
	"slices"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

func init() {
	pressed["decline"] = func(m *Model, e event) []port.Effect { return m.decline(e) }
}

// decline leaves every way of one finding out of the choice in force.
func (m *Model) decline(e event) []port.Effect {
	if m.Open == nil {
		return nil
	}
	m.Screen.Near = e.ID
	have := m.Open.Result.Accepted()
	left := slices.DeleteFunc(slices.Clone(have), func(id string) bool { return m.optionFinding(id) == e.ID })
	if len(left) == len(have) {
		return nil
	}
	m.Screen.Moved++
	return m.commit(e.Fresh, "", change{job.KindSet, map[string]any{"name": m.Open.Job.Pick, "accept": list(left)}})
}

// FactsKey names the facts of the open job apart from what is chosen: the
// best choice stays the best while only yes and no change.
func (m Model) FactsKey() string {
	if m.Open == nil {
		return ""
	}
	for _, r := range slices.Backward(m.Open.Log.File().Records) {
		if r.Kind != job.KindSet && r.Kind != job.KindPick && r.Kind != job.KindOffer && r.Kind != job.KindBuy {
			return m.Open.ID + " " + r.ID
		}
	}
	return m.Open.ID
}
