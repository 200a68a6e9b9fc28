package shell

import "syscall/js"

// longList is from how many bytes on a price list is stored as the browser's
// own file: it is then handed to the disk without being copied on the page's
// thread once more for each of the two copies.
const longList = 256 << 10

// listBytes is the content of a price list as it is stored.
func listBytes(b []byte) js.Value {
	if len(b) < longList {
		return toJS(b)
	}
	return blob(toJS(b), "text/csv")
}

// bytesOfList reads what listBytes made. It waits: never call it in a
// listener.
func bytesOfList(v js.Value) ([]byte, error) {
	if !v.InstanceOf(js.Global().Get("Blob")) {
		return toGo(v), nil
	}
	buffer, err := wait(v.Call("arrayBuffer"))
	if err != nil {
		return nil, err
	}
	return toGo(js.Global().Get("Uint8Array").New(buffer)), nil
}
