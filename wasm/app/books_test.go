package app

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lugworth/core/catalog"
	"lugworth/wasm/port"
)

func freshAs(n int) port.Fresh {
	return port.Fresh{At: "2026-03-02T10:00:00+01:00", Date: "2026-03-02", NewID: fmt.Sprint("b", n), Salt: fmt.Sprintf("%032x", n)}
}

// bring opens files as a person does and lets imports run to their end.
func bring(m Model, files ...port.File) (Model, []port.Effect) {
	m, effects := Update(m, port.FileOpened{Fresh: freshAs(len(m.Shop.Files)), Files: files})
	return settle(m, effects)
}

// settle answers every After and Soon with Elapsed, as the browser does.
func settle(m Model, effects []port.Effect) (Model, []port.Effect) {
	var all []port.Effect
	for len(effects) > 0 {
		e := effects[0]
		effects = effects[1:]
		if tag := tagged(e); tag != "" {
			var more []port.Effect
			m, more = Update(m, port.Elapsed{Fresh: freshAs(900), Tag: tag})
			effects = append(effects, more...)
			continue
		}
		all = append(all, e)
	}
	return m, all
}

func tagged(e port.Effect) string {
	switch e := e.(type) {
	case port.After:
		return e.Tag
	case port.Soon:
		return e.Tag
	}
	return ""
}

// taking brings files and agrees to all that is asked of them.
func taking(m Model, files ...port.File) (Model, []port.Effect) {
	m, all := bring(m, files...)
	for m.Coming() != nil {
		var effects []port.Effect
		m, effects = press(m, "coming-take", m.Coming().Name, "", "")
		m, effects = settle(m, effects)
		all = append(all, effects...)
	}
	return m, all
}

func press(m Model, act, id, k, value string) (Model, []port.Effect) {
	return Update(m, port.Pressed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: freshAs(500), Value: value})
}

func change1(m Model, act, id, k, value string) (Model, []port.Effect) {
	return Update(m, port.Changed{Where: port.Where{Act: act, ID: id, K: k}, Fresh: freshAs(501), Value: value})
}

func saved(effects []port.Effect) (lists []port.List) {
	for _, e := range effects {
		if s, ok := e.(port.SaveList); ok {
			lists = append(lists, s.List)
		}
	}
	return lists
}

const letterO = "SKU,Description,Value,Volts,Price\nA-1,Film,22nF,45O,0.40\nA-2,Film,47nF,400,0.45\n"

// One bad row of two: set aside with its line, mended in place, and the fix
// kept beside the file, which stays as the supplier wrote it.
func TestFixARow(t *testing.T) {
	m, _ := bring(opened(t, "drover"), port.File{Name: "A.csv", Bytes: []byte(letterO)})
	if c := m.Coming(); c == nil || c.Asks() != AskColumns || len(c.Look.Offers) != 1 || len(c.Look.Aside) != 1 {
		t.Fatalf("a first list, brought alone: %+v", c)
	}
	m, _ = press(m, "coming-take", "A", "", "")
	l := m.list("A")
	if l.Read == nil || len(l.Read.Offers) != 1 || l.Read.RowsAside != 1 || l.Wrongs() == 0 {
		t.Fatalf("before: %+v", l)
	}
	p := l.Read.Aside[0]
	m, effects := change1(m, "list-fix", "A", fmt.Sprintf("%d/%s", p.Line, p.Column), "450")
	l = m.list("A")
	if len(l.Read.Offers) != 2 || l.Read.RowsAside != 0 {
		t.Errorf("after the fix: %d offers, %d aside: %v", len(l.Read.Offers), l.Read.RowsAside, l.Read.Aside)
	}
	s := saved(effects)
	if len(s) != 1 || string(s[0].Bytes) != letterO || !strings.Contains(s[0].Meta, `"450"`) {
		t.Errorf("saved %d lists, meta %q", len(s), s[0].Meta)
	}
	if _, ok := m.Open.Books.Offer("A", "A-1"); !ok {
		t.Error("the mended row is in no book")
	}
	m, _ = press(m, "list-unfix", "A", fmt.Sprintf("%d/%s", p.Line, p.Column), "")
	if n := len(m.list("A").Read.Offers); n != 1 {
		t.Errorf("the fix taken back: %d offers, want 1", n)
	}
}

// What was said of the columns comes back at the next start, and serves the
// next file of the supplier; fixes do not.
func TestRememberColumns(t *testing.T) {
	double := "Part,Desc,Price,Price\nA-1,Fuse T2A,0.36,0.40\n"
	m, _ := bring(opened(t, "drover"), port.File{Name: "D.csv", Bytes: []byte(double)})
	c := m.Coming()
	if c == nil || c.Asks() != AskColumns || c.Look.Refused == "" || m.list("D").Read != nil {
		t.Fatalf("a list with two price columns: %+v", c)
	}
	if m, _ = press(m, "coming-take", "D", "", ""); m.Coming() == nil || m.Screen.Toast.Say == "" {
		t.Fatal("a list that cannot be read was taken")
	}
	m, _ = change1(m, "list-column", "D", "3", string(catalog.FieldPrice))
	if c = m.Coming(); c.Look.Refused != "" || len(c.Look.Offers) != 1 || c.Look.Offers[0].Price.String() != "0.4" {
		t.Fatalf("as it would read: %+v", c.Look)
	}
	m, effects := press(m, "coming-take", "D", "", "")
	l := m.list("D")
	if l.Read == nil || l.Wrong != "" || l.Read.Offers[0].Price.String() != "0.4" {
		t.Fatalf("mapped by hand: %+v", l)
	}
	kept := saved(effects)[0]
	again := Start()
	again.Screen.Tab.Writer = true
	again, _ = Update(again, port.Loaded{Device: "d1", Fresh: freshAs(1), Lists: []port.List{kept}})
	if l := again.list("D"); l.Read == nil || len(l.Read.Offers) != 1 {
		t.Errorf("at the next start: %+v", l)
	}
	m, _ = change1(m, "list-fix", "D", "2/Part", "A-2")
	m, effects = taking(m, port.File{Name: "D.csv", Bytes: []byte(strings.Replace(double, "0.40", "0.55", 1))})
	l = m.list("D")
	if l.Read == nil || l.Read.Offers[0].Price.String() != "0.55" || l.Read.Offers[0].Number != "A-1" || len(l.Fixes) != 0 {
		t.Errorf("the next file: %+v", l)
	}
	if s := saved(effects); len(s) != 1 || !strings.Contains(s[0].Meta, "mapping") || strings.Contains(s[0].Meta, "fixes") {
		t.Errorf("saved with %v", s)
	}
}

func TestRemoveAList(t *testing.T) {
	m := opened(t, "drover")
	m, _ = press(m, "list-remove", "R", "", "")
	if m.Screen.Desk.Confirm != "R" || len(m.PriceLists()) != 2 {
		t.Fatalf("asked about %q, %d lists", m.Screen.Desk.Confirm, len(m.PriceLists()))
	}
	m, effects := press(m, "list-drop", "R", "", "")
	if len(m.PriceLists()) != 1 || !slices.ContainsFunc(effects, func(e port.Effect) bool { d, ok := e.(port.DropList); return ok && d.Name == "R" }) {
		t.Errorf("%d lists left, effects %v", len(m.PriceLists()), effects)
	}
}

// The samples are looked at, not changed; once taken over, they are.
func TestOwnTheSamples(t *testing.T) {
	m := Start()
	m.Screen.Tab.Writer = true
	m, effects := Update(m, port.Loaded{Device: "d1", Fresh: freshAs(1)})
	m, _ = settle(m, effects)
	if !m.Shop.Demo || m.Screen.Desk.Import != nil || len(m.PriceLists()) == 0 {
		t.Fatalf("the first start: demo %v, %d lists", m.Shop.Demo, len(m.PriceLists()))
	}
	rate, _ := m.Shop.base.Sheet.Get("rate")
	m, _ = change1(m, "sheet-value", "rate", "", "99.00")
	if got, _ := m.Shop.base.Sheet.Get("rate"); got != rate {
		t.Error("the sample sheet was changed")
	}
	m, _ = press(m, "books-own", "", "", "")
	lists := len(m.PriceLists())
	m, effects = change1(m, "sheet-value", "rate", "", "99.00")
	if got, _ := m.Shop.base.Sheet.Get("rate"); got.Value != "99.00" || got.Source != rate.Source {
		t.Errorf("rate %+v", got)
	}
	if m.Shop.Demo || lists == 0 || len(m.PriceLists()) != lists {
		t.Errorf("demo %v, %d lists, then %d", m.Shop.Demo, lists, len(m.PriceLists()))
	}
	if m.Open.Result.Books.Sheet.Rate.String() != "99" && m.Open.Result.Books.Sheet.Rate.String() != "99.00" {
		t.Errorf("the job goes by %s an hour", m.Open.Result.Books.Sheet.Rate)
	}
	if len(effects) == 0 {
		t.Error("nothing was saved")
	}
}

// A copy of the sample job carries the sample books; the sample lists must
// still serve it.
func TestCopyKeepsTheSampleLists(t *testing.T) {
	m := Start()
	m.Screen.Tab.Writer = true
	m, _ = Update(m, port.Loaded{Device: "d1", Fresh: freshAs(1)})
	before := len(m.Open.Books.Lists)
	m, _ = press(m, "copy", "", "", "")
	m.Open.Books = nil
	m.refold()
	if got := len(m.Open.Books.Lists); got != before || before == 0 {
		t.Errorf("%d lists after the copy, %d before", got, before)
	}
}

func TestOpenOption(t *testing.T) {
	m := opened(t, "drover")
	if o := m.OpenOption(); o == nil || !o.Accepted || len(o.Lines) == 0 {
		t.Errorf("opened by itself: %+v", o)
	}
	m, _ = press(m, "plan-open", "T3/film", "", "")
	if o := m.OpenOption(); o.Option.ID != "T3/film" {
		t.Errorf("open is %s", o.Option.ID)
	}
	m, _ = press(m, "plan-leaf", "", "", LeafRatings)
	m, _ = press(m, "plan-open", "T1", "", "")
	if m.Screen.Desk.Leaf != LeafParts {
		t.Errorf("leaf %s, want parts", m.Screen.Desk.Leaf)
	}
}

func TestOrdered(t *testing.T) {
	m := opened(t, "drover")
	if !m.Ordered() || Parcels(m.Result().Buy) != 1 {
		t.Errorf("ordered %v from %d, want one supplier", m.Ordered(), Parcels(m.Result().Buy))
	}
	var none Model
	if none.Ordered() || none.OpenOption() != nil {
		t.Error("no job is open and something is ordered")
	}
}

// A part asked about never takes the place of another one, not after one was
// removed either; what was typed is gone once it is asked.
func TestTryParts(t *testing.T) {
	m := opened(t, "drover")
	ask := func(n int, text string) {
		m, _ = Update(m, port.Submitted{Where: port.Where{Act: "trial", ID: "T2b", K: "0"}, Fresh: freshAs(n), Fields: []port.Field{{Name: "text", Value: text}}})
	}
	m, _ = Update(m, port.Typed{Where: port.Where{Act: "draft", ID: "trial-T2b", K: "0"}, Fresh: freshAs(600), Value: "22uF"})
	before := len(m.Open.Job.Trials)
	ask(601, "electrolytic 22uF 450V axial")
	ask(602, "electrolytic 22uF 350V axial")
	ask(603, " ")
	if got := len(m.Open.Job.Trials); got != before+2 {
		t.Fatalf("%d trials, want %d", got, before+2)
	}
	if d := m.Draft("draft", "trial-T2b", "0", ""); d != "" {
		t.Errorf("%q is still typed", d)
	}
	first := m.Open.Job.Trials[before].ID
	m, _ = press(m, "remove", first, "trial", "")
	ask(604, "electrolytic 22uF 500V axial")
	var texts []string
	for _, x := range m.Open.Job.Trials[before:] {
		texts = append(texts, x.Text)
	}
	slices.Sort(texts)
	if strings.Join(texts, ", ") != "electrolytic 22uF 350V axial, electrolytic 22uF 500V axial" {
		t.Errorf("trials %v", texts)
	}
}
