package e2e

import (
	"fmt"
	"math/rand/v2"
	"os"
	"testing"
	"time"
)

// typeFast writes the owner's words over and over, from inside the page, in
// bursts of up to twelve records without a pause. After a burst it waits until
// the head has been drawn anew and says "Saved": window.shown() is the number
// written last when that was seen.
const typeFast = `(first => {
	const field = document.getElementById("owner-complaint"), said = document.querySelector(".status .said");
	let n = first, shown = first;
	const frame = () => new Promise(r => requestAnimationFrame(() => setTimeout(r)));
	(async () => {
		for (let burst = 1; ; burst++) {
			for (let i = 0; i < 1 + burst % 12; i++) {
				field.value = String(++n);
				field.dispatchEvent(new Event("input", {bubbles: true}));
				field.dispatchEvent(new Event("change", {bubbles: true}));
				if (burst % 3 === 0) await frame();
			}
			const written = n;
			await frame(); await frame();
			while (!said.textContent.startsWith("Saved")) await frame();
			shown = written;
		}
	})();
	window.shown = () => shown;
	return true;
})`

// Whatever the head of the real page acknowledged with "Saved" is there after
// the browser was killed at any moment, in the middle of snapshots too: a
// journal is taken in every 50 records.
func TestKillsOfThePage(t *testing.T) {
	t.Parallel()
	kills := 25
	if os.Getenv("LUGWORTH_LONG") == "crash" {
		kills = 200
	}
	p := Start(t, Landscape)
	p.Kept()
	p.Wait(`navigator.serviceWorker.getRegistration().then(r => r?.active?.state === "activated")`)
	p.BenchPart("intake")
	p.Fill("#owner-complaint", "0")
	p.Kept()
	moments := rand.New(rand.NewPCG(1957, 23))
	last, acknowledged := 0, 0
	for i := range kills {
		Eval[bool](p, typeFast+fmt.Sprintf("(%d)", last))
		time.Sleep(time.Duration(50+moments.IntN(900)) * time.Millisecond)
		shown := Eval[int](p, `window.shown()`)
		p.Kill()
		p.Open()
		p.BenchPart("intake")
		kept := -1
		fmt.Sscan(p.Value("#owner-complaint"), &kept)
		if kept < shown {
			t.Fatalf("kill %d: %d was acknowledged as saved, %d is there", i+1, shown, kept)
		}
		acknowledged += shown - last
		last = kept
	}
	if acknowledged < 5*kills {
		t.Errorf("only %d records were acknowledged in %d lives: the test hardly did anything", acknowledged, kills)
	}
	if text := Eval[string](p, `document.querySelector(".problems")?.textContent ?? ""`); text != "" {
		t.Errorf("after the kills the page complains: %s", text)
	}
	t.Logf("%d kills, %d records, %d acknowledged, none of those lost", kills, last, acknowledged)
}
