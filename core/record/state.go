package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
)

// A Value is one field as it stands, and the record that set it.
type Value struct {
	JSON   json.RawMessage
	Record string // its id
	Hash   string
}

// Unknown is a kind that the caller did not name as known, and the ids of its
// records.
type Unknown struct {
	Kind    string
	Records []string
}

// Kinds returns the kinds there are, in order of first appearance.
func (s State) Kinds() []string { return slices.Clone(s.kinds) }

// IDs returns the entities of a kind in order of first appearance, without
// those removed.
func (s State) IDs(kind string) []string {
	t := s.tables[kind]
	if t == nil {
		return nil
	}
	out := make([]string, 0, len(t.ids))
	for _, id := range t.ids {
		if !t.entities[id].removed() {
			out = append(out, id)
		}
	}
	return out
}

func (e *entity) removed() bool {
	v := e.fields["removed"]
	return v != nil && string(v.json) == "true"
}

// live returns an entity that is there and not removed, or nil.
func (s State) live(kind, id string) *entity {
	t := s.tables[kind]
	if t == nil {
		return nil
	}
	if e := t.entities[id]; e != nil && !e.removed() {
		return e
	}
	return nil
}

// Has says whether there is such an entity.
func (s State) Has(kind, id string) bool { return s.live(kind, id) != nil }

// Known says whether there is such an entity or once was: a name that was
// given and taken away is not free for another.
func (s State) Known(kind, id string) bool {
	t := s.tables[kind]
	return t != nil && t.entities[id] != nil
}

// Left returns the names of the fields that a removed entity still holds,
// sorted, "removed" among them; nil where it was not removed.
func (s State) Left(kind, id string) []string {
	if !s.Known(kind, id) || s.Has(kind, id) {
		return nil
	}
	return s.tables[kind].entities[id].names()
}

// Fields returns the names of the fields an entity has, sorted; "id" is not
// one of them.
func (s State) Fields(kind, id string) []string {
	e := s.live(kind, id)
	if e == nil {
		return nil
	}
	return e.names()
}

func (e *entity) names() []string {
	return slices.DeleteFunc(sortedKeys(e.fields), func(k string) bool { return e.fields[k].gone() })
}

func (v *slot) gone() bool { return string(v.json) == "null" }

// Field returns one field as it stands.
func (s State) Field(kind, id, field string) (Value, bool) {
	e := s.live(kind, id)
	if e == nil || e.fields[field] == nil || e.fields[field].gone() {
		return Value{}, false
	}
	v := e.fields[field]
	r := &s.all[v.record]
	return Value{v.json, r.ID, r.hash}, true
}

// Origin returns the id of the record that set a field; "" where none did.
func (s State) Origin(kind, id, field string) string {
	v, _ := s.Field(kind, id, field)
	return v.Record
}

// JSON returns an entity as one canonical object: its fields and, unless it is
// the single one, its "id". It is kept until a record sets something there, so
// it serves to tell whether an entity changed.
func (s State) JSON(kind, id string) ([]byte, bool) {
	e := s.live(kind, id)
	if e == nil {
		return nil, false
	}
	if e.json == nil {
		e.json = e.write(id)
	}
	return e.json, true
}

func (e *entity) write(id string) []byte {
	names := e.names()
	if id != "" {
		at, _ := slices.BinarySearch(names, "id")
		names = slices.Insert(names, at, "id")
	}
	out := []byte{'{'}
	for i, name := range names {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(appendText(out, name), ':')
		if name == "id" {
			out = appendText(out, id)
		} else {
			out = append(out, e.fields[name].json...)
		}
	}
	return append(out, '}')
}

// Decode reads an entity into a Go value, as encoding/json reads an object of
// its fields and its "id". Fields the Go type does not have are passed over.
//
// Errors: no such entity; a field of another type than the Go value's.
func (s State) Decode(kind, id string, into any) error {
	raw, ok := s.JSON(kind, id)
	if !ok {
		return fmt.Errorf("reading %s %q: there is none", kind, id)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		return fmt.Errorf("reading %s %q: %w", kind, id, err)
	}
	return nil
}

// Entities decodes all entities of a kind in order of first appearance. Those
// that cannot be read are left out and the error says which and why.
func Entities[T any](s State, kind string) ([]T, error) {
	ids := s.IDs(kind)
	out := make([]T, 0, len(ids))
	var errs []error
	for _, id := range ids {
		var v T
		if err := s.Decode(kind, id, &v); err != nil {
			errs = append(errs, err)
			continue
		}
		out = append(out, v)
	}
	return out, errors.Join(errs...)
}

// Records returns the records of a kind in the order of the fold, without
// those undone; redacted ones are there, without a body.
func (s State) Records(kind string) []Record {
	t := s.tables[kind]
	if t == nil {
		return nil
	}
	return s.pick(t.records)
}

func (s State) pick(places []int) []Record {
	out := make([]Record, len(places))
	for i, p := range places {
		out[i] = s.all[p].Record
	}
	return out
}

// Redacted returns the records whose bodies were taken out.
func (s State) Redacted() []Record { return s.pick(s.redacted) }

// Notices returns what the fold could not do as told, and why.
func (s State) Notices() []Notice { return slices.Clone(s.notices) }

// Unknown returns the kinds that were not among the known ones given to Fold.
func (s State) Unknown() []Unknown {
	var out []Unknown
	for _, kind := range s.kinds {
		if _, known := s.keys[kind]; known || len(s.known) == 0 || kind == Undo {
			continue
		}
		u := Unknown{Kind: kind}
		for _, i := range s.tables[kind].records {
			u.Records = append(u.Records, s.all[i].ID)
		}
		out = append(out, u)
	}
	return out
}
