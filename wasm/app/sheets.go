package app

import (
	"fmt"
	"strings"

	"lugworth/core/report"
	"lugworth/wasm/port"
)

// The papers beside the estimate, by the name of their button.
const (
	SheetJob       = "job-sheet"
	SheetDecisions = "decisions"
	SheetLabels    = "labels"
	SheetChange    = "change-order"
	SheetHandBack  = "hand-back"
)

func init() {
	pressed["paper-kind"] = func(m *Model, e event) []port.Effect {
		m.Screen.Paper.Kind = e.ID
		return nil
	}
	// change-order opens that paper from where the difference is seen.
	pressed["change-order"] = func(m *Model, e event) []port.Effect {
		m.Screen.Posture, m.Screen.Paper.Kind = "papers", SheetChange
		return []port.Effect{port.SetHash{Hash: "papers"}}
	}
	pressed["paper-print"] = func(m *Model, e event) []port.Effect {
		s, err := m.Sheet()
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, err.Error())
			return nil
		}
		return []port.Effect{port.Print{Title: strings.ToLower(s.What) + " " + s.Number, Body: string(s.Article())}}
	}
	pressed["paper-file"] = func(m *Model, e event) []port.Effect {
		s, err := m.Sheet()
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, err.Error())
			return nil
		}
		name := strings.ToLower(strings.ReplaceAll(s.What, " ", "-")) + "-" + s.Number + ".html"
		return []port.Effect{port.WriteFile{File: port.File{Name: name, Mime: "text/html", Bytes: s.HTML()}}}
	}
}

// Sheet is the paper beside the estimate that lies open.
func (m Model) Sheet() (report.Sheet, error) {
	r := m.Result()
	if r == nil {
		return report.Sheet{}, fmt.Errorf("no job is open")
	}
	switch m.Screen.Paper.Kind {
	case SheetJob:
		return r.JobSheet()
	case SheetDecisions:
		return r.DecisionList()
	case SheetLabels:
		return r.BagLabels()
	case SheetChange:
		return r.ChangeOrder()
	case SheetHandBack:
		return r.HandBack()
	}
	return report.Sheet{}, fmt.Errorf("there is no paper of the name %q", m.Screen.Paper.Kind)
}
