package shell

import (
	"strings"
	"syscall/js"

	"honnef.co/go/js/dom/v2"

	"lugworth/wasm/port"
)

// listen puts one listener for each kind of event on the root. None belongs
// to a row, so rows come and go without anything to release.
func (h *host) listen() {
	inside := func(kind string, do func(e, target js.Value)) {
		on(h.root, kind, false, func(e dom.BasicEvent) {
			if !h.drawing {
				do(e.Value, e.Get("target"))
			}
		})
	}
	inside("click", h.clicked)
	inside("input", h.typedIn)
	inside("change", h.changed)
	inside("submit", h.submitted)
	inside("focusout", func(_, target js.Value) { h.touch(target); h.ask() })
	on(h.doc, "keydown", false, func(e dom.BasicEvent) {
		if !h.drawing {
			h.keyDown(e.Value, h.inRoot(e.Get("target")))
		}
	})
	on(h.root, "cancel", true, h.cancelled)
	window := js.Global()
	on(window, "pagehide", false, func(dom.BasicEvent) { h.hidden() })
	on(window, "beforeunload", false, func(e dom.BasicEvent) {
		if h.saver != nil && h.saver.holds() {
			e.Call("preventDefault") // the browser asks whether to leave
		}
	})
	on(window, "hashchange", false, func(dom.BasicEvent) { h.send(port.Route{Hash: hash()}) })
	on(h.doc, "visibilitychange", false, func(dom.BasicEvent) {
		if h.doc.Get("hidden").Bool() {
			h.hidden()
			return
		}
		h.send(port.Shown{Fresh: fresh()})
		h.worker.look()
	})
}

// on adds a listener for good. It hands out the binding's plain event: asking
// the binding what kind each is would bring every kind there is into the
// page's program, and the element kinds with them.
func on(target js.Value, kind string, capture bool, do func(dom.BasicEvent)) {
	listener := js.FuncOf(func(_ js.Value, args []js.Value) any {
		do(dom.BasicEvent{Value: args[0]})
		return nil
	})
	target.Call("addEventListener", kind, listener, capture)
}

// cancelled leaves the closing of a dialog to the update.
func (h *host) cancelled(e dom.BasicEvent) {
	e.PreventDefault()
	if el := e.Get("target"); attr(el, "data-cancel") != "" {
		h.send(port.Pressed{Where: port.Where{Act: attr(el, "data-cancel"), ID: attr(el, "data-id")}, Fresh: fresh()})
	}
}

// hidden gets all that waits on its way: the page may not come back.
func (h *host) hidden() {
	h.send(port.Hidden{Fresh: fresh()})
	if h.saver != nil {
		h.saver.flush(true)
	}
}

func hash() string { return strings.TrimPrefix(js.Global().Get("location").Get("hash").String(), "#") }

// acting is the nearest element that has an act, or null.
func acting(target js.Value) js.Value {
	if target.Get("closest").IsUndefined() {
		return js.Null()
	}
	return target.Call("closest", "[data-act]")
}

func where(el js.Value) port.Where {
	return port.Where{Act: attr(el, "data-act"), ID: attr(el, "data-id"), K: attr(el, "data-k")}
}

func (h *host) clicked(e, target js.Value) {
	h.rest.typing()
	el := acting(target)
	if el.IsNull() || !pressable(el) || attr(el, "aria-disabled") == "true" {
		return
	}
	if el.Get("tagName").String() == "A" {
		e.Call("preventDefault")
	}
	value := ""
	if v := el.Get("value"); v.Type() == js.TypeString {
		value = v.String()
	}
	h.send(port.Pressed{Where: where(el), Fresh: fresh(), Value: value})
}

// pressable is false for what sends its own kind of message.
func pressable(el js.Value) bool {
	switch strings.ToUpper(el.Get("tagName").String()) {
	case "FORM", "SELECT", "TEXTAREA", "OPTION":
		return false
	case "INPUT":
		kind := el.Get("type").String()
		return kind == "button" || kind == "submit"
	}
	return true
}

func (h *host) typedIn(_, target js.Value) {
	h.rest.typing()
	if el := acting(target); el.Equal(target) && isTextInput(el) {
		h.send(port.Typed{Where: where(el), Fresh: fresh(), Value: el.Get("value").String()})
	}
}

func (h *host) changed(_, target js.Value) {
	h.touch(target)
	if el := acting(target); el.Equal(target) {
		h.send(port.Changed{Where: where(el), Fresh: fresh(), Value: el.Get("value").String(), Checked: el.Get("checked").Truthy()})
	}
	h.ask()
}

func (h *host) touch(el js.Value) {
	if id := el.Get("id"); id.Type() == js.TypeString && id.String() != "" {
		h.touched = append(h.touched, id.String())
	}
}

// inRoot is el, or where nothing of the page has the focus the first element
// that lists keys, so that the page's own keys work then too.
func (h *host) inRoot(el js.Value) js.Value {
	if h.root.Call("contains", el).Bool() {
		return el
	}
	return h.root.Call("querySelector", "[data-keys]")
}

func (h *host) keyDown(e, target js.Value) {
	if e.Get("isComposing").Truthy() {
		return
	}
	key := keyName(e)
	if isTextInput(target) && (key == "Ctrl+z" || key == "Ctrl+Z" || key == "Ctrl+y") {
		return // while typing they take letters back, which the browser does
	}
	for el := target; ; el = el.Get("parentElement") {
		el = closest(el, "[data-keys]")
		if el.IsNull() {
			return
		}
		if listed(attr(el, "data-keys"), key) {
			h.sendKey(e, target, key)
			return
		}
	}
}

func closest(el js.Value, selector string) js.Value {
	if el.IsNull() {
		return el
	}
	return el.Call("closest", selector)
}

func (h *host) sendKey(e, target js.Value, key string) {
	e.Call("preventDefault")
	msg := port.Keyed{Fresh: fresh(), Key: key}
	if el := acting(target); !el.IsNull() {
		msg.Where = where(el)
	}
	if isTextInput(target) { // a key pressed while typing
		msg.Value = target.Get("value").String()
	}
	h.send(msg)
}

func listed(list, key string) bool {
	for _, k := range strings.Fields(list) {
		if k == key {
			return true
		}
	}
	return false
}

// keyName is the key as data-keys lists it: Ctrl+ (also for the command key),
// Alt+ and, for keys that print nothing, Shift+ before it.
func keyName(e js.Value) string {
	k := e.Get("key").String()
	if k == " " {
		k = "Space"
	}
	if len(k) > 1 && e.Get("shiftKey").Bool() {
		k = "Shift+" + k
	}
	if e.Get("altKey").Bool() {
		k = "Alt+" + k
	}
	if e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool() {
		k = "Ctrl+" + k
	}
	return k
}

func (h *host) submitted(e, form js.Value) {
	e.Call("preventDefault")
	msg := port.Submitted{Where: where(form), Fresh: fresh()}
	inputs := form.Get("elements")
	for i := range inputs.Length() {
		in := inputs.Index(i)
		if name := in.Get("name"); name.Type() == js.TypeString && name.String() != "" {
			msg.Fields = append(msg.Fields, port.Field{Name: name.String(), Value: in.Get("value").String(), Checked: in.Get("checked").Truthy()})
		}
	}
	h.send(msg)
}
