package e2e

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// brought is the path of a file that a technician brings along.
func brought(t testing.TB, names ...string) []string {
	t.Helper()
	out := make([]string, len(names))
	for i, n := range names {
		path, err := filepath.Abs("testdata/walk/" + n)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = path
	}
	return out
}

// asked keeps what a tab asks the network for.
type asked struct {
	mu   sync.Mutex
	urls []string
}

// watch notes every request of the tab from now on.
func (p *Page) watch() *asked {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, network.Enable, network.EnableParams{})
	p.check("watch the network", err)
	a := &asked{}
	events := chromedp.Events(p.ctx, network.RequestWillBeSent)
	go func() {
		for e, err := range events {
			if err != nil {
				return
			}
			a.mu.Lock()
			a.urls = append(a.urls, e.Request.URL)
			a.mu.Unlock()
		}
	}()
	return a
}

// beyond are the requests that leave the page's own address.
func (a *asked) beyond(origin string) (out []string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	for _, u := range a.urls {
		if !strings.HasPrefix(u, origin) && !strings.HasPrefix(u, "blob:"+origin) && !strings.HasPrefix(u, "data:") {
			out = append(out, u)
		}
	}
	return out
}

// find is the selector of the first element in sight that matches scope and
// has text in it.
func (p *Page) find(scope, text string) string {
	p.t.Helper()
	expression := fmt.Sprintf(`((scope, text) => {
		const e = [...document.querySelectorAll(scope)].find(e => e.getClientRects().length > 0 && e.textContent.replace(/\s+/g, " ").includes(text));
		let path = "";
		for (let n = e; n && n !== document.documentElement; n = n.parentElement) path = "> :nth-child(" + ([...n.parentElement.children].indexOf(n) + 1) + ") " + path;
		return path === "" ? "" : "html " + path;
	})(%q, %q)`, scope, text)
	p.Wait("(" + expression + `) !== ""`)
	return Eval[string](p, expression)
}

// Touch taps an element as a person does: once it stands still, and only where
// nothing lies over it.
func (p *Page) Touch(selector string) {
	p.t.Helper()
	p.Wait(fmt.Sprintf(`new Promise(done => {
		const at = () => { const e = document.querySelector(%q); if (!e) return null; const r = e.getBoundingClientRect(); return [e, r.x, r.y, r.width, r.height]; };
		const frame = () => new Promise(r => requestAnimationFrame(() => setTimeout(r)));
		(async () => {
			at()?.[0].scrollIntoView({block: "nearest"});
			const before = at();
			await frame(); await frame();
			const after = at();
			if (!before || !after || !after[3] || before.some((v, i) => v !== after[i])) return done(false);
			const top = document.elementFromPoint(after[1] + after[3] / 2, after[2] + after[4] / 2);
			if (!top || !after[0].contains(top)) { after[0].scrollIntoView({block: "center"}); return done(false); }
			done(true);
		})();
	})`, selector))
	p.Tap(selector)
}

// TapText touches the first element in sight that matches scope and has text
// in it.
func (p *Page) TapText(scope, text string) {
	p.t.Helper()
	p.Touch(p.find(scope, text))
}

// Fill taps an input, puts a text in its place as a keyboard with suggestions
// or a pasting does, and goes on with the tab key, which commits it.
func (p *Page) Fill(selector, text string) {
	p.t.Helper()
	p.Touch(selector)
	p.Wait(fmt.Sprintf(`document.activeElement === document.querySelector(%q)`, selector))
	Eval[bool](p, `(document.activeElement.select(), true)`)
	p.check("put a text into "+selector, p.within(func(ctx context.Context) error {
		_, err := chromedp.Call(ctx, input.InsertText, input.InsertTextParams{Text: text})
		return err
	}))
	p.Key(kb.Tab)
}

// Pressed taps a button that stays down, and waits until it is.
func (p *Page) Pressed(selector string) {
	p.t.Helper()
	p.Touch(selector)
	p.Wait(fmt.Sprintf(`document.querySelector(%q)?.getAttribute("aria-pressed") === "true"`, selector))
}

// Turn opens a posture.
func (p *Page) Turn(posture string) {
	p.t.Helper()
	p.Touch(`[data-act="posture"][data-id="` + posture + `"]`)
	p.Wait(fmt.Sprintf(`document.querySelector("#main-%s") !== null`, posture))
}

// BenchPart opens a part of the bench.
func (p *Page) BenchPart(name string) {
	p.t.Helper()
	p.Pressed(`.bench-parts [data-act="bench-part"][data-id="` + name + `"]`)
}

// Unfold opens what stands folded away under a line with text in it.
func (p *Page) Unfold(scope, text string) {
	p.t.Helper()
	summary := p.find(scope+" summary", text)
	if Eval[bool](p, fmt.Sprintf(`document.querySelector(%q).parentElement.open`, summary)) {
		return
	}
	p.Touch(summary)
	p.Wait(fmt.Sprintf(`document.querySelector(%q).parentElement.open`, summary))
}

// Kept waits until the head says that all is saved. A frame first: what was
// done just now is not drawn yet.
func (p *Page) Kept() {
	p.t.Helper()
	p.Wait(`new Promise(r => requestAnimationFrame(() => setTimeout(() => r(/^Saved/.test(document.querySelector(".status .said")?.textContent ?? "")))))`)
}

// Sees waits for texts inside an element.
func (p *Page) Sees(selector string, texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		p.Wait(fmt.Sprintf(`[...document.querySelectorAll(%q)].some(e => e.textContent.replace(/\s+/g, " ").includes(%q))`, selector, text))
	}
}
