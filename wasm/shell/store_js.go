package shell

import (
	"errors"
	"syscall/js"
)

const (
	storeName    = "lugworth"
	storeVersion = 1
)

// The stores. jobs: job -> snapshot. journal: [job, n] -> what was written
// after it. books: name -> bytes. lists: name -> {meta, bytes}. blobs: name ->
// {mime, bytes}. self: what belongs to this device alone.
var storeNames = []string{"jobs", "journal", "books", "lists", "blobs", "self"}

// store is the browser's database of this page, or the reason there is none.
type store struct {
	db      js.Value
	err     error
	second  *store // a copy kept apart by the browser; nil where it cannot
	instead bool   // this is the second copy, in place of the first
}

// openStore waits until the database and its second copy are open. lost is
// called when the browser takes the database away later. Where only the
// second copy opens, that one serves.
func openStore(lost func(say string)) *store {
	s := openIn(js.Global().Get("indexedDB"), lost)
	second := openSecond()
	switch {
	case second == nil:
	case s.err == nil:
		s.second = second
	default:
		second.instead = true
		return second
	}
	return s
}

// openIn opens the database in one of the browser's places for them.
func openIn(place js.Value, lost func(say string)) *store {
	if !place.Truthy() {
		return &store{err: errors.New("this browser has no store for pages")}
	}
	request, err := try(func() js.Value { return place.Call("open", storeName, storeVersion) })
	if err != nil {
		return &store{err: err}
	}
	request.Set("onupgradeneeded", forever(func([]js.Value) { create(request.Get("result")) }))
	request.Set("onblocked", forever(func([]js.Value) {
		lost("Another tab with an older version of this page is open. Close it, then load this page again.")
	}))
	db, err := waitFor(request)
	if err != nil {
		return &store{err: err}
	}
	s := &store{db: db}
	gone := func(say string) func([]js.Value) {
		return func([]js.Value) {
			s.err = errors.New("the store was closed")
			db.Call("close")
			lost(say)
		}
	}
	db.Set("onversionchange", forever(gone("A newer version of this page runs in another tab. Load this page again.")))
	db.Set("onclose", forever(gone("The browser closed its store. Save a copy of the job as a file, then load this page again.")))
	return s
}

func create(db js.Value) {
	names := db.Get("objectStoreNames")
	for _, name := range storeNames {
		if !names.Call("contains", name).Bool() {
			db.Call("createObjectStore", name)
		}
	}
}

// begin starts a transaction. "strict" asks the browser to say complete only
// when the data is on the disk.
func (s *store) begin(mode string, names ...string) (js.Value, error) {
	if s.err != nil {
		return js.Undefined(), s.err
	}
	list := make([]any, len(names))
	for i, n := range names {
		list[i] = n
	}
	return try(func() js.Value {
		return s.db.Call("transaction", list, mode, map[string]any{"durability": "strict"})
	})
}

// all is every key and value of one store, in key order.
func (s *store) all(name string) (keys, values []js.Value, err error) {
	tx, err := s.begin("readonly", name)
	if err != nil {
		return nil, nil, err
	}
	in := tx.Call("objectStore", name)
	askedKeys, askedValues := in.Call("getAllKeys"), in.Call("getAll")
	k, err := waitFor(askedKeys)
	if err != nil {
		return nil, nil, err
	}
	v, err := waitFor(askedValues)
	if err != nil {
		return nil, nil, err
	}
	return elements(k), elements(v), nil
}

func elements(list js.Value) []js.Value {
	out := make([]js.Value, list.Length())
	for i := range out {
		out[i] = list.Index(i)
	}
	return out
}

// keys is every key of one store.
func (s *store) keys(name string) ([]js.Value, error) {
	return s.ask(name, func(in js.Value) js.Value { return in.Call("getAllKeys") })
}

func (s *store) ask(name string, call func(js.Value) js.Value) ([]js.Value, error) {
	tx, err := s.begin("readonly", name)
	if err != nil {
		return nil, err
	}
	v, err := waitFor(call(tx.Call("objectStore", name)))
	if err != nil {
		return nil, err
	}
	return elements(v), nil
}

// get is one value, undefined if there is none.
func (s *store) get(name, key string) (js.Value, error) {
	tx, err := s.begin("readonly", name)
	if err != nil {
		return js.Undefined(), err
	}
	return waitFor(tx.Call("objectStore", name).Call("get", key))
}

// put writes one value in a transaction of its own, in the second copy too.
func (s *store) put(name, key string, value any) error {
	tx, err := s.begin("readwrite", name)
	if err != nil {
		return err
	}
	if _, err = waitFor(tx.Call("objectStore", name).Call("put", value, key)); err == nil && s.second != nil {
		return s.second.put(name, key, value)
	}
	return err
}
