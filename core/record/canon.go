package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/sorted"
)

// CanonicalJSON returns the one spelling of a JSON text: UTF-8, keys sorted by
// their bytes, no spaces, whole numbers below 2^53 only, and in strings no
// escape but \" \\ \b \t \n \f \r and \u00xx for the other control characters.
//
//	{ "b": 1, "a": "\u003c" }  ->  {"a":"<","b":1}
//
// Errors: Problems, when the text is not JSON or has no one spelling.
func CanonicalJSON(raw []byte) ([]byte, error) {
	n, whole, ps := scan(raw)
	if !whole || len(ps) > 0 {
		return nil, ps
	}
	return appendNode(make([]byte, 0, len(raw)), &n), nil
}

// Canonical returns the one spelling of v as JSON. A json.RawMessage is taken
// as JSON text; anything else is first written by encoding/json.
//
// Errors: v cannot be written, or holds a number that is not whole.
func Canonical(v any) ([]byte, error) {
	if raw, ok := v.(json.RawMessage); ok {
		return CanonicalJSON(raw)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, fmt.Errorf("writing %T as JSON: %w", v, err)
	}
	out, err := CanonicalJSON(b.Bytes())
	if err != nil {
		return nil, fmt.Errorf("writing %T: %w", v, err)
	}
	return out, nil
}

func appendNode(out []byte, n *node) []byte {
	switch n.kind {
	case '{':
		return appendObject(out, n)
	case '[':
		out = append(out, '[')
		for i := range n.items {
			if i > 0 {
				out = append(out, ',')
			}
			out = appendNode(out, &n.items[i])
		}
		return append(out, ']')
	case 's':
		return appendText(out, n.text)
	case '0':
		return append(out, n.text...)
	case 't':
		return append(out, "true"...)
	case 'f':
		return append(out, "false"...)
	}
	return append(out, "null"...)
}

func appendObject(out []byte, n *node) []byte {
	members := n.members
	if !slices.IsSortedFunc(members, byKey) {
		members = slices.Clone(members)
		sorted.By(members, byKey)
	}
	out = append(out, '{')
	for i := range members {
		if i > 0 {
			out = append(out, ',')
		}
		out = appendText(out, members[i].key)
		out = append(out, ':')
		out = appendNode(out, &members[i].value)
	}
	return append(out, '}')
}

// byKey orders by bytes, which for UTF-8 is also the order of code points.
func byKey(a, b member) int { return strings.Compare(a.key, b.key) }

func appendText(out []byte, s string) []byte {
	out = append(out, '"')
	run := 0
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' {
			out = append(out, s[run:i]...)
			out = appendEscape(out, c)
			run = i + 1
		}
	}
	return append(append(out, s[run:]...), '"')
}

func appendEscape(out []byte, c byte) []byte {
	if i := strings.IndexByte("\"\\\b\f\n\r\t", c); i >= 0 {
		return append(out, '\\', `"\bfnrt`[i])
	}
	const digits = "0123456789abcdef"
	return append(out, '\\', 'u', '0', '0', digits[c>>4], digits[c&15])
}

func appendInt(out []byte, v int64) []byte { return strconv.AppendInt(out, v, 10) }

// sortedKeys returns the keys of m in the order of their bytes.
func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
