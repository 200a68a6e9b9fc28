package shell

import "syscall/js"

// longList is from how many bytes on a price list is stored as the browser's
// own file. That is made once, away from any press: neither of the two copies,
// nor a word about its columns, then copies the list on the page's thread.
const longList = 256 << 10

// storedKept is how many files are remembered: those brought last.
const storedKept = 4

// stored remembers the browser's own files of long lists, by their content in
// the program, which is never changed, only replaced.
type stored struct{ known []storedFile }

type storedFile struct {
	first *byte
	file  js.Value
}

// note makes a file of a long list that was just read.
func (s *stored) note(b []byte, buffer js.Value) { s.keep(b, blob(buffer, "text/csv")) }

func (s *stored) keep(b []byte, file js.Value) {
	s.known = append(s.known, storedFile{&b[0], file})
	s.known = s.known[max(0, len(s.known)-storedKept):]
}

// bytes is the content of a price list as it is stored.
func (s *stored) bytes(b []byte) js.Value {
	if len(b) < longList {
		return toJS(b)
	}
	for _, k := range s.known {
		if k.first == &b[0] {
			return k.file
		}
	}
	s.keep(b, blob(toJS(b), "text/csv"))
	return s.known[len(s.known)-1].file
}

// read brings back what bytes made. It waits: never call it in a listener.
func (s *stored) read(v js.Value) ([]byte, error) {
	if !v.InstanceOf(js.Global().Get("Blob")) {
		return toGo(v), nil
	}
	buffer, err := wait(v.Call("arrayBuffer"))
	if err != nil {
		return nil, err
	}
	b := toGo(js.Global().Get("Uint8Array").New(buffer))
	if len(b) >= longList {
		s.keep(b, v)
	}
	return b, nil
}
