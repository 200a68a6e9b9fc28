package app

import (
	"bytes"
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/wasm/port"
)

// A Coming is a price list that was brought and is not taken yet: a person may
// have to say what is in its columns, or look at what it changes. Until it is
// taken nothing of it counts and nothing of it is kept.
type Coming struct {
	Name string
	Remembered
	Bytes []byte
	Look  catalog.Preview // how its first rows would read
	Wrong string          // why it cannot be read at all
	Again bool            // a list that is kept, to be read another way

	Read   *catalog.List       // all of it, once read
	Change *catalog.ListChange // against the list it replaces; nil where there is none
	Digest Digest              // of Change
	Quotes int                 // open quotes that were looked at
	Breaks []job.Broken        // those that the change breaks
	Untold []string            // jobs whose quote could not be looked at, and why

	alone  bool // it was brought by itself
	asked  bool // its columns are to be looked at
	said   bool // a person has looked at them
	seen   bool // a person has looked at what it changes
	quoted bool // Quotes, Breaks and Untold are known
}

// Comings are the lists that were brought, oldest first.
type Comings []*Coming

// Asks says what a person is to look at: its columns, what it changes, or
// nothing.
func (c *Coming) Asks() string {
	switch {
	case c.asked && !c.said:
		return AskColumns
	case c.Change != nil && !c.Change.Empty() && !c.seen:
		return AskChanges
	}
	return ""
}

// What a coming list asks.
const (
	AskColumns = "columns"
	AskChanges = "changes"
)

// AskID is the id of what asks: it has the focus when it comes.
const AskID = "list-asks"

func init() {
	pressed["coming-take"] = func(m *Model, e event) []port.Effect { return m.agree(e) }
	pressed["coming-drop"] = func(m *Model, e event) []port.Effect { return m.dropComing(e) }
	pressed["list-columns"] = func(m *Model, e event) []port.Effect { return m.columnsAgain(e) }
}

// Coming is the list that is asked about, nil for none.
func (m Model) Coming() *Coming {
	if all := m.Screen.Desk.Coming; len(all) > 0 && m.Screen.Desk.Import == nil && all[0].Asks() != "" {
		return all[0]
	}
	return nil
}

// bringList has a list that was brought looked at. The same file once more
// changes nothing.
func (m *Model) bringList(name string, data []byte) (say string) {
	l := m.list(name)
	if m.owns("lists/"+name+".csv") && bytes.Equal(l.Bytes, data) && l.Read != nil {
		return "list " + name + " is the same file as before"
	}
	c := &Coming{Name: name, Bytes: data, Remembered: Remembered{Mapping: l.Mapping}}
	d := &m.Screen.Desk
	if i := d.Import; i != nil && i.coming != nil && i.coming.Name == name {
		d.Import = nil
	}
	d.Coming = slices.DeleteFunc(slices.Clone(d.Coming), func(o *Coming) bool { return o.Name == name })
	d.Coming = append(d.Coming, c)
	return ""
}

// asksAlone has the columns of one list asked about where nobody has said
// what they hold. Of several brought together only those are asked about that
// leave a question.
func (m *Model) asksAlone() {
	if all := m.Screen.Desk.Coming; len(all) > 0 {
		all[len(all)-1].alone = true
	}
}

// comingOn goes on with the lists that were brought, until one has to be read
// in pieces or asks something.
func (m *Model) comingOn(f port.Fresh) []port.Effect {
	effects := m.comingNext(f)
	switch i := m.Screen.Desk.Import; {
	case m.Coming() != nil:
		effects = append(append(effects, m.showBooks()...), port.FocusOn{ID: AskID})
	case i != nil && i.coming != nil:
		effects = append(effects, m.showBooks()...)
	}
	return effects
}

// comingLater goes on after pieces were done. Whoever does something else by
// then is told and not led away from it.
func (m *Model) comingLater(f port.Fresh) []port.Effect {
	effects := m.comingNext(f)
	switch c := m.Coming(); {
	case c == nil:
	case m.Screen.Posture == "plan" && m.Screen.Desk.Leaf == LeafBooks && m.Screen.Desk.lists():
		effects = append(effects, port.FocusOn{ID: AskID})
	default:
		m.alsoSay("list " + c.Name + " is read and waits for your answer: see Shop books on Plan")
	}
	return effects
}

// lists says that the price lists are the book that is open.
func (d Desk) lists() bool { return d.Book == "" || d.Book == BookLists }

func (m *Model) comingNext(f port.Fresh) (effects []port.Effect) {
	d := &m.Screen.Desk
	for d.Import == nil && len(d.Coming) > 0 {
		c := d.Coming[0]
		m.prepare(c)
		switch was := m.replaced(c); {
		case c.Look.Columns == nil:
			m.Screen.Problems = append(m.Screen.Problems, c.Wrong)
			d.Coming = d.Coming[1:]
		case c.Asks() != "" && (c.Change == nil || c.quoted):
			return effects
		case c.Read == nil:
			d.Import = &Import{List: c.Name, Stage: StageRead, Total: len(c.Bytes), Waiting: len(d.Coming) - 1, coming: c, file: c.file()}
			return append(effects, soon()...)
		case was != nil && c.Change == nil:
			return append(effects, m.startCompare(c, was)...)
		case c.Change != nil && !c.Change.Empty() && !c.quoted:
			return append(effects, m.startQuotes(c)...)
		default:
			effects = append(effects, m.takeComing(c, f)...)
		}
	}
	return effects
}

func (c *Coming) file() job.File { return job.File{Name: "lists/" + c.Name + ".csv", Data: c.Bytes} }

// prepare does at once what takes no time: it looks at the first rows, and
// reads and compares a short list.
func (m *Model) prepare(c *Coming) {
	if c.Look.Columns == nil {
		m.lookAt(c)
	}
	if c.Look.Columns == nil || c.Asks() != "" || len(c.Bytes) > whole {
		return
	}
	if c.Read == nil {
		f := c.file()
		got, err := catalog.ReadList(c.Name, f.Name, f.Data, m.Shop.base.TermsOf(c.Name), c.Mapping, slices.Clone(c.Fixes)...)
		if err != nil {
			c.refuse(err)
			return
		}
		c.Read = &got
	}
	if was := m.replaced(c); was != nil && c.Change == nil && len(was.Offers)+len(c.Read.Offers) <= 2*comparePiece {
		c.compared(catalog.Diff(*was, *c.Read))
	}
}

func (c *Coming) compared(change catalog.ListChange) { c.Change, c.Digest = &change, digestOf(change) }

// refuse has the columns asked about: as they are the list cannot be read.
func (c *Coming) refuse(err error) {
	c.Wrong, c.asked, c.said = err.Error(), true, false
}

// replaced is the list in force that a coming one would replace, nil for
// none. Samples are not replaced: they go.
func (m *Model) replaced(c *Coming) *catalog.List {
	if !m.owns("lists/" + c.Name + ".csv") {
		return nil
	}
	return m.list(c.Name).Read
}

// takeComing has a list count from now on, and kept.
func (m *Model) takeComing(c *Coming, f port.Fresh) []port.Effect {
	d := &m.Screen.Desk
	d.Coming = slices.DeleteFunc(slices.Clone(d.Coming), func(o *Coming) bool { return o == c })
	l := m.list(c.Name)
	l.Mapping = c.Mapping
	effects := m.keepFile(c.file().Name, c.Bytes)
	if c.Again {
		l.Fixes = c.Fixes
		effects = []port.Effect{m.saveList(c.Name)}
	}
	l.took(*c.Read, nil)
	l.key = keyOf(c.file(), m.Shop.base.TermsOf(c.Name), l.Remembered)
	m.alsoSay(fmt.Sprintf("list %s taken: %d rows, %d read, %d set aside", c.Name, c.Read.Rows, len(c.Read.Offers), c.Read.RowsAside))
	if len(c.Bytes) <= whole {
		return append(effects, m.reopen(f)...)
	}
	return append(effects, m.startOrder(&Import{List: c.Name, Rows: c.Read.Rows, Read: len(c.Read.Offers), Aside: c.Read.RowsAside, Waiting: len(d.Coming)})...)
}

// alsoSay adds to what is said of this press.
func (m *Model) alsoSay(s string) {
	if t := m.Screen.Toast.Say; t != "" {
		s = t + " · " + s
	}
	m.Screen.Toast = Toast{Say: s}
}

// agree goes on after a person has looked: at the columns, then at what
// changes.
func (m *Model) agree(e event) []port.Effect {
	c := m.Coming()
	if c == nil || c.Name != e.ID || m.ReadOnly() != "" {
		return nil
	}
	switch c.Asks() {
	case AskColumns:
		if c.Look.Refused != "" || c.Unclear() {
			m.Screen.Toast = Toast{Say: "The list cannot be read so: see what is asked about its columns"}
			return nil
		}
		mapping := c.Look.Mapping
		c.Mapping, c.said = &mapping, true
	case AskChanges:
		c.seen = true
	}
	m.Screen.Toast = Toast{}
	return m.comingOn(e.Fresh)
}

// dropComing leaves everything as it was.
func (m *Model) dropComing(e event) []port.Effect {
	d := &m.Screen.Desk
	d.Coming = slices.DeleteFunc(slices.Clone(d.Coming), func(c *Coming) bool { return c.Name == e.ID })
	m.clearDrafts("list-from", e.ID)
	m.Screen.Toast = Toast{Say: "Nothing of the new list " + e.ID + " was taken"}
	if m.list(e.ID).Read != nil {
		m.Screen.Toast.Say += ": the old one stays"
	}
	return m.comingOn(e.Fresh)
}

// showBooks lays the price lists open where a person has to look at one.
func (m *Model) showBooks() []port.Effect {
	m.closeDialog()
	s := &m.Screen
	s.Desk.Leaf, s.Desk.Book = LeafBooks, BookLists
	if s.Posture == "plan" {
		return nil
	}
	s.Posture = "plan"
	return []port.Effect{port.SetHash{Hash: "plan"}}
}
