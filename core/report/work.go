package report

import "strings"

// work writes all lines as one table, so that its head is repeated where a
// page ends.
func (e Estimate) work(w *writer) {
	w.raw(`<table class="paper-work"><caption>The work</caption><thead><tr><th scope="col">Work and parts</th>` +
		`<th scope="col" class="n">Count</th><th scope="col" class="n">Each</th><th scope="col" class="n">`)
	w.text(e.Currency)
	w.raw("</th></tr></thead>")
	for _, g := range e.Groups {
		g.write(w)
	}
	if len(e.Shared) > 0 {
		Group{Work: "Shared by several of the above, counted once", Sum: e.SharedSum, Lines: e.Shared}.write(w)
	}
	w.raw("</table>")
}

func (g Group) write(w *writer) {
	w.raw(`<tbody><tr class="paper-item"><th scope="rowgroup" colspan="3">`)
	w.tag("span", "paper-no", g.ID)
	w.text(sentence(g.Work))
	w.tag("span", "paper-pile", g.Pile)
	w.raw("</th>")
	w.tag("td", "n", g.Sum)
	w.raw("</tr>")
	g.note(w, join(" ", "Found:", g.Seen)+g.basis())
	for _, l := range g.Lines {
		l.write(w)
	}
	for _, r := range g.Ratings {
		g.note(w, r)
	}
	g.note(w, join("; ", g.Look, g.Undo))
	if g.No != "" {
		g.note(w, "If not done: "+g.No)
	}
	w.raw("</tbody>")
}

// note writes a remark across the table; of shared work there is none.
func (g Group) note(w *writer, say string) {
	if g.ID == "" || say == "" {
		return
	}
	w.raw(`<tr class="paper-note"><td colspan="4">`)
	w.text(stopped(say))
	w.raw("</td></tr>")
}

func (g Group) basis() string {
	if g.Basis == "" {
		return ""
	}
	return " (" + g.Basis + ")"
}

func (l Line) write(w *writer) {
	w.raw(`<tr class="paper-line"><td>`)
	w.text(sentence(l.Say))
	if l.State != "" {
		w.tag("span", "paper-state", ", "+l.State)
	}
	w.raw(`</td><td class="n">`)
	w.text(l.Count)
	w.raw(`</td><td class="n">`)
	w.text(l.Each)
	w.raw(`</td><td class="n">`)
	w.text(l.Amount)
	w.raw("</td></tr>")
}

// sentence starts with a capital, but for a symbol such as "µF" or "mA".
func sentence(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// stopped ends with a full stop.
func stopped(s string) string {
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "!") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}
