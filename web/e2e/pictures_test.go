package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestPictures takes the pictures of the README: each posture at both sizes,
// with the job of testdata/jobs/drover.txtar. LUGWORTH_PICTURES names the
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
			time.Sleep(400 * time.Millisecond) // motion ends
			if wide := Eval[int](p, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
				t.Errorf("%s at %s is %d px wider than the screen", posture, s.name, wide)
			}
			picture := p.Picture()
			if len(picture) < 20_000 {
				t.Errorf("%s at %s: a picture of %d bytes has nothing on it", posture, s.name, len(picture))
			}
			if keep == "" {
				continue
			}
			name := filepath.Join(keep, fmt.Sprintf("%s-%s.png", posture, s.name))
			if err := os.WriteFile(name, picture, 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
}
