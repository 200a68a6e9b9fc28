package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A whole job of an invented amp, from the empty form to the order, as a
// technician does it: by touch and by keys, with the server gone after the
// page was loaded once. The sums are those of the job by hand: 352.00 labor,
// 36.64 parts, 80.00 fee, 2.93 tax come to 471.57, and so on.
func TestWalk(t *testing.T) {
	t.Parallel()
	p := prepared(t, "lugworth/wasm", Landscape)
	network := p.watch()
	p.Load()
	p.Wait(`navigator.serviceWorker.getRegistration().then(r => r?.active?.state === "activated")`)
	p.Kept()
	p.Offline()

	p.Touch(`[data-act="jobs"]`)
	p.Touch(`#jobs-dialog [data-act="job-new"]`)
	p.WaitText(".main", "Five steps to a first verdict")
	p.bringFiles()
	p.intake()
	for i := range seen {
		p.enterFinding(i)
	}
	p.Shot("walk-findings")
	p.enterReadings()
	p.decide()
	p.verdicts()
	p.Reload()
	p.foundAgain()
	p.takeBack()
	p.handOver()
	for _, u := range network.beyond(p.Address()) {
		t.Errorf("the page asked for %s", u)
	}
}

// bringFiles brings the shop's books on Plan, the circuit on the bench.
func (p *Page) bringFiles() {
	p.t.Helper()
	p.Turn("plan")
	p.Touch(`[data-act="plan-leaf"][value="books"]`)
	p.Give(`#books [data-act="open-file"]`, brought(p.t, "shop.csv", "cards.csv", "tasks.csv", "terms.csv", "K.csv", "R.csv")...)
	p.Sees("#list-K", "9 rows: 9 read, 0 set aside")
	p.Sees("#list-R", "4 rows: 4 read, 0 set aside")
	p.Sees("#books", "17 tasks", "2 suppliers")
	p.Shot("walk-books")
	p.Turn("bench")
	p.BenchPart("parts")
	p.Give(`#parts-head [data-act="open-file"]`, brought(p.t, "sheet.csv")...)
	p.WaitText(`[data-act="bench-part"][data-id="parts"]`, "25 places")
	p.Kept()
}

func (p *Page) intake() {
	p.t.Helper()
	p.BenchPart("intake")
	for _, f := range [][2]string{
		{"owner-name", "Delphine Akers"}, {"owner-complaint", "crackles when hot!"},
		{"owner-aim", "plays at home, sometimes small rooms; keep it looking right inside, but I want it safe"},
		{"mains-measured", "124"}, {"mains-low", "114"}, {"mains-high", "127"}, {"mains-how", "owner's meter at the outlet"},
		{"amp-maker", "Ostervale"}, {"amp-model", "Drover"}, {"amp-about", "about 1957"}, {"amp-label", "117 V, 2 A slow"},
	} {
		p.Fill("#"+f[0], f[1])
	}
	p.Pressed(`[id="set-amp/bias--cathode"]`)
	p.Touch(`label[for="amp-alike"]`)
	p.Wait(`document.getElementById("amp-alike").checked`)
	for i, c := range [][2]string{{"controls", "999-5723"}, {"speaker", "998741"}} {
		p.Fill("#code-on", c[0])
		p.Type("#code-code", c[1])
		p.Key(kb.Enter)
		p.Wait(fmt.Sprintf(`document.querySelectorAll("#dates li.bench-row").length === %d`, i+1))
	}
	p.Sees("#dates", "1957 week 23", "1947", "1967")
	p.Unfold("#receipt", "What the receipt prints")
	p.Fill("#job-number", "TB-0157")
	p.WaitText(".job", "TB-0157 Ostervale Drover")
	p.Shot("walk-intake")
	p.Kept()
}

// seen are the findings: what is seen, where, in which pile, on which parts,
// and the task of the shop's list that deals with it.
var seen = []struct {
	seen, place, pile string
	inferred          bool
	parts, task       string
}{
	{"two-core cord cracked; 0.05 µF 600 V from mains to chassis leaks; 5 A fuse where the label says 2 A", "mains entry", "must", false, "F1 C20", "mains lead"},
	{"can 20/20/20 µF 450 V: 4 mA leakage at 300 V, hum", "can on the chassis", "must", false, "C1a C1b C1c", "filter can"},
	{"four .02 400 V molded couplers: +3.0 V on one 220 k grid leak, +0.4 V on the other", "couplers to the output tubes", "must", false, "C5 C6 C7 C8", "couplers"},
	{"three bypass 25/25 read 9 to 11 µF", "cathode bypass", "should", false, "C9 C10 C11", "cathode bypass"},
	{"100 k ±10 %: 124 k, 131 k, 106 k, 112 k; no noise", "plate resistors", "could", false, "R5 R6 R7 R8", "plate resistors"},
	{"one output tube 30 % weak: age", "output tubes", "should", true, "V3 V4", "output pair"},
	{"dissipation not proven at 127 V", "output stage", "should", true, "R20", "cathode resistor"},
	{"12-inch cone torn 6 cm", "speaker", "could", false, "", "speaker cone"},
	{"volume scratchy", "controls", "could", false, "", "volume control"},
	{"baffle loose", "cabinet", "could", false, "", "baffle"},
	{"leads twisted and taped", "output transformer leads", "should", false, "", "transformer leads"},
}

func (p *Page) enterFinding(i int) {
	p.t.Helper()
	f, id := seen[i], fmt.Sprintf("F%d", i+1)
	row := "#finding-" + id
	if i == 0 {
		p.BenchPart("findings")
	}
	p.Touch(`[data-act="finding-new"]`)
	p.Wait(fmt.Sprintf(`document.activeElement?.id === "finding-seen-%s"`, id))
	p.Fill("#finding-seen-"+id, f.seen)
	p.Fill("#finding-place-"+id, f.place)
	p.Pressed(fmt.Sprintf(`[id="set-finding/pile-%s-%s"]`, id, f.pile))
	if f.inferred {
		p.Pressed(fmt.Sprintf(`[id="set-finding/basis-%s-inferred"]`, id))
	}
	if f.parts != "" {
		p.Unfold(row, "Which parts of the amp?")
		for _, ref := range strings.Fields(f.parts) {
			p.Pressed(fmt.Sprintf(`[data-act="finding-position"][data-id="%s"][data-k="%s"]`, id, ref))
		}
	}
	p.figuresOf(id)
	p.Fill("#tasks-"+id+"-search", f.task)
	p.Touch(fmt.Sprintf(`[data-act="task-attach"][data-id="%s"][data-k="%s"]`, id, f.task))
	p.Sees(row+" .bench-finding-head", "way")
	p.Kept()
}

// figuresOf enters the figures that some findings rest on.
func (p *Page) figuresOf(id string) {
	p.t.Helper()
	switch id {
	case "F3":
		p.Unfold("#finding-F3", "Work out a leak")
		for i, l := range [][2]string{{"C5", "3.0"}, {"C6", "0.4"}} {
			p.Choose("#leak-F3-at", l[0])
			p.Fill("#leak-F3-shift", l[1])
			p.Fill("#leak-F3-grid_leak", "220k")
			p.Type("#leak-F3-source", "300")
			p.Key(kb.Enter)
			p.Wait(fmt.Sprintf(`document.querySelectorAll("[data-act=finding-leak-drop]").length === %d`, i+1))
		}
		p.Sees("#finding-F3", "13.6 µA", "21.78 MΩ")
	case "F5":
		p.Unfold("#finding-F5", "Work out a drift")
		p.Fill("#drift-F5-marked", "100k")
		p.Fill("#drift-F5-tolerance", "10%")
		p.Fill("#drift-F5-meter_percent", "1")
		for i, d := range [][2]string{{"R5", "124k"}, {"R6", "131k"}, {"R7", "106k"}, {"R8", "112k"}} {
			p.Choose("#drift-F5-at", d[0])
			p.Type("#drift-F5-value", d[1])
			p.Key(kb.Enter)
			p.Wait(fmt.Sprintf(`document.querySelectorAll("[data-act=finding-drift-drop]").length === %d`, i+1))
		}
		p.Sees("#finding-F5", "out by", "inside its tolerance")
	case "F11":
		p.Unfold("#finding-F11", "Cause, weight, earlier work")
		p.Fill("#finding-earlier-F11", "leads twisted and taped by an earlier repair")
	}
}

// read is the chart: place, quantity, figure; 117 V as found, 124 V to check.
var read = []struct{ at, quantity, value, mains string }{
	{"HT", "rms volts", "290", "117.0"}, {"B1", "volts", "325", "117.0"},
	{"V3:plate", "volts", "318", "117.0"}, {"V4:plate", "volts", "318", "117.0"},
	{"B2", "volts", "300", "117.0"}, {"K", "volts", "19.0", "117.0"}, {"R20", "ohms", "262", ""},
	{"V3:screen", "current", "2.5", "117.0"}, {"V4:screen", "current", "2.5", "117.0"}, {"LV", "rms volts", "6.25", "117.0"},
	{"V3:plate", "volts", "337", "124.0"}, {"V4:plate", "volts", "337", "124.0"}, {"K", "volts", "20.3", "124.0"},
	{"V3:screen", "current", "2.7", "124.0"}, {"V4:screen", "current", "2.7", "124.0"}, {"LV", "rms volts", "6.62", "124.0"},
}

func (p *Page) enterReadings() {
	p.t.Helper()
	p.BenchPart("readings")
	p.Sees("#main-bench", "Stored charge")
	p.Triage()
	mains := ""
	for i, r := range read {
		p.Pressed(fmt.Sprintf(`[data-act="entry-step"][data-id="%s"][data-k="%s"]`, r.at, r.quantity))
		if r.mains != "" && r.mains != mains {
			p.Fill("#reading-mains", r.mains)
			mains = r.mains
		}
		p.stand(r.at, r.mains)
		p.Type("#reading-value", r.value)
		p.Key(kb.Enter)
		p.WaitText(`[data-act="bench-part"][data-id="readings"]`, fmt.Sprintf("%d reading", i+1))
	}
	p.Sees("#checks", "agrees")
	p.Shot("walk-readings")
	p.Kept()
}

// stand says how the amp stood, where the page does not say so already.
func (p *Page) stand(at, mains string) {
	p.t.Helper()
	want := map[string]bool{"couplers-lifted": mains == "117.0" && at != "HT", "check": mains == "124.0", "no-load": at == "HT", "off": mains == ""}
	for _, s := range []string{"couplers-lifted", "check", "no-load", "off"} {
		chip := `[data-act="entry"][data-id="state"][data-k="` + s + `"]`
		if on := Eval[string](p, fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-pressed")`, chip)) == "true"; on != want[s] {
			p.Touch(chip)
			p.Wait(fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-pressed") === "%v"`, chip, want[s]))
		}
	}
}

// say turns one option to yes, by a finger or by the keyboard.
func (p *Page) say(option string, byKey bool) {
	p.t.Helper()
	button := fmt.Sprintf(`[id="accept-%s"]`, option)
	if byKey {
		Eval[bool](p, fmt.Sprintf(`(document.querySelector(%q).focus(), true)`, button))
		p.Key(" ")
	} else {
		p.Touch(button)
	}
	p.Wait(fmt.Sprintf(`document.querySelector(%q).getAttribute("aria-pressed") === "true"`, button))
}

// keepAs keeps the choice in force under another name and goes on with that.
func (p *Page) keepAs(name string) {
	p.t.Helper()
	p.Unfold("#call-sets", "Keep this choice")
	p.Fill("#set-name", name)
	p.TapText("#set-form button", "Keep it")
	p.Wait(fmt.Sprintf(`document.querySelector('[data-act="pick"][data-id="%s"]')?.getAttribute("aria-pressed") === "true"`, name))
}

// comesTo waits for the sum at the foot, and for the one with what may be
// found on the way.
func (p *Page) comesTo(total, with string) {
	p.t.Helper()
	p.WaitText(".foot-total", total)
	p.Sees("#call-money", with)
}

// decide makes the three choices on the telephone.
func (p *Page) decide() {
	p.t.Helper()
	p.Turn("call")
	for i, o := range []string{"T1", "T2b", "T3/film"} {
		p.say(o, i == 1)
	}
	p.keepAs("Safety only")
	p.comesTo("471.57", "506.77")
	p.keepAs("Player")
	for i, o := range []string{"T4", "T6", "T6r", "T7a", "T8", "T10"} {
		p.say(o, i%2 == 1)
	}
	p.Fill("#reason-T6r", "Dissipation comes inside the card over the whole range; plate and screen volts were over as found and rise by at most 9.5 V and 11.4 V.")
	p.comesTo("836.26", "885.86")
	p.Shot("walk-call")
	p.keepAs("Collector")
	for _, o := range []string{"T2c", "T3/paper-look", "T7b", "T9"} {
		p.say(o, false)
	}
	p.Touch("#decline-F6")
	p.comesTo("806.40", "867.20")
	p.Sees("#call-F2", "72.00 more labor than T2b")
	p.Pressed(`[data-act="pick"][data-id="Player"]`)
	p.comesTo("836.26", "885.86")
	p.Sees("#call-sets", "471.57", "836.26", "806.40")
	p.Kept()
}

// verdicts reads them on Plan, and the reason of one figure.
func (p *Page) verdicts() {
	p.t.Helper()
	p.Turn("plan")
	p.Touch(`[data-act="plan-leaf"][value="parts"]`)
	p.Touch(`[data-act="plan-open"][data-id="T3/film"]`)
	p.Sees("#main-plan tbody", "R R-2302", "never offered: over: 445.2 V > 400")
	p.Touch(`[data-act="plan-open"][data-id="T2b"]`)
	p.Sees("#main-plan tbody", "R R-2201", "below reserve", "1.1 %", "467.4 V")
	p.Shot("walk-plan")
	p.TapText(".bears .why", "467.4 V")
	p.Sees("#why-sheet", "467.4 V", "445.2 V", "290", "127", "r1")
	p.Shot("walk-why")
	p.TapText("#why-sheet button", "Close")
	p.Wait(`document.querySelector("dialog") === null`)
	p.Touch(`[data-act="plan-open"][data-id="T6r"]`)
	p.Sees("#main-plan", "at least 276 Ω", "Takes further over a limit")
}

// foundAgain looks whether all is there after the page was loaded anew.
func (p *Page) foundAgain() {
	p.t.Helper()
	p.WaitText(".job", "TB-0157 Ostervale Drover")
	p.WaitText(".foot-total", "836.26")
	p.Turn("bench")
	p.WaitText(`[data-act="bench-part"][data-id="findings"]`, "11 findings")
	p.WaitText(`[data-act="bench-part"][data-id="parts"]`, "25 places")
	p.WaitText(`[data-act="bench-part"][data-id="readings"]`, "16 readings")
	p.BenchPart("intake")
	if got := p.Value("#owner-complaint"); got != "crackles when hot!" {
		p.t.Errorf("the owner's words are %q", got)
	}
	p.Turn("call")
	if got := p.Value("#reason-T6r"); !strings.HasPrefix(got, "Dissipation comes inside") {
		p.t.Errorf("the reason is %q", got)
	}
}

// takeBack takes a yes back and does it again, by touch and by keys.
func (p *Page) takeBack() {
	p.t.Helper()
	p.say("T9", false)
	p.WaitText(".foot-total", "900.26")
	p.Touch(`.head [data-act="undo"]`)
	p.WaitText(".foot-total", "836.26")
	p.Touch(`.head [data-act="redo"]`)
	p.WaitText(".foot-total", "900.26")
	p.Key("z", chromedp.ModifierCtrl)
	p.WaitText(".foot-total", "836.26")
	p.Key("y", chromedp.ModifierCtrl)
	p.WaitText(".foot-total", "900.26")
	p.Touch(`.head [data-act="undo"]`)
	p.WaitText(".foot-total", "836.26")
	p.Kept()
}

// handOver writes order and job out, and has the command line come to the
// same from the job's file, with the lists and without.
func (p *Page) handOver() {
	p.t.Helper()
	p.Turn("order")
	p.Sees("#basket-K", "95.00", "7.50")
	p.Shot("walk-order")
	order := p.Downloaded(`[data-act="order-file"][data-id="K"]`, "order-K.csv")
	p.Turn("papers")
	job := p.Downloaded(`#papers-kept [data-act="copy"]`, "tb-0157-drover.job.json")
	dir := p.t.TempDir()
	file := filepath.Join(dir, "tb-0157.job.json")
	if err := os.WriteFile(file, job, 0o644); err != nil {
		p.t.Fatal(err)
	}
	program := filepath.Join(dir, "lugworth")
	if out, err := exec.Command("go", "build", "-o", program, "lugworth").CombinedOutput(); err != nil {
		p.t.Fatalf("%v\n%s", err, out)
	}
	lists := filepath.Join(dir, "lists")
	if err := os.Mkdir(lists, 0o755); err != nil {
		p.t.Fatal(err)
	}
	for _, path := range brought(p.t, "K.csv", "R.csv") {
		data, err := os.ReadFile(path)
		if err != nil {
			p.t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(lists, filepath.Base(path)), data, 0o644); err != nil {
			p.t.Fatal(err)
		}
	}
	worked(p.t, order, program, "work", file, "-lists", lists, "-out", filepath.Join(dir, "with"))
	worked(p.t, order, program, "work", file, "-out", filepath.Join(dir, "without"))
}

// worked runs the command line and compares what it wrote with the page's.
func worked(t testing.TB, order []byte, command ...string) {
	t.Helper()
	if out, err := exec.Command(command[0], command[1:]...).CombinedOutput(); err != nil {
		t.Fatalf("%q: %v\n%s", command[1:], err, out)
	}
	dir := command[len(command)-1]
	got, err := os.ReadFile(filepath.Join(dir, "order-K.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, order) {
		t.Errorf("%s: the order is\n%s\nthat of the page\n%s", filepath.Base(dir), got, order)
	}
	data, err := os.ReadFile(filepath.Join(dir, "result.json"))
	if err != nil {
		t.Fatal(err)
	}
	var result struct {
		Pick string
		Sets []struct {
			Name  string
			Total string
			With  string `json:"with_allowance"`
		}
	}
	if err := json.Unmarshal(data, &result); err != nil {
		t.Fatal(err)
	}
	totals := map[string]string{}
	for _, s := range result.Sets {
		totals[s.Name] = s.Total + " " + s.With
	}
	for name, want := range map[string]string{"Safety only": "471.57 506.77", "Player": "836.26 885.86", "Collector": "806.40 867.20"} {
		if totals[name] != want {
			t.Errorf("%s: %s comes to %s, want %s", filepath.Base(dir), name, totals[name], want)
		}
	}
	if result.Pick != "Player" {
		t.Errorf("%s: %q is in force", filepath.Base(dir), result.Pick)
	}
}
