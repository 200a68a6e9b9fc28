package e2e

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
)

const (
	bigRows = 100_000
	bigBad  = 250   // one row in so many has a letter in its price
	bigStep = 1_000 // one row in so many is dearer in the next list
)

// Kinds of the list with their unit and decades; values are those of E24
// (IEC 60063), volts the usual ones.
var (
	bigKinds = [...]struct{ says, unit string }{{"Film axial capacitor", "nF"}, {"Electrolytic axial capacitor", "uF"}, {"Carbon film resistor", "k"}, {"Metal oxide resistor", ""}, {"Ceramic disc capacitor", "pF"}}
	bigE24   = [...]float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1}
	bigVolts = [...]string{"63", "100", "160", "250", "400", "450", "500", "630", "1000"}
)

// bigList writes a price list of fifteen columns, no two descriptions alike.
// step is added to the price of each bigStep-th row, in hundredths; the list
// begins at row from.
func bigList(t testing.TB, from, rows, step int) (path string, aside int) {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("Number,Description,Category,Value,Volts,Watts,Tolerance,Price,10+,100+,Pack,MOQ,Stock,Lead days,Date\n")
	for i := from; i < from+rows; i++ {
		cents := 100*(i%9) + 10 + i%90
		if i%bigStep == 0 {
			cents += step + i/bigStep*step/100
		}
		price := fmt.Sprintf("%d.%02d", cents/100, cents%100)
		if i%bigBad == bigBad-1 {
			price, aside = strings.Replace(price, ".", ".O", 1), aside+1
		}
		kind, watts, volts := bigKinds[i%5], "", bigVolts[i/360%9]
		if i%5 == 2 || i%5 == 3 {
			watts, volts = "2", ""
		}
		value := fmt.Sprintf("%.4g%s", bigE24[i/5%24]*[...]float64{1, 10, 100}[i/120%3], kind.unit)
		fmt.Fprintf(&b, "N-%06d,\"%s, \"\"series %d\"\"\",%s,%s,%s,%s,5%%,%s,0.09,0.08,%d,1,%d,%d,2026-02-%02d\n",
			i, kind.says, i, kind.says, value, volts, watts, price, 1+i%10, i%5000, 1+i%30, 1+i%28)
	}
	path = filepath.Join(tempDir(t), "big.csv")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, aside
}

// watching notes, from inside the page, how long each key took until the next
// frame was drawn, and what the import said of itself on its way.
const watching = `(() => {
	window.keyTimes = []; window.steps = []; window.over = 0;
	addEventListener("keydown", e => requestAnimationFrame(() => setTimeout(() => keyTimes.push(performance.now() - e.timeStamp))), true);
	new MutationObserver(() => {
		const bar = document.querySelector("#importing progress"), say = document.querySelector("#importing span.amount");
		if (!bar) { if (steps.length > 0 && over === 0) over = performance.now(); return; }
		over = 0;
		const step = document.querySelector("#importing .progress-say").textContent + " | " + Number(bar.value) / Number(bar.max) + " | " + say.textContent;
		if (steps[steps.length - 1] !== step) steps.push(step);
	}).observe(document.querySelector("#page"), {subtree: true, childList: true, attributes: true, characterData: true});
	return true;
})()`

// An importRun is what was seen of one import.
type importRun struct {
	keys  []float64 // thousandths of a second
	steps []string
	took  float64
}

// watchImport presses what starts an import and types without pause until it
// is over or asks something.
func (p *Page) watchImport(press string) importRun {
	p.t.Helper()
	Eval[bool](p, `(keyTimes.length = steps.length = 0, over = 0, true)`)
	begin := Eval[float64](p, `performance.now()`)
	p.Tap(press)
	p.Wait(`steps.length > 0`)
	p.Tap(`[data-act="plan-book"][value="sheet"]`)
	p.Wait(`document.querySelector("#sheet input") !== null`)
	Eval[bool](p, `(document.querySelector("#sheet input").focus({preventScroll: true}), true)`)
	for end := time.Now().Add(4 * limit); Eval[float64](p, `over`) == 0; time.Sleep(30 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("the import hangs: %v", Eval[[]string](p, `steps.slice(-3)`))
		}
		p.Do("press a key", chromedp.KeyEvent("x"))
	}
	for range 20 { // what comes behind it
		p.Do("press a key", chromedp.KeyEvent("x"))
		time.Sleep(30 * time.Millisecond)
	}
	return importRun{Eval[[]float64](p, `keyTimes`), Eval[[]string](p, `steps`), Eval[float64](p, `over`) - begin}
}

// checked fails where the import did not move, or its counts did not add up on
// the way. The limit on a key is for a page that hangs, ten times the target.
func (r importRun) checked(t testing.TB, what string) importRun {
	t.Helper()
	shares := map[string]bool{}
	for _, s := range r.steps {
		parts := strings.Split(s, " | ")
		shares[parts[0]+parts[1]] = true
		_, counts, ok := strings.Cut(parts[2], " · ")
		if !ok {
			continue
		}
		var rows, read, aside int
		if n, _ := fmt.Sscanf(counts, "%d rows = %d read + %d set aside", &rows, &read, &aside); n != 3 || rows != read+aside {
			t.Errorf("%s: %q does not add up", what, parts[2])
		}
	}
	if len(shares) < 5 {
		t.Errorf("%s: progress stood at %d values: %q", what, len(shares), r.steps)
	}
	if len(r.keys) < 10 || slices.Max(r.keys) > 10*keyTarget {
		t.Errorf("%s: of %d keys the slowest took %.0f ms", what, len(r.keys), slices.Max(append(r.keys, 0)))
	}
	return r
}

const keyTarget = 100.0

// books opens the shop's books.
func (p *Page) books() {
	p.t.Helper()
	p.Turn("plan")
	p.Touch(`[data-act="plan-leaf"][value="books"]`)
	p.Wait(`document.querySelector("#books") !== null`)
}

func (p *Page) toLists() {
	p.t.Helper()
	p.Touch(`[data-act="plan-book"][value="lists"]`)
}

// importBig brings a list of a hundred thousand rows and says what is in its
// columns.
func importBig(t testing.TB, p *Page) (run importRun, aside int) {
	t.Helper()
	path, aside := bigList(t, 0, bigRows, 0)
	p.books()
	p.Kept()
	Eval[bool](p, watching)
	p.Give(`#books [data-act="open-file"]`, path)
	p.WaitText("h1", "What is in each column?")
	p.Shot("import-columns")
	run = p.watchImport(`[data-act="coming-take"]`)
	p.toLists()
	p.WaitText("#list-big", fmt.Sprintf("%d rows: %d read, %d set aside", bigRows, bigRows-aside, aside))
	return run, aside
}

// A list of a hundred thousand rows is read while one types: the counts add
// up, the bar moves. The next list of the supplier can be called off, which
// leaves the old one, over a reload too; taken, it says what it changes.
func TestImport(t *testing.T) {
	p := given(t, Landscape, "jobs/drover.txtar")
	run, aside := importBig(t, p)
	run.checked(t, "the first list")
	whole := fmt.Sprintf("%d rows: %d read, %d set aside", bigRows, bigRows-aside, aside)

	// one in a thousand dearer, a hundred rows gone and as many new
	path, asideNext := bigList(t, 100, bigRows, 100)
	p.Kept()
	p.Give(`#books [data-act="open-file"]`, path)
	p.Wait(`Number(document.querySelector("#importing progress")?.value) > 1e6`)
	p.Shot("import-cancel")
	p.Touch(`[data-act="import-stop"]`)
	p.Wait(`document.querySelector("#importing") === null`)
	p.Sees("#list-big", whole)
	p.Kept()
	p.Reload()
	p.books()
	p.WaitText("#list-big", whole)

	Eval[bool](p, watching)
	p.Give(`#books [data-act="open-file"]`, path)
	p.watchImport(`[data-act="plan-book"][value="lists"]`).checked(t, "the next list")
	p.toLists()
	p.WaitText("h1", "What does the new list change?")
	p.Shot("import-changes")
	// 99 thousands lie between row 100 and row 99,999; of the rows gone and the
	// rows new none is set aside
	p.Sees("#main-plan", fmt.Sprintf("%d rows = %d read + %d set aside", bigRows, bigRows-asideNext, asideNext), "N-099000", "+1.99", "No open quote rests on what changed")
	got := Eval[[]string](p, `[...document.querySelectorAll(".list-tally dd")].map(e => e.textContent)`)
	if want := []string{"99", "0", "100", "100", "0", fmt.Sprint(bigRows - asideNext - 100 - 99)}; !slices.Equal(got, want) {
		t.Errorf("dearer, cheaper, gone, new, otherwise, the same: %q, want %q", got, want)
	}
	p.Accessible("what a long list changes")
	p.Touch(`[data-act="coming-take"]`)
	p.WaitText("#list-big", fmt.Sprintf("%d rows: %d read, %d set aside", bigRows, bigRows-asideNext, asideNext))
}

// BenchmarkImport times the same import, beside a JavaScript reader of the
// same file that hands out bare cells and holds the page while it does.
func BenchmarkImport(b *testing.B) {
	for _, rate := range throttles {
		p := given(b, Landscape, "jobs/drover.txtar")
		pid := p.renderer()
		before := peak(pid)
		p.slow(rate)
		tasks := p.tracing(pid)
		run, _ := importBig(b, p)
		after := peak(pid)
		name := fmt.Sprintf("import of %d rows", bigRows)
		figure(fmt.Sprintf("%s, a key while it runs, worst, %.0fx", name, rate), run.keys, 1, keyTarget)
		figure(fmt.Sprintf("%s, a key while it runs, 95 of 100, %.0fx", name, rate), run.keys, 0.95, keyTarget)
		figure(fmt.Sprintf("%s, processor time of one piece, worst, %.0fx", name, rate), tasks(), 1, 30)
		figure(fmt.Sprintf("%s, all of it, %.0fx", name, rate), []float64{run.took}, 1, 5000*rate)
		fmt.Printf("figure | %s, most memory of the page's process, %.0fx | %d MB more | of %d MB in all\n", name, rate, (after-before)>>10, after>>10)
		p.quit()
		papaparse(b, rate)
	}
}

// papaparse has the JavaScript reader cut the file into cells.
func papaparse(b *testing.B, rate float64) {
	path, _ := bigList(b, 0, bigRows, 0)
	code, err := os.ReadFile("../node_modules/papaparse/papaparse.min.js")
	if err != nil {
		b.Fatalf("the other reader is missing; run `make deps`: %v", err)
	}
	files := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/big.csv" {
			http.ServeFile(w, r, path)
			return
		}
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte("<!doctype html><title>reader</title>"))
	}))
	defer files.Close()
	p := prepared(b, "lugworth/wasm", Landscape)
	defer p.quit()
	p.Do("open an empty page", chromedp.Navigate(files.URL+"/"))
	Eval[bool](p, string(code)+"\n;true")
	pid := p.renderer()
	before := peak(pid)
	p.slow(rate)
	took := Eval[float64](p, fmt.Sprintf(`fetch("/big.csv").then(r => r.arrayBuffer()).then(bytes => {
		const at = performance.now();
		window.got = Papa.parse(new TextDecoder().decode(bytes), {header: true, skipEmptyLines: true});
		if (got.data.length !== %d) throw new Error(got.data.length);
		return performance.now() - at;
	})`, bigRows))
	fmt.Printf("figure | the same file by papaparse 5.7.1, bare cells, the page held all the while, %.0fx | %.0f ms | no target | %d MB more\n", rate, took, (peak(pid)-before)>>10)
}

// renderer is the process that runs the page: the one that holds most.
func (p *Page) renderer() (pid int) {
	p.t.Helper()
	p.check("list the processes", p.within(func(ctx context.Context) error {
		info, err := chromedp.CallBrowser(ctx, systeminfo.GetProcessInfo, cdp.Empty{})
		for _, i := range info.ProcessInfo {
			if i.Type == "renderer" && peak(int(i.ID)) > peak(pid) {
				pid = int(i.ID)
			}
		}
		return err
	}))
	return pid
}

// peak is the most memory a process has held, in KiB; 0 where nobody says.
func peak(pid int) (kib int) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	fmt.Sscan(rest, &kib)
	return kib
}
