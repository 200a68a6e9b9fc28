package app

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"

	"lugworth/core/job"
	"lugworth/core/record"
	"lugworth/wasm/port"
)

// snapshotEvery is how many records a journal holds before a snapshot takes
// them in: reading a long journal is what makes a start slow.
const snapshotEvery = 50

// A change is one record to be made: a kind and the fields it sets.
type change struct {
	kind string
	body map[string]any
}

// set is the change of one entity.
func set(kind, id string, fields map[string]any) change {
	if id != "" {
		fields["id"] = id
	}
	return change{kind, fields}
}

// ownBooks are the files that stand beside the books a job carries.
func (m *Model) ownBooks() []job.File {
	if m.Shop.Demo {
		return nil
	}
	return m.shopFiles()
}

// whole is a change that gives an entity whole: one of its name that was
// removed before comes back, without what it held then.
func (m *Model) whole(c change) change {
	id, _ := c.body["id"].(string)
	for _, field := range m.Open.State.Left(c.kind, id) {
		if _, given := c.body[field]; !given {
			c.body[field] = nil
		}
	}
	if m.Open.State.Left(c.kind, id) != nil {
		c.body["removed"] = false
	}
	return c
}

// commit makes records of the changes, all of one press: they are saved in
// one transaction and undone by one press.
func (m *Model) commit(f port.Fresh, say string, changes ...change) []port.Effect {
	if m.Open == nil || m.ReadOnly() != "" || len(changes) == 0 {
		return nil
	}
	var made []record.Record
	for i, c := range changes {
		r, err := m.Open.Log.Append(c.kind, c.body, meta(f, m.Device, i))
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, err.Error())
			continue
		}
		made = append(made, r)
	}
	if len(made) == 0 {
		return nil
	}
	m.Open.undo = append(m.Open.undo, ids(made))
	m.Open.redo = nil
	m.Screen.Toast = Toast{Say: say, Undo: say != ""}
	return m.take(f, made)
}

// take folds new records in, derives again and has them saved.
func (m *Model) take(f port.Fresh, made []record.Record) []port.Effect {
	m.Open.State.Add(made...)
	m.refold(kindsOf(made)...)
	carried := m.carry(f)
	made = append(made, carried...)
	m.Screen.Changes += len(made)
	return []port.Effect{m.save(made)}
}

// kindsOf names the kinds of records.
func kindsOf(rs []record.Record) []string {
	kinds := make([]string, len(rs))
	for i, r := range rs {
		kinds[i] = r.Kind
	}
	return kinds
}

// refold makes job and result anew from the records. Kinds are those of the
// records just added; none means that anything may have changed.
func (m *Model) refold(kinds ...string) {
	o := m.Open
	if o.Job != nil && len(kinds) > 0 {
		o.Job = o.Job.After(o.State, kinds...)
	} else {
		o.Job = job.Fold(o.State, true)
	}
	switch {
	case o.Books == nil:
		o.Books = m.booksFor(o.Job)
	case o.copies != len(o.Job.Copies): // a row is carried: the books are the same
		o.Books = o.Books.WithCopies(o.Job.Copies)
	}
	o.copies = len(o.Job.Copies)
	o.Result = job.Again(o.Result, o.Job, o.Books, m.Screen.Today)
	o.Result.Code = o.Log.Code()
	for i := range m.Jobs {
		if m.Jobs[i].ID == o.ID {
			m.Jobs[i].Number, m.Jobs[i].Title = o.Job.Number, title(o.Job)
		}
	}
}

// Ahead works a little ahead of the next yes or no and of a look at Order, and
// reports whether more waits. Nothing that is shown changes by it.
func Ahead(m Model) bool {
	r := m.Result()
	return r != nil && (r.Ahead() || r.AheadOrder())
}

// booksFor opens the books for a job: the shop's own, and what the job
// carries where the shop has none.
func (m *Model) booksFor(j *job.Job) *job.Books {
	if m.Shop.base == nil || len(j.Books) > 0 && !m.samplesIn(j) {
		return m.booksOf(job.Carried(j, m.ownBooks()), false).WithCopies(j.Copies)
	}
	return m.Shop.base.WithCopies(j.Copies)
}

// carry copies the rows of price lists that accepted options use into the
// job, so that it opens without its lists.
func (m *Model) carry(f port.Fresh) []record.Record {
	o := m.Open
	var made []record.Record
	done := map[string]bool{}
	for _, res := range o.Result.Options {
		if !res.Accepted {
			continue
		}
		for _, l := range res.Lines {
			if l.Chosen == nil || o.Books.Copied(l.Chosen.Offer.List, l.Chosen.Offer.Number) {
				continue
			}
			c, err := o.Books.CopyOf(l.Chosen.Offer)
			if err != nil || done[c.ID] {
				continue
			}
			done[c.ID] = true
			r, err := o.Log.Append(job.KindOffer, c, meta(f, m.Device, 1000+len(made)))
			if err == nil {
				made = append(made, r)
			}
		}
	}
	if len(made) > 0 {
		o.State.Add(made...)
		m.refold(job.KindOffer)
	}
	return made
}

// save has records written: as journal entries, or, when the journal has
// grown long, in a snapshot of everything.
func (m *Model) save(made []record.Record) port.Effect {
	m.tag++
	m.Screen.Saving = true
	o := m.Open
	o.entries += len(made)
	e := port.SaveRecords{Tag: m.tag, Job: o.ID}
	if o.entries >= snapshotEvery {
		o.entries = 0
		e.Snapshot = o.Log.File().Write()
		return e
	}
	for _, r := range made {
		e.Entries = append(e.Entries, record.Entry(r))
	}
	return e
}

// meta names the n-th record of one press. The first takes the fresh name and
// salt; further ones are worked out from them.
func meta(f port.Fresh, device string, n int) record.Meta {
	if n == 0 {
		return record.Meta{ID: f.NewID, At: f.At, Device: device, Salt: f.Salt}
	}
	return record.Meta{ID: f.NewID + "." + strconv.Itoa(n), At: f.At, Device: device, Salt: salt(f.Salt, n)}
}

func salt(from string, n int) string {
	sum := sha256.Sum256([]byte(from + "/" + strconv.Itoa(n)))
	return hex.EncodeToString(sum[:16])
}

func ids(rs []record.Record) []string {
	out := make([]string, len(rs))
	for i, r := range rs {
		out[i] = r.ID
	}
	return out
}

// MayUndo and MayRedo report whether there is a press to take back, or to do
// again. The last presses of this device can be taken back after the page is
// loaded anew as well; doing again does not outlive it.
func (m Model) MayUndo() bool { return m.Open != nil && len(m.Open.undo) > 0 && m.ReadOnly() == "" }

// MayRedo: see [Model.MayUndo].
func (m Model) MayRedo() bool { return m.Open != nil && len(m.Open.redo) > 0 && m.ReadOnly() == "" }

// undo hides the records of the last press; redo brings them back.
func (m *Model) undo(f port.Fresh) []port.Effect {
	if m.Open == nil {
		return nil
	}
	return m.hide(f, &m.Open.undo, &m.Open.redo, "Undone")
}

func (m *Model) redo(f port.Fresh) []port.Effect {
	if m.Open == nil {
		return nil
	}
	return m.hide(f, &m.Open.redo, &m.Open.undo, "Done again")
}

// hide undoes the newest group of one stack and puts the undo records on the
// other: undoing an undo is doing again.
func (m *Model) hide(f port.Fresh, from, to *[][]string, say string) []port.Effect {
	if len(*from) == 0 || m.ReadOnly() != "" {
		return nil
	}
	group := (*from)[len(*from)-1]
	*from = (*from)[:len(*from)-1]
	var made []record.Record
	for i := len(group) - 1; i >= 0; i-- {
		r, err := m.Open.Log.Undo(group[i], meta(f, m.Device, len(made)))
		if err != nil {
			m.Screen.Problems = append(m.Screen.Problems, err.Error())
			continue
		}
		made = append(made, r)
	}
	if len(made) == 0 {
		return nil
	}
	*to = append(*to, ids(made))
	m.Screen.Toast = Toast{Say: say}
	return m.take(f, made)
}
