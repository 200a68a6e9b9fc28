package app

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"lugworth/wasm/port"
)

func longList(rows int) []byte { return pricedList(rows, 10) }

// pricedList is a long list whose prices begin at so many hundredths. Of its
// rows every fiftieth has a letter in its volts.
func pricedList(rows, from int) []byte {
	var b bytes.Buffer
	b.WriteString("Number,Description,Value,Volts,Price\n")
	for i := range rows {
		volts := "630"
		if i%50 == 49 {
			volts = "63O"
		}
		fmt.Fprintf(&b, "N-%d,Film axial capacitor,.022,%s,0.%02d\n", i, volts, i%50+from)
	}
	return b.Bytes()
}

func big(rows, from int) port.File { return port.File{Name: "big.csv", Bytes: pricedList(rows, from)} }

// pieces lets an import run to its end, or to a question, and notes each stage
// and how far it came.
func pieces(t *testing.T, m Model, effects []port.Effect, look func(*Import)) (Model, []port.Effect) {
	t.Helper()
	var all []port.Effect
	for n := 0; m.Screen.Desk.Import != nil; n++ {
		if !slices.Contains(effects, port.Effect(port.Soon{Tag: importTag})) || n > 10_000 {
			t.Fatalf("piece %d: nothing goes on", n)
		}
		look(m.Screen.Desk.Import)
		m, effects = Update(m, port.Elapsed{Fresh: freshAs(2), Tag: importTag})
		all = append(all, effects...)
	}
	return m, all
}

// A long list is read in pieces with the page drawn in between; the counts add
// up in every one of them, and every row counts when it is done.
func TestLongListIsReadInPieces(t *testing.T) {
	m, effects := Update(opened(t, "drover"), port.FileOpened{Fresh: freshAs(1), Files: []port.File{big(5500, 10)}})
	if c := m.Coming(); c == nil || c.Asks() != AskColumns || len(saved(effects)) > 0 {
		t.Fatal("its columns were not asked about first")
	}
	m, effects = press(m, "coming-take", "big", "", "")
	seen := map[string]map[int]bool{}
	m, effects = pieces(t, m, effects, func(i *Import) {
		if i.Rows != i.Read+i.Aside || i.Done > i.Total {
			t.Errorf("%d rows, %d read, %d aside, %d of %d", i.Rows, i.Read, i.Aside, i.Done, i.Total)
		}
		if seen[i.Stage] == nil {
			seen[i.Stage] = map[int]bool{}
		}
		seen[i.Stage][i.Done] = true
	})
	l := m.list("big")
	if l.Read == nil || l.Read.Rows != 5500 || len(l.Read.Offers) != 5390 || l.Read.RowsAside != 110 {
		t.Fatalf("read: %+v", l.Read)
	}
	if len(seen[StageRead]) < 100 || len(seen[StageOrder]) < 8 || len(seen[StageCompare]) > 0 {
		t.Errorf("%d steps of reading, %d of putting in order", len(seen[StageRead]), len(seen[StageOrder]))
	}
	if _, ok := m.Open.Books.Offer("big", "N-5498"); !ok || len(saved(effects)) != 1 {
		t.Error("the last row is in no book, or the list was not saved")
	}
}

// Stopped at any piece, nothing is half taken: a first list is gone, an old
// one stays.
func TestStopAnImport(t *testing.T) {
	for _, after := range []int{0, 1, 40, 109} {
		m, effects := Update(opened(t, "drover"), port.FileOpened{Fresh: freshAs(1), Files: []port.File{big(5500, 10)}})
		m, effects = press(m, "coming-take", "big", "", "")
		for range after {
			m, effects = Update(m, port.Elapsed{Fresh: freshAs(2), Tag: importTag})
		}
		if m.Screen.Desk.Import == nil {
			t.Fatalf("over after %d pieces", after)
		}
		m, effects = press(m, "import-stop", "big", "", "")
		m, effects = settle(m, append(effects, port.Soon{Tag: importTag})) // one is on its way
		if m.Screen.Desk.Import != nil || len(m.Screen.Desk.Coming) > 0 || m.list("big").Read != nil || len(m.PriceLists()) != 2 || len(saved(effects)) > 0 {
			t.Fatalf("stopped after %d pieces: something of it stayed", after)
		}
	}
	m, _ := taking(opened(t, "drover"), big(5500, 10))
	m, effects := Update(m, port.FileOpened{Fresh: freshAs(3), Files: []port.File{big(6000, 20)}})
	for range 60 {
		m, effects = Update(m, port.Elapsed{Fresh: freshAs(2), Tag: importTag})
	}
	m, effects = press(m, "import-stop", "big", "", "")
	m, effects = settle(m, effects)
	if l := m.list("big"); l.Read.Rows != 5500 || !bytes.Equal(l.Bytes, pricedList(5500, 10)) || len(saved(effects)) > 0 {
		t.Error("the old list did not stay")
	}
}

// A list that is kept is read again at the start; stopped then, it counts for
// nothing until it is read.
func TestStopReadingAKeptList(t *testing.T) {
	m := Start()
	m.Screen.Tab.Writer = true
	m, effects := Update(m, port.Loaded{Device: "d1", Fresh: freshAs(1), Lists: []port.List{{Name: "big", Bytes: longList(5500)}}})
	if i := m.Screen.Desk.Import; i == nil || i.Stage != StageRead {
		t.Fatalf("at the start: %+v", i)
	}
	m, effects = press(m, "import-stop", "big", "", "")
	m, _ = settle(m, effects)
	if l := m.list("big"); !l.Left || l.Read != nil || m.Screen.Desk.Import != nil {
		t.Fatalf("stopped: %+v", l)
	}
	m, effects = press(m, "import-go", "big", "", "")
	m, _ = settle(m, effects)
	if l := m.list("big"); l.Left || l.Read == nil || l.Read.Rows != 5500 {
		t.Errorf("gone on: %+v", l)
	}
}

// A list that is there already shows what changes before it is taken.
func TestWhatANewListChanges(t *testing.T) {
	old := "Number,Description,Price\nT-1,6V6GT pair,54.00\nT-2,12AX7,9.00\nT-3,5Y3GT,18.00\n"
	next := "Number,Description,Price\nT-1,6V6GT pair,61.00\nT-2,12AX7,8.50\nT-4,GZ34,33.00\n"
	m, _ := taking(opened(t, "drover"), port.File{Name: "T.csv", Bytes: []byte(old)})
	m, effects := bring(m, port.File{Name: "T.csv", Bytes: []byte(next)})
	c := m.Coming()
	if c == nil || c.Asks() != AskChanges || len(saved(effects)) > 0 || m.list("T").Read.Offers[0].Price.String() != "54" {
		t.Fatalf("taken unseen: %+v", c)
	}
	if len(c.Change.Changed) != 2 || len(c.Change.Added) != 1 || len(c.Change.Gone) != 1 {
		t.Errorf("changes: %+v", c.Change)
	}
	kept, _ := press(m, "coming-drop", "T", "", "")
	if kept.list("T").Read.Offers[0].Price.String() != "54" || kept.Coming() != nil {
		t.Error("keep the old one: it did not stay")
	}
	m, _ = bring(m, port.File{Name: "T.csv", Bytes: []byte(next)})
	m, effects = press(m, "coming-take", "T", "", "")
	if o, ok := m.Open.Books.Offer("T", "T-1"); !ok || o.Price.String() != "61" || len(saved(effects)) != 1 {
		t.Error("take it: it was not taken")
	}
	m, effects = bring(m, port.File{Name: "T.csv", Bytes: []byte(next)})
	if m.Coming() != nil || len(effects) > 0 || !strings.Contains(m.Screen.Toast.Say, "same file") {
		t.Errorf("the same file once more: %d effects, %q", len(effects), m.Screen.Toast.Say)
	}
}

// A pair of tubes at 61.00 in place of 54.00 breaks the quote of the job on the
// bench and of one in the drawer: 61.00 · 1.25 − 54.00 · 1.25 = 8.75 each.
func TestANewListBreaksQuotes(t *testing.T) {
	m := opened(t, "drover")
	frozen, _ := press(m, "freeze", "", "", "")
	m = frozen
	if len(m.Open.Job.Frozen) == 0 {
		t.Fatal("nothing is frozen")
	}
	text := string(m.list("K").Bytes)
	next := strings.Replace(text, "54.00", "61.00", 1)
	if next == text {
		t.Fatal("no price of 54.00 in list K")
	}
	m, _ = press(m, "job-new", "", "", "")
	m, _ = bring(m, port.File{Name: "K.csv", Bytes: []byte(next)})
	c := m.Coming()
	if c == nil || c.Quotes != 1 || len(c.Breaks) != 1 || len(c.Untold) > 0 {
		t.Fatalf("quotes: %+v", c)
	}
	if b := c.Breaks[0]; b.By != 875 || len(b.Lines) != 1 || b.Quote.Estimate == "" {
		t.Errorf("broken: %+v", b)
	}
	m, _ = press(m, "coming-drop", "K", "", "")
	if string(m.list("K").Bytes) != text {
		t.Error("the old list did not stay")
	}
}

// The decimal mark is asked where nothing tells it, and never guessed.
func TestDecimalMarkIsAsked(t *testing.T) {
	m, _ := bring(opened(t, "drover"), port.File{Name: "a.csv", Bytes: []byte("Number;Description;Price\nA;Fuse;1,234\nB;Cord;2,500\n")}, port.File{Name: "b.csv", Bytes: []byte("Number;Description;Price\nA;Fuse;3,10\n")})
	c := m.Coming()
	if c == nil || c.Name != "a" || !c.Unclear() {
		t.Fatalf("not asked: %+v", c)
	}
	m, _ = press(m, "coming-take", "a", "", "")
	if m.list("a").Read != nil {
		t.Fatal("taken with the mark unknown")
	}
	m, _ = press(m, "list-decimal", "a", "", "comma")
	m, effects := press(m, "coming-take", "a", "", "")
	m, _ = settle(m, effects)
	if l := m.list("a"); l.Read == nil || l.Read.Offers[0].Price.String() != "1.234" {
		t.Errorf("read with a comma: %+v", l)
	}
	if l := m.list("b"); l.Read == nil || l.Read.Offers[0].Price.String() != "3.1" {
		t.Errorf("the list behind it: %+v", l)
	}
}

// A kept list whose columns are said to be others is compared with itself as
// it was read before.
func TestColumnsOfAKeptList(t *testing.T) {
	m, _ := taking(opened(t, "drover"), port.File{Name: "C.csv", Bytes: []byte("Number,Description,Price,Trade\nA-1,Fuse T2A,0.40,0.30\n")})
	m, _ = press(m, "list-columns", "C", "", "")
	c := m.Coming()
	if c == nil || !c.Again || c.Asks() != AskColumns {
		t.Fatalf("its columns: %+v", c)
	}
	m, _ = change1(m, "list-column", "C", "3", "price")
	m, effects := press(m, "coming-take", "C", "", "")
	m, _ = settle(m, effects)
	if c = m.Coming(); c == nil || c.Asks() != AskChanges || len(c.Change.Changed) != 1 {
		t.Fatalf("what it changes: %+v", c)
	}
	m, effects = press(m, "coming-take", "C", "", "")
	if s := saved(effects); m.list("C").Read.Offers[0].Price.String() != "0.3" || len(s) != 1 || !strings.Contains(s[0].Meta, "mapping") {
		t.Errorf("read another way: %+v", m.list("C").Read.Offers)
	}
}

// What is no list at all is said and not taken.
func TestNoListAtAll(t *testing.T) {
	m, effects := bring(opened(t, "drover"), port.File{Name: "X.csv", Bytes: []byte("%PDF-1.4 \n")})
	if m.Coming() != nil || len(saved(effects)) > 0 || len(m.PriceLists()) != 2 || len(m.Screen.Problems) != 1 || !strings.Contains(m.Screen.Problems[0], "PDF") {
		t.Errorf("%d lists, problems %v", len(m.PriceLists()), m.Screen.Problems)
	}
}
