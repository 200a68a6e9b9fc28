package app

import (
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

// fix replaces one cell of a list: k is line/column, an empty column the
// whole row. The file stays as the supplier wrote it.
func (m *Model) fix(e event) []port.Effect {
	line, column, _ := strings.Cut(e.K, "/")
	n, err := strconv.Atoi(line)
	if err != nil || m.locked() {
		return nil
	}
	l := m.list(e.ID)
	f := catalog.Fix{Line: n, Column: column, Cell: e.Value, Was: l.stood(n, column)}
	l.Fixes = slices.DeleteFunc(slices.Clone(l.Fixes), func(o catalog.Fix) bool { return o.Line == n && o.Column == column })
	l.Fixes = append(l.Fixes, f)
	return m.again(e, e.ID)
}

// stood is what stands in a cell of a row set aside, "" where that is not
// known: the fix then holds whatever stands there.
func (l *PriceList) stood(line int, column string) string {
	if l.Read == nil || column == "" {
		return ""
	}
	for _, r := range l.Read.AsideRows {
		for _, c := range r.Cells {
			if r.Line == line && c.Column == column {
				return c.Text
			}
		}
	}
	return ""
}

// unfix takes a fix back.
func (m *Model) unfix(e event) []port.Effect {
	line, column, _ := strings.Cut(e.K, "/")
	n, err := strconv.Atoi(line)
	if err != nil || m.locked() {
		return nil
	}
	l := m.list(e.ID)
	l.Fixes = slices.DeleteFunc(slices.Clone(l.Fixes), func(o catalog.Fix) bool { return o.Line == n && o.Column == column })
	return m.again(e, e.ID)
}

// again keeps what is remembered of a list and reads it anew.
func (m *Model) again(e event, name string) []port.Effect {
	if m.locked() {
		return nil
	}
	delete(m.Screen.Drafts, draftKey(e.Where))
	effects := []port.Effect{m.saveList(name)}
	return append(effects, m.reopen(e.Fresh)...)
}

// saveList has a list and what is remembered of it written.
func (m *Model) saveList(name string) port.Effect {
	l := m.list(name)
	m.tag++
	m.Screen.Saving = true
	return port.SaveList{Tag: m.tag, List: port.List{Name: name, Meta: l.Remembered.write(), Bytes: l.Bytes}}
}

// dropList removes a price list from this device.
func (m *Model) dropList(e event) []port.Effect {
	m.Screen.Desk.Confirm, m.Screen.Desk.List = "", ""
	if m.locked() {
		return nil
	}
	if i := m.Screen.Desk.Import; i != nil && i.List == e.ID {
		m.Screen.Desk.Import = nil
	}
	m.Shop.Files = slices.DeleteFunc(slices.Clone(m.Shop.Files), func(f job.File) bool {
		name, ok := job.ListName(f.Name)
		return ok && name == e.ID
	})
	delete(m.Shop.Lists, e.ID)
	m.tag++
	m.Screen.Saving = true
	m.Screen.Toast = Toast{Say: "List " + e.ID + " removed"}
	return append([]port.Effect{port.DropList{Tag: m.tag, Name: e.ID}}, m.reopen(e.Fresh)...)
}
