package shell

import (
	"syscall/js"

	"lugworth/wasm/port"
)

// run carries out one effect. What takes time goes on in a goroutine.
func (h *host) run(e port.Effect) {
	switch e := e.(type) {
	case port.SaveRecords, port.SaveBook, port.SaveList, port.SaveBlob, port.DropJob, port.DropBook, port.DropList, port.DropBlob:
		h.saver.add(e)
	case port.RetrySave:
		h.saver.flush(false)
	case port.LoadBlob:
		go h.loadBlob(e.Name)
	case port.OpenFile:
		h.openFile(e)
	case port.WriteFile:
		h.writeFile(e.File)
	case port.Print:
		h.print(e)
	case port.Mint:
		h.send(minted(e))
	case port.NewDevice:
		go h.newDevice()
	case port.AskPersist:
		go h.askPersist()
	case port.MeasureStorage:
		go h.measure()
	case port.TakeUpdate:
		h.worker.take()
	case port.FocusOn:
		h.focusOn = &e
	case port.SetHash:
		setHash(e)
	case port.After:
		h.after(e)
	case port.Soon:
		h.long.soon(e)
	case port.KeepAwake:
		go h.keepAwake(e.On)
	}
}

// storeLost tells that the browser has taken the store away.
func (h *host) storeLost(say string) {
	h.ready = true
	h.send(port.Failed{Say: say})
}

func (h *host) loadBlob(name string) {
	msg := port.BlobLoaded{Name: name}
	v, err := h.store.get("blobs", name)
	if err == nil && v.Truthy() {
		msg.Mime = v.Get("mime").String()
		msg.Bytes = toGo(v.Get("bytes"))
		msg.URL = js.Global().Get("URL").Call("createObjectURL", blob(v.Get("bytes"), msg.Mime)).String()
	}
	h.send(msg)
}

func blob(bytes js.Value, mime string) js.Value {
	return js.Global().Get("Blob").New([]any{bytes}, map[string]any{"type": mime})
}

func (h *host) newDevice() {
	name := deviceName()
	if err := h.store.put("self", "device", name); err != nil {
		h.send(port.Failed{Say: "The new name of this device could not be kept (" + err.Error() + ")."})
		return
	}
	h.send(port.DeviceNamed{Device: name})
}

func (h *host) askPersist() {
	storage := js.Global().Get("navigator").Get("storage")
	if present(storage, "persist") {
		wait(storage.Call("persist")) // the answer is read by measure
	}
	h.measure()
}

func (h *host) measure() {
	storage := js.Global().Get("navigator").Get("storage")
	var msg port.Storage
	if present(storage, "persisted") {
		if v, err := wait(storage.Call("persisted")); err == nil {
			msg.Known, msg.Persistent = true, v.Bool()
		}
	}
	if present(storage, "estimate") {
		if v, err := wait(storage.Call("estimate")); err == nil && v.Get("usage").Type() == js.TypeNumber {
			msg.Usage = int64(v.Get("usage").Float())
		}
	}
	h.send(msg)
}

func setHash(e port.SetHash) {
	if hash() == e.Hash {
		return
	}
	if e.Replace {
		js.Global().Get("history").Call("replaceState", js.Null(), "", "#"+e.Hash)
		return
	}
	js.Global().Get("location").Set("hash", e.Hash)
}

func (h *host) after(e port.After) {
	var f js.Func
	f = js.FuncOf(func(js.Value, []js.Value) any {
		f.Release()
		h.send(port.Elapsed{Fresh: fresh(), Tag: e.Tag})
		return nil
	})
	js.Global().Call("setTimeout", f, e.Millis)
}

func (h *host) keepAwake(on bool) {
	if h.wake.Truthy() {
		wait(h.wake.Call("release")) // already released is as good
		h.wake = js.Undefined()
	}
	lock := js.Global().Get("navigator").Get("wakeLock")
	if !on || !lock.Truthy() {
		return
	}
	if v, err := wait(lock.Call("request", "screen")); err == nil {
		h.wake = v
	}
}
