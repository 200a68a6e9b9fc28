package view

import (
	"encoding/csv"
	"fmt"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// rowsShown is how many rows set aside, and how many notes, stand open; the
// rest is counted.
const rowsShown = 40

// importing is a long list being read.
func importing(i *app.Import) keyed.Node {
	say := "Reading the list " + i.List + ": " + itoa(100*i.Done/max(i.Total, 1)) + " %"
	if i.Waiting > 0 {
		say += ", " + count(i.Waiting, "list") + " waiting"
	}
	return keyed.Row("section", "importing", keyed.Class("card"), keyed.Attr("role", "status"), part.Progress(say, i.Done, i.Total, "import-stop", i.List))
}

// listBook is every price list with what was read of it.
func listBook(m app.Model) []keyed.Node {
	lists := m.PriceLists()
	if len(lists) == 0 {
		return []keyed.Node{keyed.Row("section", "lists", part.Empty("No price lists", "Bring a supplier's list as it is, saved as CSV: any order of columns, any delimiter, decimal point or comma. The file's name is the supplier's name.",
			"Northmoor.csv with the headings Part; Desc; Price; Pack", part.Press("main", "Bring files", "open-file", "")))}
	}
	var out []keyed.Node
	for _, l := range lists {
		out = append(out, listCard(m, l))
	}
	return out
}

func listCard(m app.Model, l *app.PriceList) keyed.Node {
	open := m.Screen.Desk.List == l.Name
	id := "list-" + slug(l.Name)
	word := "Open"
	if open {
		word = "Close"
	}
	items := []keyed.Item{keyed.El("div", keyed.Class("line"),
		keyed.El("div", keyed.Class("grow"), keyed.El("h2", keyed.Text(l.Name)), keyed.El("p", keyed.Class("soft"), keyed.Text(listSays(m, l)))),
		keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("list-open", l.Name), keyed.Live("aria-expanded", pressedWord(open)), keyed.Attr("aria-label", word+" the list "+l.Name), keyed.Text(word)),
		removeList(m, l))}
	if l.Wrong != "" {
		items = append(items, keyed.El("p", keyed.Class("plan-problem"), keyed.Attr("role", "alert"), keyed.Text("Not read: "+l.Wrong)))
	}
	if l.Left {
		items = append(items, keyed.El("div", keyed.Class("line"), keyed.El("p", keyed.Class("plan-problem grow"), keyed.Text("Reading was stopped: the rows below count, the rest of the file does not.")), part.Press("", "Read it all", "import-go", l.Name)))
	}
	items = append(items, listTold(m, l))
	if open {
		items = append(items, mappingTable(m, l), listProblems(m, l), listFixes(m, l), listNotes(l))
	}
	return keyed.Row("section", id, keyed.Class("card"), keyed.Several(items...))
}

// listTold is what the list leaves open and what is taken in its place: no
// terms, a number with two prices.
func listTold(m app.Model, l *app.PriceList) keyed.Item {
	if l.Read == nil {
		return keyed.Item{}
	}
	var say []string
	for _, p := range m.Open.Result.Problems {
		if p.File == l.Read.File && p.Say != "" {
			say = append(say, joined(": ", orNot(p.Line == 0, "line "+itoa(p.Line), ""), p.Say))
		}
	}
	if len(say) == 0 {
		return keyed.Item{}
	}
	more := len(say) - rowsShown
	return keyed.Several(keyed.El("ul", keyed.Class("plan-problems"), keyed.Map(say[:min(len(say), rowsShown)], func(s string) keyed.Item { return keyed.El("li", keyed.Text(s)) })),
		keyed.If(more > 0, part.Note("And "+itoa(more)+" more.")))
}

// listSays counts: read and set aside come to the rows of the file.
func listSays(m app.Model, l *app.PriceList) string {
	if l.Read == nil {
		return "nothing of it counts yet"
	}
	r := l.Read
	s := fmt.Sprintf("%d rows: %d read, %d set aside", r.Rows, len(r.Offers), r.RowsAside)
	if n := unpriced(r); n > 0 {
		s += fmt.Sprintf(" · %d without a price", n)
	}
	return joined(" · ", s, r.Currency, count2(len(l.Fixes), "cell", "mended"))
}

func count2(n int, of, did string) string {
	if n == 0 {
		return ""
	}
	return count(n, of) + " " + did
}

func unpriced(l *catalog.List) int {
	n := 0
	for i := range l.Offers {
		if !l.Offers[i].Priced {
			n++
		}
	}
	return n
}

func removeList(m app.Model, l *app.PriceList) keyed.Item {
	if m.Shop.Demo {
		return keyed.Item{}
	}
	if m.Screen.Desk.Confirm == l.Name {
		return keyed.Several(part.Press("main", "Remove "+l.Name+" for good", "list-drop", l.Name), part.Press("", "Keep it", "list-keep", l.Name))
	}
	return part.Press("quiet", "Remove", "list-remove", l.Name, keyed.Attr("aria-label", "Remove the list "+l.Name))
}

var fieldSays = map[catalog.Field]string{
	catalog.FieldNumber: "part number", catalog.FieldText: "description", catalog.FieldKind: "sort of goods", catalog.FieldValue: "value", catalog.FieldVolts: "volts",
	catalog.FieldWatts: "watts", catalog.FieldTol: "tolerance", catalog.FieldPrice: "price", catalog.FieldBreak: "price from a count", catalog.FieldCurr: "currency",
	catalog.FieldPack: "pieces in a pack", catalog.FieldMinimum: "least pieces", catalog.FieldStock: "in stock", catalog.FieldLead: "lead days", catalog.FieldDate: "date of price",
	catalog.Ignored: "not read",
}

func fieldOptions() []keyed.Option {
	out := make([]keyed.Option, len(catalog.Fields))
	for i, f := range catalog.Fields {
		out[i] = keyed.Option{Value: string(f), Say: fieldSays[f]}
	}
	return out
}

// mappingTable says what each column is read as, beside its first cells; each
// can be read as something else.
func mappingTable(m app.Model, l *app.PriceList) keyed.Item {
	c, sample, err := m.Look(l)
	if err != nil {
		return part.Note(err.Error())
	}
	off := m.Shop.Demo || m.ReadOnly() != ""
	id := slug(l.Name)
	cols := []part.Col{{Say: "Heading"}, {Say: "First cells", Wide: true}, {Say: "Read as"}}
	kept := "Proposed from the headings and the first rows."
	if l.Mapping != nil {
		kept = "As you said: it will serve the next file of this supplier too."
	}
	heads := make([]int, len(c.Columns))
	for i := range heads {
		heads[i] = i
	}
	return keyed.Several(keyed.El("h3", keyed.Text("How the columns are read")), keyed.El("p", keyed.Class("soft"), keyed.Text(kept)),
		part.Table("Columns of "+l.Name, cols, keyed.Each(heads, func(i int) keyed.Node {
			key := "col-" + id + "-" + itoa(i)
			return part.TR(key, cols, keyed.El("b", keyed.Text(orNot(c.Columns[i].Heading == "", c.Columns[i].Heading, "column "+itoa(i+1)))), keyed.El("span", keyed.Class("small"), keyed.Text(firstCells(sample, i))),
				columnFields(m, l, c.Columns[i], i, key, off))
		}), keyed.Item{}),
		keyed.El("div", keyed.Class("fields"),
			part.Field{ID: "decimal-" + id, Label: "Decimal mark", Value: c.Decimal, Act: "list-decimal", For: l.Name, Off: off, Hint: "The terms of the supplier go first",
				Options: []keyed.Option{{Value: "", Say: "not known"}, {Value: "point", Say: "point: 3.10"}, {Value: "comma", Say: "comma: 3,10"}}}.Item(),
			part.Field{ID: "for-" + id, Label: "Prices are for", Value: itoa(max(c.PriceFor, 1)), Act: "list-for", For: l.Name, Off: off,
				Options: []keyed.Option{{Value: "1", Say: "one piece"}, {Value: "10", Say: "10 pieces"}, {Value: "100", Say: "100 pieces"}, {Value: "1000", Say: "1000 pieces"}}}.Item()),
		keyed.If(!off, part.Presses(
			keyed.If(l.Mapping == nil, part.Press("", "Keep it so", "list-mapping", l.Name)),
			keyed.If(l.Mapping != nil, part.Press("quiet", "Propose anew", "list-forget", l.Name)))))
}

func columnFields(m app.Model, l *app.PriceList, c catalog.Column, i int, key string, off bool) keyed.Item {
	k := itoa(i)
	field := part.Field{ID: key + "-field", Label: "Read " + orNot(c.Heading == "", c.Heading, "column "+itoa(i+1)) + " as", Value: string(c.Field), Act: "list-column", For: l.Name, K: k, Off: off, Options: fieldOptions()}
	if c.Field != catalog.FieldBreak {
		return keyed.El("div", keyed.Class("bare"), field.Item())
	}
	from := part.Field{ID: key + "-from", Label: "from so many pieces", Value: m.Draft("list-from", l.Name, k, itoa(c.From)), Act: "list-from", For: l.Name, K: k, Number: true, Off: off}
	return keyed.Several(keyed.El("div", keyed.Class("bare"), field.Item()), from.Item())
}

func firstCells(sample [][]string, i int) string {
	var w []string
	for _, row := range sample {
		if i < len(row) && strings.TrimSpace(row[i]) != "" {
			w = append(w, strings.TrimSpace(row[i]))
		}
		if len(w) == 3 {
			break
		}
	}
	return joined(" · ", w...)
}

// listProblems are the rows set aside, each to be mended in place.
func listProblems(m app.Model, l *app.PriceList) keyed.Item {
	if l.Read == nil || len(l.Read.Aside) == 0 {
		return keyed.Item{}
	}
	all := l.Read.Aside
	shown := all[:min(len(all), rowsShown)]
	return keyed.Several(keyed.El("h3", keyed.Text(count(l.Read.RowsAside, "row")+" set aside")),
		keyed.El("div", keyed.Class("asides"), keyed.Each(numbered(shown), func(n numberedProblem) keyed.Node { return asideRow(m, l, n) })),
		keyed.If(len(shown) < len(all), part.Note("And "+count(len(all)-len(shown), "problem")+" more: they come up as these are mended, or with the columns read another way.")))
}

// numberedProblem tells two problems of one cell apart.
type numberedProblem struct {
	unit.Problem
	n int
}

func numbered(all []unit.Problem) []numberedProblem {
	seen := map[string]int{}
	out := make([]numberedProblem, len(all))
	for i, p := range all {
		k := itoa(p.Line) + "/" + p.Column
		seen[k]++
		out[i] = numberedProblem{p, seen[k]}
	}
	return out
}

func asideRow(m app.Model, l *app.PriceList, n numberedProblem) keyed.Node {
	p := n.Problem
	k := itoa(p.Line) + "/" + p.Column
	id := "aside-" + slug(l.Name+"-"+k) + "-" + itoa(n.n)
	where, cell := joined(", ", "Line "+itoa(p.Line), orNot(p.Column == "", "column "+p.Column, "")), p.Cell
	if p.Column == "" {
		cell = rawRow(l, p.Line)
	}
	f := part.Field{ID: id + "-fix", Label: "Mend " + orNot(p.Column == "", p.Column, "the whole row"), Act: "list-fix", For: l.Name, K: k, Value: m.Draft("list-fix", l.Name, k, cell), Off: m.Shop.Demo || m.ReadOnly() != ""}
	return keyed.Row("div", id, keyed.Class("aside"),
		keyed.El("div", keyed.Class("aside-say"), keyed.El("b", keyed.Text(where)), keyed.El("span", keyed.Text(problemSays(p))),
			keyed.El("span", keyed.Class("soft small"), keyed.Text(orNot(p.Column == "", rawRow(l, p.Line), "")))),
		keyed.If(n.n == 1, f.Item()),
		keyed.If(n.n == 1 && meant(p) != "" && !m.Shop.Demo, keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("list-fix", l.Name, k), keyed.Attr("value", meant(p)), keyed.Text("It is "+meant(p)))))
}

// meant is the number a cell may mean, "" where the hint is not one to take
// as it stands.
func meant(p unit.Problem) string {
	if p.Column != "" && p.Hint != "" && p.Hint == unit.LookAlike(p.Cell) {
		return p.Hint
	}
	return ""
}

// rawRow is a row set aside as it stands in the file.
func rawRow(l *app.PriceList, line int) string {
	for _, r := range l.Read.AsideRows {
		if r.Line != line {
			continue
		}
		cells := make([]string, len(r.Cells))
		for i, c := range r.Cells {
			cells[i] = c.Text
		}
		return writeRow(cells, l.Read.Mapping.Delimiter)
	}
	return ""
}

func writeRow(cells []string, delimiter string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if d := []rune(delimiter); len(d) == 1 {
		w.Comma = d[0]
	}
	w.Write(cells) // a strings.Builder takes everything
	w.Flush()
	return strings.TrimRight(b.String(), "\r\n")
}

// listFixes are the cells mended here; the file stays as the supplier wrote
// it.
func listFixes(m app.Model, l *app.PriceList) keyed.Item {
	if len(l.Fixes) == 0 {
		return keyed.Item{}
	}
	return keyed.Several(keyed.El("h3", keyed.Text("Mended here; the file stays as it came")), keyed.El("ul", keyed.Class("list"), keyed.Each(l.Fixes, func(f catalog.Fix) keyed.Node {
		k := itoa(f.Line) + "/" + f.Column
		return keyed.Row("li", "fix-"+slug(l.Name+"-"+k), keyed.Class("line"),
			keyed.El("span", keyed.Class("grow"), keyed.Text("Line "+itoa(f.Line)+", "+orNot(f.Column == "", f.Column, "whole row")+": “"+f.Cell+"”")),
			keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press press-quiet"), keyed.Do("list-unfix", l.Name, k), keyed.Attr("aria-label", "Take back line "+itoa(f.Line)+" "+f.Column), keyed.Text("Take back")))
	})))
}

// listNotes are what should be known of rows that were kept.
func listNotes(l *app.PriceList) keyed.Item {
	if l.Read == nil || len(l.Read.Notes) == 0 {
		return keyed.Item{}
	}
	all := l.Read.Notes
	shown := all[:min(len(all), rowsShown)]
	return keyed.Several(keyed.El("h3", keyed.Text("Good to know of rows that were read")),
		keyed.El("ul", keyed.Class("small soft"), keyed.Map(shown, func(p unit.Problem) keyed.Item {
			return keyed.El("li", keyed.Text(joined(", ", orNot(p.Line == 0, "line "+itoa(p.Line), "the file"), p.Column)+": "+problemSays(p)))
		})),
		keyed.If(len(shown) < len(all), part.Note("And "+itoa(len(all)-len(shown))+" more.")))
}
