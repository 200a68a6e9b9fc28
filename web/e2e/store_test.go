package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// hammer types without pause into the first line, from inside the page. Each
// edit is one effect that saves, so the tag shown as saved tells how many of
// them were shown as saved: window.shown() is the number in the last of those.
const hammer = `(() => {
	const input = document.querySelector("#lines input");
	const first = Number(input.value), base = Number(state.dataset.tag);
	let n = first;
	setInterval(() => { input.value = ++n; input.dispatchEvent(new Event("input", {bubbles: true})); }, 0);
	window.shown = () => first + Number(state.dataset.saved) - base;
	return state.dataset.saved === state.dataset.tag;
})()`

// Whatever was shown as saved is there after a kill at any moment, in the
// middle of snapshots too: the toy makes one every 50 entries.
func TestKillsLoseNothingSaved(t *testing.T) {
	t.Parallel()
	kills, end := 25, time.Now().Add(time.Hour)
	if os.Getenv("LUGWORTH_LONG") == "crash" {
		kills, end = 1000, time.Now().Add(25*time.Minute)
	}
	p := StartToy(t, Landscape)
	p.Wait(`state.dataset.offline === "true"`)
	addLine(p, "0")
	total, mended, done := 0, 0, 0
	for i := 0; i < kills && time.Now().Before(end); i++ {
		if !Eval[bool](p, hammer) {
			t.Fatal("the page was still saving")
		}
		time.Sleep(time.Duration(60+i*17%500) * time.Millisecond)
		shown := Eval[int](p, `window.shown()`)
		p.Kill()
		p.Open()
		p.Wait(`document.querySelectorAll("#lines > li").length === 1`)
		var kept int
		fmt.Sscan(p.Value(line(1)), &kept)
		if kept < shown {
			t.Fatalf("kill %d: %d was shown as saved, %d is there", i+1, shown, kept)
		}
		if strings.Contains(p.Text(state), "second copy") {
			mended++
		}
		if total, done = kept, i+1; done%50 == 0 {
			t.Logf("%d kills so far, mended %d times", done, mended)
		}
	}
	if total < 10*done || done < 25 {
		t.Errorf("only %d edits in %d lives: the test hardly did anything", total, done)
	}
	t.Logf("%d kills, %d edits, %d times back from the second copy, nothing shown as saved was lost", done, total, mended)
}

// A write cut off in the middle costs the browser its database two starts
// later. All is brought back from the second copy then.
func TestCutOffWriteIsMended(t *testing.T) {
	p := StartToy(t, Landscape)
	addLine(p, "one")
	p.Kill()
	cutOff(t, p)
	p.Open()
	addLine(p, "two")
	p.Kill()
	p.Open()
	p.WaitText(state, "Everything is back from the second copy")
	if got := p.Value(line(1)) + " " + p.Value(line(2)); got != "one two" {
		t.Errorf("the lines are %q, want %q", got, "one two")
	}
	addLine(p, "three")
	p.Kill()
	p.Open()
	p.Wait(`document.querySelectorAll("#lines > li").length === 3`)
	if strings.Contains(p.Text(state), "second copy") {
		t.Error("it was not mended for good")
	}
}

// cutOff puts the beginning of a record behind the log of the browser's
// database: a head that promises 255 bytes, and ten of them.
func cutOff(t *testing.T, p *Page) {
	t.Helper()
	logs, err := filepath.Glob(filepath.Join(p.Profile, "Default/IndexedDB/*.indexeddb.leveldb/*.log"))
	if err != nil || len(logs) == 0 {
		t.Fatalf("the browser keeps its database in another way now (%v): this test has nothing to cut", err)
	}
	for _, name := range logs {
		f, err := os.OpenFile(name, os.O_APPEND|os.O_WRONLY, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write(append([]byte{0, 0, 0, 0, 255, 0, 1}, make([]byte, 10)...)); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// Either copy alone is enough.
func TestOneCopyIsEnough(t *testing.T) {
	p := StartToy(t, Landscape)
	addLine(p, "kept")
	for _, folder := range []string{"Default/IndexedDB", "Default/WebStorage"} {
		p.Kill()
		if _, err := os.Stat(filepath.Join(p.Profile, folder)); err != nil {
			t.Fatalf("the browser keeps its data in another place now: %v", err)
		}
		if err := os.RemoveAll(filepath.Join(p.Profile, folder)); err != nil {
			t.Fatal(err)
		}
		p.Open()
		p.Wait(fmt.Sprintf(`document.querySelector(%q)?.value === "kept"`, line(1)))
		p.Wait(`state.dataset.writer === "true"`) // both copies are whole again
	}
}

// Leaving in the middle of typing: the browser asks as long as something is
// not on the disk, and what was typed is there afterwards.
func TestLeavingKeepsLastKey(t *testing.T) {
	p := StartToy(t, Landscape)
	addLine(p, "0")
	asked := p.asked.Load()
	for i := range 20 {
		want := fmt.Sprint("word ", i)
		// A page that nobody touched is left without asking.
		p.Type(line(1), "x")
		Eval[bool](p, fmt.Sprintf(`(() => {
			const input = document.querySelector("#lines input");
			for (const c of %q) { input.value += c; input.dispatchEvent(new Event("input", {bubbles: true})); }
			input.value = %q; input.dispatchEvent(new Event("input", {bubbles: true}));
			window.left = true;
			setTimeout(() => location.reload());
			return true;
		})()`, want, want))
		p.Wait(fmt.Sprintf(`window.left === undefined && document.querySelector("#lines input")?.value === %q`, want))
	}
	t.Logf("asked %d times in 20", p.asked.Load()-asked)
}

// A second tab reads and follows; it writes once the first is closed.
func TestSecondTabFollows(t *testing.T) {
	first := StartToy(t, Landscape)
	first.Wait(`state.dataset.writer === "true"`)
	addLine(first, "one")
	second := first.Tab()
	second.Wait(`state.dataset.writer === "false" && document.querySelectorAll("#lines > li").length === 1`)
	addLine(first, "two")
	second.Wait(fmt.Sprintf(`document.querySelector(%q)?.value === "two"`, line(2)))
	first.Close()
	second.Wait(`state.dataset.writer === "true"`)
	addLine(second, "three")
	second.Reload()
	second.Wait(`document.querySelectorAll("#lines > li").length === 3`)
}

// A full disk is said in plain words; nothing saved before is lost, and what
// waits is written when there is room.
func TestFullStore(t *testing.T) {
	p := prepared(t, toyProgram, Landscape)
	room := func(bytes *float64) {
		_, err := chromedp.Call(p.ctx, storage.OverrideQuotaForOrigin,
			storage.OverrideQuotaForOriginParams{Origin: p.Address(), QuotaSize: bytes})
		p.check("set the room", err)
	}
	small := 12e6
	room(&small) // the browser notices only what is set before it opens the store
	p.Load()
	addLine(p, "before")
	p.Wait(`(document.getElementById("do-big").click(), state.textContent.includes("no room left"))`)
	if Eval[bool](p, `state.dataset.saved === state.dataset.tag`) {
		t.Error("what had no room is shown as saved")
	}
	room(nil)
	p.Load()
	p.Wait(fmt.Sprintf(`document.querySelector(%q)?.value === "before"`, line(1)))
}

// A newer version waits until it is taken, and then works without a network.
func TestUpdate(t *testing.T) {
	p := StartToy(t, Landscape)
	p.Wait(`state.dataset.offline === "true"`)
	addLine(p, "kept")
	old := Eval[string](p, `state.dataset.version`)
	next := program(t, toyProgram)
	// A section of its own makes another program that does the same.
	next.Wasm = append(append([]byte{}, next.Wasm...), 0, 4, 3, 'n', 'e', 'w')
	site := p.Server.Put(next)
	p.Reload()
	p.Wait(`state.dataset.update === "true"`)
	if got := Eval[string](p, `state.dataset.version`); got != old || got == site.Version {
		t.Fatalf("version %s runs before it is taken; old %s, new %s", got, old, site.Version)
	}
	p.Tap("#do-take")
	p.Wait(fmt.Sprintf(`document.getElementById("state")?.dataset.version === %q`, site.Version))
	p.Offline()
	p.Reload()
	p.Wait(fmt.Sprintf(`document.querySelector(%q)?.value === "kept" && state.dataset.version === %q`, line(1), site.Version))
	if names := Eval[[]string](p, `caches.keys()`); len(names) != 1 {
		t.Errorf("caches %q, want one", names)
	}
}

// A program that breaks down says so on the page.
func TestStopIsShown(t *testing.T) {
	p := StartToy(t, Landscape)
	p.Tap("#do-stop")
	p.WaitText("#stopped", "The program has stopped")
	p.Forgive("it ended by itself")
	p.log.forget() // the runtime's own words about it, and every later event
}
