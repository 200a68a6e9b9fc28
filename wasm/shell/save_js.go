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
	count    int            // number of the last transaction
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
	first        bool // it is in the first of the two copies, or failed there
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

// flush starts a transaction with all that waits, unless one is under way on
// the first copy: so much typing makes few, and the last is soon on the disk.
// When the page is about to go it does not look at that.
func (s *saver) flush(now bool) {
	waiting := s.items[s.launched:]
	if len(waiting) == 0 || s.writing() && !now {
		return
	}
	f := &flight{count: len(waiting)}
	s.flights = append(s.flights, f)
	s.launched += f.count
	s.count++
	number := s.count
	first := s.host.store
	s.into(first, waiting, number, func(err error) {
		f.first = true
		second := first.second
		if err != nil || second == nil || second.err != nil {
			s.land(f, err)
			return
		}
		s.flush(false) // what came meanwhile need not wait for the second copy
		s.into(second, waiting, number, func(err error) {
			if err != nil {
				second.lose() // what counts is on the disk
			}
			s.land(f, nil)
		})
	})
}

// holds says whether something is not on the disk yet. Leaving the page then
// would lose it: a browser drops what is under way when the page goes.
func (s *saver) holds() bool { return len(s.items) > 0 }

// writing says whether a transaction on the first copy is under way.
func (s *saver) writing() bool {
	return slices.ContainsFunc(s.flights, func(f *flight) bool { return !f.first })
}

// into writes items to one database and calls done when they are on the disk,
// or none of them is.
func (s *saver) into(to *store, items []item, number int, done func(error)) {
	tx, err := to.begin("readwrite", storeNames...)
	if err != nil {
		done(err)
		return
	}
	end := &ending{}
	end.on(tx, "oncomplete", func() { done(nil) })
	end.on(tx, "onabort", func() { done(failed(tx.Get("error"))) })
	if _, err := try(func() js.Value { return writeItems(tx, items, number, &s.host.stored) }); err != nil {
		tx.Call("abort")
	}
}

func writeItems(tx js.Value, items []item, number int, stored *stored) js.Value {
	in := func(name string) js.Value { return tx.Call("objectStore", name) }
	for _, it := range items {
		switch e := it.effect.(type) {
		case port.SaveRecords:
			records(in, e, it.at)
		case port.SaveBook:
			in("books").Call("put", toJS(e.Book.Bytes), e.Book.Name)
		case port.SaveList:
			in("lists").Call("put", map[string]any{"meta": e.List.Meta, "bytes": stored.bytes(e.List.Bytes)}, e.List.Name)
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
	in("self").Call("put", number, countKey)
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
