package record

import "fmt"

// undoRef returns what an undo's body names: a hash or an id, "" if neither.
func undoRef(body []byte) string {
	n, whole, _ := scan(body)
	if !whole || n.kind != '{' {
		return ""
	}
	if ref := n.get("record"); ref != nil && ref.kind == 's' {
		return ref.text
	}
	return ""
}

// hide works out which records the undos hide. An undo names a record before
// it, so going from the last undo to the first, each is settled, hidden itself
// or not, before its word counts.
func (s *State) hide() {
	var ids map[string][]int
	for i := len(s.all) - 1; i >= 0; i-- {
		r := &s.all[i]
		if _, hidden := s.hiddenBy[i]; r.Kind != Undo || hidden || r.Redacted() {
			continue
		}
		if ids == nil {
			ids = s.byID()
		}
		ref := undoRef(r.Body)
		target, say := s.target(i, ref, ids)
		switch {
		case say != "":
			s.note(i, UndoNothing, say)
		case Sealed(s.all[target].Kind):
			s.note(i, UndoRefused, fmt.Sprintf("it would undo record %s of kind %s, which only a later one supersedes",
				s.all[target].ID, s.all[target].Kind))
		default:
			s.hiddenBy[target] = i
		}
	}
}

func (s *State) byID() map[string][]int {
	out := make(map[string][]int, len(s.all))
	for i := range s.all {
		out[s.all[i].ID] = append(out[s.all[i].ID], i)
	}
	return out
}

// target finds what undo i names, or says why it names nothing.
func (s *State) target(i int, ref string, ids map[string][]int) (int, string) {
	t, ok := s.graph.byHash[ref]
	if !ok {
		found := ids[ref]
		if len(found) != 1 {
			return 0, fmt.Sprintf("it would undo %q, and %d records have that name", ref, len(found))
		}
		t = found[0]
	}
	if t >= i {
		return 0, fmt.Sprintf("it would undo %q, which comes after it", ref)
	}
	return t, ""
}

// Undone is a record that is hidden and the undo that hides it.
type Undone struct{ Record, By Record }

// Undone returns what is hidden now, in the order of the fold.
func (s State) Undone() []Undone {
	var out []Undone
	for i := range s.all {
		if by, hidden := s.hiddenBy[i]; hidden {
			out = append(out, Undone{s.all[i].Record, s.all[by].Record})
		}
	}
	return out
}
