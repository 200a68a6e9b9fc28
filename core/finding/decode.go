package finding

import (
	"bytes"
	"encoding/json"
	"fmt"
	"sort"

	"lugworth/core/unit"
)

// Text is a text that a record may also hold as true or false: true reads as
// "yes", false and null as nothing.
type Text string

// UnmarshalJSON reads a text, a truth value or a number as written by hand.
func (t *Text) UnmarshalJSON(raw []byte) error {
	raw = bytes.TrimSpace(raw)
	switch {
	case len(raw) == 0 || string(raw) == "null" || string(raw) == "false":
		*t = ""
	case string(raw) == "true":
		*t = "yes"
	case raw[0] == '"':
		var s string
		if err := json.Unmarshal(raw, &s); err != nil {
			return err
		}
		*t = Text(s)
	case raw[0] == '{' || raw[0] == '[':
		return fmt.Errorf("a text is wanted, not %.20s", raw)
	default:
		*t = Text(raw)
	}
	return nil
}

// Words is a list of texts that a record may also hold as one text.
type Words []string

// UnmarshalJSON reads a list of texts, or one text as a list of one.
func (w *Words) UnmarshalJSON(raw []byte) error {
	list, err := oneOrMany[Text](raw)
	if err != nil {
		return err
	}
	*w = nil
	for _, t := range list {
		if t != "" {
			*w = append(*w, string(t))
		}
	}
	return nil
}

// Leaks is one leak or several.
type Leaks []Leak

// UnmarshalJSON reads a list of leaks, or one leak as a list of one.
func (l *Leaks) UnmarshalJSON(raw []byte) error {
	list, err := oneOrMany[Leak](raw)
	*l = list
	return err
}

func oneOrMany[T any](raw []byte) ([]T, error) {
	raw = bytes.TrimSpace(raw)
	if string(raw) == "null" {
		return nil, nil
	}
	if len(raw) > 0 && raw[0] == '[' {
		var list []T
		err := json.Unmarshal(raw, &list)
		return list, err
	}
	var one T
	if err := json.Unmarshal(raw, &one); err != nil {
		return nil, err
	}
	return []T{one}, nil
}

// New makes a finding of a record's fields, as far as they can be read: a
// field that cannot is told of and left out, and costs no other. Fields that
// are none of a finding's are left to whoever knows them.
func New(id string, fields map[string]json.RawMessage) (Finding, []unit.Problem) {
	var f Finding
	n := &notes{id: id}
	names := make([]string, 0, len(fields))
	for name := range fields {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		before := f
		body, err := json.Marshal(map[string]json.RawMessage{name: fields[name]})
		if err == nil {
			err = json.Unmarshal(body, &f)
		}
		if err != nil {
			f = before
			n.problem(name, string(fields[name]), unit.UnknownWord, "")
		}
	}
	f.ID = id
	return f, n.problems
}
