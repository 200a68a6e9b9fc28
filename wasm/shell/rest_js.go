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
)

// rest uses the moments between presses: it collects garbage, and has the
// program work ahead. The program has one thread, and a
// collection that starts by itself starts where most is allocated: within a
// press, which then misses its frame.
type rest struct {
	idle  js.Func
	asked bool
	after uint64 // bytes ever allocated, at the last collection
	room  uint64 // bytes that may be allocated before the next
	ahead func() bool
}

func newRest(ahead func() bool) *rest {
	debug.SetGCPercent(later)
	r := &rest{ahead: ahead, room: grown}
	r.idle = js.FuncOf(func(js.Value, []js.Value) any {
		r.asked = false
		if r.collect() || r.ahead() {
			r.ask() // one thing in one moment: a press may come in between
		}
		return nil
	})
	return r
}

// ask has a moment after this drawing used. A browser that does not tell of
// quiet moments is taken to be quiet a third of a second later.
func (r *rest) ask() {
	if r.grown() > 2*r.room {
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

func (r *rest) grown() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc - r.after
}

// collect reports whether it did.
func (r *rest) collect() bool {
	if r.grown() < r.room {
		return false
	}
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	r.after, r.room = m.TotalAlloc, max(grown, m.HeapAlloc/share)
	return true
}
