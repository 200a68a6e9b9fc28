package report

// A Sheet is a paper beside the estimate: what is to be done at the bench, what
// the owner decides, what hangs on a bag.
type Sheet struct {
	Shop, What   string // "Job sheet"
	Number, Date string
	Question     string // the question it answers
	Facts        [][2]string
	Blocks       []Block
	Labels       []Label
	Cautions     []string
	Code         string
}

// A Block is one finding, or one heading, of a sheet.
type Block struct {
	ID, Head, Pile string
	Notes          []string
	Cols           []string // heads of Rows; the last is set to the right
	Rows           [][]string
	Boxes          []string // to be ticked by hand: "yes", "no", "think"
	Lines          []string // to be filled in by hand: "Hours"
}

// A Label hangs on a bag or a box.
type Label struct {
	Head  string // job and finding, to be read at arm's length
	Say   string // what is in it
	Lines []string
}

// HTML returns the sheet as one self-contained page.
func (s Sheet) HTML() []byte {
	w := &writer{}
	w.raw(`<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>`)
	w.text(join(" ", s.What, s.Number))
	w.raw("</title><style>\n" + pages(join(" · ", s.Shop, join(" ", s.What, s.Number), s.Date)) + bare + Style + "</style></head><body>")
	w.raw(string(s.Article()))
	w.raw("</body></html>\n")
	return []byte(w.String())
}

// Article returns the sheet alone, without a page around it.
func (s Sheet) Article() []byte {
	w := &writer{}
	w.open("article", "paper")
	s.top(w)
	w.facts(s.Facts)
	for _, b := range s.Blocks {
		b.write(w)
	}
	s.labels(w)
	w.list("paper-cautions", "Cautions", "", s.Cautions)
	Estimate{Code: s.Code}.code(w)
	w.raw("</article>")
	return []byte(w.String())
}

func (s Sheet) top(w *writer) {
	w.open("header", "paper-top")
	w.tag("p", "paper-shop", s.Shop)
	w.open("p", "paper-what")
	w.tag("strong", "", join(" ", s.What, s.Number))
	w.tag("span", "", s.Date)
	w.raw("</p></header>")
	if s.Question != "" {
		w.open("section", "paper-answer")
		w.tag("h1", "", s.Question)
		w.raw("</section>")
	}
}

func (b Block) write(w *writer) {
	w.open("section", "paper-block")
	w.open("h2", "")
	w.tag("span", "paper-no", b.ID)
	w.text(sentence(b.Head))
	w.tag("span", "paper-pile", b.Pile)
	w.raw("</h2>")
	for _, n := range b.Notes {
		if n != "" {
			w.tag("p", "", stopped(n))
		}
	}
	b.table(w)
	if len(b.Boxes)+len(b.Lines) > 0 {
		w.open("p", "paper-boxes")
		for _, x := range b.Boxes {
			w.tag("span", "paper-box", x)
		}
		for _, l := range b.Lines {
			w.tag("span", "paper-fill", l)
		}
		w.raw("</p>")
	}
	w.raw("</section>")
}

func (b Block) table(w *writer) {
	if len(b.Rows) == 0 {
		return
	}
	w.raw(`<table class="paper-work"><thead><tr>`)
	for i, c := range b.Cols {
		w.raw(`<th scope="col"` + last(i, b.Cols) + ">")
		w.text(c)
		w.raw("</th>")
	}
	w.raw("</tr></thead><tbody>")
	for _, r := range b.Rows {
		w.raw("<tr>")
		for i, c := range r {
			w.raw("<td" + last(i, b.Cols) + ">")
			w.text(c)
			w.raw("</td>")
		}
		w.raw("</tr>")
	}
	w.raw("</tbody></table>")
}

func last(i int, of []string) string {
	if i == len(of)-1 {
		return ` class="n"`
	}
	return ""
}

func (s Sheet) labels(w *writer) {
	if len(s.Labels) == 0 {
		return
	}
	w.open("div", "paper-labels")
	for _, l := range s.Labels {
		w.open("section", "paper-label")
		w.tag("h2", "", l.Head)
		w.tag("p", "paper-label-say", l.Say)
		for _, x := range l.Lines {
			w.tag("p", "", x)
		}
		w.raw("</section>")
	}
	w.raw("</div>")
}
