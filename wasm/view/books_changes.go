package view

import (
	"lugworth/core/catalog"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// changesOf shows what a new list of a supplier changes, before it is taken.
func changesOf(m app.Model, c *app.Coming) []keyed.Node {
	id, d := slug(c.Name), c.Digest
	return []keyed.Node{
		keyed.Row("section", app.AskID, keyed.Class("list-ask"), keyed.Attr("tabindex", "-1"), part.Question("What does the new list change?", changesUnder(m, c)),
			part.Presses(part.Press("main", orNot(c.Again, "Take the new list", "Read it so"), "coming-take", c.Name), part.Press("", "Keep the old one", "coming-drop", c.Name))),
		quotesBroken(m, c),
		keyed.Row("section", "changes-count-"+id, keyed.Class("card list-tally"), part.Facts(
			part.Fact("Dearer", keyed.Text(itoa(d.Dearer.Count))), part.Fact("Cheaper", keyed.Text(itoa(d.Cheaper.Count))),
			part.Fact("No longer in the list", keyed.Text(itoa(d.Gone.Count))), part.Fact("New in the list", keyed.Text(itoa(d.Added.Count))),
			part.Fact("Changed otherwise", keyed.Text(itoa(d.Other.Count))), part.Fact("The same", keyed.Text(itoa(d.Same))))),
		priceChanges("dearer-"+id, "Dearer, the largest step first", c, d.Dearer),
		priceChanges("cheaper-"+id, "Cheaper, the largest step first", c, d.Cheaper),
		otherChanges("gone-"+id, "No longer in the list", d.Gone),
		otherChanges("added-"+id, "New in the list", d.Added),
		otherChanges("other-"+id, "Changed otherwise", d.Other)}
}

func changesUnder(m app.Model, c *app.Coming) string {
	s := "List " + c.Name + ", " + countsOf(c) + "."
	if c.Again {
		return s + " The file is the same, its columns are read another way. Nothing is taken yet."
	}
	return s + " Nothing is taken yet: until then the old list counts."
}

func priceChanges(key, caption string, c *app.Coming, s app.Sort) keyed.Node {
	cols := []part.Col{{Say: "Part number"}, {Say: "What it is", Wide: true}, {Say: "Was", Num: true}, {Say: "Is", Num: true}, {Say: "Step", Num: true}}
	if s.Count == 0 {
		return keyed.Row("div", key)
	}
	return keyed.Row("section", key, keyed.Class("card"), part.Table(caption+", prices each in "+c.Read.Currency, cols, keyed.Each(s.Top, func(o catalog.Change) keyed.Node {
		return part.TR(key+"-"+slug(o.Number), cols, keyed.El("b", keyed.Text(o.Number)), whatItIs(o.Is), keyed.Text(moneyText(o.Was.Price, o.Was.Currency)), keyed.Text(moneyText(o.Is.Price, o.Is.Currency)), keyed.Text(stepSays(o)))
	}), keyed.Item{}), moreChanges(s))
}

// stepSays is by how much a price moved, with its sign.
func stepSays(o catalog.Change) string {
	if o.By.Sign() > 0 {
		return "+" + moneyText(o.By, o.Is.Currency)
	}
	return "−" + moneyText(o.By, o.Is.Currency)[1:]
}

func otherChanges(key, caption string, s app.Sort) keyed.Node {
	cols := []part.Col{{Say: "Part number"}, {Say: "What it is", Wide: true}, {Say: "What changed", Wide: true}}
	if s.Count == 0 {
		return keyed.Row("div", key)
	}
	return keyed.Row("section", key, keyed.Class("card"), part.Table(caption, cols, keyed.Each(s.Top, func(o catalog.Change) keyed.Node {
		offer := o.Is
		if offer == nil {
			offer = o.Was
		}
		return part.TR(key+"-"+slug(o.Number), cols, keyed.El("b", keyed.Text(o.Number)), whatItIs(offer), keyed.El("span", keyed.Class("small"), keyed.Text(joined("; ", o.Says()...))))
	}), keyed.Item{}), moreChanges(s))
}

func moreChanges(s app.Sort) keyed.Item {
	return keyed.If(s.Count > len(s.Top), part.Note("And "+itoa(s.Count-len(s.Top))+" more."))
}
