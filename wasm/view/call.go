package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Call draws the posture of that name.
func Call(m app.Model) []keyed.Node {
	return []keyed.Node{keyed.Row("section", "call", part.Question("Call", ""))}
}
