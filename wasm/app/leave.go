package app

import (
	triage "lugworth/core/bench"
	"lugworth/core/job"
	"lugworth/core/shop"
	"lugworth/wasm/port"
)

// BenchLeave is the part of the bench where an amp is tested and handed back.
const BenchLeave = "leave"

func init() {
	// final records how one test before the amp leaves came out.
	pressed["final"] = func(m *Model, e event) []port.Effect {
		return m.commit(e.Fresh, "", set(job.KindFinal, e.ID, map[string]any{"result": e.Value, "at": e.At}))
	}
	// old-part says where the part went that an option took out.
	pressed["old-part"] = func(m *Model, e event) []port.Effect {
		return m.commit(e.Fresh, "", set(job.KindOldPart, e.ID, map[string]any{"place": e.Value}))
	}
	// old-parts-meant says of each part that has no place yet that it went where
	// its option means it to.
	pressed["old-parts-meant"] = func(m *Model, e event) []port.Effect { return m.asMeant(e) }
	// final-chart opens the readings with the state of the final chart.
	pressed["final-chart"] = func(m *Model, e event) []port.Effect {
		m.Screen.Bench, m.Screen.Toast = "readings", Toast{}
		m.enter("state", "final")
		return nil
	}
	pressed["hand-back"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Paper.Kind = "papers", SheetHandBack
		return []port.Effect{port.SetHash{Hash: "papers"}}
	}
}

// MeantPlace is where an old part goes by what its option says becomes of it,
// "" where the option does not say.
func MeantPlace(p job.OldPart) string {
	switch p.Meant {
	case shop.Bagged:
		return triage.Places[0]
	case shop.InPlace:
		return triage.Places[1]
	case shop.Consumed:
		return triage.Places[2]
	}
	return ""
}

func (m *Model) asMeant(e event) []port.Effect {
	var changes []change
	for _, p := range m.Open.Result.OldParts() {
		if place := MeantPlace(p); p.Place == "" && place != "" {
			changes = append(changes, set(job.KindOldPart, p.Option, map[string]any{"place": place}))
		}
	}
	return m.commit(e.Fresh, "Old parts noted where they were meant to go", changes...)
}
