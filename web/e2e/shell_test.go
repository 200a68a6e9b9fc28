package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"lugworth/wasm/keyed/sample"
)

const state = "#state"

// saved waits until all that the page was told is on the disk. A frame first:
// what was typed just now is not drawn yet.
func saved(p *Page) {
	p.t.Helper()
	p.Wait(`new Promise(r => requestAnimationFrame(() => setTimeout(() => r(state.dataset.saved === state.dataset.tag))))`)
}

// line is the selector of the n-th line's input.
func line(n int) string { return fmt.Sprintf("#lines > li:nth-child(%d) input", n) }

func addLine(p *Page, text string) {
	p.t.Helper()
	n := Eval[int](p, `document.querySelectorAll("#lines > li").length`) + 1
	p.Tap("#do-add")
	p.Wait(fmt.Sprintf(`document.activeElement === document.querySelector(%q)`, line(n)))
	p.Do("type", chromedp.KeyEvent(text))
	p.Leave()
	saved(p)
}

// What was saved is there after the server is gone and the browser is killed.
func TestOfflineKillReopen(t *testing.T) {
	p := StartToy(t, Landscape)
	p.Wait(`state.dataset.offline === "true" && state.dataset.writer === "true"`)
	device := Eval[string](p, `state.dataset.device`)
	addLine(p, "first")
	p.Offline()
	p.Reload()
	addLine(p, "second")
	p.Kill()
	p.Open()
	p.Wait(`document.querySelectorAll("#lines > li").length === 2`)
	if got := p.Value(line(1)) + " " + p.Value(line(2)); got != "first second" {
		t.Errorf("after the kill the lines are %q, want %q", got, "first second")
	}
	if got := Eval[string](p, `state.dataset.device`); got != device || len(device) != 12 {
		t.Errorf("device is %q, was %q", got, device)
	}
}

// A sample tree changed step by step looks like the same tree drawn anew:
// markup, and what inputs hold.
func TestPageFollowsTree(t *testing.T) {
	p := StartToy(t, Portrait)
	Eval[bool](p, `(window.press = seed => { const b = document.createElement("button"); b.dataset.act = "tree"; b.dataset.id = seed; page.append(b); b.click(); b.remove(); }, true)`)
	Eval[bool](p, `(window.same = html => {
		const want = document.createElement("div"); want.innerHTML = html;
		const held = root => [...root.querySelectorAll("input, textarea, option")].map(e => [e.value, e.checked, e.selected].join());
		const a = held(page).join("|"), b = held(want).join("|");
		for (const root of [page.cloneNode(true), want]) { root.querySelectorAll("input").forEach(e => e.removeAttribute("value"));
			root.querySelectorAll("textarea").forEach(e => e.textContent = ""); root === want ? window.w = root.innerHTML : window.g = root.innerHTML; }
		return a === b && w === g }, true)`)
	Eval[bool](p, `(press(1), new Promise(r => requestAnimationFrame(() => setTimeout(() => r(true)))))`)
	for seed := uint64(2); seed <= 150; seed++ {
		tree := sample.Tree(seed)
		var html strings.Builder
		for _, n := range tree.Nodes {
			html.WriteString(n.HTML())
		}
		quoted, _ := json.Marshal(html.String())
		if !Eval[bool](p, fmt.Sprintf(`(press(%d), new Promise(r => requestAnimationFrame(() => setTimeout(() => r(same(%s))))))`, seed, quoted)) {
			t.Fatalf("tree %d after tree %d: page\n%s\nwant\n%s", seed, seed-1, Eval[string](p, "g"), Eval[string](p, "w"))
		}
	}
}

// The row being typed in keeps the focus, the text and the caret while its own
// shell changes and while rows around it change places.
func TestTypingIsNotDisturbed(t *testing.T) {
	p := StartToy(t, Landscape)
	for _, text := range []string{"a", "b", "c"} {
		addLine(p, text)
	}
	p.Type(line(2), "12345678")
	p.Wait(`document.querySelector("#lines > li:nth-child(2)").className === ""`)
	p.Key("9")
	p.Wait(`document.querySelector("#lines > li:nth-child(2)").className === "long"`)
	p.Key(kb.ArrowLeft)
	p.Key("0")
	if got := Eval[string](p, `document.activeElement.value`); got != "1234567809" {
		t.Errorf("typed %q, want %q", got, "1234567809")
	}
	before := Eval[string](p, `document.activeElement.id`)
	Eval[bool](p, `(document.getElementById("do-turn").click(), new Promise(r => requestAnimationFrame(() => setTimeout(() => r(true)))))`)
	if after := Eval[string](p, `document.activeElement.id`); after != before {
		t.Errorf("focus went from %s to %s", before, after)
	}
	if got := p.Value(line(1)) + p.Value(line(3)); got != "ca" {
		t.Errorf("turned: %q around the row, want %q", got, "ca")
	}
	// What is committed is trimmed by the update; it shows once the row is left.
	p.Type(line(1), " x ")
	p.Leave()
	p.Wait(fmt.Sprintf(`document.querySelector(%q).value === "x"`, line(1)))
}

func TestMessages(t *testing.T) {
	p := StartToy(t, Landscape)
	addLine(p, "q")
	p.Type(line(1), "k")
	p.Key(kb.Enter)
	p.WaitText(state, "key Enter k")
	p.Leave()
	p.Key("z", chromedp.Modifier(2))
	p.WaitText(state, "key Ctrl+z")
	p.Type(`[name="one"]`, "uno")
	p.Type(`[name="two"]`, "due")
	p.Key(kb.Enter)
	p.WaitText(state, "form uno due")
	p.Tap("#refuse")
	p.WaitText(state, "refused true")
	p.Wait(`document.getElementById("refuse").checked === false`)
	p.Tap("#do-dialog")
	p.Wait(`document.querySelector("dialog:modal") !== null`)
	p.Key(kb.Escape)
	p.Wait(`document.querySelector("dialog") === null`)
	if got := Eval[string](p, `document.title`); got != "Toy (1)" {
		t.Errorf("title %q", got)
	}
}

func TestFiles(t *testing.T) {
	p := StartToy(t, Landscape)
	list := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(list, []byte("a;b\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	p.Give("#do-open", list)
	p.WaitText(state, "opened list.csv 4")
	if got := p.Downloaded("#do-write", "toy.csv"); string(got) != "a,b\r\n" {
		t.Errorf("downloaded %q", got)
	}
	p.Give("#do-photo", picture(t, 400, 200))
	saved(p)
	p.WaitText(state, "elapsed photo")
	p.Tap("#do-show")
	p.Wait(`document.getElementById("photo")?.naturalWidth === 100`)
	if h := Eval[int](p, `photo.naturalHeight`); h != 50 {
		t.Errorf("a photo of 400 x 200 shrunk to 100 wide is %d high, want 50", h)
	}
}

func picture(t *testing.T, w, h int) string {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = color.Gray{Y: uint8(i)}.Y
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "photo.png")
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// A paper prints in place of the page, and is gone afterwards.
func TestPrint(t *testing.T) {
	p := StartToy(t, Landscape)
	// Printing to a file needs no dialog: the paper must wait for it.
	Eval[bool](p, `(window.print = () => {}, true)`)
	p.Tap("#do-print")
	p.WaitText("#paper", "Paper of the toy")
	text := pdfText(t, p.PDF())
	if !strings.Contains(text, "Nobody can say what it is.") || strings.Contains(text, "What does the toy hold") {
		t.Errorf("printed:\n%s", text)
	}
	p.WaitText(state, "printed")
	if got := p.Text("#paper"); got != "" {
		t.Errorf("the paper stays: %q", got)
	}
}

// pdfText is what a PDF says, read by another program.
func pdfText(t testing.TB, pdf []byte) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(name, pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext, from poppler-utils: %v", err)
	}
	return string(out)
}
