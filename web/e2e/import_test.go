package e2e

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
)

const (
	bigRows = 100_000
	bigBad  = 250 // one row in so many cannot be read
)

// bigList writes a price list of fifteen columns. Of its rows every bigBad-th
// has a letter in its price.
func bigList(t testing.TB, name string, rows int) (path string, aside int) {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("Number,Description,Category,Value,Volts,Watts,Tolerance,Price,10+,100+,Pack,MOQ,Stock,Lead days,Date\n")
	kinds := []string{"Film axial capacitor", "Electrolytic axial capacitor", "Carbon film resistor", "Metal oxide resistor", "Ceramic disc capacitor"}
	values := []string{"22nF", "22uF", "220k", "1k5", "470pF", "47nF", "33uF", "100k", "820", "100pF"}
	for i := range rows {
		price := fmt.Sprintf("%d.%02d", i%9, 10+i%90)
		if i%bigBad == bigBad-1 {
			price = fmt.Sprintf("%d.O%d", i%9, i%9)
			aside++
		}
		watts, volts := "", "630"
		if i%5 == 2 || i%5 == 3 {
			watts, volts = "2", ""
		}
		fmt.Fprintf(&b, "N-%06d,\"%s, \"\"series %d\"\"\",%s,%s,%s,%s,5%%,%s,0.09,0.08,%d,1,%d,%d,2026-02-%02d\n",
			i, kinds[i%5], i%700, strings.Fields(kinds[i%5])[2-i%1], values[i%10], volts, watts, price, 1+i%10, i%5000, 1+i%30, 1+i%28)
	}
	path = filepath.Join(tempDir(t), name)
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path, aside
}

const probe = `(() => {
	window.keysSeen = []; window.longTasks = [];
	new PerformanceObserver(l => { for (const e of l.getEntries()) longTasks.push([e.startTime, e.duration]); }).observe({type: "longtask"});
	addEventListener("keydown", e => {
		const at = e.timeStamp;
		requestAnimationFrame(() => setTimeout(() => keysSeen.push([at, performance.now() - at])));
	}, true);
	return true;
})()`

func TestImportProbe(t *testing.T) {
	path, _ := bigList(t, "big.csv", bigRows)
	st, _ := os.Stat(path)
	p := given(t, Landscape, "jobs/drover.txtar")
	p.Touch(`[data-act="posture"][data-id="plan"]`)
	p.Touch(`[data-act="plan-leaf"][value="books"]`)
	p.Kept()
	pid := p.renderer()
	fmt.Println("bytes", st.Size(), "peak before", peak(t, pid))
	Eval[bool](p, probe)
	p.Give(`#books [data-act="open-file"]`, path)
	p.Touch(`[data-act="plan-book"][value="sheet"]`)
	p.Wait(`document.querySelector("#sheet input") !== null`)
	Eval[bool](p, `(document.querySelector("#sheet input").focus(), true)`)
	start := time.Now()
	for i := 0; ; i++ {
		p.Do("key", chromedp.KeyEvent("x"))
		time.Sleep(50 * time.Millisecond)
		if i%10 == 0 {
			fmt.Println(time.Since(start).Milliseconds(), Eval[string](p, `document.querySelector("#importing .progress-say")?.textContent ?? "none"`))
		}
		if time.Since(start) > 1500*time.Millisecond && Eval[bool](p, `!document.querySelector("#importing")`) {
			break
		}
	}
	fmt.Println("took", time.Since(start))
	for range 60 {
		p.Do("key", chromedp.KeyEvent("x"))
		time.Sleep(50 * time.Millisecond)
	}
	probeEnd(p)
	fmt.Println("peak after", peak(t, pid))
	fmt.Println(Eval[string](p, `"keys " + keysSeen.length + " over 100: " + keysSeen.filter(k => k[1] > 100).map(k => Math.round(k[0]) + ":" + Math.round(k[1])).join(" ")`))
	fmt.Println(Eval[string](p, `"long " + longTasks.map(k => Math.round(k[0]) + ":" + Math.round(k[1])).join(" ")`))
}

// renderer is the process that runs the page.
func (p *Page) renderer() int {
	p.t.Helper()
	var best, size int
	p.check("processes", p.within(func(ctx context.Context) error {
		info, err := chromedp.CallBrowser(ctx, systeminfo.GetProcessInfo, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, i := range info.ProcessInfo {
			if i.Type == "renderer" {
				if n := peak(p.t, int(i.ID)); n > size {
					best, size = int(i.ID), n
				}
			}
		}
		return nil
	}))
	return best
}

// peak is the most memory a process has held, in KiB.
func peak(t testing.TB, pid int) int {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(text), "VmHWM:")
	n := 0
	fmt.Sscan(rest, &n)
	return n
}

func init() { probeEnd = func(p *Page) { for _, l := range p.log.all() { if strings.Contains(l, "SLOW") { fmt.Println(l) } } } }
var probeEnd func(p *Page)
