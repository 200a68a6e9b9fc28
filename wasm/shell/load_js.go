package shell

import (
	"syscall/js"

	"lugworth/wasm/port"
)

// load reads everything kept here and sends it. What cannot be read is named;
// the rest is sent all the same. It waits: never call it in a listener.
// restored is what there is to say about the second copy.
func (h *host) load(again bool, restored string) {
	l := loader{store: h.store}
	msg := port.Loaded{Fresh: fresh(), Hash: hash(), Again: again, Restored: restored}
	if h.store.err != nil {
		l.broken = append(l.broken, "Nothing can be kept in this browser ("+h.store.err.Error()+"). Save each job as a file before you close the page.")
		msg.Device = deviceName()
	} else {
		msg.Device = l.device()
		h.saver.count, _ = h.store.count() // a store that cannot be read says so below
		msg.Jobs = l.jobs(h.saver)
		msg.Books = l.books()
		msg.Lists = l.lists(&h.stored)
		msg.Blobs = l.blobs()
	}
	msg.Broken = l.broken
	h.ready = true
	h.send(msg)
}

type loader struct {
	store  *store
	broken []string
}

func (l *loader) fail(what string, err error) {
	l.broken = append(l.broken, "The stored "+what+" cannot be read ("+err.Error()+"). Nothing was removed.")
}

// device is the name made at the first start here.
func (l *loader) device() string {
	v, err := l.store.get("self", "device")
	if err == nil && v.Type() == js.TypeString {
		return v.String()
	}
	name := deviceName()
	if err == nil {
		err = l.store.put("self", "device", name)
	}
	if err != nil {
		l.fail("name of this device", err)
	}
	return name
}

// jobs joins snapshots and journals; a job may have only one of them. It tells
// the saver where each journal goes on.
func (l *loader) jobs(s *saver) []port.Job {
	var jobs []port.Job
	at := map[string]int{}
	job := func(id string) *port.Job {
		i, ok := at[id]
		if !ok {
			i = len(jobs)
			at[id] = i
			jobs = append(jobs, port.Job{ID: id})
		}
		return &jobs[i]
	}
	keys, values, err := l.store.all("jobs")
	if err != nil {
		l.fail("jobs", err)
	}
	for i, k := range keys {
		job(k.String()).Snapshot = toGo(values[i])
	}
	keys, values, err = l.store.all("journal")
	if err != nil {
		l.fail("latest entries of the jobs", err)
	}
	s.next = map[string]int{}
	for i, k := range keys {
		id := k.Index(0).String()
		job(id).Journal = append(job(id).Journal, toGo(values[i]))
		s.next[id] = k.Index(1).Int() + 1
	}
	return jobs
}

func (l *loader) books() []port.Book {
	keys, values, err := l.store.all("books")
	if err != nil {
		l.fail("shop books", err)
	}
	var books []port.Book
	for i, k := range keys {
		books = append(books, port.Book{Name: k.String(), Bytes: toGo(values[i])})
	}
	return books
}

func (l *loader) lists(stored *stored) []port.List {
	keys, values, err := l.store.all("lists")
	if err != nil {
		l.fail("price lists", err)
	}
	var lists []port.List
	for i, k := range keys {
		v := values[i]
		bytes, err := stored.read(v.Get("bytes"))
		if err != nil {
			l.fail("price list "+k.String(), err)
			continue
		}
		lists = append(lists, port.List{Name: k.String(), Meta: v.Get("meta").String(), Bytes: bytes})
	}
	return lists
}

func (l *loader) blobs() []string {
	keys, err := l.store.keys("blobs")
	if err != nil {
		l.fail("photos", err)
	}
	var names []string
	for _, k := range keys {
		names = append(names, k.String())
	}
	return names
}
