package shell

import (
	"errors"
	"syscall/js"

	"lugworth/wasm/port"
)

// saver writes what waits as one transaction at a time. Nothing in it blocks:
// a transaction begins within the very event that asked for it, so that a page
// about to go still gets its last words on the disk.
type saver struct {
	host    *host
	next    map[string]int // where each job's journal goes on
	waiting []port.Effect
	flying  int // how many of waiting are in the transaction under way
	idle    []func()
}

func (s *saver) add(e port.Effect) {
	s.waiting = append(s.waiting, e)
	s.flush()
}

// flush starts a transaction with all that waits, unless one is under way.
func (s *saver) flush() {
	if s.flying > 0 || len(s.waiting) == 0 {
		return
	}
	tx, err := s.host.store.begin("readwrite", "jobs", "journal", "books", "lists", "blobs")
	if err != nil {
		s.refused(err)
		return
	}
	before := map[string]int{}
	for k, v := range s.next {
		before[k] = v
	}
	s.flying = len(s.waiting)
	done := &ending{}
	done.on(tx, "oncomplete", func() { s.complete() })
	done.on(tx, "onabort", func() {
		s.next = before
		s.flying = 0
		s.refused(failed(tx.Get("error")))
	})
	if _, err := try(func() js.Value { s.write(tx); return js.Undefined() }); err != nil {
		tx.Call("abort")
	}
}

func (s *saver) write(tx js.Value) {
	in := func(name string) js.Value { return tx.Call("objectStore", name) }
	for _, e := range s.waiting[:s.flying] {
		switch e := e.(type) {
		case port.SaveRecords:
			s.records(in, e)
		case port.SaveBook:
			in("books").Call("put", toJS(e.Book.Bytes), e.Book.Name)
		case port.SaveList:
			in("lists").Call("put", map[string]any{"meta": e.List.Meta, "bytes": toJS(e.List.Bytes)}, e.List.Name)
		case port.SaveBlob:
			in("blobs").Call("put", map[string]any{"mime": e.Mime, "bytes": toJS(e.Bytes)}, e.Name)
		case port.DropJob:
			in("jobs").Call("delete", e.Job)
			in("journal").Call("delete", journalOf(e.Job))
		case port.DropBook:
			in("books").Call("delete", e.Name)
		case port.DropList:
			in("lists").Call("delete", e.Name)
		case port.DropBlob:
			in("blobs").Call("delete", e.Name)
		}
	}
}

func (s *saver) records(in func(string) js.Value, e port.SaveRecords) {
	if e.Snapshot != nil {
		in("jobs").Call("put", toJS(e.Snapshot), e.Job)
		in("journal").Call("delete", journalOf(e.Job))
	}
	for _, entry := range e.Entries {
		in("journal").Call("add", toJS(entry), []any{e.Job, s.next[e.Job]})
		s.next[e.Job]++
	}
}

// journalOf is the range of all keys [job, n]: an array sorts after any number.
func journalOf(job string) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", []any{job}, []any{job, []any{}})
}

func (s *saver) complete() {
	var tag int64
	for _, e := range s.waiting[:s.flying] {
		tag = max(tag, tagOf(e))
	}
	s.waiting = s.waiting[s.flying:]
	s.flying = 0
	s.host.tab.tell()
	s.host.send(port.Saved{Fresh: fresh(), Tag: tag})
	s.flush()
	s.rest()
}

// refused keeps all that waits; the next save tries it again, in order.
func (s *saver) refused(err error) {
	msg := port.SaveFailed{Waiting: len(s.waiting)}
	msg.Say, msg.Full = plain(err)
	s.host.send(msg)
	s.rest()
}

// whenIdle calls do once nothing is being written.
func (s *saver) whenIdle(do func()) {
	s.idle = append(s.idle, do)
	s.flush()
	s.rest()
}

func (s *saver) rest() {
	if s.flying > 0 {
		return
	}
	todo := s.idle
	s.idle = nil
	for _, do := range todo {
		do()
	}
}

// plain puts the browser's error into words for the bench. The texts browsers
// give are empty or foreign.
func plain(err error) (say string, full bool) {
	var f failure
	if !errors.As(err, &f) {
		return "Not saved: " + err.Error() + ". Save the job as a file.", false
	}
	if f.name == "QuotaExceededError" {
		return "Not saved: there is no room left on this device for this page. What was saved before is still there. Remove photos or old price lists, or save the job as a file.", true
	}
	return "Not saved: the browser's store refused (" + f.Error() + "). What was saved before is still there. Save the job as a file, then load the page again.", false
}

func tagOf(e port.Effect) int64 {
	switch e := e.(type) {
	case port.SaveRecords:
		return e.Tag
	case port.SaveBook:
		return e.Tag
	case port.SaveList:
		return e.Tag
	case port.SaveBlob:
		return e.Tag
	case port.DropJob:
		return e.Tag
	case port.DropBook:
		return e.Tag
	case port.DropList:
		return e.Tag
	case port.DropBlob:
		return e.Tag
	}
	return 0
}

// ending are the handlers of one transaction; the first to run frees all.
type ending struct{ funcs []js.Func }

func (d *ending) on(tx js.Value, name string, do func()) {
	f := js.FuncOf(func(js.Value, []js.Value) any {
		for _, f := range d.funcs {
			f.Release()
		}
		do()
		return nil
	})
	d.funcs = append(d.funcs, f)
	tx.Set(name, f)
}
