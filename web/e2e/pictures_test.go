package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestPictures takes the pictures of the README: each posture at both sizes,
// with the job of testdata/jobs/drover.txtar, and the amp's circuit and what
// to dial with drover-sheet.txtar. LUGWORTH_PICTURES names the
// folder they are kept in; without it they are only taken and looked at by
// the checks below: nothing wider than the screen, and a picture with
// something on it.
func TestPictures(t *testing.T) {
	keep := os.Getenv("LUGWORTH_PICTURES")
	drover, err := filepath.Abs("../../testdata/jobs/drover.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []struct {
		name string
		size Size
	}{{"1180x820", Landscape}, {"820x1180", Portrait}} {
		p := Start(t, s.size)
		p.Tap(`[data-act="jobs"]`)
		p.Give(`[data-act="open-file"]`, drover)
		p.Wait(`document.body.innerText.includes("Drover")`)
		for _, posture := range []string{"bench", "plan", "call", "order", "papers"} {
			p.Tap(`[data-act="posture"][data-id="` + posture + `"]`)
			Eval[bool](p, `((document.querySelector('[data-act="toast-close"]')||{click(){}}).click(), true)`)
			if posture == "bench" {
				p.Tap(`[data-act="bench-part"][data-id="findings"]`)
			}
			keepPicture(t, p, keep, posture, s.name)
		}
		p = given(t, s.size, "jobs/drover-sheet.txtar")
		p.Turn("plan")
		p.Touch(`[data-act="plan-leaf"][value="circuit"]`)
		p.Wait(`document.querySelectorAll("#stages svg").length > 4`)
		keepPicture(t, p, keep, "circuit", s.name)
		p.Turn("bench")
		p.BenchPart("idle")
		p.WaitText(".idle-card", "the meter across R20 shows")
		Eval[bool](p, `(document.querySelector(".idle-card").scrollIntoView({block: "center"}), true)`)
		keepPicture(t, p, keep, "dial", s.name)
	}
}

// keepPicture takes one picture of the screen and keeps it in a folder, if
// one is named.
func keepPicture(t *testing.T, p *Page, folder, posture, size string) {
	t.Helper()
	time.Sleep(400 * time.Millisecond) // motion ends
	if wide := Eval[int](p, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
		t.Errorf("%s at %s is %d px wider than the screen", posture, size, wide)
	}
	picture := p.Picture()
	if len(picture) < 20_000 {
		t.Errorf("%s at %s: a picture of %d bytes has nothing on it", posture, size, len(picture))
	}
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%s-%s.png", posture, size)), picture, 0o666); err != nil {
		t.Fatal(err)
	}
}
