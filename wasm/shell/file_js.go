package shell

import (
	"strings"
	"syscall/js"

	"lugworth/wasm/port"
)

// openFile shows the browser's own chooser. The input stays in the page until
// the next one: some browsers forget one that is nowhere.
func (h *host) openFile(e port.OpenFile) {
	if old := h.byID("file-chooser"); !old.IsNull() {
		old.Call("remove")
	}
	in := h.doc.Call("createElement", "input")
	for name, value := range map[string]any{"type": "file", "id": "file-chooser", "hidden": true, "accept": e.Accept, "multiple": e.Several} {
		in.Set(name, value)
	}
	if e.Camera {
		in.Call("setAttribute", "capture", "environment")
	}
	var f js.Func
	f = js.FuncOf(func(js.Value, []js.Value) any {
		f.Release()
		go h.readFiles(e, elements(in.Get("files")))
		return nil
	})
	in.Set("onchange", f)
	h.doc.Get("body").Call("append", in)
	in.Call("click")
}

func (h *host) readFiles(e port.OpenFile, files []js.Value) {
	msg := port.FileOpened{For: e.For}
	for _, file := range files {
		name := file.Get("name").String()
		if e.ShrinkTo > 0 {
			file = shrink(file, e.ShrinkTo)
		}
		buffer, err := wait(file.Call("arrayBuffer"))
		if err != nil {
			h.send(port.FileFailed{For: e.For, Name: name, Say: name + " could not be read (" + err.Error() + ")."})
			continue
		}
		bytes := toGo(js.Global().Get("Uint8Array").New(buffer))
		if len(bytes) >= longList && strings.HasSuffix(strings.ToLower(name), ".csv") {
			h.breathe()
			h.stored.note(bytes, buffer)
			h.breathe()
		}
		msg.Files = append(msg.Files, port.File{Name: name, Mime: file.Get("type").String(), Bytes: bytes})
	}
	if len(msg.Files) > 0 {
		msg.Fresh = fresh()
		h.send(msg)
	}
}

// breathe lets presses and drawings have their turn. It waits: never call it
// in a listener.
func (h *host) breathe() {
	done := make(chan bool, 1)
	h.later(0, func() { done <- true })
	<-done
}

// shrink makes a photo at most side pixels long, as JPEG. What is no picture,
// is small enough or cannot be drawn comes back as it was.
func shrink(file js.Value, side int) js.Value {
	global := js.Global()
	if !present(global, "OffscreenCanvas") || !present(global, "createImageBitmap") {
		return file
	}
	picture, err := wait(global.Call("createImageBitmap", file))
	if err != nil {
		return file
	}
	w, h := picture.Get("width").Int(), picture.Get("height").Int()
	longest := max(w, h)
	if longest <= side {
		return file
	}
	canvas := global.Get("OffscreenCanvas").New(max(1, w*side/longest), max(1, h*side/longest))
	canvas.Call("getContext", "2d").Call("drawImage", picture, 0, 0, canvas.Get("width"), canvas.Get("height"))
	small, err := wait(canvas.Call("convertToBlob", map[string]any{"type": "image/jpeg", "quality": 0.85}))
	if err != nil {
		return file
	}
	return small
}

// writeFile hands bytes to the person as a download.
func (h *host) writeFile(f port.File) {
	urls := js.Global().Get("URL")
	url := urls.Call("createObjectURL", blob(toJS(f.Bytes), f.Mime))
	a := h.doc.Call("createElement", "a")
	a.Set("href", url)
	a.Set("download", f.Name)
	a.Call("click")
	// The browser reads the bytes after the click; a minute is ample.
	h.later(60_000, func() { urls.Call("revokeObjectURL", url) })
}

func (h *host) later(millis int, do func()) {
	var f js.Func
	f = js.FuncOf(func(js.Value, []js.Value) any { f.Release(); do(); return nil })
	js.Global().Call("setTimeout", f, millis)
}

// print puts the paper beside the page, where only the printer sees it, and
// takes it away when the dialog is closed.
func (h *host) print(e port.Print) {
	paper, body := h.byID("paper"), h.doc.Get("body")
	title := h.doc.Get("title")
	if e.Title != "" {
		h.doc.Set("title", e.Title)
	}
	if e.Body != "" {
		paper.Set("innerHTML", e.Body)
		body.Call("setAttribute", "data-printing", "paper")
	}
	var f js.Func
	f = js.FuncOf(func(js.Value, []js.Value) any {
		f.Release()
		paper.Set("innerHTML", "")
		body.Call("removeAttribute", "data-printing")
		h.doc.Set("title", title)
		h.send(port.Printed{})
		return nil
	})
	js.Global().Call("addEventListener", "afterprint", f, map[string]any{"once": true})
	h.later(0, func() { js.Global().Call("print") })
}
