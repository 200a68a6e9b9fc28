package shell

import (
	"syscall/js"

	"lugworth/wasm/keyed"
)

// focusSet is the ids of the element in focus and of all around it.
func (h *host) focusSet() keyed.Focus {
	set := keyed.Focus{}
	for el := h.doc.Get("activeElement"); !el.IsNull() && !el.Equal(h.root); el = el.Get("parentElement") {
		if id := el.Get("id").String(); id != "" {
			set[id] = true
		}
	}
	return set
}

// typed is the element in focus and what is being typed into it, kept while
// its row is written anew.
type typed struct {
	id, act, data, k string
	isText           bool
	value            string
	from, to         js.Value
}

func (h *host) typing() *typed {
	el := h.doc.Get("activeElement")
	if el.IsNull() {
		return nil
	}
	t := &typed{id: el.Get("id").String(), act: attr(el, "data-act"), data: attr(el, "data-id"), k: attr(el, "data-k")}
	if t.isText = isTextInput(el); t.isText {
		t.value = el.Get("value").String()
		t.from, t.to = el.Get("selectionStart"), el.Get("selectionEnd")
	}
	return t
}

// restore gives the focus and the text being typed back to the element that
// stands for the same act.
func (t *typed) restore(h *host) {
	el := h.doc.Call("getElementById", t.id)
	if el.IsNull() || !t.same(el) {
		el = h.find(t)
	}
	if el.IsNull() || el.Equal(h.doc.Get("activeElement")) {
		return
	}
	el.Call("focus", map[string]any{"preventScroll": true})
	if t.isText && isTextInput(el) {
		el.Set("value", t.value)
		if t.from.Type() == js.TypeNumber {
			el.Call("setSelectionRange", t.from, t.to)
		}
	}
}

func (t *typed) same(el js.Value) bool {
	return attr(el, "data-act") == t.act && attr(el, "data-id") == t.data && attr(el, "data-k") == t.k
}

func (h *host) find(t *typed) js.Value {
	if t.act == "" {
		return js.Null()
	}
	found := h.root.Call("querySelectorAll", "[data-act]")
	for i := range found.Length() {
		if el := found.Index(i); t.same(el) {
			return el
		}
	}
	return js.Null()
}

func (h *host) moveFocus() {
	want := h.focusOn
	h.focusOn = nil
	if want == nil {
		return
	}
	el := h.byID(want.ID)
	if el.IsNull() {
		return
	}
	el.Call("focus", map[string]any{"preventScroll": true})
	el.Call("scrollIntoView", map[string]any{"block": "nearest"})
	if want.Select && isTextInput(el) {
		el.Call("select")
	}
}

func attr(el js.Value, name string) string {
	v := el.Call("getAttribute", name)
	if v.IsNull() {
		return ""
	}
	return v.String()
}

func isTextInput(el js.Value) bool {
	switch el.Get("tagName").String() {
	case "TEXTAREA":
		return true
	case "INPUT":
		switch el.Get("type").String() {
		case "checkbox", "radio", "button", "submit", "reset", "file", "image", "color", "range":
			return false
		}
		return true
	}
	return false
}
