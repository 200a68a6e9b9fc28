package view

import (
	"slices"

	"lugworth/core/catalog"
	"lugworth/wasm/app"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// termsBook is what each supplier's prices mean to the shop, one supplier a
// card, to be written in place.
func termsBook(m app.Model) []keyed.Node {
	b, err := m.TermsBook()
	if err != nil {
		return []keyed.Node{keyed.Row("section", "terms", keyed.Class("card"), keyed.El("p", keyed.Class("plan-problem"), keyed.Text(err.Error())))}
	}
	names := m.Suppliers()
	if len(names) == 0 {
		return []keyed.Node{keyed.Row("section", "terms", part.Empty("No suppliers yet", "Terms say for each price list its currency, your rate, the tax you cannot reclaim, the least order and the carriage. Bring a price list first: its terms are written here.",
			"K, USD, 1, no, 0", part.Press("main", "Bring files", "open-file", "")))}
	}
	out := []keyed.Node{keyed.Row("section", "terms", part.Note("Rates are yours: what you pay for one unit of the list's currency. Nothing is looked up."))}
	for _, name := range names {
		out = append(out, termsCard(m, b, name))
	}
	return out
}

func termsCard(m app.Model, b catalog.TermsBook, name string) keyed.Node {
	terms := m.Open.Books.Terms
	i := slices.IndexFunc(terms, func(t catalog.Terms) bool { return t.List == name })
	open := m.Screen.Desk.Terms.List == name
	off := m.Shop.Demo || m.ReadOnly() != ""
	say := keyed.El("p", keyed.Class("plan-problem"), keyed.Text("No terms: its prices are taken as "+m.Open.Books.Sheet.Currency.Code+", nothing added, and its carriage is not known."))
	if _, row := b.Get(name, "list"); row && i < 0 {
		say = keyed.El("p", keyed.Class("plan-problem"), keyed.Text("Its terms cannot be read, so its prices mean nothing yet: see what stands in them."))
	}
	if i >= 0 {
		say = termsFacts(terms[i], m.Open.Books.Sheet.Currency.Code)
	}
	word := orNot(i < 0, "Change", "Write its terms")
	if open {
		word = "Close"
	}
	return keyed.Row("section", "terms-"+slug(name), keyed.Class("card"),
		keyed.El("div", keyed.Class("line"), keyed.El("h2", keyed.Class("grow"), keyed.Text(name)),
			keyed.If(!off, keyed.El("button", keyed.Attr("type", "button"), keyed.Class("press"), keyed.Do("terms-open", name), keyed.Live("aria-expanded", pressedWord(open)), keyed.Attr("aria-label", word+", "+name), keyed.Text(word)))),
		say, keyed.If(open, termsForm(m, b, name)))
}

func termsFacts(t catalog.Terms, home string) keyed.Item {
	rate := "1 " + t.Currency + " = " + t.Rate.String() + " " + home
	if t.Currency == home {
		rate = t.Currency
	}
	return keyed.El("div", keyed.Class("list-tally"), part.Facts(
		part.Fact("Rate", keyed.Text(rate)), part.Fact("Rate is of", keyed.Text(orNot(t.RateDate == "", t.RateDate, orNot(t.Currency == home, "not stated", "–")))),
		part.Fact("Tax", keyed.Text(taxSays(t))), part.Fact("Least order", keyed.Text(orNot(t.MinOrder.IsZero(), moneyText(t.MinOrder, t.Currency), "none"))),
		part.Fact("Carriage", keyed.Text(termsCarriage(t)))))
}

func taxSays(t catalog.Terms) string {
	switch {
	case t.TaxInPrice:
		return "in the price"
	case t.TaxNotReclaimed.IsZero():
		return "none, or reclaimed"
	}
	return t.TaxNotReclaimed.String() + " % not reclaimed"
}

func termsCarriage(t catalog.Terms) string {
	var w []string
	for _, s := range t.Carriage {
		fee := moneyText(s.Fee, t.Currency)
		if !s.From.IsZero() {
			fee += " from " + moneyText(s.From, t.Currency)
		}
		w = append(w, fee)
	}
	return orNot(len(w) == 0, joined("; ", w...), "not stated")
}

// termsForm asks for the terms of one supplier.
func termsForm(m app.Model, b catalog.TermsBook, name string) keyed.Item {
	home := m.Open.Books.Sheet.Currency.Code
	f := termsFields{m: m, b: b, list: name}
	currency := f.field("currency", "Currency of the list", "a code such as EUR", false)
	rate := f.field("rate", "One unit of it costs you, in "+home, "1 where it is your own currency", true)
	tax := f.field("tax_in_price", "Is tax in its prices?", "", false)
	tax.Options = []keyed.Option{{Value: "", Say: "please say"}, {Value: "no", Say: "no: prices are before tax"}, {Value: "yes", Say: "yes: the price is what is paid"}}
	stays := f.field("tax_not_reclaimed", "Tax that stays with you", "0 where you reclaim all of it", true)
	stays.Unit = "%"
	mark := f.field("decimal", "Decimal mark of the list", "", false)
	mark.Options = []keyed.Option{{Value: "", Say: "as the list itself tells"}, {Value: "point", Say: "point: 3.10"}, {Value: "comma", Say: "comma: 3,10"}}
	return keyed.El("form", keyed.Class("list-terms"), keyed.Do("terms", name),
		keyed.El("div", keyed.Class("fields"), currency.Item(), rate.Item(), f.field("rate_date", "The rate is of", "the day, 2026-01-05", false).Item(),
			tax.Item(), stays.Item(), mark.Item(), f.field("min_order", "Least order, goods", "nothing where there is none", true).Item()),
		keyed.El("h3", keyed.Text("Carriage, in the currency of the list")),
		keyed.El("p", keyed.Class("soft small"), keyed.Text("What one parcel costs, by the goods in it. Left open, orders count it as nothing and say so. 0 is free.")),
		keyed.El("div", keyed.Class("list-steps"), f.steps()),
		part.Presses(keyed.El("button", keyed.Attr("type", "submit"), keyed.Class("press press-main"), keyed.Text("Keep these terms")), part.Press("quiet", "Leave them", "terms-open", name)))
}

type termsFields struct {
	m    app.Model
	b    catalog.TermsBook
	list string
}

func (f termsFields) field(column, label, hint string, number bool) part.Field {
	is, _ := f.b.Get(f.list, column)
	return f.named(column, label, hint, is, number)
}

func (f termsFields) named(name, label, hint, is string, number bool) part.Field {
	form := app.TermsFormOf(f.list)
	return part.Field{ID: "terms-" + name, Label: label, Hint: hint, Value: f.m.Draft("draft", form, name, is), Act: "draft", For: form, K: name, Name: name, Number: number,
		Problem: f.m.Screen.Desk.Terms.Wrong[name]}
}

// steps are the carriage of a small order, and from which goods value on it
// is another.
func (f termsFields) steps() keyed.Item {
	cell, _ := f.b.Get(f.list, "carriage")
	fees, froms := app.ReadCarriage(cell)
	first := f.named("fee0", "Of any order", "", fees[0], true)
	first.Problem = f.m.Screen.Desk.Terms.Wrong["carriage"]
	items := []keyed.Item{first.Item()}
	for i := 1; i <= max(app.CarriageSteps, len(fees)); i++ {
		fee, from, n := "", "", itoa(i)
		if i < len(fees) {
			fee, from = fees[i], froms[i]
		}
		items = append(items, keyed.El("div", keyed.Class("list-step"),
			f.named("from"+n, "From goods of", "", from, true).Item(), f.named("fee"+n, "it is", "", fee, true).Item()))
	}
	return keyed.Several(items...)
}
