package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// importing is a long list being read: how far it is, what was found so far,
// and the way out of it.
func importing(i *app.Import) keyed.Node {
	say := stageSays[i.Stage] + " " + i.List + ": " + itoa(100*i.Done/max(i.Total, 1)) + " %"
	return keyed.Row("section", "importing", keyed.Class("card"), keyed.El("div", keyed.Class("progress"),
		keyed.El("span", keyed.Class("progress-say"), keyed.Attr("role", "status"), keyed.Text(stageSays[i.Stage]+" "+i.List)),
		keyed.El("progress", keyed.Attr("aria-label", stageSays[i.Stage]+" "+i.List), keyed.Live("max", itoa(max(i.Total, 1))), keyed.Live("value", itoa(i.Done))),
		keyed.If(i.Stage != app.StageOrder, part.Press("", "Cancel", "import-stop", i.List, keyed.Attr("aria-label", "Cancel "+say[:len(stageSays[i.Stage])]+" "+i.List))),
		keyed.El("span", keyed.Class("progress-say soft amount"), keyed.Text(importSays(i)))))
}

var stageSays = map[string]string{app.StageRead: "Reading the list", app.StageCompare: "Comparing with the old list", app.StageQuotes: "Looking which open quotes rest on the list", app.StageOrder: "Putting the lists in order:"}

func importSays(i *app.Import) string {
	s := itoa(100*i.Done/max(i.Total, 1)) + " %"
	if i.Rows > 0 {
		s = joined(" · ", s, count(i.Rows, "row")+" = "+itoa(i.Read)+" read + "+itoa(i.Aside)+" set aside")
	}
	if i.Waiting > 0 {
		s = joined(" · ", s, count(i.Waiting, "list")+" waiting")
	}
	return s
}

// comingList is a list that was brought and asks something.
func comingList(m app.Model, c *app.Coming) []keyed.Node {
	var out []keyed.Node
	switch c.Asks() {
	case app.AskColumns:
		out = columnsOf(m, c)
	default:
		out = changesOf(m, c)
	}
	if n := len(m.Screen.Desk.Coming) - 1; n > 0 {
		out = append(out, keyed.Row("p", "coming-more", keyed.Class("note"), keyed.Text(count(n, "list")+" more waiting")))
	}
	return out
}

// countsOf is what became of the rows of a coming list, always in sight.
func countsOf(c *app.Coming) string {
	if r := c.Read; r != nil {
		return count(r.Rows, "row") + " = " + itoa(len(r.Offers)) + " read + " + itoa(r.RowsAside) + " set aside"
	}
	return ""
}
