package shell

import (
	"syscall/js"
)

// The second copy. One common engine keeps a page's database as a log to which
// it appends. Cut off in the middle of a record, it appends behind the broken
// one next time, and the time after that it finds the log damaged and starts
// with an empty database: all is gone, long after the cut. (Seen here once in
// about 200 kills while writing without pause.) So all is written twice, in two places with a log
// each, one after the other: a cut can hit only one of them. Both hold the
// number of the last transaction; at the start the one that is behind is
// written anew from the other. Engines without such places lack the fault.

const countKey = "transactions"

func openSecond() *store {
	places := js.Global().Get("navigator").Get("storageBuckets")
	if !places.Truthy() {
		return nil
	}
	place, err := wait(places.Call("open", "second-copy", map[string]any{"durability": "strict"}))
	if err != nil {
		return nil
	}
	var s *store
	s = openIn(place.Get("indexedDB"), func(string) { s.lose() })
	if s.err != nil {
		return nil
	}
	return s
}

// lose marks a second copy as not to be written any more. The next start
// finds it behind and mends it.
func (s *store) lose() {
	if s != nil && s.err == nil {
		s.err = failure{"InvalidStateError", "the second copy is behind"}
	}
}

// count is the number of the last transaction, 0 in a new database.
func (s *store) count() (int, error) {
	v, err := s.get("self", countKey)
	if err != nil || v.Type() != js.TypeNumber {
		return 0, err
	}
	return v.Int(), nil
}

// restore brings everything back from the second copy where the database is
// behind it, and says so.
func (s *store) restore() (say string) {
	if s.instead {
		return "The browser does not open what it kept for this page. All is here from the second copy. Save each job as a file."
	}
	if s.err != nil || s.second == nil {
		return ""
	}
	own, err := s.count()
	other, err2 := s.second.count()
	if err != nil || err2 != nil || other <= own {
		return ""
	}
	if err := s.second.copyTo(s); err != nil {
		return "The browser has lost what it kept for this page, and the second copy could not be brought back (" + err.Error() + "). Load the page again before you do anything else."
	}
	return "The browser had lost what it kept for this page, after it was cut off while writing. Everything is back from the second copy."
}

// renew writes the second copy anew where it is behind.
func (s *store) renew() {
	if s.err != nil || s.second == nil {
		return
	}
	own, err := s.count()
	other, err2 := s.second.count()
	if err == nil && err2 == nil && own == other {
		return
	}
	if s.copyTo(s.second) != nil {
		s.second.lose()
	}
}

// content is all that one of the stores holds.
type content struct{ keys, values []js.Value }

// copyTo makes to hold what s holds, in one transaction.
func (s *store) copyTo(to *store) error {
	all := map[string]content{}
	for _, name := range storeNames {
		keys, values, err := s.all(name)
		if err != nil {
			return err
		}
		all[name] = content{keys, values}
	}
	tx, err := to.begin("readwrite", storeNames...)
	if err != nil {
		return err
	}
	end := make(chan error, 1)
	done := &ending{}
	done.on(tx, "oncomplete", func() { end <- nil })
	done.on(tx, "onabort", func() { end <- failed(tx.Get("error")) })
	for _, name := range storeNames {
		in := tx.Call("objectStore", name)
		in.Call("clear")
		for i, key := range all[name].keys {
			in.Call("put", all[name].values[i], key)
		}
	}
	return <-end
}
