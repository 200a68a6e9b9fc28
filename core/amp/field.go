package amp

import (
	"encoding/json"
	"strings"
)

// Fields turns the fields of a record's body into the texts that NewPosition
// and NewReading take: strings as they are, lists joined by spaces, objects
// as key=value pairs in the order of their keys, true as "yes". A field that
// is null or false is left out, as one that was never set.
func Fields(body map[string]json.RawMessage) map[string]string {
	out := make(map[string]string, len(body))
	for name, raw := range body {
		if text := fieldText(raw); text != "" {
			out[name] = text
		}
	}
	return out
}

func fieldText(raw json.RawMessage) string {
	raw = json.RawMessage(strings.TrimSpace(string(raw)))
	if len(raw) == 0 {
		return ""
	}
	switch raw[0] {
	case '"':
		var s string
		if json.Unmarshal(raw, &s) == nil {
			return s
		}
	case '[':
		var list []json.RawMessage
		if json.Unmarshal(raw, &list) == nil {
			return listText(list)
		}
	case '{':
		var pairs map[string]json.RawMessage
		if json.Unmarshal(raw, &pairs) == nil {
			return pairsText(pairs)
		}
	case 't':
		return "yes"
	case 'f', 'n':
		return ""
	}
	return string(raw) // a number of a hand-written file, or text no reader knows
}

func listText(list []json.RawMessage) string {
	words := make([]string, 0, len(list))
	for _, raw := range list {
		if t := fieldText(raw); t != "" {
			words = append(words, t)
		}
	}
	return strings.Join(words, " ")
}

func pairsText(pairs map[string]json.RawMessage) string {
	words := make([]string, 0, len(pairs))
	for _, k := range keys(pairs) {
		words = append(words, k+"="+fieldText(pairs[k]))
	}
	return strings.Join(words, " ")
}
