package shell

import (
	"slices"
	"strings"
	"syscall/js"

	"lugworth/wasm/keyed"
)

// ask has the page drawn with the next frame. A page out of sight gets no
// frames, so a timer stands in. Where the focus is to move it is drawn at
// once: a keyboard on the glass opens only within the press itself.
func (h *host) ask() {
	if !h.ready {
		return // the page as served says that it opens
	}
	if h.focusOn != nil {
		h.draw()
		return
	}
	if h.asked || h.long.unseen() {
		return
	}
	h.asked = true
	if h.doc.Get("hidden").Bool() {
		js.Global().Call("setTimeout", h.redraw, 50)
		return
	}
	js.Global().Call("requestAnimationFrame", h.redraw)
}

func (h *host) draw() {
	h.asked = false
	began := millis()
	h.drawing = true
	defer func() { h.drawing = false }()
	tree := h.tree()
	if tree.Title != h.shown.Title {
		h.doc.Set("title", tree.Title)
	}
	if !h.drawnYet {
		h.first(tree)
	} else {
		h.change(tree)
	}
	h.shown = tree
	h.settle()
	h.openDialogs()
	h.moveFocus()
	h.long.drawn(began)
	h.rest.ask()
}

func (h *host) first(tree keyed.Tree) {
	var b strings.Builder
	for _, n := range tree.Nodes {
		b.WriteString(n.HTML())
	}
	h.root.Set("innerHTML", b.String())
	h.root.Call("setAttribute", "data-drawn", "")
	js.Global().Get("performance").Call("mark", "drawn")
	h.drawnYet = true
}

func (h *host) change(tree keyed.Tree) {
	focus := h.focusSet()
	ops := keyed.Diff(h.shown, tree, focus)
	var typing *typed
	if slices.ContainsFunc(ops, func(op keyed.Op) bool { return op.Do != keyed.Write && focus[op.ID] }) {
		typing = h.typing()
	}
	for _, op := range ops {
		h.apply(op)
	}
	if typing != nil {
		typing.restore(h)
	}
}

func (h *host) byID(id string) js.Value { return h.doc.Call("getElementById", id) }

func (h *host) apply(op keyed.Op) {
	el := h.byID(op.ID)
	if el.IsNull() {
		js.Global().Get("console").Call("error", "no element to change: "+op.ID)
		return
	}
	switch op.Do {
	case keyed.Remove:
		el.Call("remove")
	case keyed.Replace:
		el.Set("outerHTML", op.HTML)
	case keyed.Insert:
		if op.Before == "" {
			el.Call("insertAdjacentHTML", "beforeend", op.HTML)
			return
		}
		h.byID(op.Before).Call("insertAdjacentHTML", "beforebegin", op.HTML)
	case keyed.Move:
		before := js.Null()
		if op.Before != "" {
			before = h.byID(op.Before)
		}
		h.byID(op.In).Call("insertBefore", el, before)
	case keyed.Write:
		write(el, op.Slot)
	}
}

func write(el js.Value, s keyed.Slot) {
	switch s.Kind {
	case keyed.SlotText:
		el.Set("textContent", s.Value)
	case keyed.SlotMarkup:
		el.Set("innerHTML", s.Value)
	case keyed.SlotAttr:
		el.Call("setAttribute", s.Name, s.Value)
	case keyed.SlotValue:
		if el.Get("value").String() != s.Value {
			el.Set("value", s.Value)
		}
	case keyed.SlotFlag:
		el.Call("toggleAttribute", s.Name, s.On)
		if s.Name == "checked" || s.Name == "selected" {
			el.Set(s.Name, s.On)
		}
	}
}

// settle brings inputs that were left or committed in line with the tree: the
// browser has changed them by itself, and the update may have said otherwise.
func (h *host) settle() {
	if len(h.touched) == 0 {
		return
	}
	focus := h.focusSet()
	for _, n := range h.shown.Nodes {
		h.settleNode(n, focus)
	}
	h.touched = nil
}

func (h *host) settleNode(n keyed.Node, focus keyed.Focus) {
	if slices.ContainsFunc(n.Slots, func(s keyed.Slot) bool { return slices.Contains(h.touched, s.At) }) ||
		slices.ContainsFunc(h.touched, func(id string) bool { return strings.HasPrefix(id, n.Key+"--") }) {
		for _, s := range n.Slots {
			h.settleSlot(s, focus)
		}
	}
	for _, g := range n.Groups {
		for _, kid := range g.Nodes {
			h.settleNode(kid, focus)
		}
	}
}

func (h *host) settleSlot(s keyed.Slot, focus keyed.Focus) {
	set := s.Kind == keyed.SlotFlag && (s.Name == "checked" || s.Name == "selected")
	if !set && (s.Kind != keyed.SlotValue || focus[s.At]) {
		return
	}
	if el := h.byID(s.At); !el.IsNull() {
		write(el, s)
	}
}

// openDialogs shows each dialog marked data-modal above the page. It closes by
// leaving the tree.
func (h *host) openDialogs() {
	found := h.root.Call("querySelectorAll", "dialog[data-modal]:not([open])")
	for i := range found.Length() {
		found.Index(i).Call("showModal")
	}
}
