package shop

import (
	"lugworth/core/money"
	"lugworth/core/unit"
)

// A Task is one way to do one piece of work.
type Task struct {
	ID     string        // "T2b"; unique in the library
	Task   string        // what is done; tasks of the same name are ways to do one thing; "setup" for set-ups, "state" for states of access
	Say    string        // the same for the owner, one sentence
	Pile   Pile          //
	Low    money.Decimal // hours, if all goes well
	Mode   money.Decimal // hours, most likely
	High   money.Decimal // hours, if it goes badly
	SetUps []string      // IDs of set-ups it needs, counted once a job

	Parts      []Need
	Fits       string // where it belongs: position words, "coupler", "output pair"
	Tap        string // mains tap it moves the amp to, or ""
	Look       Look
	Matter     Matter
	Undo       Undo
	Disclosure string // sentence for the report
	No         string // what a "no" means, one sentence
	Value      int    // the shop's weight for choosing among what is not a must; 0 = none given

	Other         string // what an outside shop does, or ""
	OtherPrice    money.Decimal
	OtherCarriage money.Decimal
	OtherDays     int // -1 not stated

	In     []string // access states in which it can be done, any of them; "closed" is one. Of a state: the one it is reached from
	After  []string // IDs of tasks that must be done before it, where they are done at all
	Wait   string   // drying or settling behind it: "24 h", "2 days"
	Chance int      // percent that it has to be done at all; 0 = it is no "if found" item

	Both   bool     // may be taken together with another way of the same task
	Needs  []string // IDs of tasks that must be accepted with it
	Source string
	Line   int
}

// SetUp reports whether t is shared work and not a task of its own.
func (t Task) SetUp() bool { return t.Task == "setup" }

// State reports whether t is a state of access: its hours are those of
// getting there from the state before and back again.
func (t Task) State() bool { return t.Task == "state" }

// Shared reports whether t is a set-up or a state, and nothing to be done for
// a finding.
func (t Task) Shared() bool { return t.SetUp() || t.State() }

// Closed is the state of an amp nobody has opened.
const Closed = "closed"

// A Need is one item of the parts cell.
//
//	3 electrolytic 22uF 450V = K:K-1002
type Need struct {
	Count  int
	Say    string // "electrolytic 22uF 450V"
	List   string // "K", or "" when the part is not chosen yet
	Number string // "K-1002"
}

// Pile is how urgent a task is.
type Pile string

const (
	Must   Pile = "must"
	Should Pile = "should"
	Could  Pile = "could"
)

// Look is how the amp looks afterward.
type Look string

const (
	AsMade Look = "as made"
	Close  Look = "close"
	Modern Look = "modern"
)

// Matter is what becomes of the original part.
type Matter string

const (
	Untouched Matter = "untouched" // no original part is removed
	InPlace   Matter = "in place"  // kept in place, out of use
	Bagged    Matter = "bagged"    // kept, handed back
	Consumed  Matter = "consumed"  // used up by the work
)

// Undo is how far a task can be undone.
type Undo string

const (
	U0 Undo = "U0" // nothing touched
	U1 Undo = "U1" // solder or plug only
	U2 Undo = "U2" // leaves a mark
	U3 Undo = "U3" // cannot be undone
)

// A Library is the shop's tasks in the order of its file.
type Library struct {
	Tasks []Task
	Wrong []unit.Problem // rows that could not be used, and why
	Rows  int            // len(Tasks) + Aside
	Aside int            // rows that could not be used
}

// Find returns the task with that ID.
func (l Library) Find(id string) (Task, bool) {
	for _, t := range l.Tasks {
		if t.ID == id {
			return t, true
		}
	}
	return Task{}, false
}

// Ways returns the tasks of one name, in file order.
func (l Library) Ways(task string) []Task {
	var out []Task
	for _, t := range l.Tasks {
		if t.Task == task {
			out = append(out, t)
		}
	}
	return out
}

// SetUps returns the shared set-ups, in file order.
func (l Library) SetUps() []Task { return l.Ways("setup") }

// States returns the states of access, in file order.
func (l Library) States() []Task { return l.Ways("state") }

// Access returns the states a task can ask for, each with those it is reached
// through, in file order.
func (l Library) Access(t Task) []Task {
	asked := map[string]bool{}
	for _, id := range append(append([]string{}, t.In...), t.SetUps...) {
		for s, ok := l.Find(id); ok && s.State() && !asked[s.ID]; s, ok = l.Find(s.From()) {
			asked[s.ID] = true
		}
	}
	var out []Task
	for _, s := range l.States() {
		if asked[s.ID] {
			out = append(out, s)
		}
	}
	return out
}

// From is the state a state is reached from; Closed where none is named.
func (t Task) From() string {
	if len(t.In) == 0 {
		return Closed
	}
	return t.In[0]
}
