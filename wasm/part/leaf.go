// Package part holds the small building blocks of the views: one function or
// struct for each thing that looks the same wherever it stands.
//
//	part.Verdict(draw.BelowReserve, "")              mark and word
//	part.Why("worst/A2", "445.2 V")                  a figure that opens its reason
//	part.Field{ID: "f-mains", Label: "Mains", Unit: "V", Act: "reading", For: id}.Item()
//	part.Chips("Answer", "answer", id, "yes", part.Chip{Value: "yes", Say: "Yes"}, ...)
//
// Blocks return [keyed.Item] where they stand inside a row, and [keyed.Node]
// where they are a row. What changes often in them is a slot, so that a press
// writes a word and not a screen.
package part

import (
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
)

// A Posture is one way of using the tablet, a tab at the page's edge.
type Posture struct {
	ID, Say string
	Count   string // what waits there, "" for nothing
	Tell    string // what the count counts: "unanswered"
}

// Postures are the five of the page, in their order.
var Postures = []Posture{
	{ID: "bench", Say: "Bench"}, {ID: "plan", Say: "Plan"}, {ID: "call", Say: "Call"},
	{ID: "order", Say: "Order"}, {ID: "papers", Say: "Papers"},
}

// Leaf is the whole page: head, tabs, what the posture shows, and the foot
// with the money. Postures that do not talk about money leave Foot empty.
type Leaf struct {
	Title   string // of the window
	Posture string // ID of the tab that is open; it sets the density
	Tabs    []Posture
	Head    keyed.Item   // job and status line
	Main    []keyed.Node // the view
	Foot    []keyed.Node // [Foot], or nothing
	Above   []keyed.Node // dialogs, sheets and the toast
}

// Tree is the leaf as the page is drawn from it. Each posture has a main
// element of its own, so that it opens at its top. Main can have the focus, so
// that the keyboard scrolls it.
func (l Leaf) Tree() keyed.Tree {
	return keyed.Tree{Title: l.Title, Nodes: []keyed.Node{
		keyed.Row("div", "leaf", keyed.LiveClass("leaf on-"+l.Posture), keyed.Attr("data-keys", "Ctrl+z Ctrl+Z Ctrl+y"),
			keyed.Nodes(
				keyed.Row("header", "head", keyed.Class("head"), l.Head),
				Tabs(l.Posture, l.Tabs),
				keyed.Row("main", "main-"+l.Posture, keyed.Class("main"), keyed.Attr("tabindex", "0"), keyed.Nodes(l.Main...)),
			),
			keyed.Nodes(l.Foot...), keyed.Nodes(l.Above...)),
	}}
}

// Tabs are the postures: at the left edge of a wide page, within reach of the
// thumb at the bottom of a tall one. A press sends act "posture" with the ID.
func Tabs(now string, tabs []Posture) keyed.Node {
	if tabs == nil {
		tabs = Postures
	}
	return keyed.Row("nav", "tabs", keyed.Class("tabs"), keyed.Attr("aria-label", "Postures"),
		keyed.Map(tabs, func(p Posture) keyed.Item { return tab(p, p.ID == now) }))
}

func tab(p Posture, open bool) keyed.Item {
	current := "false"
	if open {
		current = "page"
	}
	return keyed.El("button", keyed.Attr("type", "button"), keyed.Class("tab"), keyed.Do("posture", p.ID, p.ID),
		keyed.Live("aria-current", current),
		keyed.El("span", keyed.Class("tab-sign"), keyed.Attr("aria-hidden", "true"), keyed.Raw(draw.Sign(p.ID))),
		keyed.El("span", keyed.Class("tab-say"), keyed.Text(p.Say)),
		keyed.El("span", keyed.Class("tab-count"), keyed.Live("title", p.Tell), keyed.Text(p.Count)))
}

// Question is the title of a view: the question it answers, and one line under
// it, which may be "".
func Question(ask, under string) keyed.Item {
	return keyed.El("div", keyed.Class("question"),
		keyed.El("h1", keyed.Text(ask)),
		keyed.If(under != "", keyed.El("p", keyed.Class("under"), keyed.Text(under))))
}

// Two is the desk's layout: a list, and beside it what is open of it.
func Two(left, right keyed.Item) keyed.Item {
	return keyed.El("div", keyed.Class("two"),
		keyed.El("div", keyed.Class("two-list"), left),
		keyed.El("div", keyed.Class("two-open"), right))
}

// Picture holds a drawing.
func Picture(svg string) keyed.Item {
	return keyed.El("div", keyed.Class("pic"), keyed.Raw(svg))
}
