package keyed

import (
	"html"
	"strings"
)

// Tree is the whole page: its title and the nodes inside the page's root.
type Tree struct {
	Title string
	Nodes []Node
}

// Node is one keyed element. Make it with [Row].
type Node struct {
	Key    string  // id of the element; unique in the page, never a position
	Shell  string  // markup with a hole for each slot and each group
	Slots  []Slot  // what fills the slot holes, in their order
	Groups []Group // what fills the group holes, in their order
}

// Slot is a text or a value that changes without its row being written anew.
type Slot struct {
	At    string // id of the element
	Kind  SlotKind
	Name  string // attribute or flag; "" for the others
	Value string
	On    bool // flags only
}

// SlotKind says how a slot is written.
type SlotKind uint8

const (
	SlotText   SlotKind = iota // the element's text
	SlotMarkup                 // the element's whole content, as markup
	SlotAttr                   // the attribute Name
	SlotFlag                   // the attribute Name is there or not
	SlotValue                  // what an input holds
)

// Group is a run of keyed rows inside one element of the shell.
type Group struct {
	In     string // id of the element around them
	Before string // id of the element that follows them; "" at the end
	Nodes  []Node
}

const (
	slotHole  = '\x00'
	groupHole = '\x01'
)

// HTML is the node with all holes filled.
func (n Node) HTML() string {
	var b strings.Builder
	n.write(&b)
	return b.String()
}

func (n Node) write(b *strings.Builder) {
	slot, group, from := 0, 0, 0
	for i := 0; i < len(n.Shell); i++ {
		switch n.Shell[i] {
		case slotHole:
			b.WriteString(n.Shell[from:i])
			n.Slots[slot].write(b)
			slot++
			from = i + 1
		case groupHole:
			b.WriteString(n.Shell[from:i])
			for _, kid := range n.Groups[group].Nodes {
				kid.write(b)
			}
			group++
			from = i + 1
		}
	}
	b.WriteString(n.Shell[from:])
}

func (s Slot) write(b *strings.Builder) {
	switch {
	case s.Kind == SlotMarkup:
		b.WriteString(s.Value)
	case s.Kind != SlotFlag:
		b.WriteString(Escape(s.Value))
	case s.On:
		b.WriteString(" " + s.Name + `=""`)
	}
}

// Escape makes s safe as text and as a quoted attribute. Control characters
// that no page may hold, and that mark our holes, become U+FFFD.
func Escape(s string) string {
	if plain(s) {
		return s
	}
	if strings.IndexFunc(s, forbidden) >= 0 {
		s = strings.Map(func(r rune) rune {
			if forbidden(r) {
				return '\uFFFD'
			}
			return r
		}, s)
	}
	return html.EscapeString(s)
}

// plain is quick to say that there is nothing to escape.
func plain(s string) bool {
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ', c == '<', c == '>', c == '&', c == '"', c == '\'':
			return false
		}
	}
	return true
}

func forbidden(r rune) bool { return r < ' ' && r != '\t' && r != '\n' && r != '\r' }
