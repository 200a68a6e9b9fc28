package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Plan draws the posture of that name.
func Plan(m app.Model) []keyed.Node {
	return []keyed.Node{keyed.Row("section", "plan", part.Question("Plan", ""))}
}
