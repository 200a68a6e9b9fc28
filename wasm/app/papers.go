package app

import (
	"fmt"

	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/wasm/port"
)

func init() {
	pressed["order-file"] = func(m *Model, e event) []port.Effect { return m.orderFiles(e.ID) }
	pressed["estimate-file"] = func(m *Model, e event) []port.Effect { return m.estimateFile() }
	pressed["estimate-print"] = func(m *Model, e event) []port.Effect {
		return []port.Effect{port.Print{Title: m.Open.Job.Number + " estimate"}}
	}
	pressed["freeze"] = func(m *Model, e event) []port.Effect { return m.freeze(e) }
}

// orderFiles hands over the order file of one supplier, of all if none is
// named.
func (m *Model) orderFiles(supplier string) []port.Effect {
	if m.Open == nil {
		return nil
	}
	files, warnings, err := m.Open.Result.OrderFiles()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	m.Screen.Problems = append(m.Screen.Problems, warnings...)
	var out []port.Effect
	for _, f := range files {
		if supplier == "" || f.Name == "order-"+supplier+".csv" {
			out = append(out, port.WriteFile{File: port.File{Name: f.Name, Mime: "text/csv", Bytes: f.Data}})
		}
	}
	return out
}

func (m *Model) estimateFile() []port.Effect {
	if m.Open == nil {
		return nil
	}
	page, err := m.Open.Result.EstimateHTML()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	return []port.Effect{port.WriteFile{File: port.File{Name: "estimate-" + m.Open.Job.Number + ".html", Mime: "text/html", Bytes: page}}}
}

// freeze keeps the estimate of the choice in force as it is today, with the
// books it rests on.
func (m *Model) freeze(e event) []port.Effect {
	if m.Open == nil || m.Open.Result.Force < 0 {
		return nil
	}
	r := m.Open.Result
	s := r.Sets[r.Force]
	if s.Err != "" {
		m.Screen.Problems = append(m.Screen.Problems, s.Err)
		return nil
	}
	text, err := quote.Freeze(s.Bill, quote.Stamp{
		Number: fmt.Sprintf("%s-%d", r.Job.Number, len(r.Job.Frozen)+1), Date: e.Date, Rule: fmt.Sprint(job.RuleVersion),
		Sheet: r.Books.Sheet.Digest(), Set: s.Name, Accept: s.Accept,
	}).JSON()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	cs := append(m.bookChanges(), change{job.KindFrozen, map[string]any{"set": s.Name, "at": e.At, "estimate": string(text)}})
	effects := m.commit(e.Fresh, "estimate frozen", cs...)
	if n := len(m.Open.undo); n > 0 {
		m.Open.undo = m.Open.undo[:n-1] // a frozen estimate is superseded, never undone
	}
	m.Screen.Toast.Undo = false
	return effects
}
