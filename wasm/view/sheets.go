package view

import (
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// paperKinds choose which paper lies open.
func paperKinds(m app.Model) keyed.Node {
	var chips []keyed.Item
	for _, k := range []struct{ id, say string }{{"", "Estimate"}, {app.SheetJob, "Job sheet"}, {app.SheetDecisions, "Decisions"}, {app.SheetLabels, "Bag labels"}, {app.SheetChange, "Change order"}, {app.SheetHandBack, "Hand-back"}} {
		chips = append(chips, keyed.El("button", keyed.Attr("type", "button"), keyed.Class("chip"), keyed.ID("paper-kind-"+k.id), keyed.Do("paper-kind", k.id),
			keyed.Live("aria-pressed", pressedWord(m.Screen.Paper.Kind == k.id)), keyed.El("span", keyed.Text(k.say))))
	}
	return keyed.Row("div", "paper-kinds", group("Which paper", "chips no-print", chips...))
}

// sheetView is a paper beside the estimate, and what can be done with it.
func sheetView(m app.Model) (do, paper keyed.Node) {
	s, err := m.Sheet()
	if err != nil {
		return keyed.Row("section", "papers-do", keyed.Class("card"), keyed.El("h2", keyed.Text("This paper"))),
			keyed.Row("div", "sheet-none", part.Empty("Not to be written yet", "What stands in its way: "+err.Error()+".", "", part.Press("main", "Choose on Call", "posture", "call")))
	}
	return keyed.Row("section", "papers-do-sheet", keyed.Class("card"), keyed.El("h2", keyed.Text("This paper")),
			part.Note(paperSays[m.Screen.Paper.Kind]),
			part.Presses(part.Press("main", "Print", "paper-print", ""), part.Press("", "Save as a file", "paper-file", ""), keyed.If(m.Screen.Paper.Kind == app.SheetDecisions, part.Press("", "Save for the owner to tick", "owner-file", ""))),
			noteWhen(m.Screen.Paper.Kind == app.SheetDecisions, "The page to tick is one file that works without a network: the owner sees the total move and gets a short code to read out or mail back. Type it on Call. The estimate is frozen with it.")),
		keyed.Row("div", "sheet-"+m.Screen.Paper.Kind, keyed.Raw(string(s.Article())))
}

var paperSays = map[string]string{
	app.SheetJob:       "For the bench: the work of the choice in force, its parts and places, with room for hours and finds. No prices, no address.",
	app.SheetDecisions: "For the owner: every way with its price from the present choice, its look, whether it can be undone, and what a no means.",
	app.SheetChange:    "For the owner: what came, went or changed since the last answer, with the new total and what is asked.",
	app.SheetHandBack:  "What the amp leaves with: whether it is released, what was done and left, old parts, tests, and the chart as found beside the final one.",
	app.SheetLabels:    "One label for the amp and one for each old part that goes back in a bag. Cut along the dashes.",
}
