package shell

import (
	"errors"
	"syscall/js"
)

// failure is an error of the browser by its name, such as QuotaExceededError.
type failure struct{ name, text string }

func (f failure) Error() string { return f.name + ": " + f.text }

func failed(v js.Value) error {
	if v.Type() != js.TypeObject {
		return errors.New("the browser gave no reason")
	}
	return failure{v.Get("name").String(), v.Get("message").String()}
}

type outcome struct {
	value js.Value
	err   error
}

// wait blocks the goroutine until a promise is settled. Never call it in a
// listener: listeners run on the browser's own stack, which would hang.
func wait(promise js.Value) (js.Value, error) {
	done := make(chan outcome, 1)
	yes := js.FuncOf(func(_ js.Value, args []js.Value) any { done <- outcome{value: first(args)}; return nil })
	no := js.FuncOf(func(_ js.Value, args []js.Value) any { done <- outcome{err: failed(first(args))}; return nil })
	defer yes.Release()
	defer no.Release()
	promise.Call("then", yes, no)
	out := <-done
	return out.value, out.err
}

func first(args []js.Value) js.Value {
	if len(args) == 0 {
		return js.Undefined()
	}
	return args[0]
}

// waitFor blocks until a request of the store is done.
func waitFor(request js.Value) (js.Value, error) {
	done := make(chan outcome, 1)
	yes := js.FuncOf(func(js.Value, []js.Value) any { done <- outcome{value: request.Get("result")}; return nil })
	no := js.FuncOf(func(js.Value, []js.Value) any { done <- outcome{err: failed(request.Get("error"))}; return nil })
	defer yes.Release()
	defer no.Release()
	request.Set("onsuccess", yes)
	request.Set("onerror", no)
	out := <-done
	request.Set("onsuccess", js.Null())
	request.Set("onerror", js.Null())
	return out.value, out.err
}

// forever is a handler that stays for the life of the page.
func forever(do func(args []js.Value)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any { do(args); return nil })
}

// present says whether the browser has obj.name.
func present(obj js.Value, name string) bool {
	return obj.Truthy() && obj.Get(name).Truthy()
}

// try turns an exception of a call into an error.
func try(do func() js.Value) (v js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			thrown, ok := r.(js.Error)
			if !ok {
				panic(r)
			}
			err = failed(thrown.Value)
		}
	}()
	return do(), nil
}

func toJS(b []byte) js.Value {
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

func toGo(a js.Value) []byte {
	b := make([]byte, a.Get("length").Int())
	js.CopyBytesToGo(b, a)
	return b
}
