package shell

import (
	"syscall/js"

	"lugworth/wasm/port"
)

// Of a long work, moment milliseconds are done at once: a press that comes
// meanwhile still has its answer in the next frame. While it goes on the page
// is drawn every sight milliseconds, or so seldom that drawing takes a fifth of
// the time at most.
const (
	moment = 10
	sight  = 120
)

// long does a long work in moments. The browser's own timers would let four
// milliseconds pass between any two; a message to oneself does not, and stands
// behind presses and drawings all the same.
type long struct {
	host    *host
	channel js.Value
	waiting []string
	now     bool    // a moment is under way
	began   float64 // when it began
	seen    float64 // when the page was last drawn
	cost    float64 // how long that took
}

// soon has one more piece of a work done: within this moment, else the next.
func (l *long) soon(e port.Soon) {
	if l.now && millis()-l.began < moment {
		l.host.send(port.Elapsed{Fresh: fresh(), Tag: e.Tag})
		return
	}
	l.waiting = append(l.waiting, e.Tag)
	if len(l.waiting) == 1 {
		l.post()
	}
}

func (l *long) post() {
	if l.channel.IsUndefined() {
		l.channel = js.Global().Get("MessageChannel").New()
		l.channel.Get("port1").Set("onmessage", forever(func([]js.Value) { l.run() }))
	}
	l.channel.Get("port2").Call("postMessage", js.Null())
}

func (l *long) run() {
	tags := l.waiting
	l.waiting = nil
	l.now, l.began = true, millis()
	for _, tag := range tags {
		l.host.send(port.Elapsed{Fresh: fresh(), Tag: tag})
	}
	l.now = false
}

// busy says that the work goes on.
func (l *long) busy() bool { return len(l.waiting) > 0 }

// unseen says that the work goes on and that the page was drawn a moment ago:
// the next drawing will do.
func (l *long) unseen() bool {
	return l.now && len(l.waiting) > 0 && millis()-l.seen < max(sight, 4*l.cost)
}

// drawn notes a drawing that began at a time and is done.
func (l *long) drawn(began float64) {
	l.seen = millis()
	l.cost = l.seen - began
}

func millis() float64 { return js.Global().Get("performance").Call("now").Float() }
