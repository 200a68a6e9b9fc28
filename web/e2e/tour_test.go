package e2e

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A stranger's tour: everything a bench asks of the page in one day, looked at
// screen by screen. Nothing may be broken off, too small or hidden.
func TestTour(t *testing.T) {
	t.Parallel()
	for _, s := range []struct {
		Size
		name string
		dark bool
	}{{Landscape, "wide", true}, {Portrait, "tall", false}} {
		t.Run(s.name, func(t *testing.T) {
			p := Start(t, s.Size)
			p.Kept()
			if s.dark {
				p.dark()
			}
			p.tourFromNothing(s.name)
			p.tourWhole(s.name)
		})
	}
}

// look keeps the whole of a view, screen by screen, and judges it.
func (p *Page) look(name string) {
	p.t.Helper()
	p.Kept()
	p.Wait(`document.querySelector('[aria-busy="true"]') === null`)
	Eval[bool](p, `(document.querySelector(".main").scrollTo(0, 0), true)`)
	p.Accessible(name)
	if wide := Eval[int](p, `Math.max(0, ...[...document.querySelectorAll(".basket .scroll")].map(e => e.scrollWidth - e.clientWidth))`); wide > 0 {
		p.t.Errorf("%s: an order is %d pixels too wide", name, wide)
	}
	for _, narrow := range Eval[[]string](p, squeezed) {
		p.t.Errorf("%s: squeezed: %s", name, narrow)
	}
	if os.Getenv("LUGWORTH_SHOTS") == "" {
		return
	}
	for i := range 7 {
		p.Shot(fmt.Sprintf("tour-%s-%d", name, i))
		more := Eval[bool](p, `(() => { const m = document.querySelector(".main"), at = m.scrollTop; m.scrollTo(0, at + m.clientHeight - 40); return m.scrollTop > at + 20 })()`)
		if !more {
			break
		}
	}
	Eval[bool](p, `(document.querySelector(".main").scrollTo(0, 0), true)`)
}

// squeezed are the texts of checks and baskets that have no room beside what
// stands next to them: under 160 pixels.
const squeezed = `[...document.querySelectorAll(".check > div:first-child, .basket-what")].filter(e => e.clientWidth > 0 && e.clientWidth < 160).map(e => e.clientWidth + " px: " + e.textContent.slice(0, 40))`

// tourFromNothing is a new job, as far as its first verdicts.
func (p *Page) tourFromNothing(size string) {
	p.t.Helper()
	see := func(name string) { p.t.Helper(); p.look(size + "-" + name) }
	see("00-first")
	p.Touch(`[data-act="jobs"]`)
	p.Shot("tour-" + size + "-01-jobs")
	p.Touch(`#jobs-dialog [data-act="job-new"]`)
	p.WaitText(".main", "Five steps to a first verdict")
	see("02-new-bench")
	for _, posture := range []string{"plan", "call", "order", "papers"} {
		p.Turn(posture)
		see("03-new-" + posture)
	}
	p.Turn("bench")
	for _, part := range []string{"parts", "findings", "readings", "circuit", "leave"} {
		if Eval[bool](p, fmt.Sprintf(`document.querySelector('.bench-parts [data-id=%q]') !== null`, part)) {
			p.BenchPart(part)
			see("04-new-" + part)
		}
	}
	p.BenchPart("intake")
	for _, f := range [][2]string{{"owner-name", "Delphine Akers"}, {"owner-complaint", "crackles when hot"}, {"mains-measured", "124"}, {"mains-low", "114"}, {"mains-high", "127"}, {"amp-maker", "Ostervale"}, {"amp-model", "Drover"}} {
		p.Fill("#"+f[0], f[1])
	}
	see("05-intake")
	p.BenchPart("findings")
	p.Give(`#photo-add-camera-`, camera(p.t, 60))
	p.Wait(`document.querySelector("#finding-F1 .photo img")?.naturalWidth === 1600`)
	if w := Eval[int](p, `document.querySelector("#finding-F1 .photo img").clientWidth`); w > 200 {
		p.t.Errorf("a photo is %d pixels wide beside its finding", w)
	}
	p.Shot("tour-" + size + "-06-photo")
	p.Fill("#finding-seen-F1", "can bulges, hums")
	see("06-finding")
	p.BenchPart("readings")
	see("07-triage")
	p.Pressed("#check-cord-passed, .check .chip")
	p.passOver("owner waits, on the limiter")
	see("08-readings")
	p.Fill("#reading-mains", "117")
	p.Fill("#reading-at", "V3:plate")
	p.Type("#reading-value", "318")
	p.Key(kb.Enter)
	p.WaitText(`[data-act="bench-part"][data-id="readings"]`, "1 reading")
	see("09-reading")
}

// tourWhole is a whole job of a shop that states its calendar.
func (p *Page) tourWhole(size string) {
	p.t.Helper()
	see := func(name string) { p.t.Helper(); p.look(size + "-" + name) }
	data, err := os.ReadFile("../../testdata/jobs/drover.txtar")
	p.check("read", err)
	text := strings.Replace(string(data), "date_test,longest-lead,scenario\n", "date_test,longest-lead,scenario\n"+calendar, 1)
	path := filepath.Join(tempDir(p.t), "drover.txtar")
	p.check("write", os.WriteFile(path, []byte(text), 0o600))
	p.Touch(`[data-act="jobs"]`)
	p.Give(`#jobs-dialog [data-act="open-file"]`, path)
	p.WaitText(".job", "Drover")
	Eval[bool](p, `(document.querySelector("dialog [data-act=dialog-close]")?.click(), true)`)
	p.Wait(`document.querySelector("dialog") === null`)
	p.Kept()
	p.Turn("plan")
	see("20-plan")
	for _, leaf := range Eval[[]string](p, `[...document.querySelectorAll('[data-act="plan-leaf"]')].map(e => e.value)`) {
		p.Pressed(`[data-act="plan-leaf"][value="` + leaf + `"]`)
		see("21-plan-" + leaf)
	}
	p.Turn("call")
	see("22-call")
	p.Fill("#best-ceiling", "800")
	p.Touch("#best-find")
	p.Sees("#call-best", "Best under 800.00")
	see("23-best")
	p.Touch(`[data-act="consent-open"]`)
	p.Shot("tour-" + size + "-24-consent")
	p.Fill("#consent-who", "Wilda Marrow")
	p.Fill("#consent-called", "555 0101")
	p.Fill("#consent-received", "R. Tamm")
	p.Touch("#consent-readback")
	p.Wait(`document.querySelector("#consent-readback").checked`)
	p.Shot("tour-" + size + "-24-consent-full")
	p.Touch(`#form-consent [type="submit"]`)
	p.Wait(`document.querySelector("#consent-dialog") === null`)
	see("25-agreed")
	p.Pressed(p.find(`.call-yes[data-act="accept"][aria-pressed="false"]:not([disabled])`, "Yes"))
	p.Sees("#consent", "Not agreed")
	see("26-not-agreed")
	p.Touch(`[data-act="change-order"]`)
	p.Sees("#papers-two", "What changed since it was agreed?")
	see("27-change-order")
	p.Turn("order")
	see("28-order")
	p.tourOrder(see)
	p.Turn("bench")
	for _, part := range Eval[[]string](p, `[...document.querySelectorAll('.bench-parts [data-act="bench-part"]')].map(e => e.dataset.id)`) {
		p.BenchPart(part)
		see("30-bench-" + part)
	}
	p.Pressed("#final-ground-passed")
	p.Fill("#final-say-ground", "0.08 ohms, limit 0.3")
	p.Touch(`[data-act="old-parts-meant"]`)
	p.Wait(`document.querySelector('[data-act="old-parts-meant"]') === null`)
	see("31-leave")
	p.tourPapers(size, see)
}

func (p *Page) tourOrder(see func(string)) {
	p.t.Helper()
	if Eval[bool](p, `document.querySelector('[data-act="sent"]:not([disabled])') !== null`) {
		p.Touch(`[data-act="sent"]`)
		see("29-sent")
	}
}

// tourPapers prints every paper on both sizes of sheet.
func (p *Page) tourPapers(size string, see func(string)) {
	p.t.Helper()
	p.Turn("papers")
	Eval[bool](p, `(window.print = () => {}, true)`)
	see("40-papers")
	for _, id := range Eval[[]string](p, `[...document.querySelectorAll('[id^="paper-kind-"]')].map(e => e.id)`) {
		p.Touch("#" + id)
		p.Wait(fmt.Sprintf(`document.getElementById(%q).getAttribute("aria-pressed") === "true"`, id))
		see("41-" + id)
		print := `[data-act="paper-print"], [data-act="estimate-print"]:not([disabled])`
		if !Eval[bool](p, fmt.Sprintf(`document.querySelector(%q) !== null`, print)) {
			continue
		}
		p.Touch(print)
		p.Wait(`document.querySelector("#paper").textContent !== ""`)
		for _, sheet := range []struct {
			name string
			size chromedp.PDFOption
		}{{"a4", chromedp.PDFPaper(chromedp.PaperA4)}, {"letter", chromedp.PDFPaper(chromedp.PaperLetter)}} {
			p.keepPDF("tour-"+size+"-"+id+"-"+sheet.name, sheet.size)
		}
		Eval[bool](p, `(window.dispatchEvent(new Event("afterprint")), true)`)
		p.Wait(`document.querySelector("#paper").textContent === ""`)
	}
}

// keepPDF keeps the paper that is printed now.
func (p *Page) keepPDF(name string, size chromedp.PDFOption) {
	p.t.Helper()
	dir := os.Getenv("LUGWORTH_SHOTS")
	if dir == "" {
		return
	}
	p.check("print", p.within(func(ctx context.Context) error {
		pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(size, chromedp.PDFPrintBackground()))
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o644)
	}))
}
