package app

import (
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

// An Import is a long price list being read, block by block, with the page
// drawn in between.
type Import struct {
	List        string
	Done, Total int // bytes
	Waiting     int // lists that wait behind it

	reader *catalog.Reader
	key    string
}

const importTag = "import"

func init() {
	pressed["import-stop"] = func(m *Model, e event) []port.Effect {
		name := e.ID
		m.stopImport(name)
		m.Screen.Toast = Toast{Say: "Reading " + name + " stopped: only its first rows count"}
		return m.reopen(e.Fresh)
	}
	pressed["import-go"] = func(m *Model, e event) []port.Effect {
		m.list(e.ID).key = ""
		m.list(e.ID).Left = false
		return m.reopen(e.Fresh)
	}
	elapsed[importTag] = func(m *Model, e event) []port.Effect { return m.importBlock(e.Fresh) }
}

// nextImport starts on the first list that is not read as it now is.
func (m *Model) nextImport() []port.Effect {
	m.Screen.Desk.Import = nil
	var first *Import
	waiting := 0
	for _, f := range m.shopFiles() {
		name, ok := job.ListName(f.Name)
		if !ok {
			continue
		}
		l, terms := m.list(name), m.Shop.base.TermsOf(name)
		k := keyOf(f, terms, l.Remembered)
		if l.key == k {
			continue
		}
		if first != nil {
			waiting++
			continue
		}
		r, err := catalog.NewReader(name, f.Name, f.Data, terms, l.Mapping, slices.Clone(l.Fixes)...)
		if err != nil {
			l.took(catalog.List{}, err)
			l.key = k
			continue
		}
		first = &Import{List: name, reader: r, key: k}
		first.Done, first.Total = r.Done()
	}
	if first == nil {
		return nil
	}
	first.Waiting = waiting
	m.Screen.Desk.Import = first
	return []port.Effect{port.After{Tag: importTag}}
}

// importBlock reads one block; after the last it takes the list into the
// books.
func (m *Model) importBlock(f port.Fresh) []port.Effect {
	i := m.Screen.Desk.Import
	if i == nil {
		return nil
	}
	more := i.reader.Next()
	i.Done, i.Total = i.reader.Done()
	if more {
		return []port.Effect{port.After{Tag: importTag}}
	}
	l := m.list(i.List)
	l.took(i.reader.List(), nil)
	l.key = i.key
	m.Screen.Desk.Import = nil
	return m.reopen(f)
}

// stopImport leaves off reading a list and keeps what was read of it.
func (m *Model) stopImport(name string) {
	i := m.Screen.Desk.Import
	if i == nil || i.List != name {
		return
	}
	l := m.list(name)
	l.took(i.reader.List(), nil)
	l.key, l.Left = i.key, true
	m.Screen.Desk.Import = nil
}
