// Package e2e drives the page in a real browser, against the real server.
package e2e

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// limit is how long one call may take: ten times and more what was ever seen.
const limit = 30 * time.Second

// Size is a screen. Both tablets have touch.
type Size struct{ Width, Height int64 }

var (
	Landscape = Size{1180, 820}
	Portrait  = Size{820, 1180}
)

// Page is one tab of a browser with a profile of its own.
type Page struct {
	t       testing.TB
	Server  *Server
	Profile string // folder of the profile; survives Kill
	Down    string // folder downloads go to
	size    Size
	browser context.Context // an empty tab, so that any other can be closed
	ctx     context.Context
	end     context.CancelFunc // closes the tab
	quit    context.CancelFunc // ends the browser
	log     *console
	asked   *atomic.Int64 // how often the browser asked whether to leave
}

// Start opens the real page in a fresh profile.
func Start(t testing.TB, size Size) *Page { return start(t, "lugworth/wasm", size) }

// StartToy opens the toy page, which shows the shell alone.
func StartToy(t testing.TB, size Size) *Page { return start(t, toyProgram, size) }

func start(t testing.TB, pkg string, size Size) *Page {
	t.Helper()
	p := prepared(t, pkg, size)
	p.Load()
	return p
}

// prepared is a browser that has not loaded the page yet.
func prepared(t testing.TB, pkg string, size Size) *Page {
	t.Helper()
	p := &Page{t: t, Server: newServer(t, pkg), size: size, Profile: tempDir(t), Down: tempDir(t), log: &console{}, asked: &atomic.Int64{}}
	p.launch()
	t.Cleanup(func() {
		p.quit()
		for _, line := range p.log.bad() {
			t.Errorf("the page wrote to the console: %s", line)
		}
	})
	return p
}

// tempDir is like t.TempDir, but a browser that is ending may still write to
// it for a moment.
func tempDir(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "lugworth-e2e")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		for range 50 {
			if os.RemoveAll(dir) == nil {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	})
	return dir
}

// Open starts a browser on the profile and loads the page until it is drawn.
func (p *Page) Open() {
	p.t.Helper()
	p.launch()
	p.Load()
}

func (p *Page) launch() {
	p.t.Helper()
	alloc, endAlloc := chromedp.NewExecAllocator(context.Background(),
		chromedp.ExecPath("/usr/bin/chromium"), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.UserDataDir(p.Profile), chromedp.WindowSize(int(p.size.Width), int(p.size.Height)))
	ctx, endBrowser := chromedp.NewContext(alloc)
	p.browser, p.quit = ctx, func() { endBrowser(); endAlloc() }
	p.check("start the browser", chromedp.Do(p.browser))
	p.tab()
	p.check("allow downloads", p.within(func(ctx context.Context) error {
		_, err := chromedp.CallBrowser(ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
			Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: p.Down})
		return err
	}))
}

// tab makes a tab. The first call on it must have no deadline, for the tab
// would end with it.
func (p *Page) tab() {
	p.t.Helper()
	p.ctx, p.end = chromedp.NewContext(p.browser)
	p.check("open a tab", chromedp.Do(p.ctx))
	p.log.listen(p.ctx, p.Server)
	p.leave()
	options := []chromedp.EmulateViewportOption{chromedp.EmulateTouch}
	if p.size.Height > p.size.Width {
		options = append(options, chromedp.EmulatePortrait)
	}
	p.Do("set the screen", chromedp.EmulateViewport(p.size.Width, p.size.Height, options...))
}

// leave answers the browser's question whether to leave with yes, as a person
// in a hurry does.
func (p *Page) leave() {
	ctx, asked := p.ctx, p.asked
	questions := chromedp.Events(ctx, page.JavascriptDialogOpening)
	go func() {
		for _, err := range questions {
			if err != nil {
				return
			}
			asked.Add(1)
			// A page that is gone meanwhile needs no answer.
			chromedp.Call(ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
		}
	}()
}

// Load goes to the page's address and waits until it is drawn.
func (p *Page) Load() {
	p.t.Helper()
	p.Do("load the page", chromedp.Navigate(p.Address()))
	p.Wait(`document.querySelector("#page[data-drawn]") !== null`)
}

// Reload loads the page again.
func (p *Page) Reload() {
	p.t.Helper()
	p.Do("reload", chromedp.Reload())
	p.Wait(`document.querySelector("#page[data-drawn]") !== null`)
}

// Address is where the page is served.
func (p *Page) Address() string { return fmt.Sprintf("http://127.0.0.1:%d/", p.Server.Port) }

// Tab opens another tab in the same browser.
func (p *Page) Tab() *Page {
	p.t.Helper()
	other := *p
	other.tab()
	other.Load()
	return &other
}

// Close closes the tab.
func (p *Page) Close() { p.end() }

// Kill ends the browser as a flat battery would, in the middle of anything.
func (p *Page) Kill() {
	p.t.Helper()
	process := chromedp.FromContext(p.browser).Browser.Process()
	p.check("kill the browser", process.Kill())
	p.quit()
}

// Offline takes the network away, Online brings it back.
func (p *Page) Offline() { p.Server.Stop() }
func (p *Page) Online()  { p.t.Helper(); p.Server.Start() }

func (p *Page) within(f func(context.Context) error) error {
	ctx, cancel := context.WithTimeout(p.ctx, limit)
	defer cancel()
	return f(ctx)
}

func (p *Page) check(what string, err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatalf("%s: %v\nconsole:\n%s", what, err, strings.Join(p.log.all(), "\n"))
	}
}

// Do carries out steps under the limit.
func (p *Page) Do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	p.check(what, p.within(func(ctx context.Context) error { return chromedp.Do(ctx, steps...) }))
}

// Eval is the value of a JavaScript expression.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	v, err := TryEval[T](p, expression)
	p.check(expression, err)
	return v
}

// TryEval is Eval for a page that may be going away.
func TryEval[T any](p *Page, expression string) (v T, err error) {
	err = p.within(func(ctx context.Context) error {
		v, err = chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
		return err
	})
	return v, err
}

// Wait waits until a JavaScript expression is true, over navigations too.
func (p *Page) Wait(expression string) {
	p.t.Helper()
	var err error
	var ok bool
	for end := time.Now().Add(limit); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if ok, err = TryEval[bool](p, expression); err == nil && ok {
			return
		}
	}
	text, _ := TryEval[string](p, `document.body.innerText + "\n" + [...document.querySelectorAll("[data-saved]")].map(e => JSON.stringify(e.dataset)).join()`)
	p.t.Fatalf("waited in vain for %s (%v)\npage:\n%s\nconsole:\n%s", expression, err, text, strings.Join(p.log.all(), "\n"))
}

// WaitText waits until the element's text holds what is wanted.
func (p *Page) WaitText(selector, want string) {
	p.t.Helper()
	p.Wait(fmt.Sprintf(`document.querySelector(%q)?.textContent.includes(%q) === true`, selector, want))
}

// Text is the text of the first element.
func (p *Page) Text(selector string) string {
	p.t.Helper()
	return Eval[string](p, fmt.Sprintf(`document.querySelector(%q).textContent`, selector))
}

// Value is what an input holds.
func (p *Page) Value(selector string) string {
	p.t.Helper()
	return Eval[string](p, fmt.Sprintf(`document.querySelector(%q).value`, selector))
}

// Tap touches the element, with a finger and not a mouse.
//
// An element that the page draws anew between being found and being touched
// was not touched: it is looked for again.
func (p *Page) Tap(selector string) {
	p.t.Helper()
	var err error
	for range 4 {
		err = p.within(func(ctx context.Context) error { return chromedp.Do(ctx, chromedp.Tap(chromedp.CSS(selector))) })
		if err == nil || !strings.Contains(err.Error(), "Could not find node with given id") {
			break
		}
	}
	p.check("tap "+selector, err)
}

// Type taps an input, replaces what it holds by keys, and stays in it.
func (p *Page) Type(selector, text string) {
	p.t.Helper()
	p.Tap(selector)
	Eval[bool](p, fmt.Sprintf(`(document.querySelector(%q).select(), true)`, selector))
	if text == "" {
		text = "\b"
	}
	p.Do("type into "+selector, chromedp.KeyEvent(text))
}

// Key presses a key, such as kb.Enter, where the focus is.
func (p *Page) Key(key string, modifiers ...chromedp.Modifier) {
	p.t.Helper()
	var options []chromedp.KeyOption
	if len(modifiers) > 0 {
		options = append(options, chromedp.KeyModifiers(modifiers...))
	}
	p.Do("press a key", chromedp.KeyEvent(key, options...))
}

// Leave takes the focus away, which commits what was typed.
func (p *Page) Leave() {
	p.t.Helper()
	Eval[bool](p, `(document.activeElement.blur(), true)`)
}

// Choose picks an option of a select by its value, as a person's choice.
func (p *Page) Choose(selector, value string) {
	p.t.Helper()
	Eval[bool](p, fmt.Sprintf(`(e => { e.focus(); e.value = %q; e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); return true })(document.querySelector(%q))`, value, selector))
}

// Give taps what opens a file chooser and answers it with files.
func (p *Page) Give(selector string, files ...string) {
	p.t.Helper()
	p.Do("watch for the file chooser", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.SetInterceptFileChooserDialog, page.SetInterceptFileChooserDialogParams{Enabled: true})
		return err
	}))
	p.check("open the file chooser", p.within(func(ctx context.Context) error {
		opened, err := chromedp.Run(ctx, chromedp.WaitEvent(page.FileChooserOpened, nil, chromedp.Tap(chromedp.CSS(selector))))
		if err != nil {
			return err
		}
		return answer(ctx, opened.BackendNodeID, files)
	}))
}

// Downloaded taps what writes a file and waits for it in the download folder.
func (p *Page) Downloaded(selector, name string) []byte {
	p.t.Helper()
	path := filepath.Join(p.Down, name)
	os.Remove(path)
	p.Tap(selector)
	for end := time.Now().Add(limit); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		body, err := os.ReadFile(path)
		partial, _ := filepath.Glob(filepath.Join(p.Down, "*.crdownload"))
		if err == nil && len(partial) == 0 {
			return body
		}
	}
	p.t.Fatalf("no file %s was written", name)
	return nil
}

// PDF prints the page on A4 as it is now.
func (p *Page) PDF() (pdf []byte) {
	p.t.Helper()
	p.check("print", p.within(func(ctx context.Context) (err error) {
		pdf, err = chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPrintBackground()))
		return err
	}))
	return pdf
}

// Shot keeps a picture of the screen as NAME.png in the folder that the
// environment names in LUGWORTH_SHOTS; without it nothing is kept.
func (p *Page) Shot(name string) {
	p.t.Helper()
	dir := os.Getenv("LUGWORTH_SHOTS")
	if dir == "" {
		return
	}
	p.check("keep a picture", os.WriteFile(filepath.Join(dir, name+".png"), p.Picture(), 0o644))
}

// Picture is the screen as it is now, as PNG.
func (p *Page) Picture() (png []byte) {
	p.t.Helper()
	p.check("picture", p.within(func(ctx context.Context) (err error) {
		png, err = chromedp.Run(ctx, chromedp.CaptureScreenshot())
		return err
	}))
	return png
}
