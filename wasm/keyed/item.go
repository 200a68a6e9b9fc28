// Package keyed says what the page shall look like and how to get there with
// the least change. Nothing in it touches a browser.
//
// A page is a [Tree] of [Node]s. A node is one element with a key that never
// changes meaning: its shell is the markup that rarely changes, its slots are
// the texts and values that do, its groups hold further nodes.
//
//	keyed.Row("li", "f-"+f.ID, keyed.Class("finding"),
//		keyed.El("b", keyed.Text(f.Position)),
//		keyed.Input("note", f.Note, keyed.Do("finding-note", f.ID)),
//		keyed.Each(f.Options, option))
//
// [Diff] compares two trees. Same shell: only changed slots are written.
// Other shell: the row is written anew. Rows are moved, inserted and removed
// by key, and the row that holds the focus is never the one that is moved.
package keyed

// Item is a piece of markup: an element, a text, an attribute, or several.
// The zero Item is nothing at all.
//
// It is one pointer, and what makes one is never inlined: views make thousands,
// and a wide value made in place doubled the size of their code.
type Item struct{ p *piece }

type piece struct {
	kind  itemKind
	on    bool
	name  string // tag, attribute or slot name
	value string // text, attribute value, markup
	items []Item
	nodes []Node
}

// kept copies items, so that the list a view writes between parentheses stays
// on its stack: that takes a third of the instructions.
func kept(items []Item) []Item { return append([]Item(nil), items...) }

type itemKind uint8

const (
	element itemKind = iota
	text
	attribute
	liveAttribute
	flag
	inputValue
	rawMarkup
	several
	rows
)

// El is an element. Attributes may stand anywhere among items.
//
//go:noinline
func El(tag string, items ...Item) Item {
	return Item{&piece{kind: element, name: tag, items: kept(items)}}
}

// Text is text, escaped. When it is all that its element holds it is a slot:
// a change writes that text alone. Among other items it belongs to the shell.
//
//go:noinline
func Text(s string) Item { return Item{&piece{kind: text, value: s}} }

// Raw is markup made elsewhere, such as a drawing: the caller has escaped it.
// When it is all that its element holds it is a slot, written as one piece.
//
//go:noinline
func Raw(markup string) Item { return Item{&piece{kind: rawMarkup, value: markup}} }

// Attr is an attribute of the shell: a change of value writes the row anew.
//
//go:noinline
func Attr(name, value string) Item { return Item{&piece{kind: attribute, name: name, value: value}} }

// Live is an attribute that changes often: a change writes it alone.
//
//go:noinline
func Live(name, value string) Item {
	return Item{&piece{kind: liveAttribute, name: name, value: value}}
}

// Class is Attr("class", names).
//
//go:noinline
func Class(names string) Item { return Attr("class", names) }

// LiveClass is Live("class", names).
//
//go:noinline
func LiveClass(names string) Item { return Live("class", names) }

// ID names an element, for a label or for the focus. It must be unique in the
// page. An element without one gets a name of its row where it needs one.
//
//go:noinline
func ID(id string) Item { return Attr("id", id) }

// Flag is an attribute that is there or not: disabled, hidden, checked,
// selected, open, readonly. It is always a slot.
//
//go:noinline
func Flag(name string, on bool) Item { return Item{&piece{kind: flag, name: name, on: on}} }

// Value is what an input or a textarea holds. It is a slot, and is never
// written while its element has the focus. A select takes [Options].
//
//go:noinline
func Value(v string) Item { return Item{&piece{kind: inputValue, value: v}} }

// Checked is Flag("checked", on).
//
//go:noinline
func Checked(on bool) Item { return Flag("checked", on) }

// Do names what a press, a typed key or a committed change means: the message
// carries act and id, and what stands in k[0] where one act has several places.
//
//go:noinline
func Do(act, id string, k ...string) Item {
	items := []Item{Attr("data-act", act)}
	if id != "" {
		items = append(items, Attr("data-id", id))
	}
	if len(k) > 0 {
		items = append(items, Attr("data-k", k[0]))
	}
	return Several(items...)
}

// Keys lists the keys, parted by spaces, that an element or anything inside it
// sends as a message instead of leaving them to the browser: "Enter Escape
// Ctrl+z".
//
//go:noinline
func Keys(list string) Item { return Attr("data-keys", list) }

// Several is some items in a row, without an element around them.
//
//go:noinline
func Several(items ...Item) Item { return Item{&piece{kind: several, items: kept(items)}} }

// If is its items when cond holds, and nothing otherwise.
//
//go:noinline
func If(cond bool, items ...Item) Item {
	if !cond {
		return Item{}
	}
	return Several(items...)
}

// Map is one item for each x.
func Map[T any](xs []T, f func(T) Item) Item {
	items := make([]Item, len(xs))
	for i, x := range xs {
		items[i] = f(x)
	}
	return Several(items...)
}

// Nodes puts keyed rows where it stands.
//
//go:noinline
func Nodes(nodes ...Node) Item { return Item{&piece{kind: rows, nodes: nodes}} }

// Each is one keyed row for each x.
func Each[T any](xs []T, f func(T) Node) Item {
	nodes := make([]Node, len(xs))
	for i, x := range xs {
		nodes[i] = f(x)
	}
	return Nodes(nodes...)
}

// Button is a button that does act to id.
//
//go:noinline
func Button(say, act, id string, items ...Item) Item {
	return El("button", Attr("type", "button"), Do(act, id), Several(items...), Text(say))
}

// Input is a text input that holds value; act and id come from a [Do] in items.
//
//go:noinline
func Input(kind, value string, items ...Item) Item {
	return El("input", Attr("type", kind), Value(value), Several(items...))
}

// Option is one choice of a select.
type Option struct{ Value, Say string }

// Options are the choices of a select, the chosen one marked.
//
//go:noinline
func Options(chosen string, options ...Option) Item {
	return Map(options, func(o Option) Item {
		return El("option", Attr("value", o.Value), Flag("selected", o.Value == chosen), Text(o.Say))
	})
}
