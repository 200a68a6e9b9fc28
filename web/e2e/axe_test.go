package e2e

import (
	"context"
	"fmt"
	"os"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/chromedp"
)

// answer puts files into the input that asked for them.
func answer(ctx context.Context, input cdp.BackendNodeID, files []string) error {
	_, err := chromedp.Call(ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: files, BackendNodeID: input})
	return err
}

// axePath is where `make deps` puts the accessibility checker.
const axePath = "../node_modules/axe-core/axe.min.js"

// Accessible fails the test for each rule of WCAG 2.2 A and AA, and of good
// practice, that the page breaks as it is now; then for each target under 48
// pixels, and for sideways scrolling.
func (p *Page) Accessible(state string) {
	p.t.Helper()
	p.Wait(`document.querySelector('[aria-busy="true"]') === null`) // what changes while it is looked at cannot be judged
	if !Eval[bool](p, `typeof axe === "object"`) {
		code, err := os.ReadFile(axePath)
		if err != nil {
			p.t.Fatalf("the accessibility checker is missing; run `make deps`: %v", err)
		}
		Eval[bool](p, string(code)+"\n;true")
	}
	for _, v := range Eval[[]string](p, axeRun) {
		p.t.Errorf("%s: %s", state, v)
	}
	for _, v := range Eval[[]string](p, smallTargets) {
		p.t.Errorf("%s: target too small: %s", state, v)
	}
	if over := Eval[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
		p.t.Errorf("%s: the page is %d pixels too wide for %s", state, over, fmt.Sprint(p.size))
	}
}

// The checker cannot tell what lies under a text in a picture, under the arrow
// of a choice, or half under the foot of a page that scrolls, and whether a
// single letter is a text. Those colors are
// tokens, and every pair of them is tested with the style sheet.
const axeRun = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => {
	const untold = /^(bgOverlap|elmPartiallyObscured|imgNode|bgGradient|shortTextContent)$/;
	return r.violations.concat(r.incomplete.map(v => ({...v, nodes: v.nodes.filter(n => !n.any.some(c => untold.test(c.data?.messageKey)))})))
		.flatMap(v => v.nodes.map(n => v.id + " at " + n.target + ": " + n.failureSummary));
})`

// A box or a ring may be small when the label around it is not.
const smallTargets = `[...document.querySelectorAll("button, a[href], input, select, textarea, summary")].flatMap(e => {
	const big = e.closest("label") && /^(checkbox|radio)$/.test(e.type) ? e.closest("label") : e;
	const r = big.getBoundingClientRect();
	return r.width === 0 || r.width >= 48 && r.height >= 48 ? [] : [(e.id || e.outerHTML.slice(0, 80)) + " " + Math.round(r.width) + "x" + Math.round(r.height)];
})`
