package why

import "strings"

// A Line is one node as it is shown, with its distance from the top.
type Line struct {
	Depth  int    // 0 for the node asked about
	Value  string // "445.2 V", or ""
	Label  string
	Rule   *Rule // nil for a given value
	Where  string
	Repeat bool // the node was shown in full above; its sources are not shown again
}

// Walk visits n and everything it came from, depth first, sources in their
// order. It stops going deeper where visit returns false. The same node
// reached by two ways is visited twice; a node that is its own source, which
// only a mistake in our code can make, is not entered again.
func Walk(n *Node, visit func(n *Node, depth int) bool) {
	walk(n, 0, nil, visit)
}

// above is the path from the top to the node at hand, kept on the stack so
// that a walk allocates nothing.
type above struct {
	node *Node
	up   *above
}

func (a *above) holds(n *Node) bool {
	for ; a != nil; a = a.up {
		if a.node == n {
			return true
		}
	}
	return false
}

func walk(n *Node, depth int, path *above, visit func(*Node, int) bool) {
	if n == nil || path.holds(n) || !visit(n, depth) {
		return
	}
	here := above{n, path}
	for _, f := range n.From {
		walk(f, depth+1, &here, visit)
	}
}

// Lines returns the whole reason for n, depth first. A node that several
// values share is written in full the first time and as a Repeat afterwards,
// so a long job does not print one reading's chain a hundred times.
func Lines(n *Node) []Line {
	var lines []Line
	shown := map[*Node]bool{}
	Walk(n, func(n *Node, depth int) bool {
		repeat := shown[n] && len(n.From) > 0
		shown[n] = true
		lines = append(lines, Line{Depth: depth, Value: n.Shown(), Label: n.Label, Rule: n.Rule, Where: n.Where, Repeat: repeat})
		return !repeat
	})
	return lines
}

// Shown returns the value as text, "" for a nil node or a node without one.
func (n *Node) Shown() string {
	if n == nil || n.Value == nil {
		return ""
	}
	return n.Value.String()
}

// String returns the line without its indent:
//
//	445.2 V, no-load peak (reservoir peak: √2 · half · top/read) [sheet:3], as above
func (l Line) String() string {
	var b strings.Builder
	b.WriteString(l.Value)
	if l.Label != "" {
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		b.WriteString(l.Label)
	}
	b.WriteString(l.Rule.brackets())
	if l.Where != "" {
		b.WriteString(" [" + l.Where + "]")
	}
	if l.Repeat {
		b.WriteString(", as above")
	}
	return b.String()
}

// brackets returns " (name: formula)" or less, and "" for no rule.
func (r *Rule) brackets() string {
	switch {
	case r == nil:
		return ""
	case r.Formula == "":
		return " (" + r.Name + ")"
	default:
		return " (" + r.Name + ": " + r.Formula + ")"
	}
}

// Print returns the whole reason as text, two spaces for each step down and
// a line feed after each line; "" for nil.
func Print(n *Node) string {
	var b strings.Builder
	for _, l := range Lines(n) {
		b.WriteString(strings.Repeat("  ", l.Depth))
		b.WriteString(l.String())
		b.WriteByte('\n')
	}
	return b.String()
}

// Sources returns the places (Where) that n rests on, each once, in the
// order they are met. A verdict is stamped with these and expires when one
// of them changes.
func Sources(n *Node) []string {
	var places []string
	seen := map[string]bool{}
	Walk(n, func(n *Node, _ int) bool {
		if n.Where != "" && !seen[n.Where] {
			seen[n.Where] = true
			places = append(places, n.Where)
		}
		return true
	})
	return places
}
