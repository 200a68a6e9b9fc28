package view

import (
	"path/filepath"
	"strings"
	"testing"

	"lugworth/wasm/app"
	"lugworth/wasm/port"
)

// has fails for each text that a drawing lacks.
func has(t *testing.T, html string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(html, w) {
			t.Errorf("the drawing lacks %q", w)
		}
	}
}

func list(m app.Model, name, text string) app.Model {
	m, effects := app.Update(m, port.FileOpened{Fresh: fresh, Files: []port.File{{Name: name + ".csv", Bytes: []byte(text)}}})
	for len(effects) > 0 {
		e := effects[0]
		effects = effects[1:]
		if s, ok := e.(port.Soon); ok {
			var more []port.Effect
			m, more = app.Update(m, port.Elapsed{Fresh: fresh, Tag: s.Tag})
			effects = append(effects, more...)
		}
	}
	return m
}

// Every awkward list there is can be brought alone: its columns are asked
// about, or what it is instead is said. Taken, its rows are counted.
func TestAwkwardLists(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/lists/*.csv")
	if err != nil || len(paths) < 20 {
		t.Fatalf("%d lists: %v", len(paths), err)
	}
	asked, refused := 0, 0
	for _, p := range paths {
		name := filepath.Base(p)
		t.Run(name, func(t *testing.T) {
			m := brought(t, name)
			html := draws(t, m)
			c := m.Coming()
			if c == nil {
				refused++
				has(t, html, "What could not be used", name)
				return
			}
			asked++
			has(t, html, "What is in each column?", "How the first rows would read", "Nothing of it is taken yet")
			if c.Unclear() {
				has(t, html, "What does the mark in")
				m = press(m, "list-decimal", c.Name, "comma")
			}
			if c.Look.Refused != "" {
				has(t, draws(t, m), "It cannot be read so: ")
				return
			}
			m = press(press(m, "coming-take", c.Name, ""), "list-open", c.Name, "")
			has(t, draws(t, m), " set aside", "How the columns are read")
		})
	}
	if asked < 20 || refused < 3 {
		t.Errorf("%d lists asked, %d refused", asked, refused)
	}
}

func TestMendInSight(t *testing.T) {
	m := press(brought(t, "letter-o.csv"), "coming-take", "letter-o", "")
	has(t, draws(t, press(m, "list-open", "letter-o", "")), "2 rows: 1 read, 1 set aside", "Line 2, column Volts", "is not a number", "It is 450", "How the columns are read")
}

// The first rows read anew at each word about a column, price breaks with
// their numbers of pieces.
func TestColumnsAsk(t *testing.T) {
	m := list(planOf(t, "drover"), "H", "Part;Desc;Price;Trade;25+;Pack;Lead\nH-1;Film 22nF 630V;0,80;0,62;0,55;10;7\nH-2;Film 47nF 63OV;0,90;0,72;0,65;10;7\n")
	has(t, draws(t, m), "What is in each column?", "0.80", "0.55 from 25", "from so many pieces", "comma: 3,10", "not read")
	m, _ = app.Update(m, port.Changed{Where: port.Where{Act: "list-column", ID: "H", K: "3"}, Fresh: fresh, Value: "price"})
	html := draws(t, m)
	has(t, html, "0.62", "As you said", "Propose anew")
	if strings.Contains(html, ">0.80<") {
		t.Error("the price before is still there")
	}
}

// A list of a supplier that is there already says what it changes, the largest
// step first: +7 before +0.5.
func TestChangesShow(t *testing.T) {
	m := list(planOf(t, "drover"), "T", "Number,Description,Price\nT-1,6V6GT pair,54.00\nT-2,12AX7,9.00\nT-3,5Y3GT,18.00\nT-5,EL84,12.00\n")
	m = press(m, "coming-take", "T", "")
	m = list(m, "T", "Number,Description,Price\nT-1,6V6GT pair,61.00\nT-2,12AX7,8.50\nT-4,GZ34,33.00\nT-5,EL84,12.50\n")
	html := draws(t, m)
	has(t, html, "What does the new list change?", "Keep the old one", "Take the new list", "+7.00", "+0.50", "−0.50", "no longer in the list", "Nothing is taken yet")
	if strings.Index(html, "+7.00") > strings.Index(html, "+0.50") {
		t.Error("the smaller step stands first")
	}
}

// Every supplier has a card, with or without terms, and a form that says what
// is wrong beside its cell.
func TestTermsShow(t *testing.T) {
	m := press(list(planOf(t, "drover"), "Holm", "Number,Description,Price\nH-1,Fuse T2A,0.40\n"), "coming-take", "Holm", "")
	m = press(m, "plan-book", "", app.BookTerms)
	has(t, draws(t, m), "No terms: its prices are taken as USD", "Write its terms")
	m = press(m, "terms-open", "Holm", "")
	has(t, draws(t, m), "Currency of the list", "Carriage, in the currency of the list", "Keep these terms")
	m, _ = app.Update(m, port.Submitted{Where: port.Where{Act: "terms", ID: "Holm"}, Fresh: fresh, Fields: []port.Field{{Name: "currency", Value: "krone"}}})
	has(t, draws(t, m), "is no currency code of three letters", "please say: is tax in")
	m, _ = app.Update(m, port.Submitted{Where: port.Where{Act: "terms", ID: "Holm"}, Fresh: fresh, Fields: []port.Field{
		{Name: "currency", Value: "DKK"}, {Name: "rate", Value: "0.15"}, {Name: "tax_in_price", Value: "no"}, {Name: "tax_not_reclaimed", Value: "25"}, {Name: "fee0", Value: "49"}, {Name: "from1", Value: "500"}, {Name: "fee1", Value: "0"}}})
	has(t, draws(t, m), "1 DKK = 0.15 USD", "25 % not reclaimed", "49.00; 0.00 from 500.00")
}
