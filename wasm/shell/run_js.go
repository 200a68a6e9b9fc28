package shell

import (
	"syscall/js"

	"honnef.co/go/js/dom/v2"

	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

// host is the browser as one page needs it. It knows nothing of the model: it
// sends messages and asks for trees.
type host struct {
	send func(port.Msg)
	tree func() keyed.Tree

	doc  js.Value // for calls made once a row
	root js.Value

	ready    bool // what is kept here is loaded, or why not is known
	shown    keyed.Tree
	drawnYet bool
	asked    bool     // a drawing is on its way
	drawing  bool     // events our own changes cause are nobody's input
	touched  []string // ids of inputs to bring in line with the tree
	focusOn  *port.FocusOn
	redraw   js.Func
	rest     *rest
	long     long
	stored   stored

	store  *store
	saver  *saver
	tab    tab
	worker worker
	wake   js.Value
}

// Run starts the app in the element keyed.RootID and never returns.
func Run[M any](app App[M]) {
	h := &host{doc: js.Global().Get("document")}
	loop := &Loop[M]{Model: app.Start, Update: app.Update, Run: h.run, Drawn: h.ask}
	h.send = loop.Send
	h.tree = func() keyed.Tree { return app.Page(loop.Model) }
	root := dom.BasicElement{BasicNode: &dom.BasicNode{Value: h.doc.Call("getElementById", keyed.RootID)}}
	h.root = root.Underlying()
	h.redraw = js.FuncOf(func(js.Value, []js.Value) any { h.draw(); return nil })
	h.long.host = h
	h.rest = newRest(func() bool { return app.Idle != nil && app.Idle(loop.Model) }, h.long.busy)
	h.listen()
	h.start()
	select {}
}

// start settles who may write and brings what is kept here. It runs on the
// main goroutine and may wait.
func (h *host) start() {
	h.later(10_000, func() {
		if h.store == nil {
			h.storeLost("The browser's store has not answered for ten seconds. Close other tabs of this page, then load it again.")
		}
	})
	h.store = openStore(h.storeLost)
	h.saver = &saver{host: h}
	h.startTab()
	h.startWorker()
	h.measure()
}
