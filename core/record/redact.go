package record

import (
	"fmt"
	"slices"
)

// Redact takes body and salt out of the record named by hash or id. Its hash
// stays, so the chain still verifies, and what was there can be proven by
// whoever kept it but not guessed.
//
// Errors: no such record, or several with that id; a hand-written file; an
// undo, which says nothing private and whose loss would bring back what it hid.
func Redact(f File, ref string) (File, error) {
	found := f.Find(ref)
	switch {
	case f.NoChain:
		return File{}, fmt.Errorf("taking out a body: the file has no chain; delete the record instead")
	case len(found) == 0:
		return File{}, fmt.Errorf("taking out a body: there is no record %q", ref)
	case len(found) > 1:
		return File{}, fmt.Errorf("taking out a body: %d records have the id %q; name one by its hash", len(found), ref)
	}
	r := f.Records[found[0]]
	if r.Kind == Undo {
		return File{}, fmt.Errorf("taking out a body: record %q is an undo, without which what it hid would come back", r.ID)
	}
	r.Body, r.Salt = nil, ""
	f.Records = slices.Clone(f.Records)
	f.Records[found[0]] = r
	return f, nil
}
