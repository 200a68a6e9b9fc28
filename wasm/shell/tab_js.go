package shell

import (
	"syscall/js"

	"lugworth/wasm/port"
)

// tab keeps the rule of one writer: the tab that holds the lock writes, the
// others follow what it has saved.
type tab struct {
	host    *host
	writer  bool
	channel js.Value
	reading bool // a reading is on its way
	stale   bool // and what was saved since is not in it
}

// startTab waits for the browser's word on the lock, loads, and tells.
func (h *host) startTab() {
	h.tab.host = h
	h.tab.openChannel()
	locks := js.Global().Get("navigator").Get("locks")
	if !locks.Truthy() {
		h.tab.write(false, "This address is neither https nor this machine's own: the browser cannot tell two open tabs apart. Use one tab only.")
		return
	}
	got := make(chan bool, 1)
	locks.Call("request", "lugworth writer", map[string]any{"ifAvailable": true}, forever0(func(args []js.Value) any {
		held := !first(args).IsNull()
		got <- held
		if held {
			return never()
		}
		return nil
	}))
	if <-got {
		h.tab.write(false, "")
		return
	}
	h.load(false, "")
	h.send(port.Tab{})
	h.tab.queue(locks)
}

// queue waits for the writing tab to close, then reads all once more and
// takes its place.
func (t *tab) queue(locks js.Value) {
	locks.Call("request", "lugworth writer", forever0(func([]js.Value) any {
		go t.write(true, "")
		return never()
	}))
}

// write makes this the writing tab. Only such a one mends the two copies.
func (t *tab) write(again bool, say string) {
	h := t.host
	restored := h.store.restore()
	h.store.renew() // takes a while: not between what is shown and the leave to change it
	h.load(again, restored)
	t.writer = true
	h.send(port.Tab{Writer: true, Say: say})
}

// never is a promise that keeps a lock until the tab is gone.
func never() js.Value {
	return js.Global().Get("Promise").New(forever(func([]js.Value) {}))
}

func forever0(do func(args []js.Value) any) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any { return do(args) })
}

func (t *tab) openChannel() {
	make := js.Global().Get("BroadcastChannel")
	if !make.Truthy() {
		return
	}
	t.channel = make.New("lugworth saved")
	t.channel.Set("onmessage", forever(func([]js.Value) { t.follow() }))
}

// tell lets the other tabs know that something is on the disk.
func (t *tab) tell() {
	if t.channel.Truthy() {
		t.channel.Call("postMessage", "saved")
	}
}

// follow reads all again; what is saved during a reading makes one more.
func (t *tab) follow() {
	if t.writer {
		return
	}
	t.stale = true
	if t.reading {
		return
	}
	t.reading = true
	go func() {
		for t.stale && !t.writer {
			t.stale = false
			t.host.load(true, "")
		}
		t.reading = false
	}()
}
