package shell

import (
	"errors"
	"slices"
	"syscall/js"

	"lugworth/wasm/port"
)

// saver writes what waits, in order. Nothing in it blocks: a transaction
// begins within the very event that asked for it, so that a page about to go
// still gets its last words on the disk.
//
// Each entry of a journal has its place from the start, so writing an item a
// second time changes nothing. That is what makes a retry safe.
type saver struct {
	host     *host
	next     map[string]int // where each job's journal goes on
	items    []item         // all that is not known to be on the disk
	launched int            // how many of them are in a flight
	flights  []*flight
	idle     []func()
}

// item is one effect and the place of its first entry in the journal.
type item struct {
	effect port.Effect
	at     int
}

// flight is one transaction under way.
type flight struct {
	count        int
	over, failed bool
	err          error
}

func (s *saver) add(e port.Effect) {
	it := item{effect: e}
	switch e := e.(type) {
	case port.SaveRecords:
		it.at = s.next[e.Job]
		s.next[e.Job] += len(e.Entries)
	case port.DropJob:
		it.at = s.next[e.Job]
	}
	s.items = append(s.items, it)
	s.flush(false)
}

// flush starts a transaction with all that waits. Usually one at a time, so
// that much typing makes few; when the page is about to go, at once.
func (s *saver) flush(now bool) {
	waiting := s.items[s.launched:]
	if len(waiting) == 0 || len(s.flights) > 0 && !now {
		return
	}
	f := &flight{count: len(waiting)}
	s.flights = append(s.flights, f)
	s.launched += f.count
	tx, err := s.host.store.begin("readwrite", "jobs", "journal", "books", "lists", "blobs")
	if err != nil {
		s.land(f, err)
		return
	}
	done := &ending{}
	done.on(tx, "oncomplete", func() { s.land(f, nil) })
	done.on(tx, "onabort", func() { s.land(f, failed(tx.Get("error"))) })
	if _, err := try(func() js.Value { return s.write(tx, waiting) }); err != nil {
		tx.Call("abort")
	}
}

func (s *saver) write(tx js.Value, items []item) js.Value {
	in := func(name string) js.Value { return tx.Call("objectStore", name) }
	for _, it := range items {
		switch e := it.effect.(type) {
		case port.SaveRecords:
			records(in, e, it.at)
		case port.SaveBook:
			in("books").Call("put", toJS(e.Book.Bytes), e.Book.Name)
		case port.SaveList:
			in("lists").Call("put", map[string]any{"meta": e.List.Meta, "bytes": toJS(e.List.Bytes)}, e.List.Name)
		case port.SaveBlob:
			in("blobs").Call("put", map[string]any{"mime": e.Mime, "bytes": toJS(e.Bytes)}, e.Name)
		case port.DropJob:
			in("jobs").Call("delete", e.Job)
			in("journal").Call("delete", journalBefore(e.Job, it.at))
		case port.DropBook:
			in("books").Call("delete", e.Name)
		case port.DropList:
			in("lists").Call("delete", e.Name)
		case port.DropBlob:
			in("blobs").Call("delete", e.Name)
		}
	}
	if present(tx, "commit") {
		tx.Call("commit") // do not wait for the page to hear of each request
	}
	return tx
}

func records(in func(string) js.Value, e port.SaveRecords, at int) {
	if e.Snapshot != nil {
		in("jobs").Call("put", toJS(e.Snapshot), e.Job)
		in("journal").Call("delete", journalBefore(e.Job, at))
	}
	for i, entry := range e.Entries {
		in("journal").Call("put", toJS(entry), []any{e.Job, at + i})
	}
}

// journalBefore is the range of the keys [job, n] with n below at.
func journalBefore(job string, at int) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", []any{job}, []any{job, at}, false, true)
}

// land takes note of a finished transaction. What is acknowledged is always a
// beginning of what was asked for; after a failure, all from there on is
// written again with the next effect that saves, in order.
func (s *saver) land(f *flight, err error) {
	f.over, f.failed, f.err = true, err != nil, err
	var tag int64
	for len(s.flights) > 0 && s.flights[0].over && !s.flights[0].failed {
		n := s.flights[0].count
		for _, it := range s.items[:n] {
			tag = max(tag, tagOf(it.effect))
		}
		s.items, s.launched, s.flights = s.items[n:], s.launched-n, s.flights[1:]
	}
	if tag > 0 {
		s.host.tab.tell()
		s.host.send(port.Saved{Fresh: fresh(), Tag: tag})
	}
	switch {
	case len(s.flights) == 0:
		s.flush(false)
	case !slices.ContainsFunc(s.flights, func(f *flight) bool { return !f.over }):
		s.refused(s.flights[0].err)
	}
	s.rest()
}

func (s *saver) refused(err error) {
	s.flights, s.launched = nil, 0
	s.idle = nil // no leaving the page with something unsaved
	msg := port.SaveFailed{Waiting: len(s.items)}
	msg.Say, msg.Full = plain(err)
	s.host.send(msg)
}

// whenIdle calls do once all is on the disk; never, if that fails.
func (s *saver) whenIdle(do func()) {
	s.idle = append(s.idle, do)
	s.flush(false)
	s.rest()
}

func (s *saver) rest() {
	if len(s.flights) > 0 {
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
