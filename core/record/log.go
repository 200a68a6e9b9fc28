package record

import (
	"errors"
	"fmt"
	"maps"
	"slices"
)

// A Log adds records to a file. Use one Log per file, and not from two
// goroutines at once.
type Log struct {
	file  File
	heads map[string]string
	ids   map[string]bool
	top   int64           // greatest n so far
	tips  map[string]bool // hashes that no record holds; nil until the code is asked for
}

// NewLog returns a Log that goes on after the records of f.
func NewLog(f File) *Log {
	l := &Log{file: f, heads: maps.Clone(f.heads()), ids: map[string]bool{}}
	l.file.Records = slices.Clip(f.Records)
	for _, r := range f.Records {
		l.ids[r.ID] = true
		l.top = max(l.top, r.N)
	}
	return l
}

// File returns what the log holds now. Later records do not show in it.
func (l *Log) File() File {
	f := l.file
	f.Records = slices.Clip(f.Records)
	if !f.NoChain {
		f.Format, f.Heads = Format, maps.Clone(l.heads)
	}
	return f
}

// Heads returns the hash of the last record of every device's chain.
func (l *Log) Heads() map[string]string { return maps.Clone(l.heads) }

// Append adds what was said and returns its record: n is one more than the
// greatest in the log, seen the heads of the other devices, prev the head of
// this one.
//
// Errors: a hand-written log (adopt it first); an empty kind, id, time or
// device; an id that stands in the log; a salt that is not at least 16 bytes
// in hex; a body that is not an object or has no canonical form; an undo of
// what is not there or may not be undone.
func (l *Log) Append(kind string, body any, meta Meta) (Record, error) {
	r, err := l.next(kind, body, meta)
	if err != nil {
		return Record{}, fmt.Errorf("adding a record of kind %q: %w", kind, err)
	}
	l.add(r)
	return r, nil
}

func (l *Log) next(kind string, body any, meta Meta) (Record, error) {
	if err := l.check(kind, meta); err != nil {
		return Record{}, err
	}
	canon, err := Canonical(body)
	if err != nil {
		return Record{}, err
	}
	if canon[0] != '{' {
		return Record{}, errors.New("the body is not an object: " + quoted(string(canon)))
	}
	r := Record{ID: meta.ID, At: meta.At, Device: meta.Device, N: l.top + 1, Prev: First,
		Seen: maps.Clone(l.heads), Kind: kind, Salt: meta.Salt, Body: canon}
	if head, ok := r.Seen[r.Device]; ok {
		r.Prev = head
		delete(r.Seen, r.Device)
	}
	r.BodyHash = BodyHash(r.Salt, r.Body)
	return r, l.checkBody(r)
}

// checkBody finds what the fold could not use.
func (l *Log) checkBody(r Record) error {
	if r.Kind == Undo {
		_, err := l.undoTarget(undoRef(r.Body))
		return err
	}
	fields, err := split(r.Body)
	if err == nil {
		_, err = entityID(&r, fields, "")
	}
	return err
}

func (l *Log) check(kind string, m Meta) error {
	switch {
	case l.file.NoChain:
		return errors.New("the file was written by hand and has no chain; adopt it first")
	case kind == "" || m.ID == "" || m.At == "" || m.Device == "":
		return fmt.Errorf("kind, id, time and device are needed: have %q, %q, %q, %q", kind, m.ID, m.At, m.Device)
	case l.ids[m.ID]:
		return fmt.Errorf("the id %q stands in the log already", m.ID)
	case !isHex(m.Salt) || len(m.Salt) < 32:
		return errors.New("the salt is not at least 16 bytes in hex (digits 0-9 a-f)")
	}
	return nil
}

func (l *Log) add(r Record) {
	hash := r.Hash()
	l.file.Records = append(l.file.Records, r)
	l.heads[r.Device] = hash
	l.tip(r, hash)
	l.ids[r.ID] = true
	l.top = r.N
}

// Undo adds a record that hides the one named by hash or id; naming an undo
// brings back what that one hid.
//
// Errors: those of Append.
func (l *Log) Undo(ref string, meta Meta) (Record, error) {
	target, err := l.undoTarget(ref)
	if err != nil {
		return Record{}, fmt.Errorf("undoing: %w", err)
	}
	return l.Append(Undo, map[string]string{"record": target.Hash()}, meta)
}

func (l *Log) undoTarget(ref string) (Record, error) {
	found := l.file.Find(ref)
	switch {
	case len(found) == 0:
		return Record{}, fmt.Errorf("there is no record %q", ref)
	case len(found) > 1:
		return Record{}, fmt.Errorf("%d records have the id %q; name one by its hash", len(found), ref)
	}
	r := l.file.Records[found[0]]
	if Sealed(r.Kind) {
		return Record{}, fmt.Errorf("record %q is of kind %q, which only a later one supersedes", r.ID, r.Kind)
	}
	return r, nil
}

// Sealed says that records of a kind cannot be undone: consents, frozen
// estimates and hand-backs, which only a later one supersedes.
func Sealed(kind string) bool { return kind == Consent || kind == Frozen || kind == HandBack }

// Adopt gives a hand-written file a chain: every record becomes one of the
// named device, in the order of the file, under the id it has (r1, r2, ...).
// One salt is needed for each record.
//
// Errors: the file has a chain; too few salts; those of Append.
func Adopt(f File, device, at string, salts []string) (File, error) {
	if !f.NoChain {
		return File{}, errors.New("adopting: the file has a chain already")
	}
	if len(salts) < len(f.Records) {
		return File{}, fmt.Errorf("adopting: %d records and %d salts", len(f.Records), len(salts))
	}
	l := NewLog(File{Format: Format})
	for i, r := range f.Records {
		made, err := l.next(r.Kind, r.Body, Meta{r.ID, at, device, salts[i]})
		if err != nil {
			return File{}, fmt.Errorf("adopting record %s: %w", r.ID, err)
		}
		made.Extra = r.Extra
		l.add(made)
	}
	return l.File(), nil
}
