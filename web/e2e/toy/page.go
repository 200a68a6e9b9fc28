package toy

import (
	"fmt"

	"lugworth/wasm/keyed"
	"lugworth/wasm/keyed/sample"
)

// Page is the toy's picture.
func Page(m Model) keyed.Tree {
	if m.Seed > 0 {
		return sample.Tree(m.Seed)
	}
	return keyed.Tree{Title: fmt.Sprintf("Toy (%d)", len(m.Lines)), Nodes: []keyed.Node{
		keyed.Row("main", "toy", keyed.Keys("Ctrl+z Alt+1"),
			keyed.El("h1", keyed.Text("What does the toy hold?")),
			state(m),
			bar(),
			form(),
			keyed.If(m.Photo != "", keyed.El("img", keyed.ID("photo"), keyed.Attr("alt", "the photo"), keyed.Attr("src", m.Photo))),
			keyed.El("ul", keyed.ID("lines"), keyed.Each(m.Lines, line)),
			keyed.If(m.Dialog, keyed.El("dialog", keyed.ID("dialog"), keyed.Attr("data-modal", ""), keyed.Attr("data-cancel", "dialog"),
				keyed.Attr("aria-label", "One question"),
				keyed.Button("Close", "dialog", "")))),
	}}
}

func state(m Model) keyed.Item {
	return keyed.El("p", keyed.ID("state"),
		keyed.Live("data-saved", fmt.Sprint(m.Saved)),
		keyed.Live("data-tag", fmt.Sprint(m.Tag)),
		keyed.Live("data-writer", fmt.Sprint(m.Tab.Writer)),
		keyed.Live("data-offline", fmt.Sprint(m.Shell.Offline)),
		keyed.Live("data-update", fmt.Sprint(m.Shell.Update)),
		keyed.Live("data-version", m.Shell.Version),
		keyed.Live("data-device", m.Device),
		keyed.Attr("role", "status"),
		keyed.Text("State: "+m.Say))
}

func bar() keyed.Item {
	var items []keyed.Item
	for _, act := range []string{"add", "turn", "open", "photo", "show", "write", "print", "big", "dialog", "take", "stop"} {
		items = append(items, keyed.Button(act, act, "", keyed.ID("do-"+act)), keyed.Text(" "))
	}
	return keyed.El("div", items...)
}

func form() keyed.Item {
	return keyed.El("form", keyed.Do("form", ""), keyed.ID("form"),
		keyed.El("label", keyed.Text("One "), keyed.El("input", keyed.Attr("name", "one"))),
		keyed.El("label", keyed.Text("Two "), keyed.El("input", keyed.Attr("name", "two"))),
		keyed.El("button", keyed.Attr("type", "submit"), keyed.Text("Send")),
		keyed.El("label", keyed.El("input", keyed.Attr("type", "checkbox"), keyed.ID("refuse"), keyed.Do("refuse", ""), keyed.Checked(false)), keyed.Text(" never")))
}

func line(l Line) keyed.Node {
	return keyed.Row("li", "line-"+l.ID,
		keyed.If(len(l.Text) > 8, keyed.Class("long")),
		keyed.El("label", keyed.Text("Text "), keyed.Input("text", l.Text, keyed.Do("text", l.ID), keyed.Keys("Enter"))),
		keyed.El("b", keyed.Text(fmt.Sprintf("%d letters", len(l.Text)))))
}
