package app

import (
	"fmt"

	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/core/record"
	"lugworth/core/report"
	"lugworth/wasm/port"
)

// A Paper is which estimate lies open, and which one is held against today.
// Both are names of frozen records; "" is the estimate that still moves, and
// none.
// Kind is the paper beside the estimate that lies there in its place, "" the
// estimate.
type Paper struct{ Open, Drift, Kind string }

func init() {
	pressed["order-file"] = func(m *Model, e event) []port.Effect { return m.orderFiles(e.ID) }
	pressed["estimate-file"] = func(m *Model, e event) []port.Effect { return m.estimateFile(e.ID) }
	pressed["estimate-print"] = func(m *Model, e event) []port.Effect { return m.estimatePrint(e.ID) }
	pressed["freeze"] = func(m *Model, e event) []port.Effect { return m.freeze(e) }
	pressed["frozen-open"] = func(m *Model, e event) []port.Effect {
		m.Screen.Paper.Open = e.ID
		return nil
	}
	pressed["frozen-drift"] = func(m *Model, e event) []port.Effect {
		if m.Screen.Paper.Drift == e.ID {
			e.ID = ""
		}
		m.Screen.Paper.Drift = e.ID
		return nil
	}
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

// Estimate returns the paper of a frozen record, or of the choice in force
// where none is named.
func (m Model) Estimate(frozen string) (report.Estimate, error) {
	if m.Open == nil {
		return report.Estimate{}, fmt.Errorf("no job is open")
	}
	if frozen == "" {
		return m.Open.Result.Estimate()
	}
	f, ok := m.Frozen(frozen)
	if !ok {
		return report.Estimate{}, fmt.Errorf("there is no frozen estimate %q", frozen)
	}
	return m.Open.Result.FrozenEstimate(f)
}

// Frozen returns the frozen record of that name.
func (m Model) Frozen(id string) (job.FrozenRecord, bool) {
	if m.Open == nil {
		return job.FrozenRecord{}, false
	}
	for _, f := range m.Open.Job.Frozen {
		if f.ID == id {
			return f, true
		}
	}
	return job.FrozenRecord{}, false
}

// paper returns an estimate, or tells why there is none.
func (m *Model) paper(frozen string) (report.Estimate, bool) {
	e, err := m.Estimate(frozen)
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
	}
	return e, err == nil
}

func (m *Model) estimateFile(frozen string) []port.Effect {
	e, ok := m.paper(frozen)
	if !ok {
		return nil
	}
	return []port.Effect{port.WriteFile{File: port.File{Name: "estimate-" + e.Number + ".html", Mime: "text/html", Bytes: e.HTML()}}}
}

func (m *Model) estimatePrint(frozen string) []port.Effect {
	e, ok := m.paper(frozen)
	if !ok {
		return nil
	}
	return []port.Effect{port.Print{Title: "estimate " + e.Number, Body: string(e.Article())}}
}

// freeze keeps the estimate of the choice in force as it is today, with the
// books it rests on. Each has a number of its own: the second does not take
// the place of the first.
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
	number := m.nextFrozen()
	text, err := quote.Freeze(r.Promise(s, e.Date), quote.Stamp{
		Number: number, Date: e.Date, Rule: fmt.Sprint(job.RuleVersion),
		Sheet: r.Books.Sheet.Digest(), Set: s.Name, Accept: s.Accept,
	}).JSON()
	if err != nil {
		m.Screen.Problems = append(m.Screen.Problems, err.Error())
		return nil
	}
	cs := append(m.bookChanges(), set(job.KindFrozen, number, map[string]any{"set": s.Name, "at": e.At, "estimate": string(text), "asked": r.Asked()}))
	effects := m.commit(e.Fresh, "estimate "+number+" frozen", cs...)
	if len(effects) == 0 {
		return nil
	}
	if n := len(m.Open.undo); n > 0 {
		m.Open.undo = m.Open.undo[:n-1] // a frozen estimate is superseded, never undone
	}
	m.Screen.Toast.Undo = false
	m.Screen.Paper.Open = number
	return effects
}

// nextFrozen is the number of the next frozen estimate: the job's, and a
// count.
func (m *Model) nextFrozen() string {
	for n := len(m.Open.Job.Frozen) + 1; ; n++ {
		number := fmt.Sprintf("%s-%d", m.Open.Job.Number, n)
		if !m.Open.State.Has(job.KindFrozen, number) {
			return number
		}
	}
}

// chainState remembers what was found when the chain was last verified.
type chainState struct {
	head   string // short code at that time
	report record.Report
	done   bool
}

// Chain verifies the record chain of the open job. It is reckoned anew only
// when a record was added.
func (o *Open) Chain() record.Report {
	code := o.Result.Code
	if !o.chain.done || o.chain.head != code {
		o.chain = chainState{head: code, report: record.Verify(o.Log.File()), done: true}
	}
	return o.chain.report
}
