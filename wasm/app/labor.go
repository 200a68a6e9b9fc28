package app

import (
	"strconv"

	"lugworth/core/job"
	"lugworth/wasm/port"
)

func init() {
	pressed["labor-sheet"] = func(m *Model, e event) []port.Effect {
		m.Screen.Desk.Leaf, m.Screen.Desk.Book, m.Screen.Toast = LeafBooks, BookSheet, Toast{}
		return nil
	}
	pressed["past-ask"] = func(m *Model, e event) []port.Effect {
		m.Screen.Desk.AddPast, m.Screen.Toast = true, Toast{}
		return nil
	}
	pressed["past-no"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.AddPast = false; return nil }
	pressed["past-add"] = func(m *Model, e event) []port.Effect { return m.addPast(e) }
	pressed["past-out"] = func(m *Model, e event) []port.Effect { return m.outOfPast(e) }
}

// pastFile is the book of finished work as it stands.
func (m *Model) pastFile() []byte {
	for _, f := range m.Shop.Files {
		if f.Name == job.PastName {
			return f.Data
		}
	}
	return nil
}

// addPast puts the finished work of the open job behind the rows of past.csv.
func (m *Model) addPast(e event) []port.Effect {
	m.Screen.Desk.AddPast = false
	if m.Open == nil || m.locked() {
		return nil
	}
	data, n, err := m.Open.Result.PastWith(m.pastFile())
	if err != nil {
		m.Screen.Toast = Toast{Say: err.Error()}
		return nil
	}
	return m.keepPast(e, data, tasks(n)+" of this job added to the shop's finished work")
}

// outOfPast takes the rows of the open job out of past.csv again.
func (m *Model) outOfPast(e event) []port.Effect {
	if m.Open == nil || m.locked() {
		return nil
	}
	data, n, err := m.Open.Result.PastWithout(m.pastFile())
	if err != nil {
		m.Screen.Toast = Toast{Say: err.Error()}
		return nil
	}
	return m.keepPast(e, data, tasks(n)+" of this job taken out of the shop's finished work")
}

func (m *Model) keepPast(e event, data []byte, say string) []port.Effect {
	effects := m.keepFile(job.PastName, data)
	m.Screen.Toast = Toast{Say: say}
	return append(effects, m.reopen(e.Fresh)...)
}

func tasks(n int) string {
	if n == 1 {
		return "1 task"
	}
	return strconv.Itoa(n) + " tasks"
}
