package e2e

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/record"
	"lugworth/core/tube"
)

// largeJob writes the large job with its books into a folder and returns the
// files: 60 findings of 5 options, 120 positions, 8 lists of 5,000 rows.
func largeJob(t testing.TB) []string {
	t.Helper()
	dir := tempDir(t)
	cmd := exec.Command("go", "test", "-count=1", "-run", "^TestLargeJob$", "lugworth/core/job")
	cmd.Env = append(os.Environ(), "LUGWORTH_LARGE="+dir)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("make the large job: %v\n%s", err, said)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil || len(files) != 12 {
		t.Fatalf("%d files of the large job (%v), want 12", len(files), err)
	}
	return files
}

// openLarge is the page with the large job open and priced.
func openLarge(t testing.TB, files []string) *Page {
	t.Helper()
	p := Start(t, Landscape)
	p.Tap(`[data-act="jobs"]`)
	p.Give(`[data-act="open-file"]`, files...)
	p.WaitText(".job", "L-1")
	Eval[bool](p, `(document.querySelector("dialog [data-act=dialog-close]")?.click(), true)`)
	p.Wait(`document.querySelector("dialog") === null && /^[0-9]+\.[0-9]{2}$/.test(document.querySelector(".foot-total .why")?.innerText ?? "")`)
	return p
}

// derived works the same job out natively: what the sheet is filled from.
func derived(t testing.TB, files []string) *job.Result {
	t.Helper()
	var books []job.File
	var facts *job.Job
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Ext(path) != ".json" {
			books = append(books, job.File{Name: filepath.Base(path), Data: data})
			continue
		}
		f, err := record.Read(data)
		if err != nil {
			t.Fatal(err)
		}
		facts = job.Read(f)
	}
	cards, problems := tube.ReadCards("cards.csv", catalogs.Cards)
	if facts == nil || len(problems) > 0 {
		t.Fatalf("no job among %v: %v", files, problems)
	}
	return job.Derive(facts, job.OpenBooks(cards, books), "2026-01-05")
}

// A sheet is the quote as a person keeps it in a spreadsheet: a row for each
// option with a 1 where it is taken, a row for each part with its price and
// pieces, the set-ups once, tax on the sum of the parts. It counts in whole
// cents, so that halves are exact.
type sheet struct {
	cells map[string][][]any
	row   map[string]int      // of an option, from 0
	rival map[string][]string // options of the same finding
	total [2]int              // row and column of the total on sheet Total
}

// cents reads a price or rate of two decimals.
func cents(t testing.TB, d money.Decimal) int64 {
	t.Helper()
	x, err := d.Mul(money.Whole(100))
	if err == nil {
		var whole money.Amount
		if whole, err = x.Round(money.Currency{Code: "JPY"}, money.HalfUp); err == nil && money.Whole(int64(whole)).Cmp(x) == 0 {
			return int64(whole)
		}
	}
	t.Fatalf("%s is no sum of whole cents (%v)", d, err)
	return 0
}

func newSheet(t testing.TB, r *job.Result) *sheet {
	t.Helper()
	s := &sheet{cells: map[string][][]any{}, row: map[string]int{}, rival: map[string][]string{}, total: [2]int{5, 1}}
	b := r.Books.Sheet
	rate, fee := cents(t, b.Rate), cents(t, b.Fee)
	// Shop: rate, fee, mark-up in percent, tax in percent.
	s.cells["Shop"] = [][]any{{"rate", rate}, {"fee", fee}, {"markup", cents(t, b.Markup) / 100}, {"tax", cents(t, b.Tax) / 100}}
	labor := func(row int) string {
		return fmt.Sprintf("=ROUND((C%d+4*D%d+E%d)*Shop!$B$1/600,0)", row, row, row)
	}
	var options, lines, setUps [][]any
	taken := map[string]bool{}
	for _, id := range r.Accepted() {
		taken[id] = true
	}
	needed := map[string][]string{}
	for i := range r.Options {
		o := &r.Options[i]
		row := len(options) + 1
		on := 0
		if taken[o.Option.ID] {
			on = 1
		}
		s.row[o.Option.ID] = row - 1
		s.rival[o.Option.Finding] = append(s.rival[o.Option.Finding], o.Option.ID)
		options = append(options, []any{o.Option.ID, on, cents(t, o.Option.Low), cents(t, o.Option.Mode), cents(t, o.Option.High), labor(row), fmt.Sprintf("=B%d*F%d", row, row)})
		for _, u := range o.Option.SetUps {
			needed[u] = append(needed[u], fmt.Sprintf("Options!B%d", row))
		}
		for _, l := range o.Lines {
			if l.Chosen == nil {
				continue
			}
			n := len(lines) + 1
			lines = append(lines, []any{fmt.Sprintf("=Options!B%d", row), cents(t, l.Chosen.Offer.Price), l.Qty, fmt.Sprintf("=ROUND(B%d*(100+Shop!$B$3)/100,0)", n), fmt.Sprintf("=A%d*C%d*D%d", n, n, n)})
		}
	}
	for i, u := range r.Job.SetUps {
		row := i + 1
		setUps = append(setUps, []any{u.ID, "=IF(MAX(" + spans(needed[u.ID]) + ")>0,1,0)", cents(t, u.Three.Low), cents(t, u.Three.Mode), cents(t, u.Three.High), labor(row), fmt.Sprintf("=B%d*F%d", row, row)})
	}
	s.cells["Options"], s.cells["Lines"], s.cells["SetUps"] = options, lines, setUps
	s.cells["Total"] = [][]any{
		{"labor", fmt.Sprintf("=SUM(Options!G1:G%d)+SUM(SetUps!G1:G%d)", len(options), len(setUps))},
		{"parts", fmt.Sprintf("=SUM(Lines!E1:E%d)", len(lines))},
		{"fee", "=Shop!B2"},
		{"taxed", "=B2"},
		{"tax", "=ROUND(B4*Shop!B4/100,0)"},
		{"total", "=B1+B2+B3+B5"},
	}
	return s
}

// spans writes cells of one column, which follow each other, as ranges.
func spans(cells []string) string {
	first, last := cells[0], cells[len(cells)-1]
	_, end, _ := strings.Cut(last, "!")
	return first + ":" + end
}

// load puts the spreadsheet engine and the sheet into the page.
func (s *sheet) load(p *Page) {
	p.t.Helper()
	code, err := os.ReadFile("../node_modules/hyperformula/dist/hyperformula.full.min.js")
	if err != nil {
		p.t.Fatalf("the spreadsheet engine is missing; run `make deps`: %v", err)
	}
	Eval[bool](p, string(code)+"\n;true")
	cells, err := json.Marshal(s.cells)
	if err != nil {
		p.t.Fatal(err)
	}
	Eval[bool](p, fmt.Sprintf(`(window.quoteSheet = HyperFormula.buildFromSheets(%s, {licenseKey: "gpl-v3"}), true)`, cells))
	Eval[bool](p, fmt.Sprintf(`(window.turnSheet = (on, off) => {
		const at = performance.now(), options = quoteSheet.getSheetId("Options");
		quoteSheet.batch(() => { for (const row of off) quoteSheet.setCellContents({sheet: options, row, col: 1}, 0); for (const row of on) quoteSheet.setCellContents({sheet: options, row, col: 1}, 1); });
		const total = quoteSheet.getCellValue({sheet: quoteSheet.getSheetId("Total"), row: %d, col: %d});
		return [typeof total === "number" ? total : NaN, performance.now() - at];
	}, true)`, s.total[0], s.total[1]))
}

// turn presses an option over on the page, and its row in the sheet: that of
// its rivals becomes 0. It returns both totals in cents, and the milliseconds
// until the page had worked it out, until it had drawn it, and of the sheet.
func (s *sheet) turn(p *Page, taken map[string]bool, finding, id string) turned {
	p.t.Helper()
	on, off := []int{}, []int{}
	for _, o := range s.rival[finding] {
		if taken[o] {
			off = append(off, s.row[o])
		}
	}
	if !taken[id] {
		on = append(on, s.row[id])
	}
	was := taken[id]
	for _, o := range s.rival[finding] {
		taken[o] = false
	}
	taken[id] = !was
	got := Eval[[]float64](p, fmt.Sprintf(`(() => {
		const press = document.getElementById("accept-" + %q), at = performance.now();
		press.click();
		const done = performance.now();
		return new Promise(say => requestAnimationFrame(() => setTimeout(() => {
			const drawn = performance.now(), total = document.querySelector(".foot-total .why").innerText.replace(".", "");
			const [sum, took] = turnSheet(%s, %s);
			say([Number(total), sum, done - at, drawn - at, took]);
		})));
	})()`, id, asJSON(on), asJSON(off)))
	return turned{int64(got[0]), int64(got[1]), got[2], got[3], got[4]}
}

type turned struct {
	page, sheet                int64
	handled, drawn, calculated float64
}

func asJSON(v any) string {
	b, _ := json.Marshal(v)
	return string(b)
}

// replan is the large job on Call beside its sheet, and the presses that may
// be made: options whose parts have a price, of findings that leave the
// circuit alone.
func replan(t testing.TB, files []string) (p *Page, s *sheet, taken map[string]bool, presses [][2]string) {
	t.Helper()
	r := derived(t, files)
	s, taken = newSheet(t, r), map[string]bool{}
	for _, id := range r.Accepted() {
		taken[id] = true
	}
	for i := range r.Options {
		o := &r.Options[i]
		priced := o.Option.Finding != "F7" && o.Refused == ""
		for _, l := range o.Lines {
			priced = priced && l.Chosen != nil && l.Chosen.Cost.Err == nil && l.Chosen.Offer.Priced
		}
		if priced {
			presses = append(presses, [2]string{o.Option.Finding, o.Option.ID})
		}
	}
	if len(presses) < 100 || len(taken) < 50 {
		t.Fatalf("%d options may be pressed, %d are taken", len(presses), len(taken))
	}
	p = openLarge(t, files)
	p.Turn("call")
	p.Wait(fmt.Sprintf(`document.querySelectorAll('[data-act="accept"]').length === %d`, len(r.Options)))
	s.load(p)
	return p, s, taken, presses
}

// The page and the spreadsheet give the same total, to the cent, after every
// yes and no.
func TestReplanEqualsTheSheet(t *testing.T) {
	t.Parallel()
	p, s, taken, presses := replan(t, largeJob(t))
	pick := rand.New(rand.NewPCG(5, 60))
	seen := map[int64]bool{}
	for n := range 40 {
		x := presses[pick.IntN(len(presses))]
		got := s.turn(p, taken, x[0], x[1])
		seen[got.page] = true
		if got.page != got.sheet || got.page <= 0 {
			t.Fatalf("press %d, %s: the page says %d cents, the sheet %d", n, x[1], got.page, got.sheet)
		}
	}
	if len(seen) < 20 {
		t.Errorf("only %d different totals were seen", len(seen))
	}
}

// BenchmarkReplan times 100 presses on Call, as the page is and four times
// slower: until everything is worked out anew, until it is drawn, and beside
// it the sheet with the same quote.
func BenchmarkReplan(b *testing.B) {
	p, s, taken, presses := replan(b, largeJob(b))
	pick := rand.New(rand.NewPCG(5, 61))
	press := func() turned {
		x := presses[pick.IntN(len(presses))]
		got := s.turn(p, taken, x[0], x[1])
		if got.page != got.sheet {
			b.Fatalf("%s: the page says %d cents, the sheet %d", x[1], got.page, got.sheet)
		}
		time.Sleep(100 * time.Millisecond) // nobody presses faster
		return got
	}
	for range 10 { // the engine has the program compiled in full
		press()
	}
	for _, rate := range throttles {
		p.slow(rate)
		var handled, drawn, calculated []float64
		spent := p.processor()
		for range 100 {
			got := press()
			handled, drawn, calculated = append(handled, got.handled), append(drawn, got.drawn), append(calculated, got.calculated)
		}
		figure(fmt.Sprintf("large job on Call, a yes or no worked out, 99 of 100, %.0fx", rate), handled, 0.99, 16*rate)
		figure(fmt.Sprintf("large job on Call, a yes or no drawn, 99 of 100, %.0fx", rate), drawn, 0.99, 50*rate)
		fmt.Printf("figure | large job on Call, processor time of a yes or no, layout with it, %.0fx | %.1f ms | no target | beside | mean of 100, whatever else the machine does\n", rate, 10*(p.processor()-spent))
		beside(fmt.Sprintf("the same quote as a sheet, total alone, 99 of 100, %.0fx", rate), calculated, 0.99)
	}
	p.quit()
}

// processor is how long the page's thread has been at work, in seconds of the
// processor's own time.
func (p *Page) processor() float64 {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
	p.check("measure the processor", err)
	got, err := chromedp.Call(p.ctx, performance.GetMetrics, cdp.Empty{})
	p.check("read the processor's time", err)
	for _, m := range got.Metrics {
		if m.Name == "TaskDuration" {
			return m.Value
		}
	}
	p.t.Fatal("the browser tells no processor time")
	return 0
}

// beside prints a time that has no target of its own.
func beside(name string, times []float64, share float64) {
	slices.Sort(times)
	fmt.Printf("figure | %s | %.1f ms | no target | beside | of %d, half within %.1f ms, worst %.1f ms\n",
		name, times[int(share*float64(len(times)-1)+0.5)], len(times), times[len(times)/2], times[len(times)-1])
}

// orderSays is what Order says of the cheapest order, "" while nothing is.
const orderSays = `(document.querySelector("#main-order")?.innerText.match(/Proven: no order costs less|Within [0-9.]+ %, (still looking|not proven)|None found yet|Nearly the least/)?.[0] ?? "")`

// BenchmarkReplanOrder times 20 presses on Call after each of which Order is
// looked at: until its bound stands there, and until the search has settled.
func BenchmarkReplanOrder(b *testing.B) {
	p, s, taken, presses := replan(b, largeJob(b))
	pick := rand.New(rand.NewPCG(5, 62))
	for _, rate := range throttles {
		p.slow(rate)
		var bound, settled []float64
		proven := 0
		for range 20 {
			x := presses[pick.IntN(len(presses))]
			if got := s.turn(p, taken, x[0], x[1]); got.page != got.sheet {
				b.Fatalf("%s: the page says %d cents, the sheet %d", x[1], got.page, got.sheet)
			}
			got := Eval[[]any](p, `new Promise(say => {
				const at = performance.now();
				let first = 0;
				document.querySelector('[data-act="posture"][data-id="order"]').click();
				const look = () => {
					const says = `+orderSays+`, now = performance.now() - at;
					if (says && !first) first = now;
					if (says && !says.includes("still looking") && says !== "None found yet" || now > 20000) return say([first, now, says]);
					requestAnimationFrame(() => setTimeout(look));
				};
				requestAnimationFrame(() => setTimeout(look));
			})`)
			bound, settled = append(bound, got[0].(float64)), append(settled, got[1].(float64))
			if strings.HasPrefix(fmt.Sprint(got[2]), "Proven") {
				proven++
			}
			p.Turn("call")
			p.Wait(`document.querySelector("#accept-F0\\/0") !== null`)
		}
		figure(fmt.Sprintf("large job, Order opened after a yes or no: bound, 99 of 100, %.0fx", rate), bound, 0.99, 50*rate)
		figure(fmt.Sprintf("large job, Order opened after a yes or no: settled, %d of 20 proven, 99 of 100, %.0fx", proven, rate), settled, 0.99, 200*rate)
	}
	p.quit()
}
