package e2e

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"lugworth/core/decision"
	"lugworth/core/report"
)

// The page for the owner is saved, opened from the file without a network and
// ticked; its code, typed in the shop, sets the choice and fills in how the
// answer came. A code with another sign in it is refused in words.
func TestOwnerTicksAtHome(t *testing.T) {
	t.Parallel()
	p := given(t, Landscape, "jobs/tern.txtar")
	p.Turn("call")
	p.Sees("#owner-none", "The owner can tick on a page of their own")
	p.Touch(`[data-act="owner-paper"]`)
	p.Sees("#papers-do-sheet", "one file that works without a network")
	page := p.savedForTheOwner()
	for _, never := range []string{"http://", "https://", "R-77", "cost price"} {
		if strings.Contains(string(page), never) {
			t.Errorf("the page holds %q", never)
		}
	}
	path := filepath.Join(p.Down, "decide.html")
	p.check("put the page on a memory stick", os.WriteFile(path, page, 0o600))

	code, total := "", ""
	for _, size := range []struct {
		Size
		name string
	}{{Landscape, "wide"}, {Portrait, "tall"}, {Size{390, 844}, "phone"}} {
		home := p.home(size.Size, path)
		got, sum := home.ticks(size.name)
		if code != "" && got != code {
			t.Errorf("%s: code %s, before %s", size.name, got, code)
		}
		code, total = got, sum
		home.Close()
	}

	p.Turn("call")
	p.Fill("#owner-code-code", code[:5]+altered(code[5:6])+code[6:])
	p.TapText("#form-owner button", "Read it")
	p.Sees("#owner-wrong:not([hidden])", "Group 2, ", "mistyped or misheard", "Nothing is changed")
	p.Accessible("a code refused")
	p.Shot("owner-refused")
	before := p.Text(".foot-total")
	p.Fill("#owner-code-code", strings.ToLower(code))
	p.TapText("#form-owner button", "Read it")
	p.Sees("#owner", "The code is whole", "What was ticked comes to "+total, "thinks about it")
	p.Accessible("a code read")
	p.Shot("owner-read")
	if now := p.Text(".foot-total"); now != before {
		t.Errorf("reading a code changed the total: %s, before %s", now, before)
	}
	p.Touch(`[data-act="owner-take"]`)
	p.Sees("#owner", "The choice in force is what was ticked")
	p.Sees(".foot-total", total)
	p.Touch(`[data-act="consent-open"]`)
	p.Sees("#consent-dialog", "Read this back", total, "Not done: ")
	if got := p.Value("#consent-channel"); got != "in writing" {
		t.Errorf("the answer came %q", got)
	}
	if got := p.Value("#consent-conditions"); !strings.Contains(got, code) {
		t.Errorf("it rests on %q, want the code %s", got, code)
	}
	p.Accessible("an answer that came by code")
	p.Shot("owner-consent")
	p.Fill("#consent-received", "R. Tamm")
	p.Touch(`#form-consent [type="submit"]`)
	p.Wait(`document.querySelector("#consent-dialog") === null`)
	p.Sees("#consent", "All of it is agreed")
}

func altered(sign string) string {
	if sign == "C" {
		return "F"
	}
	return "C"
}

// written reports whether a file holds anything.
func written(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Size() > 0
}

// savedForTheOwner saves the page from Papers and reads it.
func (p *Page) savedForTheOwner() []byte {
	p.t.Helper()
	p.Touch(`[data-act="owner-file"]`)
	p.Wait(`/frozen/.test(document.body.textContent)`)
	var names []string
	for end := 0; end < 300; end++ {
		// The browser makes the file before it has written it.
		partial, _ := filepath.Glob(filepath.Join(p.Down, "*.crdownload"))
		if names, _ = filepath.Glob(filepath.Join(p.Down, "decide-*.html")); len(names) == 1 && len(partial) == 0 && written(names[0]) {
			break
		}
		p.Wait(`new Promise(r => setTimeout(() => r(true), 50))`)
	}
	if len(names) != 1 {
		p.t.Fatalf("%d pages were saved", len(names))
	}
	body, err := os.ReadFile(names[0])
	p.check("read the page", err)
	return body
}

// home opens a file in a tab of its own that has no network.
func (p *Page) home(size Size, path string) *Page {
	p.t.Helper()
	other := *p
	other.size = size
	other.tab()
	requests := other.watch()
	other.check("take the network away", other.within(func(ctx context.Context) error {
		return chromedp.Do(ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
				MatchedNetworkConditions: []*network.Conditions{{Offline: true, DownloadThroughput: -1, UploadThroughput: -1}}})
			return err
		}))
	}))
	other.Do("open the file", chromedp.Navigate("file://"+path))
	other.Wait(`document.querySelector("#count")?.textContent !== ""`)
	p.t.Cleanup(func() {
		for _, u := range requests.beyond("file://" + path) {
			p.t.Errorf("the owner's page asked for %s", u)
		}
	})
	return &other
}

// ticks answers every finding as an owner does: the first by keys, a could
// with a no, one still thought about, the rest with the first yes. It returns
// code and total.
func (p *Page) ticks(name string) (code, total string) {
	p.t.Helper()
	p.Accessible("the owner's page, " + name)
	p.Shot("owner-page-" + name)
	p.Sees("#code", "not yet")
	none := p.Text("#total")
	p.Key(kb.Tab) // "Tick as the estimate stands"
	p.Wait(`document.activeElement.id === "as-estimate"`)
	p.Key(kb.Tab)
	p.Key(kb.Tab) // into the first finding
	p.Key(" ")
	p.Wait(`document.querySelector("#w0-0").checked`)
	if p.Text("#total") == none {
		p.t.Errorf("%s: the total stands still at %s", name, none)
	}
	n := Eval[int](p, `document.querySelectorAll("fieldset").length`)
	for i := 1; i < n; i++ {
		at := `fieldset:nth-of-type(` + strconv.Itoa(i+1) + `) `
		switch i {
		case n - 1:
			p.Touch(at + `label:has([value=no])`)
		case n - 2:
			p.Touch(at + `label:has([value=think])`)
		default:
			p.Touch(at + `label:has(#w` + strconv.Itoa(i) + `-0)`)
		}
	}
	p.Wait(`/^[A-Z3479]{4}(-[A-Z3479]{4})+$/.test(document.querySelector("#code").textContent)`)
	p.Accessible("the owner's page ticked, " + name)
	p.Touch("#code")
	p.Shot("owner-ticked-" + name)
	code, total = p.Text("#code"), p.Text("#total")
	if !regexp.MustCompile(`^\d+\.\d\d$`).MatchString(total) || !strings.Contains(p.Text("#spelled"), "To read out: ") {
		p.t.Errorf("%s: total %q, read out %q", name, total, p.Text("#spelled"))
	}
	if asked := Eval[int](p, `performance.getEntriesByType("resource").length`); asked != 0 {
		p.t.Errorf("%s: the page asked for %d things", name, asked)
	}
	pdf := p.PDF()
	if dir := os.Getenv("LUGWORTH_SHOTS"); dir != "" {
		p.check("keep the PDF", os.WriteFile(filepath.Join(dir, "owner-"+name+".pdf"), pdf, 0o644))
	}
	text := strings.Join(strings.Fields(pdfText(p.t, pdf)), " ")
	for _, want := range []string{"What is done, and what is left?", total, code, "not released for use", "Stored charge"} {
		if !strings.Contains(text, want) {
			p.t.Errorf("%s: the print lacks %q", name, want)
		}
	}
	return code, total
}

const hostileText = `"><img src=x onerror=document.title=1><script>document.title=2</script></title></style>'`

// The page by itself: ways that may stand beside another, ways that need
// another, totals nobody reckoned, and text that would do harm.
func TestOwnersPageAlone(t *testing.T) {
	t.Parallel()
	p := prepared(t, "lugworth/wasm", Landscape)
	slip := decision.Slip{Estimate: "e2e", Sizes: []int{2*4 + 1, 2 + 1, 3 + 1}} // one alone and two beside; one; two alone
	seal := slip.Seal()
	h := hostileText
	o := report.Owner{Shop: h, ShopSays: []string{h}, Number: h, Date: h, Valid: h, Facts: [][2]string{{"For", h}}, Currency: "GBP", Decimals: 2, Terms: []string{h}, Cautions: []string{h}, Code: h,
		Seal: strconv.Itoa(seal.Mark) + " " + strconv.Itoa(seal.Factor) + " " + strconv.Itoa(seal.Start), Most: "25000", Start: "1.0.2",
		Known: "1.0.2:" + strconv.FormatInt(20000, 36) + " 1.1.2:" + strconv.FormatInt(26050, 36) + " 3.0.2:-",
		Questions: []report.Question{
			{ID: "A1", Pile: "must", Head: h, Notes: []string{h}, No: h, NotOffered: []string{h}, Ways: []report.Way{{ID: "A1/a", Say: h, About: []string{h}, Change: h}, {ID: "A1/b", Say: "b", Beside: true}, {ID: "A1/c", Say: "c", Beside: true}}},
			{ID: "A2", Pile: "should", Head: "two", No: "no", Ways: []report.Way{{ID: "A2/a", Say: "a"}}},
			{ID: "A3", Pile: "could", Head: "three", No: "no", Ways: []report.Way{{ID: "A3/a", Say: "a", Needs: []string{"A2/a"}}, {ID: "A3/b", Say: "b"}}},
		}}
	path := filepath.Join(p.Down, "alone.html")
	p.check("write the page", os.WriteFile(path, o.HTML(), 0o600))
	home := p.home(Size{390, 844}, path)
	home.Accessible("hostile text")
	if got := Eval[string](home, `document.title`); got != "Decisions "+h || Eval[int](home, `document.querySelectorAll("img").length + document.scripts.length`) != 1 {
		t.Errorf("the text is not inert: title %q", got)
	}
	code := func(ticks ...int) string {
		c, err := slip.Encode(ticks)
		home.check("write a code", err)
		return c
	}
	for _, step := range []struct {
		press, total, left, code, why string
	}{
		{"#as-estimate", "200.00", "50.00 under your ceiling of 250.00", "", "1 of 3 findings have no answer"},
		{"fieldset:nth-of-type(2) label:has([value=no])", "200.00", "50.00 under", code(2, 1, 3), ""},
		{"label:has(#w1-0)", "260.50", "10.50 over your ceiling of 250.00", code(2, 2, 3), ""},
		{"label:has(#w0-2)", "ask the shop", "", code(1+1+2*2, 2, 3), ""}, // c beside a: 1 + 2·2
		{"fieldset:nth-of-type(1) label:has([value=think])", "ask the shop", "", code(0, 2, 3), ""},
		{"label:has(#w0-1)", "ask the shop", "", code(1+2, 2, 3), ""}, // b alone: 2·1
		{"label:has(#w2-0)", "ask the shop", "", code(1+2, 2, 2), ""},
		{"fieldset:nth-of-type(2) label:has([value=think])", "ask the shop", "", "", "A3/a needs A2/a as well"},
		{"label:has(#w2-1)", "ask the shop", "", code(1+2, 0, 3), ""},
		{"label:has(#w0-0)", "not offered so", "", "", "not offered together"},
		{"#clear", "ask the shop", "", "", "3 of 3 findings have no answer"},
	} {
		home.Touch(step.press)
		home.Sees("#total", step.total)
		home.Sees("#left", step.left)
		home.Sees("#code", step.code, step.why)
		if is := home.Text("#code"); step.code != "" && is != step.code {
			t.Errorf("after %s: code %s, want %s", step.press, is, step.code)
		}
	}
	home.Accessible("hostile text, ticked")
	home.Close()
}
