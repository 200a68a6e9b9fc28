package app

import (
	"lugworth/core/job"
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
