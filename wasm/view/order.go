package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Order draws the posture of that name.
func Order(m app.Model) []keyed.Node {
	return []keyed.Node{keyed.Row("section", "order", part.Question("Order", ""))}
}
