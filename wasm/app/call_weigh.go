package app

import (
	"cmp"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/sorted"
	"lugworth/wasm/port"
)

// A Weigh is what the telephone asks beside the result itself: what each
// option changes, the best choice inside what the owner names, the least to
// touch. It is worked out in pieces between presses, what is looked at first,
// and kept until a fact, a book or what is asked for changes.
type Weigh struct {
	Limits decision.Limits // the best is sought inside these
	Wrong  string          // why nothing can be weighed
	NoTurn string          // why nothing can be turned from the choice in force

	facts   string
	books   *job.Books
	said    Said
	of      *job.Result
	model   decision.Model
	seek    *decision.Seek
	noSeek  string
	stopped bool
	front   *decision.Front
	noFront string
	levers  []job.Lever
	pulled  bool
	moments int

	turns  map[string]map[string]Turn // by choice and option
	alone  map[string]Turn
	choice string
	now    decision.Standing
	turner *decision.Turner // from the choice in force
	todo   []string         // options not yet turned from the choice in force, the nearest first
	apart  []string         // options not yet turned by themselves
}

// A Turn is one option turned over. Wrong is why it has no price.
type Turn struct {
	decision.Delta
	Wrong string
}

const (
	tagWeigh  = "weigh"
	atOnce    = 24   // options turned before the page is drawn
	inAMoment = 6    // and in one piece after that
	patience  = 40   // pieces after which the page says that it is at work
	mostTurns = 4000 // turns that are kept
)

func init() {
	elapsed[tagWeigh] = func(m *Model, e event) []port.Effect {
		m.weighing = false
		if w := m.Weigh(); w != nil && m.Screen.Posture == "call" {
			w.piece(inAMoment)
		}
		return nil
	}
}

// Weigh returns what is weighed of the open job, nil if none is open.
func (m Model) Weigh() *Weigh {
	if m.Open == nil {
		return nil
	}
	w := m.Open.weigh
	if w != nil && w.of == m.Open.Result && w.books.Alike(m.Open.Books) && w.said == m.Said() {
		return w
	}
	key := m.FactsKey()
	if w == nil || w.facts != key || !w.books.Alike(m.Open.Books) || w.said != m.Said() {
		w = m.newWeigh(key, w)
		m.Open.weigh = w
	}
	w.follow(m.Open.Result, m.Screen.Near)
	return w
}

// newWeigh sets out. Of the same facts and books the turns stay, whatever the
// owner names.
func (m Model) newWeigh(key string, was *Weigh) *Weigh {
	w := &Weigh{facts: key, books: m.Open.Books, said: m.Said(), turns: map[string]map[string]Turn{}, alone: map[string]Turn{}}
	model, err := m.Open.Result.Model()
	if err != nil {
		w.Wrong = err.Error()
		return w
	}
	w.model = model
	for _, o := range m.Open.Job.Options {
		w.apart = append(w.apart, o.ID)
	}
	if was != nil && was.facts == w.facts && was.books.Alike(w.books) && was.Wrong == "" {
		w.turns, w.alone, w.apart = was.turns, was.alone, was.apart
	}
	w.Limits, err = m.saidLimits(model)
	if err != nil {
		w.noSeek, w.noFront = err.Error(), err.Error()
		return w
	}
	w.seekIn(w.Limits)
	return w
}

// seekIn begins both searches. Turns are held against what is on record.
func (w *Weigh) seekIn(l decision.Limits) {
	m := w.model
	m.Limits = l
	var err error
	if w.seek, err = decision.NewSeek(m); err != nil {
		w.noSeek = err.Error()
	}
	if w.front, err = decision.NewFront(m); err != nil {
		w.noFront = err.Error()
	}
}

// follow makes the choice in force the one options are turned from.
func (w *Weigh) follow(r *job.Result, near string) {
	if w.of == r || w.Wrong != "" {
		return
	}
	w.of = r
	now, err := w.model.Stand(r.Accepted())
	if err != nil {
		w.NoTurn = err.Error()
		w.now, w.choice, w.todo = decision.Standing{}, "\x00"+err.Error(), nil
		w.turns[w.choice] = map[string]Turn{}
		for i := range r.Job.Options {
			w.turns[w.choice][r.Job.Options[i].ID] = Turn{Wrong: err.Error()}
		}
		return
	}
	w.NoTurn = ""
	w.now, w.choice, w.todo = now, strings.Join(now.Accept, "\x00"), nil
	w.turner = w.model.From(now)
	if len(w.turns)*len(r.Job.Options) > mostTurns {
		w.turns = map[string]map[string]Turn{}
	}
	have := w.turns[w.choice]
	if have == nil {
		have = map[string]Turn{}
		w.turns[w.choice] = have
	}
	for _, id := range nearest(r, near) {
		if _, ok := have[id]; !ok {
			w.todo = append(w.todo, id)
		}
	}
}

// nearest lists the options in the order of the piles on the page, those next
// to the finding last pressed first.
func nearest(r *job.Result, near string) []string {
	type row struct{ at, option int }
	var rows []row
	here := 0
	for _, pile := range []string{"", "must", "should", "could"} {
		for f := range r.Findings {
			if string(r.Findings[f].Finding.Pile) != pile {
				continue
			}
			for _, i := range r.Findings[f].Options {
				if r.Findings[f].Finding.ID == near {
					here = len(rows)
				}
				rows = append(rows, row{len(rows), i})
			}
		}
	}
	sorted.By(rows, func(a, b row) int { return cmp.Compare(max(a.at-here, here-a.at), max(b.at-here, here-b.at)) })
	out := make([]string, len(rows))
	for i, x := range rows {
		out[i] = r.Job.Options[x.option].ID
	}
	return out
}

// Turn is what a press on an option would change, from the present choice; ok
// is false while it is being worked out.
func (w *Weigh) Turn(option string) (Turn, bool) {
	t, ok := w.turns[w.choice][option]
	return t, ok
}

// Alone is what an option comes to with nothing else done.
func (w *Weigh) Alone(option string) (Turn, bool) {
	t, ok := w.alone[option]
	return t, ok
}

// weighOn asks for the next piece, while Call is looked at and there is one.
// What is quick is done at once.
func (m *Model) weighOn() []port.Effect {
	if m.Screen.Posture != "call" || m.weighing {
		return nil
	}
	w := m.Weigh()
	if w == nil || w.idle() {
		return nil
	}
	if w.quick() {
		w.turnAll()
	}
	if w.moments == 0 || len(w.todo) > 0 {
		w.piece(atOnce)
	}
	if w.idle() {
		return nil
	}
	m.weighing = true
	return []port.Effect{port.Soon{Tag: tagWeigh}}
}

// quick reports whether a choice is priced by adding up, in microseconds, and
// not by a whole bill.
func (w *Weigh) quick() bool { return w.Wrong == "" && w.model.Floor != nil }

// turnAll turns every option at once: some hundreds take a few milliseconds,
// and the page is drawn once in place of twice.
func (w *Weigh) turnAll() {
	if len(w.apart) > 0 {
		if none, err := w.model.Stand(nil); err == nil {
			from := w.model.From(none)
			for _, id := range w.apart {
				w.alone[id] = turnOf(from.Turn(id))
			}
			w.apart = nil
		}
	}
	for _, id := range w.todo {
		w.turns[w.choice][id] = turnOf(w.turner.Turn(id))
	}
	w.todo = nil
}

// piece does a little of what is left: the turns in sight, the best, the least
// to touch, the rest.
func (w *Weigh) piece(turns int) {
	w.moments++
	for ; turns > 0 && len(w.todo) > 0; turns-- {
		id := w.todo[0]
		w.todo = w.todo[1:]
		w.turns[w.choice][id] = turnOf(w.turner.Turn(id))
	}
	if turns == 0 {
		return
	}
	switch {
	case w.Seeking():
		for range 1 + turns/8 {
			if !w.seek.Step() {
				break
			}
		}
	case w.front != nil && !w.frontDone():
		for range 1 + turns/8 {
			if !w.front.Step() {
				break
			}
		}
	}
	for ; turns > 0 && len(w.apart) > 0; turns-- {
		id := w.apart[0]
		w.apart = w.apart[1:]
		w.alone[id] = turnOf(w.model.Turn(nil, id))
	}
}

func turnOf(d decision.Delta, err error) Turn {
	t := Turn{Delta: d}
	if err != nil {
		t.Wrong = err.Error()
	}
	return t
}

// Seeking reports whether the best choice is still being sought.
func (w *Weigh) Seeking() bool { return w.seek != nil && !w.seek.Over() }

// Long reports whether the search goes on for so long that the page says so.
func (w *Weigh) Long() bool { return w.Seeking() && w.moments > patience }

// Looked is how much was looked at.
func (w *Weigh) Looked() int { return w.seek.Looked() }

func (w *Weigh) frontDone() bool { return w.stopped || w.front.Over() }

// Fronting reports whether the least to touch is still being sought.
func (w *Weigh) Fronting() bool { return w.front != nil && !w.frontDone() }

// Busy reports whether something of what is weighed is still to come.
func (w *Weigh) Busy() bool { return !w.idle() }

func (w *Weigh) idle() bool {
	return len(w.todo)+len(w.apart) == 0 && !w.Seeking() && !w.Fronting()
}

// stop ends both searches with what is found.
func (w *Weigh) stop() {
	if w.seek != nil {
		w.seek.Stop()
	}
	w.stopped = true
}

// Best is the best choice as far as it is known, or why there is none.
func (w *Weigh) Best() (decision.Best, string) {
	switch {
	case w.Wrong != "":
		return decision.Best{}, w.Wrong
	case w.noSeek != "":
		return decision.Best{}, w.noSeek
	case w.seek.Err() != nil:
		return decision.Best{}, w.seek.Err().Error()
	}
	return w.seek.Best(), ""
}

// Least are the choices that touch least as far as they are known, or why
// there are none.
func (w *Weigh) Least() (decision.Least, string) {
	switch {
	case w.Wrong != "":
		return decision.Least{}, w.Wrong
	case w.noFront != "":
		return decision.Least{}, w.noFront
	}
	return w.front.Least(), ""
}

// Levers are the free actions of the choice that touches least.
func (w *Weigh) Levers() []job.Lever {
	if w.pulled || w.front == nil || w.Fronting() {
		return w.levers
	}
	w.pulled = true
	if l := w.front.Least(); len(l.Points) > 0 {
		w.levers = w.of.Levers(l.Points[0].Accept)
	}
	return w.levers
}
