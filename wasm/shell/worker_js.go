package shell

import (
	"syscall/js"

	"lugworth/wasm/port"
)

// worker is the service worker that keeps the program's own files, so that
// the page starts without a network.
type worker struct {
	host         *host
	registration js.Value
	state        port.Shell
	hadOne       bool // a version ran before; a change of it loads the page again
}

func (h *host) startWorker() {
	w := &h.worker
	w.host = h
	w.state.Version = w.version()
	container := js.Global().Get("navigator").Get("serviceWorker")
	if !container.Truthy() {
		w.state.Say = "This address is neither https nor this machine's own: the page does not start without a network here."
		h.send(w.state)
		return
	}
	w.hadOne = container.Get("controller").Truthy()
	container.Call("addEventListener", "controllerchange", forever(func([]js.Value) { w.changed() }))
	registration, err := wait(container.Call("register", "sw.js", map[string]any{"updateViaCache": "none"}))
	if err != nil {
		w.state.Say = "The page could not be kept for use without a network (" + err.Error() + ")."
		w.state.Offline = w.hadOne
		h.send(w.state)
		return
	}
	w.registration = registration
	registration.Call("addEventListener", "updatefound", forever(func([]js.Value) { w.watch(registration.Get("installing")) }))
	w.watch(registration.Get("installing"))
	w.tell()
}

func (w *worker) version() string {
	meta := w.host.doc.Call("querySelector", `meta[name="version"]`)
	if meta.IsNull() {
		return ""
	}
	return meta.Get("content").String()
}

func (w *worker) watch(installing js.Value) {
	if installing.Truthy() {
		installing.Call("addEventListener", "statechange", forever(func([]js.Value) { w.tell() }))
	}
}

// tell sends the state if it is new.
func (w *worker) tell() {
	now := w.state
	now.Offline = w.registration.Get("active").Truthy()
	now.Update = w.registration.Get("waiting").Truthy() && now.Offline
	w.state = now
	w.host.send(now)
}

// look asks whether there is a newer version; without a network nothing comes.
func (w *worker) look() {
	if w.registration.Truthy() {
		quiet := forever(func([]js.Value) {})
		w.registration.Call("update").Call("then", quiet, quiet)
	}
}

// take hands the page to the waiting version, once all is saved.
func (w *worker) take() {
	if !w.registration.Truthy() || !w.registration.Get("waiting").Truthy() {
		return
	}
	w.host.saver.whenIdle(func() { w.registration.Get("waiting").Call("postMessage", "take over") })
}

func (w *worker) changed() {
	if !w.hadOne && !w.state.Update {
		w.hadOne = true
		return
	}
	w.host.saver.whenIdle(func() { js.Global().Get("location").Call("reload") })
}
