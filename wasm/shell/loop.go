// Package shell is the page's edge: it alone touches the browser. It hands
// what happens to the update function as messages, carries out the effects
// that come back, and shows the tree of the page.
package shell

import (
	"lugworth/wasm/keyed"
	"lugworth/wasm/port"
)

// App is what the shell runs: one state, one change, one picture.
type App[M any] struct {
	Start  M
	Update func(M, port.Msg) (M, []port.Effect)
	Page   func(M) keyed.Tree
	Idle   func(M) bool // does a little work ahead, unseen; reports whether more waits. May be nil
}

// Loop handles messages one at a time. The browser may call a handler while
// another is under way, on the same stack: a lock would hang, a queue does not.
type Loop[M any] struct {
	Model  M
	Update func(M, port.Msg) (M, []port.Effect)
	Run    func(port.Effect)
	Drawn  func() // asks for a drawing once nothing waits

	queue []port.Msg
	busy  bool
}

// Send adds msg and, unless a call further up is already doing so, handles
// everything waiting.
func (l *Loop[M]) Send(msg port.Msg) {
	l.queue = append(l.queue, msg)
	if l.busy {
		return
	}
	l.busy = true
	defer func() { l.busy = false }()
	for len(l.queue) > 0 {
		next := l.queue[0]
		l.queue = l.queue[1:]
		var effects []port.Effect
		l.Model, effects = l.Update(l.Model, next)
		for _, e := range effects {
			l.Run(e)
		}
		if len(l.queue) == 0 {
			l.Drawn()
		}
	}
}
