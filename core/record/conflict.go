package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"slices"

	"lugworth/core/sorted"
)

// A Claim is what one record says of one field.
type Claim struct {
	Record, Hash, Device, At string
	Field                    string
	Value                    json.RawMessage
}

// A Conflict is one field that two records set to different values, neither
// having seen the other, and that no later record, having seen both, settled.
// Field "removed" with claims on other fields means that one device removed
// what another went on working at.
type Conflict struct {
	Kind, ID, Field string
	Claims          []Claim // in the order of the fold; the last is in force
}

// Conflicts returns those still open, by kind and entity in order of first
// appearance, then by field.
func (s State) Conflicts() []Conflict {
	var out []Conflict
	for _, kind := range s.kinds {
		t := s.tables[kind]
		for _, id := range t.ids {
			out = append(out, s.conflictsOf(kind, id, t.entities[id])...)
		}
	}
	return out
}

func (s State) conflictsOf(kind, id string, e *entity) []Conflict {
	var out []Conflict
	for _, name := range e.disputed() {
		v := e.fields[name]
		c := Conflict{Kind: kind, ID: id, Field: name}
		for _, cl := range append(slices.Clone(v.rivals), v.claim) {
			c.Claims = append(c.Claims, s.claim(name, cl))
		}
		out = append(out, c)
	}
	if c := s.removal(kind, id, e); len(c.Claims) > 1 {
		out = append(out, c)
	}
	return out
}

// disputed returns the fields with different words standing, sorted.
func (e *entity) disputed() []string {
	var out []string
	for name, v := range e.fields {
		if slices.ContainsFunc(v.rivals, func(c claim) bool { return !bytes.Equal(c.json, v.json) }) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// removal finds work on a removed entity whose writer had not seen the removal
// and which the remover had not seen.
func (s State) removal(kind, id string, e *entity) Conflict {
	c := Conflict{Kind: kind, ID: id, Field: "removed"}
	if !e.removed() {
		return c
	}
	gone := e.fields["removed"]
	for _, name := range sortedKeys(e.fields) {
		v := e.fields[name]
		if name != "removed" && !s.graph.saw(v.record, gone.record) && !s.graph.saw(gone.record, v.record) {
			c.Claims = append(c.Claims, s.claim(name, v.claim))
		}
	}
	sorted.By(c.Claims, func(a, b Claim) int {
		return cmp.Compare(s.graph.byHash[a.Hash], s.graph.byHash[b.Hash])
	})
	c.Claims = append(c.Claims, s.claim("removed", gone.claim))
	return c
}

func (s State) claim(field string, c claim) Claim {
	r := &s.all[c.record]
	return Claim{r.ID, r.hash, r.Device, r.At, field, c.json}
}
