package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Bench draws the posture of that name.
func Bench(m app.Model) []keyed.Node {
	return []keyed.Node{keyed.Row("section", "bench", part.Question("Bench", ""))}
}
