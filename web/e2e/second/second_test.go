package second

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"lugworth/web"
)

// engine is a running second browser with one tab.
type engine struct {
	t       *testing.T
	command *exec.Cmd
	socket  *socket
	tab     string
}

func open(t *testing.T, profile string) *engine {
	t.Helper()
	cmd := exec.Command("firefox-esr", "--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0")
	cmd.Env = append(os.Environ(), "HOME="+profile, "MOZ_CRASHREPORTER_DISABLE=1")
	notes, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatalf("start the second browser: %v", err)
	}
	e := &engine{t: t, command: cmd}
	t.Cleanup(e.kill)
	found := make(chan string, 1)
	go func() {
		lines := bufio.NewScanner(notes)
		for lines.Scan() {
			if _, address, ok := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); ok {
				found <- strings.TrimSpace(address)
			}
		}
	}()
	select {
	case address := <-found:
		e.connect(address + "/session")
	case <-time.After(90 * time.Second):
		t.Fatal("the second browser never said where it listens")
	}
	return e
}

func (e *engine) connect(address string) {
	e.t.Helper()
	var err error
	if e.socket, err = dial(address); err != nil {
		e.t.Fatal(err)
	}
	e.call("session.new", map[string]any{"capabilities": map[string]any{}}, nil)
	var tree struct{ Contexts []struct{ Context string } }
	e.call("browsingContext.getTree", map[string]any{}, &tree)
	e.tab = tree.Contexts[0].Context
}

func (e *engine) call(method string, params, result any) {
	e.t.Helper()
	if err := e.socket.call(method, params, result); err != nil {
		e.t.Fatal(err)
	}
}

// kill ends the browser in the middle of anything.
func (e *engine) kill() {
	e.command.Process.Kill()
	e.command.Wait()
}

func (e *engine) load(address string) {
	e.t.Helper()
	e.call("browsingContext.navigate", map[string]any{"context": e.tab, "url": address, "wait": "complete"}, nil)
	e.wait(`document.querySelector("#page[data-drawn]") !== null`)
}

func (e *engine) eval(expression string) any {
	e.t.Helper()
	var answer struct {
		Type             string
		Result           struct{ Value any }
		ExceptionDetails struct{ Text string }
	}
	e.call("script.evaluate", map[string]any{"expression": expression, "target": map[string]any{"context": e.tab}, "awaitPromise": true}, &answer)
	if answer.Type != "success" {
		e.t.Fatalf("%s: %s", expression, answer.ExceptionDetails.Text)
	}
	return answer.Result.Value
}

func (e *engine) wait(expression string) {
	e.t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if e.eval(expression) == true {
			return
		}
	}
	e.t.Fatalf("waited in vain for %s on\n%v", expression, e.eval(`document.body.innerText`))
}

// add makes a line and types into it.
func (e *engine) add(text string) {
	e.t.Helper()
	e.eval(`document.getElementById("do-add").click()`)
	e.wait(`document.activeElement.matches("#lines input")`)
	e.eval(fmt.Sprintf(`(i => { i.value = %q; i.dispatchEvent(new Event("input", {bubbles: true})); i.blur(); })(document.activeElement)`, text))
	e.wait(`new Promise(r => requestAnimationFrame(() => setTimeout(() => r(state.dataset.saved === state.dataset.tag))))`)
}

// The page loads, works without the server, and what was saved is there after
// the browser was killed, the server still being gone.
func TestSecondEngineOfflineKillReopen(t *testing.T) {
	program, err := web.Build("lugworth/web/e2e/testpage")
	if err != nil {
		t.Fatal(err)
	}
	site, err := web.NewSite(program)
	if err != nil {
		t.Fatal(err)
	}
	handler, err := site.Handler()
	if err != nil {
		t.Fatal(err)
	}
	listener, err := web.Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	address := fmt.Sprintf("http://%s/", listener.Addr())
	server := web.NewServer(handler)
	go func() {
		if err := server.Serve(listener); err != http.ErrServerClosed {
			t.Error(err)
		}
	}()
	profile := t.TempDir()
	e := open(t, profile)
	e.load(address)
	e.wait(`state.dataset.offline === "true" && state.dataset.writer === "true"`)
	e.add("first")
	server.Close()
	e.load(address)
	e.add("second")
	e.kill()
	e = open(t, profile)
	e.load(address)
	e.wait(`[...document.querySelectorAll("#lines input")].map(i => i.value).join() === "first,second"`)
	// The profile folder goes away with the test: the browser must go first.
	e.kill()
}
