package view

import (
	"strings"

	"lugworth/core/report"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// Papers draws what is agreed in writing: the estimate as the owner reads it,
// the frozen ones, and the state of the record they rest on.
func Papers(m app.Model) []keyed.Node {
	e, err := m.Estimate(m.Screen.Paper.Open)
	do, paper := papersDo(m, err != nil), papersPaper(e, err)
	if m.Screen.Paper.Kind != "" {
		do, paper = sheetView(m)
	}
	tools := []keyed.Node{papersFrozen(m), papersFacts(m), papersRecord(m), papersKept(m)}
	if n, any := papersNotices(m); any {
		tools = append(tools, n)
	}
	return []keyed.Node{
		keyed.Row("section", "papers", keyed.Class("no-print"), part.Question("What is agreed, in writing?", "")),
		keyed.Row("div", "papers-two", keyed.Class("papers"),
			keyed.El("div", keyed.Class("papers-do no-print"), keyed.Nodes(paperKinds(m), do)),
			keyed.El("div", keyed.Class("papers-paper"), keyed.Nodes(paper)),
			keyed.El("div", keyed.Class("papers-tools no-print"), keyed.Nodes(tools...))),
	}
}

// papersPaper is the paper that lies open.
func papersPaper(e report.Estimate, err error) keyed.Node {
	if err != nil {
		return keyed.Row("div", "paper-none", part.Empty("No estimate yet",
			"An estimate is the choice in force, written for the owner: what is done, what it costs at most, what becomes of the old parts, and what is left alone.",
			"", keyed.Several(part.Note("What still stands in its way: "+err.Error()+"."), part.Press("main", "Choose on Call", "posture", "call"))))
	}
	return keyed.Row("div", "paper-sheet", keyed.Raw(string(e.Article())))
}

// ofInventedShop says whether the sheet in force is still the sample.
func ofInventedShop(m app.Model) bool {
	name, _ := m.Open.Books.Sheet.Get("name")
	return strings.HasPrefix(name.Source, "invented shop")
}

// papersDo is what can be done with the paper that lies open.
func papersDo(m app.Model, none bool) keyed.Node {
	open := m.Screen.Paper.Open
	say := "The estimate as it stands now. It moves with every price and every choice. Freeze it when it is handed over or read out: it then opens to the cent whatever changes later."
	if open != "" {
		say = "Estimate " + open + " as it was frozen. Nothing in it is reckoned anew."
	}
	return keyed.Row("section", "papers-do", keyed.Class("card"),
		keyed.El("h2", keyed.Text("This paper")),
		part.Note(say),
		noteWhen(ofInventedShop(m), "Name, rates and tax on it are those of an invented shop: change them under Plan, Shop books, before you hand it over."),
		part.Presses(
			part.Press("main", "Print", "estimate-print", open, keyed.Flag("disabled", none)),
			part.Press("", "Save as a file", "estimate-file", open, keyed.Flag("disabled", none)),
			keyed.If(open == "", part.Press("", "Freeze it", "freeze", "", keyed.Flag("disabled", none))),
			keyed.If(open != "", part.Press("", "Show the one that moves", "frozen-open", ""))))
}

// papersFacts are the facts that stand on the paper and come from nowhere
// else.
func papersFacts(m app.Model) keyed.Node {
	o, r := m.Open.Job.Owner, m.Open.Job.Receipt
	return keyed.Row("section", "papers-facts", keyed.Class("card"),
		keyed.El("h2", keyed.Text("Who, and what was taken in")),
		keyed.El("div", keyed.Class("papers-fields"),
			paperField(m, "owner/name", "Owner", o.Name, "", 1),
			paperField(m, "owner/address", "Address", o.Address, "", 1),
			paperField(m, "owner/phone", "Phone", o.Phone, "the number that is called for consent", 1),
			paperField(m, "owner/complaint", "In the owner's words", o.Complaint, "word for word; findings never change it", 2),
			paperField(m, "owner/aim", "What the amp is for", o.Aim, "to play at home, to be sold, to be kept as it is", 1),
			paperField(m, "owner/agreed", "Where it is agreed", o.Agreed, "at the shop, or by phone", 1),
			paperField(m, "receipt/number", "Receipt number", r.Number, "", 1),
			paperField(m, "receipt/date", "Taken in on", r.Date, "year, month, day: 2026-03-02", 1),
			paperField(m, "receipt/received", "Received by", r.Received, "", 1),
			paperField(m, "receipt/accessories", "Came with it", r.Accessories, "for example a cover, a foot switch, spare tubes, a box", 1)))
}

func paperField(m app.Model, k, label, value, hint string, lines int) keyed.Item {
	return part.Field{ID: "papers-" + strings.ReplaceAll(k, "/", "-"), Label: label, Value: m.Draft("set", "", k, value), Hint: hint,
		Act: "set", K: k, Lines: lines, Off: m.ReadOnly() != ""}.Item()
}
