package amp

import (
	"sort"
	"strings"

	"lugworth/core/unit"
)

// nodes reads role=name pairs and holds them against the kind's leads. A
// pair with an unknown role is kept as written and told of.
func nodes(r *row, k kind, drawn bool) []Node {
	var out []Node
	have := map[string]bool{}
	for _, pair := range strings.Fields(r.text("nodes")) {
		lead, name, ok := strings.Cut(pair, "=")
		lead = strings.ToLower(lead)
		switch {
		case !ok || lead == "" || name == "":
			r.problem("nodes", pair, unit.ExtraText, pairHint(lead, name))
			continue
		case have[lead]:
			r.problem("nodes", pair, unit.Duplicate, "")
			continue
		case !k.takes(lead):
			r.problem("nodes", pair, unit.UnknownWord, k.leadHint(lead, name))
		case among(chassisNames, strings.ToLower(name)):
			r.problem("nodes", pair, unit.UnknownWord, lead+"=0")
		}
		have[lead] = true
		out = append(out, Node{Role: lead, Name: name})
	}
	if len(out) > 0 || drawn {
		lacking(r, k, have)
	}
	return out
}

// lacking tells of each lead that has no node.
func lacking(r *row, k kind, have map[string]bool) {
	need := k.need
	if len(k.other) > 0 && has(have, k.other) {
		need = k.other
	}
	for _, lead := range need {
		if !have[lead] {
			r.problem("nodes", lead, unit.Missing, lead+"=NODE")
		}
	}
}

// has reports whether any of the words is there.
func has(have map[string]bool, words []string) bool {
	for _, w := range words {
		if have[w] {
			return true
		}
	}
	return false
}

func (k kind) takes(lead string) bool {
	return k.free || among(k.need, lead) || among(k.may, lead) || among(k.other, lead)
}

// leadHint offers the lead that was meant, or all that the kind has.
func (k kind) leadHint(lead, name string) string {
	if ours := leadNames[lead]; ours != "" && k.takes(ours) {
		return ours + "=" + name
	}
	if near := nearest(lead, k.need); near != "" {
		return near + "=" + name
	}
	return "one of " + strings.Join(append(append([]string(nil), k.need...), k.may...), ", ")
}

func pairHint(lead, name string) string {
	if lead == "" {
		lead = "ROLE"
	}
	if name == "" {
		name = "NODE"
	}
	return lead + "=" + name
}

// extraUnits are the units of the numbers that extra may hold.
var extraUnits = map[string]unit.Unit{
	"dcr": unit.Ohm, "rs": unit.Ohm, "hz": unit.Hertz, "heater": unit.Watt, "turn": unit.None,
	"p": unit.None, "share": unit.None, "conduct": unit.None, "shift": unit.Volt,
}

// opensWords are the switches that a state of the amp opens.
var opensWords = []string{Standby}

// extras reads key=value pairs. Keys that no rule knows are kept.
func extras(r *row) map[string]string {
	var out map[string]string
	for _, pair := range strings.Fields(r.text("extra")) {
		key, value, ok := strings.Cut(pair, "=")
		key = strings.ToLower(key)
		if !ok || key == "" || value == "" {
			r.problem("extra", pair, unit.ExtraText, pairHint(key, value))
			continue
		}
		if _, twice := out[key]; twice {
			r.problem("extra", pair, unit.Duplicate, "")
			continue
		}
		extraValue(r, key, value, pair)
		if out == nil {
			out = map[string]string{}
		}
		out[key] = value
	}
	return out
}

// extraValue tells of a value that its key does not allow. A factor on a
// tube's current cannot be zero: a tube that draws nothing is pulled or
// failed, which is a state and no specimen.
func extraValue(r *row, key, value, pair string) {
	if key == "opens" && !among(opensWords, strings.ToLower(value)) {
		r.problem("extra", pair, unit.UnknownWord, "opens="+opensWords[0])
	}
	u, number := extraUnits[key]
	if !number {
		return
	}
	v, err := unit.Read(value, u)
	switch {
	case err != nil:
		r.failed(err, "extra", pair)
	case key == "turn" && (v < 0 || v > 1):
		r.problem("extra", pair, unit.OutOfRange, "part of the track between a and the wiper, 0 to 1")
	case (key == "p" || key == "share" || key == "conduct" || key == "hz") && v <= 0:
		r.problem("extra", pair, unit.OutOfRange, "")
	}
}

// keys returns the keys of m in order.
func keys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
