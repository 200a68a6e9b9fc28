// The page's program. Everything it does is in app, everything it shows in
// view; shell runs the two in the browser.
package main

import (
	"lugworth/wasm/app"
	"lugworth/wasm/shell"
	"lugworth/wasm/view"
)

func main() {
	shell.Run(shell.App[app.Model]{Start: app.Start(), Update: app.Update, Page: view.Page, Idle: app.Ahead})
}
