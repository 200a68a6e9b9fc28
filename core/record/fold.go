package record

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// What Fold may have to say.
const (
	// UndoNothing: an undo names no record, several, or one after itself.
	UndoNothing Code = "undo-nothing"
	// UndoRefused: an undo names a consent, a frozen estimate or a hand-back.
	UndoRefused Code = "undo-refused"
	// BodyUnread: a body cannot be read, or its id is not text.
	BodyUnread Code = "body-unread"
	// SealedTwice: a consent, frozen estimate or hand-back has the name of an
	// earlier one. It stands apart and changes nothing in that.
	SealedTwice Code = "sealed-twice"
)

// A State is what holds now, worked out from records by Fold. A kind holds
// entities by id, an entity holds fields, and every field knows the record
// that set it.
//
// A State that was copied before Add must not be used after it, and no State
// from two goroutines at once: it keeps what it worked out.
type State struct {
	all      []hashed // in order, each once
	graph    *ancestry
	kinds    []string // in order of first appearance
	tables   map[string]*table
	known    []string
	keys     map[string]string // kind -> the field that serves as id
	hiddenBy map[int]int       // record -> the undo that hides it
	redacted []int
	notices  []Notice
}

type table struct {
	ids      []string // in order of first appearance, removed ones too
	entities map[string]*entity
	records  []int
}

type entity struct {
	fields map[string]*slot
	json   []byte // what Decode reads; nil after a change
}

// A claim is one record's word for one field.
type claim struct {
	record int
	json   json.RawMessage
}

// A slot is one field: the word in force, and those of other devices that
// neither it nor any later word had seen.
type slot struct {
	claim
	rivals []claim
}

// Fold answers what holds after all records. They are taken in the order of
// n, device and id. A record sets the top-level fields of its body on the
// entity its "id" names (none: the single entity ""; for consents, frozen
// estimates and hand-backs: an entity of its own, under the record's id). Null
// takes a field away; "removed":true takes the entity away until it is false.
// Of a sealed kind every record is an entity of its own: one that has the name
// of an earlier one, as two devices apart give them, is called NAME~RECORD.
//
// Redacted records set nothing. An undo hides one record, as if it had not
// been said. Kinds other than the known ones are folded all the same and
// listed by Unknown; with none given, that list stays empty. A known kind may
// name the field that serves as id where a body has none: "set:name".
func Fold(records []Record, known ...string) State {
	return foldOrdered(inOrder(records), known)
}

func foldOrdered(ordered []hashed, known []string) State {
	s := State{graph: newAncestry(len(ordered)), tables: map[string]*table{}, known: known, keys: keysOf(known), hiddenBy: map[int]int{}}
	s.all = slices.CompactFunc(ordered, func(a, b hashed) bool { return a.hash == b.hash })
	for i := range s.all {
		s.graph.add(&s.all[i])
	}
	s.hide()
	for i := range s.all {
		s.apply(i)
	}
	return s
}

func keysOf(known []string) map[string]string {
	keys := map[string]string{}
	for _, k := range known {
		kind, field, named := strings.Cut(k, ":")
		if _, known := keys[kind]; named || !known {
			keys[kind] = field
		}
	}
	return keys
}

// Add folds more records in. Where they come after all others, as those made
// on this device do, only they are folded; otherwise all are.
func (s *State) Add(more ...Record) {
	for _, h := range inOrder(more) {
		if _, here := s.graph.byHash[h.hash]; here {
			continue
		}
		last := len(s.all) - 1
		if h.Kind != Undo && (last < 0 || compare(&s.all[last], &h) < 0) {
			s.all = append(s.all, h)
			s.graph.add(&h)
			s.apply(last + 1)
			continue
		}
		ordered := append(slices.Clone(s.all), h)
		sortRecords(ordered)
		*s = foldOrdered(ordered, s.known)
	}
}

func (s *State) note(i int, code Code, say string) {
	r := &s.all[i]
	s.notices = append(s.notices, Notice{Code: code, Device: r.Device, ID: r.ID, Say: fmt.Sprintf("record %s: %s", r.ID, say)})
}

func (s *State) table(kind string) *table {
	t := s.tables[kind]
	if t == nil {
		t = &table{entities: map[string]*entity{}}
		s.tables[kind] = t
		s.kinds = append(s.kinds, kind)
	}
	return t
}

// apply folds record i in, unless it is hidden.
func (s *State) apply(i int) {
	r := &s.all[i]
	if _, hidden := s.hiddenBy[i]; hidden {
		return
	}
	t := s.table(r.Kind)
	t.records = append(t.records, i)
	if r.Redacted() {
		s.redacted = append(s.redacted, i)
		return
	}
	if r.Kind == Undo {
		return
	}
	fields, err := split(r.Body)
	if err == nil {
		err = s.set(t, i, fields)
	}
	if err != nil {
		s.note(i, BodyUnread, err.Error())
	}
}

// set writes the fields of record i to its entity.
func (s *State) set(t *table, i int, fields []field) error {
	id, err := entityID(&s.all[i].Record, fields, s.keys[s.all[i].Kind])
	if err != nil {
		return err
	}
	if Sealed(s.all[i].Kind) {
		id = s.apart(t, i, id)
	}
	e := t.entities[id]
	if e == nil {
		e = &entity{fields: make(map[string]*slot, len(fields))}
		t.entities[id] = e
		t.ids = append(t.ids, id)
	}
	e.json = nil
	for _, f := range fields {
		if f.key == "id" {
			continue
		}
		c := claim{i, f.json}
		if old := e.fields[f.key]; old == nil {
			e.fields[f.key] = &slot{claim: c}
		} else {
			old.set(c, s.graph)
		}
	}
	return nil
}

// apart is the name of a sealed record: its own, with what tells it from an
// earlier one of that name, which it never changes.
func (s *State) apart(t *table, i int, id string) string {
	if t.entities[id] == nil {
		return id
	}
	s.note(i, SealedTwice, fmt.Sprintf("it is a %s named %q as an earlier one is, and stands beside that as one of its own", s.all[i].Kind, id))
	for t.entities[id] != nil {
		id += Apart + s.all[i].ID
	}
	return id
}

// Apart stands in the name of a sealed record between the name that an
// earlier one has as well and the record's id.
const Apart = "~"

func (v *slot) set(c claim, g *ancestry) {
	rivals := v.rivals
	if len(rivals) > 0 {
		rivals = g.unseenBy(c.record, rivals)
	}
	if !g.saw(c.record, v.record) {
		rivals = append(rivals, v.claim)
	}
	v.claim, v.rivals = c, rivals
}

// entityID is what a body names: its "id", or for a set its "name".
// entityID works out which entity a record is about: its "id", else the field
// that serves as one, else its own for sealed kinds, else the single one.
func entityID(r *Record, fields []field, key string) (string, error) {
	id := ""
	if Sealed(r.Kind) {
		id = r.ID
	}
	for _, f := range fields {
		if f.key != "id" && (key == "" || f.key != key) {
			continue
		}
		text, ok := plainText(f.json)
		if !ok {
			return "", fmt.Errorf("the %s of the body is not text: %s", f.key, f.json)
		}
		if id = text; f.key == "id" {
			break
		}
	}
	return id, nil
}
