package view

import (
	"strings"

	"lugworth/core/circuit"
	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/shop"
	"lugworth/core/tube"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// booksLeaf lays the shop's books open, one at a time.
func booksLeaf(m app.Model) []keyed.Node {
	if c := m.Coming(); c != nil && (m.Screen.Desk.Book == "" || m.Screen.Desk.Book == app.BookLists) {
		return comingList(m, c)
	}
	out := []keyed.Node{keyed.Row("section", "books", part.Question("What does the shop work by?", "Price lists, the shop's own rates and rules, tube cards, suppliers' terms, the task library. All of it stays on this device."),
		keyed.El("div", keyed.Class("line"), keyed.El("div", keyed.Class("grow"), bookChips(m)),
			part.Press("", "Bring files", "open-file", "")),
		sampleNote(m), broken(m))}
	switch m.Screen.Desk.Book {
	case app.BookSheet:
		return append(out, sheetBook(m))
	case app.BookCards:
		return append(out, cardBook(m)...)
	case app.BookTerms:
		return append(out, termsBook(m)...)
	case app.BookTasks:
		return append(out, taskBook(m))
	}
	return append(out, listBook(m)...)
}

func bookChips(m app.Model) keyed.Item {
	b := m.Open.Books
	open := m.Screen.Desk.Book
	if open == "" {
		open = app.BookLists
	}
	return part.Chips("Books of the shop", "plan-book", "", open,
		part.Chip{Value: app.BookLists, Say: "Price lists", Note: orNot(m.Coming() != nil, count(len(m.PriceLists()), "list"), "one asks something")},
		part.Chip{Value: app.BookSheet, Say: "Shop sheet", Note: count(len(b.Sheet.Entries), "line")},
		part.Chip{Value: app.BookCards, Say: "Tube cards", Note: count(len(b.Cards.All()), "type")},
		part.Chip{Value: app.BookTerms, Say: "Terms", Note: count(len(b.Terms), "supplier")},
		part.Chip{Value: app.BookTasks, Say: "Tasks", Note: count(len(b.Library.Tasks), "task")})
}

func sampleNote(m app.Model) keyed.Item {
	if still := m.StillSamples(); len(still) > 0 {
		return keyed.El("div", keyed.Class("card samples"), part.Note("Still the samples of an invented shop: "+strings.Join(still, ", ")+". Each goes as soon as you bring your own or change it here."))
	}
	if !m.Shop.Demo {
		return keyed.Item{}
	}
	return keyed.El("div", keyed.Class("card line samples"),
		keyed.El("p", keyed.Class("grow"), keyed.Text("These are the sample books of an invented shop. Each goes as soon as you bring your own of its name; the sample price lists go with your first file.")),
		part.Press("", "Make these mine", "books-own", ""))
}

// broken are the problems of the books that are no price lists.
func broken(m app.Model) keyed.Item {
	var say []string
	for _, p := range m.Open.Books.Problems {
		if _, list := job.ListName(p.File); !list {
			say = append(say, p.Error())
		}
	}
	if len(say) == 0 {
		return keyed.Item{}
	}
	return keyed.El("div", keyed.Class("card"), keyed.El("h2", keyed.Text("What could not be used")), keyed.El("ul", keyed.Class("plan-problems"), keyed.Map(say, func(s string) keyed.Item {
		return keyed.El("li", keyed.Text(s))
	})))
}

// sheetBook is the shop sheet, every line with its source.
func sheetBook(m app.Model) keyed.Node {
	s := m.Open.Books.Sheet
	if len(s.Entries) == 0 {
		return keyed.Row("section", "sheet", part.Empty("No shop sheet", "The sheet is a file shop.csv with the columns key, value and source: the hourly rate, the fee, the mark-up, the tax, the reserve.", "rate, 80.00, our own price policy", part.Press("main", "Bring shop.csv", "open-file", "")))
	}
	rows := s.Entries
	for _, k := range shop.Keys() {
		if _, ok := s.Get(k); !ok {
			rows = append(rows[:len(rows):len(rows)], shop.Entry{Key: k})
		}
	}
	return keyed.Row("section", "sheet", keyed.Class("card"), sheetLacks(s),
		keyed.El("div", keyed.Class("ledger"), keyed.Each(rows, func(e shop.Entry) keyed.Node { return sheetRow(m, s, e) })))
}

func sheetLacks(s shop.Sheet) keyed.Item {
	return keyed.Several(
		keyed.If(len(s.Missing) > 0, keyed.El("p", keyed.Class("plan-problem"), keyed.Text("Without these no job can be priced: "+joined(", ", s.Missing...)))),
		keyed.If(len(s.Unsourced) > 0, keyed.El("p", keyed.Class("plan-problem"), keyed.Text("No source is named for "+joined(", ", s.Unsourced...)+"."))),
		keyed.If(len(s.Unknown) > 0, part.Note("Kept and not used: "+joined(", ", s.Unknown...)+".")))
}

func sheetRow(m app.Model, s shop.Sheet, e shop.Entry) keyed.Node {
	id := slug(e.Key) + "-" + itoa(e.Line)
	off := m.Shop.Demo || m.ReadOnly() != ""
	value := part.Field{ID: "sheet-" + id, Label: sheetSays(e.Key), Act: "sheet-value", For: e.Key, Value: m.Draft("sheet-value", e.Key, "", e.Value), Off: off, Problem: sheetWrong(s, e)}
	source := part.Field{ID: "source-" + id, Label: "Source, " + strings.ToLower(sheetSays(e.Key)), Act: "sheet-source", For: e.Key, Value: m.Draft("sheet-source", e.Key, "", e.Source), Off: off || e.Value == ""}
	return keyed.Row("div", "line-"+id, keyed.Class("ledger-line"), value.Item(), source.Item())
}

var sheetWords = map[string]string{
	"name": "Name of the shop", "currency": "Currency", "rate": "Rate an hour", "fee": "Bench fee", "markup": "Mark-up on what a part costs at the door, %",
	"subcontract_markup": "Mark-up on work sent out, %", "tax": "Tax, %", "tax_on": "Tax falls on (none, parts, all)", "registered": "Registered for the tax (yes, no)",
	"allowance": "Allowance for finds, % of labor", "reserve": "Reserve on rated volts, %", "meter_percent": "Error of the meter, %",
	"date_test": "Ready date goes by (longest-lead, P80)", "quarter": "Hours in quarters (yes, no)",
	"bench_hours": "Bench hours a day for one job", "open_days": "Open days (mon-fri)", "holidays": "Closed days (2026-12-25; 2027-01-01, or none)",
	"answer_days": "Days until the owner answers (least/likely/most)", "carriage_days": "Days on the road after the lead (least/likely/most)",
	"rounding": "Rounding (half up, half even, down)",
	"deposit":  "Deposit, % of the total", "valid_days": "Days an estimate holds", "place": "Place whose rules are shown",
}

// sheetSays is the key of the sheet in words; a key of the user's own stays.
func sheetSays(key string) string {
	if s := sheetWords[key]; s != "" {
		return s
	}
	for _, r := range circuit.DefaultSpreads() {
		if r.Key == key {
			return capital(r.Says) + ", " + spreadUnit(r)
		}
	}
	return key
}

func sheetWrong(s shop.Sheet, e shop.Entry) string {
	for _, p := range s.Wrong {
		if p.Line == e.Line && e.Line > 0 {
			return problemSays(p)
		}
	}
	return ""
}

// problemSays is what is wrong with a cell, with a reading that may be meant.
func problemSays(p unit.Problem) string {
	if p.Say != "" {
		return p.Say
	}
	s := "“" + p.Cell + "” " + p.Code.Says()
	if p.Cell == "" {
		s = p.Code.Says()
	}
	if p.Hint != "" {
		s += "; perhaps " + p.Hint
	}
	return s
}

func orNot(not bool, s, instead string) string {
	if not {
		return instead
	}
	return s
}

// taskBook is the library of tasks.
func taskBook(m app.Model) keyed.Node {
	l := m.Open.Books.Library
	if len(l.Tasks) == 0 {
		return keyed.Row("section", "tasks", part.Empty("No task library", "A file tasks.csv holds the work the shop does often, with its hours and parts, ready to attach to a finding.", "T3, couplers, change the four coupling capacitors, must, .4, .6, 1.4", part.Press("main", "Bring tasks.csv", "open-file", "")))
	}
	cols := []part.Col{{Say: "Task"}, {Say: "What is done", Wide: true}, {Say: "Pile"}, {Say: "Hours", Num: true}, {Say: "Parts"}, {Say: "Source"}}
	say := itoa(l.Rows) + " rows: " + itoa(len(l.Tasks)) + " read, " + itoa(l.Aside) + " set aside"
	return keyed.Row("section", "tasks", keyed.Class("card"), part.Table(say, cols, keyed.Each(l.Tasks, func(t shop.Task) keyed.Node {
		return part.TR("task-"+slug(t.ID), cols, keyed.El("b", keyed.Text(t.ID)), keyed.Text(t.Say), keyed.Text(pileSays(t)),
			keyed.Text(t.Low.String()+" / "+t.Mode.String()+" / "+t.High.String()), keyed.Text(shop.WriteParts(t.Parts)), keyed.El("span", keyed.Class("small soft"), keyed.Text(t.Source)))
	}), keyed.Item{}))
}

// pileSays is how urgent a task is, or what it is in place of one.
func pileSays(t shop.Task) string {
	switch {
	case t.SetUp():
		return "set-up"
	case t.State():
		return "state, from " + t.From()
	case t.Chance > 0:
		return string(t.Pile) + ", if found (" + itoa(t.Chance) + " %)"
	}
	return string(t.Pile)
}

// cardBook is the cards in force: those of the amp on the bench first.
func cardBook(m app.Model) []keyed.Node {
	var here, others []tube.Card
	for _, c := range m.Open.Books.Cards.All() {
		if fitted(m, c) {
			here = append(here, c)
		} else {
			others = append(others, c)
		}
	}
	var out []keyed.Node
	for _, c := range here {
		out = append(out, cardOf(m, c))
	}
	cols := []part.Col{{Say: "Type"}, {Say: "Kind"}, {Say: "Limits", Num: true}, {Say: "Whose"}, {Say: "Sources", Wide: true}}
	return append(out, keyed.Row("section", "cards", keyed.Class("card"), part.Table("Other cards in force", cols, keyed.Each(others, func(c tube.Card) keyed.Node {
		return part.TR("card-row-"+slug(c.Type), cols, keyed.El("b", keyed.Text(joined(", ", append([]string{c.Type}, c.Aliases...)...))), keyed.Text(c.Kind), keyed.Text(itoa(len(c.Limits))), keyed.Text(whose(m, c)), keyed.El("span", keyed.Class("small"), keyed.Text(cardSources(c))))
	}), keyed.Item{})))
}

func fitted(m app.Model, c tube.Card) bool {
	for _, p := range m.Open.Job.Amp.Positions {
		if p.Type != "" && c.Answers(p.Type) {
			return true
		}
	}
	return false
}

func whose(m app.Model, c tube.Card) string {
	if !m.Open.Books.Cards.IsUser(c.Type) {
		return "built in"
	}
	if _, hides := m.Open.Books.Cards.Shadowed(c.Type); hides {
		return "yours, hides a built-in one"
	}
	return "yours"
}

func cardSources(c tube.Card) string {
	var w []string
	for _, l := range c.Limits {
		w = append(w, l.Source)
	}
	return joined("; ", distinct(w)...)
}

func cardOf(m app.Model, c tube.Card) keyed.Node {
	cols := []part.Col{{Say: "Limit"}, {Say: "Figure", Num: true}, {Say: "System"}, {Say: "Mark"}, {Say: "Source", Wide: true}}
	notes := []keyed.Item{}
	if hidden, ok := m.Open.Books.Cards.Shadowed(c.Type); ok {
		notes = append(notes, part.Note(shadowSays(c, hidden)))
	}
	if len(c.Limits) == 0 {
		notes = append(notes, part.Note("The card states no limit: everything about this tube is not enough data."))
	}
	return keyed.Row("section", "card-"+slug(c.Type), keyed.Class("card"), keyed.El("h2", keyed.Text(joined(" · ", c.Type, joined(", ", c.Aliases...), c.Kind, whose(m, c)))),
		keyed.If(len(c.Limits) > 0, part.Table("Limits of the "+c.Type+" in this amp", cols, keyed.Each(c.Limits, limitRow(c, cols)), keyed.Item{})), keyed.Several(notes...))
}

// limitRow draws the limits of a card; a second limit of one quantity gets an
// id of its own.
func limitRow(c tube.Card, cols []part.Col) func(limit.Limit) keyed.Node {
	seen := map[string]int{}
	return func(l limit.Limit) keyed.Node {
		id := "limit-" + slug(c.Type+"-"+string(l.Quantity))
		if seen[id]++; seen[id] > 1 {
			id += "." + itoa(seen[id])
		}
		return part.TR(id, cols, keyed.Text(string(l.Quantity)), keyed.Text(rangeOf(l)), keyed.Text(l.System.String()), keyed.Text(l.Mark.String()), keyed.El("span", keyed.Class("small"), keyed.Text(l.Source)))
	}
}
