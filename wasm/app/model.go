// Package app is the page's mind: the state, and what each message does to
// it. It touches no browser, clock or storage; work for those comes out as
// effects.
//
//	Update(m, Changed{finding/seen, "A2", "hums"}) → a record, a new Result, SaveRecords
//	Update(m, Typed{...})                          → a draft, nothing saved
package app

import (
	"lugworth/core/amp"
	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/core/why"
	"lugworth/wasm/port"
)

// A Model is everything the page knows. Job facts live in records and can be
// undone; Screen is neither saved nor undone.
type Model struct {
	Device string
	Loaded bool
	Jobs   []Head // every job kept on this device
	Open   *Open  // the job on the bench, nil if none
	Shop   Shop
	Photos Photos
	Screen Screen

	tag      int64 // of the last effect that saves
	seeking  bool  // a step of the search is on its way
	weighing bool  // a piece of what Call asks for is on its way
}

// A Head names one job kept on this device.
type Head struct {
	ID, Number, Title string
	kept              port.Job
}

// An Open is the job being worked on.
type Open struct {
	ID     string
	Log    *record.Log
	State  record.State
	Job    *job.Job
	Books  *job.Books
	Result *job.Result

	Notices []record.Notice // what could not be proven when it was opened
	chain   chainState
	work    *Work      // the circuit, made when a view asks for it
	seek    *Seek      // the cheapest order, likewise
	weigh   *Weigh     // what Call asks for, made when it is looked at
	entries int        // since the last snapshot
	undo    [][]string // groups of records one press made, newest last
	redo    [][]string // groups of undo records
	copies  int        // rows carried when Books was made
}

// Shop is the shop's own files: books and price lists, as brought.
type Shop struct {
	Files []job.File
	Demo  bool // they are the program's samples: nothing was brought yet
	Lists Lists
	base  *job.Books
	index *catalog.Index // of long lists, made in pieces; of no use once another list is read
}

// A Screen is what is looked at, not what is known.
type Screen struct {
	Posture string
	Dialog  string // "" none; see view
	Paper   Paper
	Target  string // what the dialog is about
	Why     string // key of the figure whose reason is open
	Bench   string // part of the bench that is open: intake, findings, readings, parts
	Finding string // open on the bench
	Ticks   Ticks  // the code of the owner
	Said    Said   // the ceiling and the day the owner names on the telephone
	Near    string // finding last pressed there
	Option  string // open in the plan
	Part    int
	Desk    Desk
	Circuit Circuit
	Buying  Buying
	Drafts  map[string]string // texts typed and not committed, by id of the input
	Entry   Entry             // the reading being entered
	Ask     string            // a question about what was just entered
	Toast   Toast
	Moved   int // counts toggles, for motion
	Now     string
	Today   string

	Tab      port.Tab
	Shell    port.Shell
	Storage  port.Storage
	SavedAt  string
	Saving   bool
	NotSaved string // why nothing is written, "" if it is
	Backup   Backup
	Answers  map[string]string // of findings left out, while an answer is taken down
	CopyAt   string            // when a backup last left the browser
	Changes  int               // records and files since then
	Problems []string
	Theme    string

	Whys *Whys
	Rows *Rows
}

// An Entry is a reading being typed; it keeps place and mains from the last.
type Entry struct{ At, Quantity, Value, Unit, Mains, State, Meter string }

// A Toast says what was done and offers to undo it.
type Toast struct {
	Say  string
	Undo bool
}

// Whys holds the reasons of the figures that are drawn, by key. The view
// fills it while it draws; a press looks its key up.
type Whys struct{ nodes map[string]*why.Node }

// Put notes the reason of a figure and returns its key.
func (w *Whys) Put(key string, n *why.Node) string {
	if n == nil {
		return ""
	}
	if w.nodes == nil {
		w.nodes = map[string]*why.Node{}
	}
	w.nodes[key] = n
	return key
}

// Get returns the reason noted under a key.
func (w *Whys) Get(key string) *why.Node { return w.nodes[key] }

// Rows holds rows of the page that need not be made anew while what they show
// is the same. The view fills it while it draws.
type Rows struct{ rows map[string]any }

// mostRows is how many rows are kept: some of any job, however large.
const mostRows = 4096

// Put keeps a row under its key.
func (r *Rows) Put(key string, row any) {
	if r == nil {
		return
	}
	if r.rows == nil || len(r.rows) >= mostRows {
		r.rows = map[string]any{}
	}
	r.rows[key] = row
}

// Get returns the row kept under a key, nil if there is none.
func (r *Rows) Get(key string) any {
	if r == nil {
		return nil
	}
	return r.rows[key]
}

// Start is the page before anything is loaded.
func Start() Model {
	return Model{Screen: Screen{Posture: "bench", Drafts: map[string]string{}, Whys: &Whys{}, Rows: &Rows{}}}
}

// Result returns what the open job gives, nil if none is open.
func (m Model) Result() *job.Result {
	if m.Open == nil {
		return nil
	}
	return m.Open.Result
}

// ReadOnly says why nothing may be changed here, "" if it may.
func (m Model) ReadOnly() string {
	if m.Loaded && !m.Screen.Tab.Writer {
		return "Another window writes. This one follows."
	}
	return ""
}

// Positions returns the positions of the open amp.
func (m Model) Positions() []amp.Position {
	if m.Open == nil {
		return nil
	}
	return m.Open.Job.Amp.Positions
}
