package report

import (
	_ "embed"
)

// Style is the style of a paper. It stands in each self-contained page, and
// the page's own style sheet holds the same text.
//
//go:embed paper.css
var Style string

// HTML returns the estimate as one self-contained page, print styles in it.
// It never says "from" or "minimum": the total is a maximum for the work
// listed. Pages are numbered and the head of the table is repeated on each.
func (e Estimate) HTML() []byte {
	w := &writer{}
	w.raw(`<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>`)
	w.text("Estimate " + e.Number + " – " + e.Amp)
	w.raw("</title><style>\n" + pages(join(" · ", e.Shop, "Estimate "+e.Number, e.Date)) + bare + Style + "</style></head><body>")
	w.raw(string(e.Article()))
	w.raw("</body></html>\n")
	return []byte(w.String())
}

// bare is what a paper needs where no page is around it.
const bare = "body { margin: 0; background: #efe9dc; }\n.paper { margin: 0 auto; }\n@media print { body { background: none; } }\n"

// pages numbers the pages and names the paper at the foot of each. The paper's
// size is left to the printer: the sheet fits A4 and Letter.
func pages(foot string) string {
	const font = "; font: 9pt Georgia, serif; color: #4c4538; }"
	return "@page { margin: 16mm 17mm 18mm;" +
		" @bottom-left { content: " + cssText(foot) + font +
		` @bottom-right { content: "Page " counter(page) " of " counter(pages)` + font + " }\n"
}

// Article returns the paper alone, without a page around it.
func (e Estimate) Article() []byte {
	w := &writer{}
	w.open("article", "paper")
	e.top(w)
	e.answer(w)
	e.facts(w)
	e.work(w)
	e.sums(w)
	w.list("", "What becomes of the old parts", "", e.OldParts)
	w.list("", "Not part of this estimate", "Found and left as it is. Any of it can be added, at a price agreed first.", e.Declined)
	w.list("", "What stays over a limit or unproven, with the work done",
		"Inherited means: so as made or as found, and not through this work. Not proven means: nothing measured so far shows that it keeps its limit.", e.Standing)
	w.list("", "Terms", "", e.Notes)
	w.list("paper-cautions", "Cautions", "", e.Cautions)
	e.agreed(w)
	e.code(w)
	w.raw("</article>")
	return []byte(w.String())
}

func (e Estimate) top(w *writer) {
	w.open("header", "paper-top")
	w.open("p", "paper-shop")
	w.text(e.Shop)
	w.tag("small", "", join(" · ", e.ShopSays...))
	w.raw("</p>")
	w.open("p", "paper-what")
	w.tag("strong", "", "Estimate "+e.Number)
	w.tag("span", "", join(", ", e.Date, e.Frozen))
	w.tag("span", "", e.Valid)
	w.raw("</p></header>")
}

// answer gives the figure the owner asks for before anything else.
func (e Estimate) answer(w *writer) {
	w.open("section", "paper-answer")
	w.open("div", "")
	w.tag("h1", "", "What is the most it can cost?")
	w.open("p", "paper-most")
	w.text(e.Most + "\u00a0")
	w.tag("small", "", e.Currency+", for the work listed here")
	w.raw("</p></div>")
	w.open("div", "paper-when")
	w.tag("p", "", e.Ceiling)
	w.tag("p", "", e.Ready)
	w.raw("</div>")
	w.raw("</section>")
}

func (e Estimate) facts(w *writer) {
	w.facts([][2]string{
		{"For", join(", ", e.Owner, e.Address, e.Phone)}, {"Amp", e.Amp},
		{"Choice", e.Choice}, {"Serial", e.Serial},
		{"Taken in", e.Receipt}, {"Your supply", e.Mains},
	})
	if e.Complaint != "" {
		w.tag("p", "paper-quote", "“"+e.Complaint+"”")
	}
}

func (e Estimate) sums(w *writer) {
	w.raw(`<table class="paper-sums"><tbody>`)
	for _, s := range e.Sums {
		class := ""
		if s.Strong {
			class = "paper-total"
		}
		w.open("tr", class)
		w.tag("td", "", s.Say)
		w.tag("td", "n", s.Amount)
		w.raw("</tr>")
	}
	w.raw("</tbody></table>")
}

// agreed shows what was agreed, or leaves room for a signature.
func (e Estimate) agreed(w *writer) {
	if len(e.Consents) > 0 {
		w.list("paper-consent", "Agreed", "As recorded at the time. A record of an agreement is never changed, only followed by a later one.", e.Consents)
		return
	}
	w.raw(`<section class="paper-consent"><h2>Agreed</h2><p class="paper-intro">I agree to the work listed and to a sum of at most `)
	w.text(e.Most + " " + e.Currency)
	w.raw(`.</p><p class="paper-sign"><span>`)
	w.text(join(", ", "Signature", e.Owner))
	w.raw("</span><span>Date</span></p></section>")
}

func (e Estimate) code(w *writer) {
	if e.Code == "" {
		return
	}
	w.raw(`<p class="paper-code">Record code <b>`)
	w.text(e.Code)
	w.raw("</b>. It stands for every entry of this job up to now: were one of them changed, it would be another code.</p>")
}
