package keyed

import (
	"slices"
	"strconv"
	"strings"
)

// Row is the element tag with the given key and items.
//
// Elements that hold a slot or a group, and those one can press or type in,
// get an id from the row: KEY--ACT, KEY--ACT-K, or KEY--3 by their order.
func Row(tag, key string, items ...Item) Node {
	w := writer{node: Node{Key: key}}
	w.b.Grow(512)
	w.element(El(tag, items...).p, key)
	w.node.Shell = w.b.String()
	return w.node
}

type writer struct {
	node  Node
	b     strings.Builder
	used  []string // ids made of an act
	count int
}

// parts is an element's items sorted out: what goes into its tag, what inside.
// It is made thousands of times for one picture, hence the room within it.
type parts struct {
	id      string
	tag     []*piece
	content []*piece
	value   *piece // what a textarea holds
	room    [2][8]*piece
}

func (p *parts) fill(tag string, items []Item) {
	p.tag, p.content = p.room[0][:0], p.room[1][:0]
	p.sort(tag, items)
}

func (w *writer) element(e *piece, id string) {
	var p parts
	p.fill(e.name, e.items)
	if id != "" {
		p.id = id
	}
	w.anchor(&p)
	if p.id == "" && needsID(e.name, &p) {
		p.id = w.name(p.tag)
	}
	w.openTag(e.name, &p)
	if void[e.name] {
		return
	}
	w.content(&p)
	w.b.WriteString("</")
	w.b.WriteString(e.name)
	w.b.WriteByte('>')
}

func (p *parts) sort(tag string, items []Item) {
	for i := range items {
		it := items[i].p
		if it == nil {
			continue
		}
		switch it.kind {
		case several:
			p.sort(tag, it.items)
		case attribute:
			if it.name == "id" {
				p.id = it.value
				continue
			}
			p.tag = append(p.tag, it)
		case liveAttribute, flag:
			p.tag = append(p.tag, it)
		case inputValue:
			if tag == "textarea" {
				p.value = it
				continue
			}
			p.tag = append(p.tag, it)
		case rows:
			p.addRows(it)
		default:
			p.content = append(p.content, it)
		}
	}
}

// addRows joins runs of rows that stand beside each other into one group.
func (p *parts) addRows(it *piece) {
	last := len(p.content) - 1
	if last < 0 || p.content[last].kind != rows {
		p.content = append(p.content, it)
		return
	}
	both := append(append([]Node{}, p.content[last].nodes...), it.nodes...)
	p.content[last] = &piece{kind: rows, nodes: both}
}

// anchor gives an id to each element that follows a run of rows; a text there
// is put into an element first.
func (w *writer) anchor(p *parts) {
	for i := 1; i < len(p.content); i++ {
		if p.content[i-1].kind != rows {
			continue
		}
		it := p.content[i]
		if it.kind != element {
			it = &piece{kind: element, name: "span", items: []Item{{it}}}
		}
		if it.id() == "" {
			var inner parts
			inner.fill(it.name, it.items)
			items := append([]Item{ID(w.name(inner.tag))}, it.items...)
			it = &piece{kind: element, name: it.name, items: items}
		}
		p.content[i] = it
	}
}

func (it *piece) id() string {
	var p parts
	p.fill(it.name, it.items)
	return p.id
}

func needsID(tag string, p *parts) bool {
	if p.value != nil || soleSlot(p.content) || hasRows(p.content) {
		return true
	}
	for _, it := range p.tag {
		if it.kind != attribute || it.name == "data-act" {
			return true
		}
	}
	return tag == "input" || tag == "select" || tag == "textarea"
}

func soleSlot(content []*piece) bool {
	return len(content) == 1 && (content[0].kind == text || content[0].kind == rawMarkup)
}

func hasRows(content []*piece) bool {
	for _, it := range content {
		if it.kind == rows {
			return true
		}
	}
	return false
}

// name makes an id that stays the same while the row's shape does.
func (w *writer) name(tag []*piece) string {
	id := w.node.Key + "--"
	acts := false
	for _, it := range tag {
		switch it.name {
		case "data-act":
			id += it.value
			acts = true
		case "data-k":
			id += "-" + it.value
		}
	}
	if !acts || slices.Contains(w.used, id) {
		w.count++
		return id + strconv.Itoa(w.count)
	}
	w.used = append(w.used, id)
	return id
}

func (w *writer) openTag(tag string, p *parts) {
	w.b.WriteByte('<')
	w.b.WriteString(tag)
	if p.id != "" {
		w.attr("id", p.id)
	}
	for _, it := range p.tag {
		switch it.kind {
		case attribute:
			w.attr(it.name, it.value)
		case liveAttribute:
			w.open(it.name)
			w.slot(Slot{At: p.id, Kind: SlotAttr, Name: it.name, Value: it.value})
			w.b.WriteString(`"`)
		case flag:
			w.slot(Slot{At: p.id, Kind: SlotFlag, Name: it.name, On: it.on})
		case inputValue:
			w.open("value")
			w.slot(Slot{At: p.id, Kind: SlotValue, Value: it.value})
			w.b.WriteString(`"`)
		}
	}
	w.b.WriteString(">")
}

func (w *writer) content(p *parts) {
	switch {
	case p.value != nil:
		w.b.WriteString("\n") // the reader of markup drops one line break here
		w.slot(Slot{At: p.id, Kind: SlotValue, Value: p.value.value})
		return
	case soleSlot(p.content):
		kind := SlotText
		if p.content[0].kind == rawMarkup {
			kind = SlotMarkup
		}
		w.slot(Slot{At: p.id, Kind: kind, Value: p.content[0].value})
		return
	}
	for i, it := range p.content {
		switch it.kind {
		case element:
			w.element(it, "")
		case text:
			w.b.WriteString(Escape(it.value))
		case rawMarkup:
			w.b.WriteString(strings.Map(dropHoles, it.value))
		case rows:
			g := Group{In: p.id, Nodes: it.nodes}
			if i+1 < len(p.content) {
				g.Before = p.content[i+1].id()
			}
			w.node.Groups = append(w.node.Groups, g)
			w.b.WriteByte(groupHole)
		}
	}
}

func (w *writer) attr(name, value string) {
	w.open(name)
	w.b.WriteString(Escape(value))
	w.b.WriteByte('"')
}

func (w *writer) open(name string) {
	w.b.WriteByte(' ')
	w.b.WriteString(name)
	w.b.WriteString(`="`)
}

func (w *writer) slot(s Slot) {
	w.node.Slots = append(w.node.Slots, s)
	w.b.WriteByte(slotHole)
}

func dropHoles(r rune) rune {
	if r == slotHole || r == groupHole {
		return -1
	}
	return r
}

// void are the elements that have no content and no end tag.
var void = map[string]bool{
	"area": true, "base": true, "br": true, "col": true, "embed": true, "hr": true, "img": true,
	"input": true, "link": true, "meta": true, "source": true, "track": true, "wbr": true,
}
