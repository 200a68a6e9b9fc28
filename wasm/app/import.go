package app

import (
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

// An Import is a long price list being read, put in order and compared, piece
// by piece, with presses and drawings in between.
type Import struct {
	List    string
	Stage   string // what is being done
	Done    int    // of Total, in what the stage counts
	Total   int
	Rows    int // seen so far, = Read + Aside
	Read    int
	Aside   int
	Waiting int // lists that wait behind it

	file   job.File
	coming *Coming // nil: a list that is kept
	key    string
	reader *catalog.Reader
	index  *catalog.Indexing
	differ *catalog.Differ
	quotes []job.OpenQuote
}

// The stages of an import.
const (
	StageRead    = "read"
	StageCompare = "compare"
	StageQuotes  = "quotes"
	StageOrder   = "order"
)

const importTag = "import"

// Pieces of the stages: each takes a few thousandths of a second on the
// slowest tablet, however unlike each other the rows are.
const (
	readPiece    = 50   // rows
	comparePiece = 500  // rows of one of the lists
	orderPiece   = 1000 // offers
)

func init() {
	pressed["import-stop"] = func(m *Model, e event) []port.Effect { return m.stopImport(e) }
	pressed["import-go"] = func(m *Model, e event) []port.Effect {
		l := m.list(e.ID)
		l.key, l.Left = "", false
		return m.reopen(e.Fresh)
	}
	elapsed[importTag] = func(m *Model, e event) []port.Effect { return m.importOn(e.Fresh) }
}

func soon() []port.Effect { return []port.Effect{port.Soon{Tag: importTag}} }

// nextImport starts on the first list that is not read as it now is. A list
// that was just brought goes first.
func (m *Model) nextImport() []port.Effect {
	if i := m.Screen.Desk.Import; i != nil && (i.coming != nil || i.Stage == StageOrder) {
		return nil // its piece is on its way
	}
	running := m.Screen.Desk.Import != nil
	m.Screen.Desk.Import = nil
	var first *Import
	waiting := 0
	for _, f := range m.shopFiles() {
		name, ok := job.ListName(f.Name)
		if !ok {
			continue
		}
		l := m.list(name)
		k := keyOf(f, m.Shop.base.TermsOf(name), l.Remembered)
		switch {
		case l.key == k || l.Left:
		case first == nil:
			first = &Import{List: name, Stage: StageRead, Total: len(f.Data), file: f, key: k}
		default:
			waiting++
		}
	}
	if first == nil {
		return nil
	}
	first.Waiting = waiting
	m.Screen.Desk.Import = first
	if running {
		return nil
	}
	return soon()
}

// importOn does one piece of what is at hand.
func (m *Model) importOn(f port.Fresh) []port.Effect {
	i := m.Screen.Desk.Import
	if i == nil {
		return nil
	}
	switch i.Stage {
	case StageRead:
		return m.importRead(i, f)
	case StageCompare:
		return m.importCompare(i, f)
	case StageQuotes:
		return m.importQuotes(i, f)
	}
	return m.importOrder(i, f)
}

func (m *Model) importRead(i *Import, f port.Fresh) []port.Effect {
	if i.reader == nil {
		r, err := i.open(m)
		if err != nil {
			return m.importRefused(i, err, f)
		}
		i.reader = r
		return soon()
	}
	more := i.reader.Step(readPiece)
	p := i.reader.Progress()
	i.Done, i.Total, i.Rows, i.Read, i.Aside = p.Done, p.Total, p.Rows, p.Read, p.Aside
	if more {
		return soon()
	}
	got := i.reader.List()
	if c := i.coming; c != nil {
		c.Read = &got
		return m.importDone(f)
	}
	l := m.list(i.List)
	l.took(got, nil)
	l.key = i.key
	return m.startOrder(i)
}

func (i *Import) open(m *Model) (*catalog.Reader, error) {
	said := m.list(i.List).Remembered
	if i.coming != nil {
		said = i.coming.Remembered
	}
	return catalog.NewReader(i.List, i.file.Name, i.file.Data, m.Shop.base.TermsOf(i.List), said.Mapping, slices.Clone(said.Fixes)...)
}

func (m *Model) importRefused(i *Import, err error, f port.Fresh) []port.Effect {
	if i.coming != nil {
		i.coming.refuse(err)
		return m.importDone(f)
	}
	l := m.list(i.List)
	l.took(catalog.List{}, err)
	l.key = i.key
	m.Screen.Desk.Import = nil
	return append(m.reopen(f), m.comingLater(f)...)
}

// importDone leaves what was just brought to what comes next of it.
func (m *Model) importDone(f port.Fresh) []port.Effect {
	m.Screen.Desk.Import = nil
	return m.comingLater(f)
}

// startCompare compares a list with the one it is to replace.
func (m *Model) startCompare(c *Coming, was *catalog.List) []port.Effect {
	m.Screen.Desk.Import = &Import{List: c.Name, Stage: StageCompare, Total: len(was.Offers) + len(c.Read.Offers), coming: c,
		Rows: c.Read.Rows, Read: len(c.Read.Offers), Aside: c.Read.RowsAside, differ: catalog.StartDiff(*was, *c.Read)}
	return soon()
}

func (m *Model) importCompare(i *Import, f port.Fresh) []port.Effect {
	if i.differ.Step(comparePiece) {
		i.Done = min(i.Done+comparePiece, i.Total)
		return soon()
	}
	i.coming.compared(i.differ.Change())
	return m.importDone(f)
}

// startOrder puts the offers of all lists in order, so that opening the books
// takes no time.
func (m *Model) startOrder(i *Import) []port.Effect {
	lists := m.readLists()
	i.Stage, i.Done, i.Total, i.coming = StageOrder, 0, 0, nil
	for _, l := range lists {
		i.Total += 2 * len(l.Offers)
	}
	i.index = catalog.StartIndex(lists)
	m.Screen.Desk.Import = i
	return soon()
}

func (m *Model) importOrder(i *Import, f port.Fresh) []port.Effect {
	if i.index.Step(orderPiece) {
		i.Done = min(i.Done+orderPiece, i.Total)
		return soon()
	}
	m.Shop.index = i.index.Index()
	m.Screen.Desk.Import = nil
	return append(m.reopen(f), m.comingLater(f)...)
}

// readLists are the lists that were read, in the order of the files, as books
// hold them.
func (m *Model) readLists() []catalog.List {
	var out []catalog.List
	for _, f := range m.shopFiles() {
		if name, ok := job.ListName(f.Name); ok {
			if l := m.list(name); l.Read != nil {
				out = append(out, *l.Read)
			}
		}
	}
	return out
}

// stopImport leaves off reading. Nothing is half taken: a list that was just
// brought is dropped and the one before stays; a list that is kept counts as
// it did before.
func (m *Model) stopImport(e event) []port.Effect {
	i := m.Screen.Desk.Import
	if i == nil || i.List != e.ID || i.Stage == StageOrder {
		return nil
	}
	m.Screen.Desk.Import = nil
	if i.coming != nil {
		return m.dropComing(e)
	}
	m.list(e.ID).Left = true
	m.Screen.Toast = Toast{Say: "Reading " + e.ID + " stopped: nothing of it was taken"}
	return m.reopen(e.Fresh)
}
