package keyed_test

import (
	"fmt"
	"html"
	"slices"
	"strings"
	"testing"

	"lugworth/wasm/keyed"
)

// node is an element of the toy document, or a text when tag is "".
type node struct {
	tag, text string
	attrs     []string // name, value, name, value
	kids      []*node
	up        *node
}

// document carries out steps as a browser would, on markup it reads itself.
type document struct {
	t     *testing.T
	root  *node
	moved []string // ids that were moved
}

func newDocument(t *testing.T, tree keyed.Tree) *document {
	root := parse(t, markup(tree))
	root.set("id", keyed.RootID)
	return &document{t: t, root: root}
}

func markup(tree keyed.Tree) string {
	var b strings.Builder
	for _, n := range tree.Nodes {
		b.WriteString(n.HTML())
	}
	return b.String()
}

// parse reads markup as our writer makes it: every attribute quoted, every
// element closed or void.
func parse(t *testing.T, s string) *node {
	t.Helper()
	root := &node{tag: "root"}
	at := root
	for s != "" {
		if !strings.HasPrefix(s, "<") {
			text, _, _ := strings.Cut(s, "<")
			at.add(&node{text: html.UnescapeString(text)})
			s = s[len(text):]
			continue
		}
		inside, rest, ok := strings.Cut(s[1:], ">")
		if !ok {
			t.Fatalf("markup ends inside a tag: %q", s)
		}
		s = rest
		if tag, end := strings.CutPrefix(inside, "/"); end {
			if at.tag != tag {
				t.Fatalf("</%s> closes <%s>", tag, at.tag)
			}
			at = at.up
			continue
		}
		el := readTag(t, inside)
		at.add(el)
		if !slices.Contains([]string{"input", "br", "img"}, el.tag) {
			at = el
		}
	}
	if at != root {
		t.Fatalf("<%s> is never closed", at.tag)
	}
	return root
}

func readTag(t *testing.T, s string) *node {
	t.Helper()
	tag, rest, _ := strings.Cut(s, " ")
	el := &node{tag: tag}
	for rest != "" {
		name, after, ok := strings.Cut(rest, `="`)
		value, next, closed := strings.Cut(after, `"`)
		if !ok || !closed {
			t.Fatalf("bad attribute in <%s>", s)
		}
		el.attrs = append(el.attrs, name, html.UnescapeString(value))
		rest = strings.TrimPrefix(next, " ")
	}
	return el
}

func (n *node) add(kids ...*node) {
	for _, k := range kids {
		k.up = n
		n.kids = append(n.kids, k)
	}
}

func (n *node) get(name string) (string, bool) {
	for i := 0; i < len(n.attrs); i += 2 {
		if n.attrs[i] == name {
			return n.attrs[i+1], true
		}
	}
	return "", false
}

func (n *node) set(name, value string) {
	n.unset(name)
	n.attrs = append(n.attrs, name, value)
}

func (n *node) unset(name string) {
	for i := 0; i < len(n.attrs); i += 2 {
		if n.attrs[i] == name {
			n.attrs = slices.Delete(n.attrs, i, i+2)
			return
		}
	}
}

// find is the only element of an id; two of them are an error of Diff.
func (d *document) find(id string) *node {
	d.t.Helper()
	var found []*node
	var walk func(*node)
	walk = func(n *node) {
		if v, ok := n.get("id"); ok && v == id {
			found = append(found, n)
		}
		for _, k := range n.kids {
			walk(k)
		}
	}
	walk(d.root)
	if len(found) != 1 {
		d.t.Fatalf("%d elements have the id %q", len(found), id)
	}
	return found[0]
}

func (n *node) place() int { return slices.Index(n.up.kids, n) }

func (n *node) leave() { n.up.kids = slices.Delete(n.up.kids, n.place(), n.place()+1) }

func (d *document) put(in, before string, what ...*node) {
	d.t.Helper()
	parent := d.find(in)
	at := len(parent.kids)
	if before != "" {
		next := d.find(before)
		if next.up != parent {
			d.t.Fatalf("%q is not inside %q", before, in)
		}
		at = next.place()
	}
	for _, w := range what {
		w.up = parent
	}
	parent.kids = slices.Insert(parent.kids, at, what...)
}

func (d *document) apply(op keyed.Op) {
	d.t.Helper()
	switch op.Do {
	case keyed.Remove:
		d.find(op.ID).leave()
	case keyed.Replace:
		el := d.find(op.ID)
		in, at := el.up, el.place()
		el.leave()
		kids := parse(d.t, op.HTML).kids
		for _, k := range kids {
			k.up = in
		}
		in.kids = slices.Insert(in.kids, at, kids...)
	case keyed.Insert:
		d.put(op.ID, op.Before, parse(d.t, op.HTML).kids...)
	case keyed.Move:
		el := d.find(op.ID)
		el.leave()
		d.put(op.In, op.Before, el)
		d.moved = append(d.moved, op.ID)
	case keyed.Write:
		d.write(op.Slot)
	}
}

func (d *document) write(s keyed.Slot) {
	el := d.find(s.At)
	switch s.Kind {
	case keyed.SlotText:
		el.kids = []*node{{text: s.Value, up: el}}
	case keyed.SlotMarkup:
		el.kids = nil
		el.add(parse(d.t, s.Value).kids...)
	case keyed.SlotAttr:
		el.set(s.Name, s.Value)
	case keyed.SlotFlag:
		el.unset(s.Name)
		if s.On {
			el.set(s.Name, "")
		}
	case keyed.SlotValue:
		if el.tag == "textarea" {
			el.kids = []*node{{text: "\n" + s.Value, up: el}}
		} else {
			el.set("value", s.Value)
		}
	}
}

// String is the document with attributes sorted and empty texts left out.
func (n *node) String() string {
	if n.tag == "" {
		return fmt.Sprintf("%q", n.text)
	}
	var attrs []string
	for i := 0; i < len(n.attrs); i += 2 {
		attrs = append(attrs, fmt.Sprintf("%s=%q", n.attrs[i], n.attrs[i+1]))
	}
	slices.Sort(attrs)
	var kids []string
	for _, k := range n.kids {
		if k.tag != "" || k.text != "" {
			kids = append(kids, k.String())
		}
	}
	return "(" + n.tag + " " + strings.Join(attrs, " ") + " " + strings.Join(kids, " ") + ")"
}
