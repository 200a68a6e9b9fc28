package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Papers draws the posture of that name.
func Papers(m app.Model) []keyed.Node {
	return []keyed.Node{keyed.Row("section", "papers", part.Question("Papers", ""))}
}
