package view

import (
	"encoding/csv"
	"fmt"
	"slices"
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
		items = append(items, keyed.El("div", keyed.Class("line"), keyed.El("p", keyed.Class("plan-problem grow"), keyed.Text("Reading was stopped: nothing of the file counts until it is read.")), part.Press("", "Read it all", "import-go", l.Name)))
	}
	items = append(items, listTold(m, l))
	if open && !m.Shop.Demo && m.ReadOnly() == "" && !slices.ContainsFunc(m.Open.Books.Terms, func(t catalog.Terms) bool { return t.List == l.Name }) {
		items = append(items, part.Presses(part.Press("", "Write its terms", "terms-open", l.Name)))
	}
	if open {
		items = append(items, listColumns(m, l), listProblems(m, l), listFixes(m, l), listNotes(l))
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
	if l.Unpriced > 0 {
		s += fmt.Sprintf(" · %d without a price", l.Unpriced)
	}
	return joined(" · ", s, r.Currency, count2(len(l.Fixes), "cell", "mended"))
}

func count2(n int, of, did string) string {
	if n == 0 {
		return ""
	}
	return count(n, of) + " " + did
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
