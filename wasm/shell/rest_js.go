package shell

import (
	"runtime"
	"runtime/debug"
	"syscall/js"
)

// grown is how many bytes are allocated at least before a quiet moment is used
// to collect what is no longer needed; at twice that the moment after the next
// drawing is taken, quiet or not. With long price lists at hand, which take
// their time to be gone through, it is a share of what is kept. Both lie well
// below what would have the runtime collect by itself.
const (
	grown = 8 << 20
	share = 2
	later = 300 // percent of what is kept, before the runtime collects by itself

	// From so many bytes on a collection takes longer than a frame: it then
	// waits until nobody has typed for pause milliseconds, and until a long
	// work is over, unless four times the share has grown meanwhile.
	dear  = 32 << 20
	pause = 1000
	most  = 4
)

// rest uses the moments between presses: it collects garbage, and has the
// program work ahead. The program has one thread, and a
// collection that starts by itself starts where most is allocated: within a
// press, which then misses its frame.
type rest struct {
	idle  js.Func
	again js.Func
	asked bool
	put   bool   // a collection is put off
	count uint32 // collections so far
	after uint64 // bytes ever allocated, at the last collection
	room  uint64 // bytes that may be allocated before the next
	typed float64
	ahead func() bool
	busy  func() bool // a long work goes on
}

func newRest(ahead, busy func() bool) *rest {
	debug.SetGCPercent(later)
	r := &rest{ahead: ahead, busy: busy, room: grown}
	r.idle = forever(func([]js.Value) {
		r.asked = false
		if r.collect() || r.ahead() {
			r.ask() // one thing in one moment: a press may come in between
		}
	})
	r.again = forever(func([]js.Value) { r.put = false; r.ask() })
	return r
}

// ask has a moment after this drawing used. A browser that does not tell of
// quiet moments is taken to be quiet a third of a second later.
func (r *rest) ask() {
	if by, heap := r.grown(); by > 2*r.room && !r.waits(by, heap) {
		js.Global().Call("setTimeout", r.idle, 1)
		return
	}
	if r.asked {
		return
	}
	r.asked = true
	if js.Global().Get("requestIdleCallback").Truthy() {
		js.Global().Call("requestIdleCallback", r.idle)
		return
	}
	js.Global().Call("setTimeout", r.idle, 300)
}

// grown is how many bytes were allocated since the last collection, whoever
// began it, and how many are held.
func (r *rest) grown() (by, heap uint64) {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.NumGC != r.count {
		r.count, r.after, r.room = m.NumGC, m.TotalAlloc, max(grown, m.HeapAlloc/share)
	}
	return m.TotalAlloc - r.after, m.HeapAlloc
}

// waits says that a collection would be felt now and can wait.
func (r *rest) waits(by, heap uint64) bool {
	return heap > dear && by < most*max(r.room, heap/share) && (r.busy() || millis()-r.typed < pause)
}

// typing notes that a person types or presses.
func (r *rest) typing() { r.typed = millis() }

// collect reports whether it did. One that is due and would be felt is put
// off.
func (r *rest) collect() bool {
	by, heap := r.grown()
	if by < r.room {
		return false
	}
	if r.waits(by, heap) {
		if !r.put {
			r.put = true
			js.Global().Call("setTimeout", r.again, pause)
		}
		return false
	}
	runtime.GC()
	return true
}
