package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	unicode "unicode/utf16"

	"golang.org/x/tools/txtar"

	"lugworth/catalogs"
	"lugworth/core/job"
	"lugworth/core/tube"
)

// An edit replaces text of one part of the base job; new with an empty old
// replaces or adds the whole file, and an empty new takes the file out.
type edit struct{ file, old, new string }

// badRow is one thing wrong with the base job, and all that is said of it.
type badRow struct {
	name  string
	edits []edit
	code  int
	says  []string          // every line on standard error, in order, FILE standing for the job file
	total string            // of set all; "" where it must not be priced
	kinds map[string]string // "subject quantity" or "option subject quantity" → the least favorable verdict
	keeps []string          // texts that the records kept must hold
	wide  []string          // files written in UTF-16 after the edits
	then  func(t *testing.T, dir string)
}

// whole is the total of set all of the base job, by hand in its comment.
const whole = "197.72"

func TestBadInput(t *testing.T) {
	base, err := os.ReadFile("testdata/bad/base.txtar")
	if err != nil {
		t.Fatal(err)
	}
	if len(badRows) < 40 {
		t.Fatalf("%d rows, want 40 or more", len(badRows))
	}
	for _, row := range badRows {
		t.Run(row.name, func(t *testing.T) { row.check(t, base) })
	}
}

func (row badRow) check(t *testing.T, base []byte) {
	file := filepath.Join(t.TempDir(), "bad.txtar")
	data := row.apply(t, base)
	if err := os.WriteFile(file, data, 0o666); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "out")
	var out, notes bytes.Buffer
	code := run([]string{"work", file, "-out", dir}, &out, &notes)
	if code != row.code {
		t.Errorf("exit %d, want %d", code, row.code)
	}
	said := strings.ReplaceAll(notes.String(), file, "FILE")
	if want := strings.Join(append(row.says, ""), "\n"); said != want {
		t.Errorf("said:\n%swant:\n%s", said, want)
	}
	if row.code != 0 {
		if _, err := os.Stat(dir); err == nil {
			t.Error("bad input left files behind")
		}
		return
	}
	row.checkResult(t, dir)
	if row.then != nil {
		row.then(t, dir)
	}
	row.checkKept(t, file, data)
}

// apply makes the edits; each old text must stand in its file once.
func (row badRow) apply(t *testing.T, base []byte) []byte {
	t.Helper()
	a := txtar.Parse(base)
	for _, e := range row.edits {
		if e.file == "" {
			return []byte(e.new)
		}
		i := slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == e.file })
		switch {
		case e.old == "" && e.new == "":
			a.Files = slices.Delete(a.Files, i, i+1)
		case e.old == "" && i < 0:
			a.Files = append(a.Files, txtar.File{Name: e.file, Data: []byte(e.new)})
		case e.old == "":
			a.Files[i].Data = []byte(e.new)
		default:
			if n := strings.Count(string(a.Files[i].Data), e.old); n != 1 {
				t.Fatalf("%q stands %d times in %s", e.old, n, e.file)
			}
			a.Files[i].Data = []byte(strings.Replace(string(a.Files[i].Data), e.old, e.new, 1))
		}
	}
	for i, f := range a.Files {
		if slices.Contains(row.wide, f.Name) {
			a.Files[i].Data = utf16(string(f.Data))
		}
	}
	return txtar.Format(a)
}

// utf16 writes text as UTF-16 with its mark, the greater byte first.
func utf16(s string) []byte {
	out := []byte("\xfe\xff")
	for _, c := range unicode.Encode([]rune(s)) {
		out = append(out, byte(c>>8), byte(c))
	}
	return out
}

// checkResult holds total and verdicts against the row, and looks for figures
// that are not there.
func (row badRow) checkResult(t *testing.T, dir string) {
	r := result(t, dir)
	for _, s := range r.Sets {
		if s.Name == "all" && s.Total != row.total {
			t.Errorf("set all comes to %q, want %q (%s)", s.Total, row.total, s.Error)
		}
		if (s.Error == "") != (s.Total != "") || s.Error != "" && s.Labor+s.Parts+s.Other+s.Fee+s.Tax != "" {
			t.Errorf("set %s has a price beside its error: %+v", s.Name, s)
		}
	}
	for _, v := range r.Verdicts {
		for _, f := range []string{or(v.Low), or(v.High), or(v.Worst), or(v.Limit), or(v.MarginPercent)} {
			if _, err := strconv.ParseFloat(f, 64); f != "" && (err != nil || strings.ContainsAny(f, "NI")) {
				t.Errorf("%s %s has the figure %q", v.Subject, v.Quantity, f)
			}
		}
	}
	for what, want := range row.kinds {
		if got := leastFavorable(r, what); got != want {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
}

// leastFavorable is the worst verdict on "subject quantity" as found, or on
// "option subject quantity" of a candidate weighed alone.
func leastFavorable(r job.Output, what string) string {
	order := []string{"over-worsened", "over-inherited", "not-enough-data", "not-proven", "below-reserve", "within"}
	worst := len(order)
	for _, v := range r.Verdicts {
		if v.Set == "" && strings.TrimSpace(v.Option+" "+v.Subject+" "+v.Quantity) == what {
			worst = min(worst, slices.Index(order, v.Kind))
		}
	}
	if worst == len(order) {
		return "no verdict"
	}
	return order[worst]
}

// checkKept holds what was read against what was given: every record is
// written back, every row of a list is read or set aside.
func (row badRow) checkKept(t *testing.T, file string, data []byte) {
	c, err := job.OpenCase(file, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	written := string(c.File.Write())
	if given := strings.Count(string(data), `{"kind":`); len(c.File.Records) != given || strings.Count(written, `"kind":`) != given {
		t.Errorf("%d records kept of %d", len(c.File.Records), given)
	}
	for _, k := range row.keeps {
		if !strings.Contains(written, k) {
			t.Errorf("the records do not keep %s", k)
		}
	}
	cards, _ := tube.ReadCards("cards.csv", catalogs.Cards)
	_, books := c.Open(cards)
	for _, l := range books.Lists {
		if l.Rows != len(l.Offers)+l.RowsAside {
			t.Errorf("list %s: %d rows, %d read and %d set aside", l.Name, l.Rows, len(l.Offers), l.RowsAside)
		}
	}
}

// nothingRuns holds that no text of the job reached a page as markup.
func nothingRuns(t *testing.T, dir string) {
	page, err := os.ReadFile(filepath.Join(dir, "estimate.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script>alert", "<img src=x"} {
		if bytes.Contains(page, []byte(bad)) {
			t.Errorf("the estimate holds %s as markup", bad)
		}
	}
	if len(page) > 1<<18 {
		t.Errorf("the estimate is %d bytes long", len(page))
	}
}

// orderIsGuarded holds that no cell of an order or of the verdicts starts a
// formula, and that the supplier's number is still whole behind its guard.
func orderIsGuarded(t *testing.T, dir string) {
	order, err := os.ReadFile(filepath.Join(dir, "order-K.csv"))
	if err != nil {
		t.Fatal(err)
	}
	verdicts, err := os.ReadFile(filepath.Join(dir, "verdicts.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, data := range [][]byte{order, verdicts} {
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range slices.Concat(rows...) {
			if cell != "" && strings.ContainsAny(cell[:1], "=+@\t\r") {
				t.Errorf("a cell starts a formula: %q", cell)
			}
		}
	}
	if !bytes.Contains(order, []byte(`'=cmd|' /C calc'!A0`)) {
		t.Errorf("the order lost the part number:\n%s", order)
	}
}

func result(t *testing.T, dir string) job.Output {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, "result.json"))
	if err != nil {
		t.Fatal(err)
	}
	var r job.Output
	if err := json.Unmarshal(data, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// holds asks that the order holds back every part of an option.
func holds(option string) func(*testing.T, string) {
	return func(t *testing.T, dir string) {
		r := result(t, dir)
		if !slices.ContainsFunc(r.Held, func(h job.OutHeld) bool { return h.Option == option && h.Reason != "" }) {
			t.Errorf("held back: %+v; want %s", r.Held, option)
		}
	}
}

func ordersNothing(t *testing.T, dir string) {
	if r := result(t, dir); len(r.Orders) > 0 {
		t.Errorf("orders %+v, want none", r.Orders)
	}
}
