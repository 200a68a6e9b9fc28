// Package why keeps the reason behind each figure as a small tree: this
// value, found by that rule, from those values, down to one reading on the
// bench or one line of a list.
//
//	467.4 V  wanted rating            (reserve: wanted = worst · (1 + reserve))
//	  445.2 V  no-load peak at 127 V  (reservoir peak: √2 · half · top/read)
//	    290.0 V  half winding         reading r12
//	    117.0 V  mains at the reading reading r12
//
// A tree is built from pointers and costs a few words for each node; no text
// is made until somebody asks to see it. A nil *Node is an empty reason and
// may be walked, shown or given as a source like any other.
package why

import "fmt"

// A Rule says how a figure was found. Rules are package variables of the
// stage that uses them; every node found by one points at the same Rule.
type Rule struct {
	Name    string // short and stable: "reservoir peak"
	Says    string // one sentence for a reader who does not read formulas
	Formula string // as it would be written with a pencil: "√2 · half · top/read"
	Source  string // publisher, title, edition, page; or "common practice, no source"
	Mark    string // how the source is known: "seen", "second-hand", "memory", "user"; "" where nothing was looked up
}

// A Node is one value with its reason.
type Node struct {
	Rule  *Rule        // how it was found; nil for a value that was read or given
	Label string       // what the value is: "plate to cathode, V2"
	Value fmt.Stringer // the value, with its unit; nil prints as nothing
	From  []*Node      // the values it was found from, in the rule's order
	Where string       // where a given value stands: a reading's ID, "list.csv:14", "scenario"
}

// Text is a value that is words: a type number, a choice, a date.
type Text string

// String returns the words as they are.
func (t Text) String() string { return string(t) }

// Given returns the node of a value that was read or stated, not worked out.
// Where says where it stands.
func Given(label string, value fmt.Stringer, where string) *Node {
	return &Node{Label: label, Value: value, Where: where}
}

// Found returns the node of a value worked out by rule from other values.
// Sources that are nil are left out.
func Found(rule *Rule, label string, value fmt.Stringer, from ...*Node) *Node {
	n := &Node{Rule: rule, Label: label, Value: value}
	for i, f := range from {
		if f == nil {
			n.From = without(from, i)
			return n
		}
	}
	n.From = from
	return n
}

// without copies from, leaving out every nil; the first nil is at i.
func without(from []*Node, i int) []*Node {
	kept := append([]*Node(nil), from[:i]...)
	for _, f := range from[i:] {
		if f != nil {
			kept = append(kept, f)
		}
	}
	return kept
}
