// Package report puts results into the words and pages that an owner reads.
// It does no arithmetic of its own: every figure arrives as text.
//
//	Estimate{...} → one self-contained HTML page that prints
package report

import (
	"html"
	"strings"
)

// A Line is one printed line of a bill.
type Line struct {
	Say, Count, Each, Amount string
	State                    string // new, used, reconditioned, exchange
}

// A Group is one finding with the work agreed for it.
type Group struct {
	ID, Pile, Seen, Basis  string
	Work                   string
	Look, Undo, Disclosure string
	No                     string
	Lines                  []Line
	Ratings                []string // "C1a dc volts: within, inside by 11.0 %"
}

// A Sum is one line of the totals.
type Sum struct {
	Say, Amount string
	Strong      bool
}

// An Estimate is a written estimate.
type Estimate struct {
	Shop, Number, Date, Choice          string
	Owner, Address, Phone, Complaint    string
	Amp, Serial, Mains                  string
	Groups                              []Group
	Shared                              []Line
	Sums                                []Sum
	Ready, Ceiling                      string
	Notes, Standing, Cautions, Declined []string
	Code                                string
}

// HTML returns the estimate as one self-contained page, print styles in it.
// It never says "from" or "minimum": the total is a maximum for the work
// listed.
func (e Estimate) HTML() []byte {
	w := &writer{}
	w.raw("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,initial-scale=1\"><title>")
	w.text("Estimate " + e.Number + " – " + e.Amp)
	w.raw("</title><style>" + paperStyle + "</style></head><body><main>")
	e.head(w)
	for _, g := range e.Groups {
		g.write(w)
	}
	table(w, "Shared work, counted once", e.Shared)
	e.sums(w)
	list(w, "What the amp bears", e.Standing)
	list(w, "Not part of this estimate", e.Declined)
	list(w, "Terms", e.Notes)
	list(w, "Cautions", e.Cautions)
	if e.Code != "" {
		w.tag("p", "code", "Record code "+e.Code)
	}
	w.raw("</main></body></html>\n")
	return []byte(w.String())
}

func (e Estimate) head(w *writer) {
	w.raw("<header>")
	w.tag("p", "shop", e.Shop)
	w.tag("h1", "", "What is the most it can cost?")
	w.raw("<dl>")
	for _, d := range [][2]string{{"Estimate", e.Number}, {"Date", e.Date}, {"Choice", e.Choice}, {"For", join(", ", e.Owner, e.Address, e.Phone)},
		{"Amp", e.Amp}, {"Serial", e.Serial}, {"Owner's words", quoted(e.Complaint)}, {"Owner's mains", e.Mains}, {"Ready", e.Ready}, {"Agreed ceiling", e.Ceiling}} {
		if d[1] == "" {
			continue
		}
		w.tag("dt", "", d[0])
		w.tag("dd", "", d[1])
	}
	w.raw("</dl></header>")
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return "“" + s + "”"
}

func join(sep string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, sep)
}

func (g Group) write(w *writer) {
	w.raw("<section>")
	w.tag("h2", "", g.ID+" "+g.Work)
	w.tag("p", "seen", join(" · ", g.Pile, g.Seen+g.basis()))
	table(w, "", g.Lines)
	if s := join(" · ", g.Look, g.Undo); s != "" {
		w.tag("p", "look", s)
	}
	for _, r := range g.Ratings {
		w.tag("p", "rating", r)
	}
	if g.No != "" {
		w.tag("p", "no", "If not done: "+g.No)
	}
	w.raw("</section>")
}

func (g Group) basis() string {
	if g.Basis == "" {
		return ""
	}
	return " (" + g.Basis + ")"
}

func table(w *writer, title string, lines []Line) {
	if len(lines) == 0 {
		return
	}
	if title != "" {
		w.tag("h2", "", title)
	}
	w.raw("<table><thead><tr><th>Item</th><th>Count</th><th>Each</th><th>Amount</th></tr></thead><tbody>")
	for _, l := range lines {
		w.raw("<tr>")
		w.tag("td", "", join(", ", l.Say, l.State))
		w.tag("td", "n", l.Count)
		w.tag("td", "n", l.Each)
		w.tag("td", "n", l.Amount)
		w.raw("</tr>")
	}
	w.raw("</tbody></table>")
}

func (e Estimate) sums(w *writer) {
	w.raw("<section><h2>Totals</h2><table class=\"sums\"><tbody>")
	for _, s := range e.Sums {
		class := ""
		if s.Strong {
			class = " class=\"strong\""
		}
		w.raw("<tr" + class + ">")
		w.tag("td", "", s.Say)
		w.tag("td", "n", s.Amount)
		w.raw("</tr>")
	}
	w.raw("</tbody></table></section>")
}

func list(w *writer, title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.raw("<section>")
	w.tag("h2", "", title)
	w.raw("<ul>")
	for _, l := range lines {
		w.tag("li", "", l)
	}
	w.raw("</ul></section>")
}

type writer struct{ strings.Builder }

func (w *writer) raw(s string) { w.WriteString(s) }

func (w *writer) text(s string) { w.WriteString(html.EscapeString(s)) }

func (w *writer) tag(name, class, text string) {
	w.raw("<" + name)
	if class != "" {
		w.raw(" class=\"" + class + "\"")
	}
	w.raw(">")
	w.text(text)
	w.raw("</" + name + ">")
}

// paperStyle is the print style of every paper: one column, ruled lines,
// figures that line up, heads repeated and pages numbered.
const paperStyle = `
@page{margin:18mm 16mm;@bottom-right{content:counter(page) " / " counter(pages);font:9pt sans-serif}}
body{font:11pt/1.45 Georgia,"Times New Roman",serif;color:#1c1a16;background:#fff;margin:0}
main{max-width:46rem;margin:0 auto;padding:1.5rem}
h1{font-size:1.5rem;margin:.2rem 0 1rem;font-weight:600}
h2{font-size:1.05rem;margin:1.3rem 0 .3rem;border-bottom:1px solid #1c1a16;break-after:avoid}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1.2rem;margin:0}
dt{color:#4a463d}dd{margin:0}
table{width:100%;border-collapse:collapse;margin:.3rem 0}
thead{display:table-header-group}
th{text-align:left;font-weight:400;color:#4a463d;border-bottom:1px solid #8a8474}
td{padding:.15rem .4rem .15rem 0;border-bottom:1px solid #d8d2c2;vertical-align:top}
td.n,th:not(:first-child){text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
tr{break-inside:avoid}tr.strong td{font-weight:700;border-bottom:2px solid #1c1a16}
.sums{max-width:26rem;margin-left:auto}
p{margin:.2rem 0}.seen,.look,.rating{color:#4a463d}.shop{font-variant:small-caps;letter-spacing:.05em}
.code{margin-top:2rem;font-variant-numeric:tabular-nums}
ul{padding-left:1.2rem;margin:.3rem 0}section{break-inside:auto}
`
