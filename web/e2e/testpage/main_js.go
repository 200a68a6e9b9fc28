// Testpage is the toy app in a real page.
package main

import (
	"lugworth/wasm/shell"
	"lugworth/web/e2e/toy"
)

func main() {
	shell.Run(shell.App[toy.Model]{Update: toy.Update, Page: toy.Page})
}
