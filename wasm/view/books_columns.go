package view

import (
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/money"
	"lugworth/core/unit"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// previewShown is how many of the first rows are laid out.
const previewShown = 3

// columnsOf asks what is in each column of a list, and shows how its first
// rows would read.
func columnsOf(m app.Model, c *app.Coming) []keyed.Node {
	id := slug(c.Name)
	return []keyed.Node{
		keyed.Row("section", app.AskID, keyed.Class("list-ask"), keyed.Attr("tabindex", "-1"), part.Question("What is in each column?", columnsUnder(c)),
			keyed.If(c.Look.Refused != "", keyed.El("p", keyed.Class("plan-problem"), keyed.Attr("role", "alert"), keyed.Text("It cannot be read so: "+c.Look.Refused))),
			decimalAsked(c),
			columnPresses(c)),
		keyed.Row("section", "preview-"+id, keyed.Class("card"), previewTable(c)),
		keyed.Row("section", "columns-table-"+id, keyed.Class("card list-columns"), columnTable(m, c),
			keyed.El("div", keyed.Class("fields"), decimalField(c), priceForField(c)))}
}

func columnsUnder(c *app.Coming) string {
	under := "Proposed from the headings and the first rows."
	switch n := c.Look.Asks(); {
	case n > 0:
		under = count(n, "column") + " could be read in two ways: please say."
	case c.Mapping != nil:
		under = "As you said. It will serve the next file of this supplier too."
	}
	if c.Again {
		return "List " + c.Name + ". " + under
	}
	return "List " + c.Name + ", just brought. " + under + " Nothing of it is taken yet."
}

func columnPresses(c *app.Coming) keyed.Item {
	take, drop := "Read it so", "Leave this list"
	if c.Again {
		drop = "Leave it as it was"
	}
	return part.Presses(
		part.Press("main", take, "coming-take", c.Name, keyed.Flag("disabled", c.Look.Refused != "" || c.Unclear())),
		keyed.If(c.Mapping != nil, part.Press("quiet", "Propose anew", "list-forget", c.Name)),
		part.Press("quiet", drop, "coming-drop", c.Name))
}

// decimalAsked stands where nothing tells what a mark in the prices means.
func decimalAsked(c *app.Coming) keyed.Item {
	if !c.Unclear() {
		return keyed.Item{}
	}
	cell := unclearPrice(c)
	point, comma := strings.ReplaceAll(cell, ",", ""), strings.ReplaceAll(strings.ReplaceAll(cell, ".", ""), ",", ".")
	return keyed.El("div", keyed.Class("card list-asked"), keyed.El("h2", keyed.Text("What does the mark in “"+cell+"” mean?")),
		keyed.El("p", keyed.Class("soft"), keyed.Text("The prices tell it nowhere, and it is not guessed: a price a thousand times off would go unseen.")),
		part.BigChips("What the mark in "+cell+" means", "list-decimal", c.Name, "",
			part.Chip{Value: "point", Say: point, Note: "the point parts decimals"}, part.Chip{Value: "comma", Say: comma, Note: "the comma parts decimals"}))
}

func unclearPrice(c *app.Coming) string {
	for _, r := range c.Look.Rows {
		for i, cell := range r.Cells {
			if i < len(c.Look.Columns) && (c.Look.Columns[i].Field == catalog.FieldPrice || c.Look.Columns[i].Field == catalog.FieldBreak) && strings.ContainsAny(cell.Text, ".,") {
				return strings.TrimSpace(cell.Text)
			}
		}
	}
	return ""
}

func decimalField(c *app.Coming) keyed.Item {
	return part.Field{ID: "decimal-" + slug(c.Name), Label: "Decimal mark", Value: c.Look.Mapping.Decimal, Act: "list-decimal", For: c.Name, Hint: "What the supplier's terms say goes first",
		Options: []keyed.Option{{Value: "", Say: "not known"}, {Value: "point", Say: "point: 3.10"}, {Value: "comma", Say: "comma: 3,10"}}}.Item()
}

func priceForField(c *app.Coming) keyed.Item {
	return part.Field{ID: "for-" + slug(c.Name), Label: "Prices are for", Value: itoa(max(c.Look.Mapping.PriceFor, 1)), Act: "list-for", For: c.Name,
		Options: []keyed.Option{{Value: "1", Say: "one piece"}, {Value: "10", Say: "10 pieces"}, {Value: "100", Say: "100 pieces"}, {Value: "1000", Say: "1000 pieces"}}}.Item()
}

// previewTable is how the first rows would read.
func previewTable(c *app.Coming) keyed.Item {
	cols := []part.Col{{Say: "Line", Num: true}, {Say: "Part number"}, {Say: "What it is", Wide: true}, {Say: "Price each", Num: true}, {Say: "From more pieces", Num: true},
		{Say: "Pack", Num: true}, {Say: "Days", Num: true}, {Say: "In stock", Num: true}}
	offers := c.Look.Offers[:min(len(c.Look.Offers), previewShown)]
	if len(offers) == 0 {
		return keyed.Several(keyed.El("h2", keyed.Text("How the first rows would read")), part.Note("None of the first rows can be read so."), asideSays(c))
	}
	return keyed.Several(
		part.Table("How the first rows would read", cols, keyed.Each(offers, func(o catalog.Offer) keyed.Node {
			return part.TR("reads-"+slug(c.Name)+"-"+itoa(o.Line), cols, keyed.Text(itoa(o.Line)), keyed.El("b", keyed.Text(o.Number)), whatItIs(&o), priceSays(&o), keyed.Text(breaksSay(&o)),
				keyed.Text(itoa(o.Pack)), keyed.Text(orNot(o.LeadDays < 0, itoa(o.LeadDays), "–")), keyed.Text(stockSays(&o)))
		}), keyed.Item{}),
		asideSays(c))
}

func whatItIs(o *catalog.Offer) keyed.Item {
	is := joined(" ", o.Part.Kind.String(), o.Part.Tube, orNot(o.Part.Count < 2, "× "+itoa(o.Part.Count), ""), o.Part.Spec.Canonical(), o.Part.Form.String())
	return keyed.El("div", keyed.El("div", keyed.Text(is)), keyed.If(o.Text != "", keyed.El("div", keyed.Class("soft small"), keyed.Text(o.Text))))
}

func priceSays(o *catalog.Offer) keyed.Item {
	if !o.Priced {
		return keyed.Text("no price")
	}
	return part.Money(moneyText(o.Price, o.Currency), o.Currency)
}

// moneyText is an amount with at least as many decimals as its currency has.
func moneyText(d money.Decimal, currency string) string {
	s := d.String()
	c, err := money.CurrencyOf(currency)
	if err != nil || c.Exponent == 0 {
		return s
	}
	whole, decimals, _ := strings.Cut(s, ".")
	return whole + "." + decimals + strings.Repeat("0", max(0, c.Exponent-len(decimals)))
}

func breaksSay(o *catalog.Offer) string {
	var w []string
	for _, b := range o.Breaks {
		w = append(w, moneyText(b.Price, o.Currency)+" from "+itoa(b.Pieces))
	}
	return orNot(len(w) == 0, joined(", ", w...), "–")
}

func stockSays(o *catalog.Offer) string {
	switch {
	case o.StockPacks >= 0:
		return itoa(o.StockPacks * o.Pack)
	case o.StockSays != "":
		return o.StockSays
	}
	return "–"
}

// asideSays are the first rows that would be set aside, with the reason.
func asideSays(c *app.Coming) keyed.Item {
	return keyed.Several(remarks("Of the first rows these would be set aside, to be mended afterwards", c.Look.Aside), remarks("Good to know of the first rows", c.Look.Notes))
}

func remarks(heading string, all []unit.Problem) keyed.Item {
	return keyed.If(len(all) > 0, keyed.El("h2", keyed.Class("list-remark"), keyed.Text(heading)),
		keyed.El("ul", keyed.Class("small"), keyed.Map(all[:min(len(all), previewShown)], func(p unit.Problem) keyed.Item {
			return keyed.El("li", keyed.Text(joined(", ", orNot(p.Line == 0, "line "+itoa(p.Line), "the file"), p.Column)+": "+problemSays(p)))
		})))
}

// columnTable is each column with its first cells, what it is read as, and
// why.
func columnTable(m app.Model, c *app.Coming) keyed.Item {
	cols := []part.Col{{Say: "Heading"}, {Say: "First cells"}, {Say: "Read as"}, {Say: "Why", Wide: true}}
	order := make([]int, len(c.Look.Columns))
	for i := range order {
		order[i] = i
	}
	return part.Table("Columns of "+c.Name, cols, keyed.Each(order, func(i int) keyed.Node {
		p := c.Look.Columns[i]
		key := "col-" + slug(c.Name) + "-" + itoa(i)
		return part.TR(key, cols, keyed.El("b", keyed.Text(headingSays(p, i))), keyed.El("span", keyed.Class("small"), keyed.Text(joined(" · ", p.Cells...))), columnField(m, c, p, i, key), columnWhy(p))
	}), keyed.Item{})
}

func headingSays(p catalog.Proposed, i int) string {
	return orNot(p.Heading == "", p.Heading, "column "+itoa(i+1))
}

func columnField(m app.Model, c *app.Coming, p catalog.Proposed, i int, key string) keyed.Item {
	k := itoa(i)
	field := part.Field{ID: key + "-field", Label: "Read " + headingSays(p, i) + " as", Value: string(p.Field), Act: "list-column", For: c.Name, K: k, Options: fieldOptions()}
	bare := keyed.El("div", keyed.Class("bare"), field.Item())
	if p.Field != catalog.FieldBreak {
		return bare
	}
	from := part.Field{ID: key + "-from", Label: "from so many pieces", Value: m.Draft("list-from", c.Name, k, itoa(p.From)), Act: "list-from", For: c.Name, K: k, Number: true}
	return keyed.Several(bare, from.Item())
}

func columnWhy(p catalog.Proposed) keyed.Item {
	could := make([]string, len(p.Could))
	for i, f := range p.Could {
		could[i] = f.Says()
	}
	why := p.Why
	if len(could) > 0 {
		why += "; could be the " + joined(" or the ", could...)
	}
	class := "list-sure"
	if p.Sure == catalog.Ask || p.Sure == catalog.Guess {
		class = "list-sure is-open"
	}
	return keyed.El("div", keyed.El("b", keyed.Class(class), keyed.Text(string(p.Sure))), keyed.Text(" "), keyed.El("span", keyed.Class("small soft"), keyed.Text(why)))
}

func fieldOptions() []keyed.Option {
	out := make([]keyed.Option, len(catalog.Fields))
	for i, f := range catalog.Fields {
		out[i] = keyed.Option{Value: string(f), Say: orNot(f == catalog.Ignored, f.Says(), "not read")}
	}
	return out
}

// listColumns says how the columns of a kept list are read, and opens the
// question.
func listColumns(m app.Model, l *app.PriceList) keyed.Item {
	if l.Read == nil {
		return keyed.Item{}
	}
	var w []string
	for _, c := range l.Read.Mapping.Columns {
		if c.Field != catalog.Ignored {
			w = append(w, orNot(c.Field == catalog.FieldBreak, c.Heading+" = "+c.Field.Says(), c.Heading+" = price from "+itoa(c.From)))
		}
	}
	kept := "Proposed from the headings and the first rows."
	if l.Mapping != nil {
		kept = "As you said: it serves the next file of this supplier too."
	}
	return keyed.Several(keyed.El("h3", keyed.Text("How the columns are read")), keyed.El("p", keyed.Class("small"), keyed.Text(joined(" · ", w...))), keyed.El("p", keyed.Class("soft"), keyed.Text(kept)),
		keyed.If(!m.Shop.Demo && m.ReadOnly() == "", part.Presses(part.Press("", "What is in each column?", "list-columns", l.Name))))
}
