package e2e

import "testing"

// The real page opens, in both postures of the tablet, and says what it is.
func TestPageOpens(t *testing.T) {
	for _, size := range []Size{Landscape, Portrait} {
		p := Start(t, size)
		p.Wait(`document.title.includes("Lugworth") && document.querySelector("h1, h2") !== null`)
		p.Shot("open")
	}
}
