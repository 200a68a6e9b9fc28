package keyed

import (
	"strconv"
	"strings"
)

// Row is the element tag with the given key and items.
//
// Elements that hold a slot or a group, and those one can press or type in,
// get an id from the row: KEY--ACT, KEY--ACT-K, or KEY--3 by their order.
func Row(tag, key string, items ...Item) Node {
	w := writer{node: Node{Key: key}, used: map[string]bool{}}
	w.element(Item{kind: element, name: tag, items: append([]Item{ID(key)}, items...)})
	w.node.Shell = w.b.String()
	return w.node
}

type writer struct {
	node  Node
	b     strings.Builder
	used  map[string]bool
	count int
}

// parts is an element's items sorted out: what goes into its tag, what inside.
type parts struct {
	id      string
	tag     []Item
	content []Item
	value   *Item // what a textarea holds
}

func (w *writer) element(e Item) {
	p := parts{}
	p.sort(e.name, e.items)
	w.anchor(p.content)
	if p.id == "" && needsID(e.name, p) {
		p.id = w.name(p.tag)
	}
	w.openTag(e.name, p)
	if void[e.name] {
		return
	}
	w.content(p)
	w.b.WriteString("</" + e.name + ">")
}

func (p *parts) sort(tag string, items []Item) {
	for i := range items {
		it := items[i]
		switch it.kind {
		case nothing:
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
				p.value = &it
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
func (p *parts) addRows(it Item) {
	last := len(p.content) - 1
	if last < 0 || p.content[last].kind != rows {
		p.content = append(p.content, it)
		return
	}
	both := append(append([]Node{}, p.content[last].nodes...), it.nodes...)
	p.content[last] = Nodes(both...)
}

// anchor gives an id to each element that follows a run of rows; a text there
// is put into an element first.
func (w *writer) anchor(content []Item) {
	for i := 1; i < len(content); i++ {
		if content[i-1].kind != rows {
			continue
		}
		if content[i].kind != element {
			content[i] = El("span", content[i])
		}
		if content[i].id() == "" {
			items := append([]Item{ID(w.name(content[i].items))}, content[i].items...)
			content[i] = El(content[i].name, items...)
		}
	}
}

func (it Item) id() string {
	p := parts{}
	p.sort(it.name, it.items)
	return p.id
}

func needsID(tag string, p parts) bool {
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

func soleSlot(content []Item) bool {
	return len(content) == 1 && (content[0].kind == text || content[0].kind == rawMarkup)
}

func hasRows(content []Item) bool {
	for _, it := range content {
		if it.kind == rows {
			return true
		}
	}
	return false
}

// name makes an id that stays the same while the row's shape does.
func (w *writer) name(tag []Item) string {
	p := parts{}
	p.sort("", tag)
	act, k := "", ""
	for _, it := range p.tag {
		switch it.name {
		case "data-act":
			act = it.value
		case "data-k":
			k = "-" + it.value
		}
	}
	id := w.node.Key + "--" + act + k
	if act == "" || w.used[id] {
		w.count++
		id = w.node.Key + "--" + act + k + strconv.Itoa(w.count)
	}
	w.used[id] = true
	return id
}

func (w *writer) openTag(tag string, p parts) {
	w.b.WriteString("<" + tag)
	if p.id != "" {
		w.attr("id", p.id)
	}
	for _, it := range p.tag {
		switch it.kind {
		case attribute:
			w.attr(it.name, it.value)
		case liveAttribute:
			w.b.WriteString(" " + it.name + `="`)
			w.slot(Slot{At: p.id, Kind: SlotAttr, Name: it.name, Value: it.value})
			w.b.WriteString(`"`)
		case flag:
			w.slot(Slot{At: p.id, Kind: SlotFlag, Name: it.name, On: it.on})
		case inputValue:
			w.b.WriteString(` value="`)
			w.slot(Slot{At: p.id, Kind: SlotValue, Value: it.value})
			w.b.WriteString(`"`)
		}
	}
	w.b.WriteString(">")
}

func (w *writer) content(p parts) {
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
			w.element(it)
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
	w.b.WriteString(" " + name + `="` + Escape(value) + `"`)
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
