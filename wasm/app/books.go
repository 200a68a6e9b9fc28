package app

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/sorted"
	"lugworth/wasm/port"
)

// The books of the shop, as the plan lays them open.
const (
	BookLists = "lists"
	BookSheet = "sheet"
	BookCards = "cards"
	BookTerms = "terms"
	BookTasks = "tasks"
)

// A Remembered is what a person said about reading a price list. It is kept
// beside the list: the mapping serves the next file of that supplier too, the
// fixes belong to this one.
type Remembered struct {
	Mapping *catalog.Mapping `json:"mapping,omitempty"`
	Fixes   []catalog.Fix    `json:"fixes,omitempty"`
}

// A PriceList is one price list of the shop's: the file, what is remembered
// about it, and what was read.
type PriceList struct {
	Name string
	Remembered
	Bytes []byte
	Read  *catalog.List // nil where nothing could be read
	Wrong string        // why nothing could be read
	Left  bool          // reading was stopped: what is in Read is of before
	key   string        // of what it was read from

	Unpriced int // offers without a price
}

// Lists are the price lists of the shop by name.
type Lists map[string]*PriceList

// PriceLists returns the price lists in the order of their names.
func (m Model) PriceLists() []*PriceList {
	var out []*PriceList
	for _, f := range m.shopFiles() {
		if name, ok := job.ListName(f.Name); ok {
			if l := m.Shop.Lists[name]; l != nil {
				out = append(out, l)
			}
		}
	}
	sorted.By(out, func(a, b *PriceList) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// shopFiles are the shop's files. Each sample book stands in until one of its
// name is there: who brings only a price list can go on pricing. The sample
// lists go with the first file of one's own, for nobody can order from them.
func (m Model) shopFiles() []job.File {
	if len(m.Shop.Files) == 0 {
		return samples()
	}
	out := slices.Clone(m.Shop.Files)
	for _, f := range samples() {
		if _, list := job.ListName(f.Name); !list && !m.owns(f.Name) {
			out = append(out, f)
		}
	}
	return out
}

// owns says whether the shop has a file of this name of its own.
func (m Model) owns(name string) bool {
	return slices.ContainsFunc(m.Shop.Files, func(f job.File) bool { return f.Name == name })
}

// sampleOffer says whether a task of the samples names a supplier of the
// samples, whose list went when the shop brought one of its own.
func (m Model) sampleOffer(supplier string) bool {
	return !m.Shop.Demo && !m.owns("tasks.csv") && !m.owns("lists/"+supplier+".csv")
}

// StillSamples are the names of the sample books in force beside files of the
// shop's own.
func (m Model) StillSamples() (names []string) {
	for _, f := range samples() {
		if _, list := job.ListName(f.Name); !list && !m.Shop.Demo && !m.owns(f.Name) {
			names = append(names, f.Name)
		}
	}
	return names
}

// samples are the sample files, the same ones each time.
var samples = sync.OnceValue(Samples)

// whole is how many bytes of a price list are read at once, without showing
// progress: some six hundred rows.
const whole = 64 << 10

// openShop opens the shop's files, or the samples while there are none. Long
// price lists are not read here: the effects returned read them block by
// block.
func (m *Model) openShop() []port.Effect {
	m.Shop.Demo = len(m.Shop.Files) == 0
	files := m.shopFiles()
	m.Shop.base = m.booksOf(files, true)
	return m.nextImport()
}

// samplesIn reports whether the books a job carries are the samples: it was
// made while they were in force.
func (m *Model) samplesIn(j *job.Job) bool {
	if !m.Shop.Demo {
		return false
	}
	for _, f := range samples() {
		if f.Name == "shop.csv" {
			return carried(j, f.Name) == string(f.Data)
		}
	}
	return false
}

// booksOf opens books and puts the price lists in. Those of the shop's own
// are read once; others, which a job carries terms for, may ask for another
// reading.
func (m *Model) booksOf(files []job.File, own bool) *job.Books {
	var books []job.File
	for _, f := range files {
		if _, list := job.ListName(f.Name); !list {
			books = append(books, f)
		}
	}
	b := job.OpenBooks(builtin(), books)
	for _, f := range files {
		if name, list := job.ListName(f.Name); list {
			m.putList(b, name, f, own)
		}
	}
	if !b.UseIndex(m.Shop.index) {
		b.Reindex()
	}
	return b
}

// putList puts one price list into books. One that is too long to be read at
// once waits for its import; what was read of it before serves meanwhile.
func (m *Model) putList(b *job.Books, name string, f job.File, own bool) {
	l := m.list(name)
	terms := b.TermsOf(name)
	k := keyOf(f, terms, l.Remembered)
	if l.key != k && len(f.Data) <= whole {
		if !own {
			other := *l
			l = &other
		}
		l.Bytes = f.Data
		l.readAll(f.Name, terms)
		l.key = k
	}
	if l.key != k {
		l.Bytes = f.Data
	}
	if l.Read != nil {
		b.AddList(*l.Read)
		b.Problems = append(b.Problems, l.Read.Aside...)
	}
}

// list returns the price list of a name, made where there is none.
func (m *Model) list(name string) *PriceList {
	if m.Shop.Lists == nil {
		m.Shop.Lists = Lists{}
	}
	l := m.Shop.Lists[name]
	if l == nil {
		l = &PriceList{Name: name}
		m.Shop.Lists[name] = l
	}
	return l
}

// keyOf names what a list is read from; another key is another reading.
func keyOf(f job.File, t catalog.Terms, r Remembered) string {
	meta, _ := json.Marshal(r) // plain texts and numbers: this cannot fail
	return fmt.Sprintf("%d %p %s %v %v %q %q %s", len(f.Data), firstByte(f.Data), t.Currency, t.Decimal, t.TaxInPrice, t.PackColumn, t.LeadColumn, meta)
}

// firstByte tells one reading of a file from another of the same length: the
// bytes of a file are never changed, only replaced.
func firstByte(data []byte) *byte {
	if len(data) == 0 {
		return nil
	}
	return &data[0]
}

func (l *PriceList) readAll(file string, t catalog.Terms) {
	got, err := catalog.ReadList(l.Name, file, l.Bytes, t, l.Mapping, slices.Clone(l.Fixes)...)
	l.took(got, err)
}

func (l *PriceList) took(got catalog.List, err error) {
	l.Read, l.Wrong, l.Left, l.Unpriced = nil, "", false, 0
	if err != nil {
		l.Wrong = err.Error()
		return
	}
	l.Read = &got
	for i := range got.Offers {
		if !got.Offers[i].Priced {
			l.Unpriced++
		}
	}
}

// Wrongs are the problems of rows set aside, in the order of the file.
func (l *PriceList) Wrongs() int {
	if l.Read == nil {
		return 0
	}
	return len(l.Read.Aside)
}

// remember writes what is remembered of a list; "" for nothing.
func (r Remembered) write() string {
	if r.Mapping == nil && len(r.Fixes) == 0 {
		return ""
	}
	text, _ := json.Marshal(r)
	return string(text)
}

// recall reads what was remembered of a list. A text that cannot be read is
// said; the list is then read as if for the first time.
func (m *Model) recall(name, meta string) {
	l := m.list(name)
	l.Remembered = Remembered{}
	if meta == "" {
		return
	}
	if err := json.Unmarshal([]byte(meta), &l.Remembered); err != nil {
		l.Remembered = Remembered{}
		m.Screen.Problems = append(m.Screen.Problems, "list "+name+": what was remembered of its columns cannot be read: "+err.Error())
	}
}

func init() {
	pressed["list-open"] = func(m *Model, e event) []port.Effect {
		d := &m.Screen.Desk
		d.Confirm = ""
		if d.List == e.ID {
			d.List = ""
			return nil
		}
		d.List = e.ID
		return nil
	}
	pressed["list-remove"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.Confirm = e.ID; return nil }
	pressed["list-keep"] = func(m *Model, e event) []port.Effect { m.Screen.Desk.Confirm = ""; return nil }
	pressed["list-drop"] = func(m *Model, e event) []port.Effect { return m.dropList(e) }
	changed["list-fix"] = func(m *Model, e event) []port.Effect { return m.fix(e) }
	pressed["list-fix"] = func(m *Model, e event) []port.Effect { return m.fix(e) }
	pressed["list-unfix"] = func(m *Model, e event) []port.Effect { return m.unfix(e) }
	pressed["books-own"] = func(m *Model, e event) []port.Effect { return m.ownSamples(e) }
	changed["sheet-value"] = func(m *Model, e event) []port.Effect { return m.setSheet(e) }
	changed["sheet-source"] = func(m *Model, e event) []port.Effect { return m.setSheet(e) }
}

// locked says that the books may not be changed: another window writes, or
// they are the samples.
func (m *Model) locked() bool {
	if m.ReadOnly() != "" {
		return true
	}
	if m.Shop.Demo {
		m.Screen.Toast = Toast{Say: "These are the sample books. Make them yours first."}
		return true
	}
	return false
}

// reopen opens the books again after one of them changed, and derives.
func (m *Model) reopen(f port.Fresh) []port.Effect {
	effects := m.openShop()
	if m.Open != nil {
		m.Open.Books = nil
		m.refold()
		effects = append(effects, m.carryNow(f)...)
	}
	return effects
}

// ownSamples makes the sample books the shop's own, to be changed.
func (m *Model) ownSamples(e event) []port.Effect {
	if m.ReadOnly() != "" || !m.Shop.Demo {
		return nil
	}
	var effects []port.Effect
	for _, f := range Samples() {
		effects = append(effects, m.keepFile(f.Name, f.Data)...)
	}
	m.Screen.Toast = Toast{Say: "The sample books are yours now: change what is not so"}
	return append(effects, m.reopen(e.Fresh)...)
}

// setSheet changes one row of the shop sheet; id is its key.
func (m *Model) setSheet(e event) []port.Effect {
	if m.locked() {
		return nil
	}
	delete(m.Screen.Drafts, draftKey(e.Where))
	sheet := m.Shop.base.Sheet
	was, _ := sheet.Get(e.ID)
	value, source := was.Value, was.Source
	if e.Act == "sheet-value" {
		value = strings.TrimSpace(e.Value)
	} else {
		source = strings.TrimSpace(e.Value)
	}
	if value == was.Value && source == was.Source {
		return nil
	}
	effects := m.keepFile("shop.csv", sheet.Set(e.ID, value, source).Write())
	m.Screen.Toast = Toast{Say: "Shop sheet: " + e.ID + " changed. Frozen estimates stay as they are."}
	return append(effects, m.reopen(e.Fresh)...)
}
