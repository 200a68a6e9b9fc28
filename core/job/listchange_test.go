package job_test

import (
	"fmt"
	"strings"
	"testing"

	"lugworth/core/catalog"
	"lugworth/core/job"
	"lugworth/core/quote"
)

// tubeLists are the old list of supplier K and the new one, in which the pair
// of output tubes costs 61 in place of 54.
func tubeLists(t *testing.T, b *job.Books, swap ...string) (was, is catalog.List, now *job.Books) {
	t.Helper()
	for _, l := range b.Lists {
		if l.Name == "K" {
			was = l
		}
	}
	if len(was.Offers) == 0 {
		t.Fatal("list K is not there")
	}
	var text strings.Builder
	text.WriteString("SKU,Description,Value,Volts,Unit price USD,Pack,Stock,Lead days\n")
	for _, o := range was.Offers {
		var cells []string
		for _, c := range o.Cells() {
			cells = append(cells, `"`+strings.ReplaceAll(c.Text, `"`, `""`)+`"`)
		}
		text.WriteString(strings.NewReplacer(swap...).Replace(strings.Join(cells, ",")) + "\n")
	}
	is, err := catalog.ReadList("K", "K-new.csv", []byte(text.String()), b.TermsOf("K"), nil)
	if err != nil || is.RowsAside > 0 {
		t.Fatal(err, is.Aside)
	}
	books := *b
	books.Lists = []catalog.List{is}
	books.Reindex()
	return was, is, &books
}

// twoQuotes are two open quotes with that pair in them: one frozen, one not.
func twoQuotes(t *testing.T) ([]job.OpenQuote, *job.Books) {
	t.Helper()
	first, second := derived(t, "drover"), derived(t, "drover-sheet")
	s := first.Sets[first.Force]
	text, err := quote.Freeze(first.Promise(s, "2026-01-05"), quote.Stamp{Number: "E-1", Date: "2026-01-05", Rule: fmt.Sprint(job.RuleVersion), Set: s.Name, Accept: s.Accept}).JSON()
	if err != nil {
		t.Fatal(err)
	}
	first.Job.Frozen = append(first.Job.Frozen, job.FrozenRecord{ID: "E-1", Set: s.Name, Estimate: string(text)})
	second.Job.Number = "second"
	var out []job.OpenQuote
	for _, r := range []*job.Result{first, second} {
		q, ok, err := r.OpenQuote()
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		out = append(out, q)
	}
	if out[0].Estimate != "E-1" || out[1].Estimate != "" {
		t.Fatalf("estimates %q and %q, want one frozen and one not", out[0].Estimate, out[1].Estimate)
	}
	return out, first.Books
}

// One pair of tubes dearer breaks two quotes. By hand: the owner was told
// 54.00 · 1.25 = 67.50 for the pair and would now pay 61.00 · 1.25 = 76.25,
// 8.75 more.
func TestAPairBreaksTwoQuotes(t *testing.T) {
	quotes, b := twoQuotes(t)
	was, is, now := tubeLists(t, b, `"54.00"`, `"61.00"`)
	broken := job.Breaks(quotes, catalog.Diff(was, is), now)
	if len(broken) != 2 {
		t.Fatalf("%d quotes broken, want 2: %+v", len(broken), broken)
	}
	for _, q := range broken {
		if len(q.Lines) != 1 || q.NoSum || q.By != 875 {
			t.Fatalf("%s: %d lines, by %d, want one line and 875 cents", q.Quote.Job, len(q.Lines), q.By)
		}
		l := q.Lines[0]
		if l.Number != "K-1401" || l.Pieces != 1 || l.Was != 6750 || l.Is != 7625 || l.By != 875 || strings.Join(l.Why, "; ") != "price 54 → 61 (+7, +13.0 %)" {
			t.Errorf("%s: %+v", q.Quote.Job, l)
		}
	}
	if broken[0].Quote.Job == broken[1].Quote.Job {
		t.Error("the same job twice")
	}
	if got := job.Breaks(quotes, catalog.Diff(was, was), b); len(got) != 0 {
		t.Errorf("the same list breaks %+v", got)
	}
}

// What is no longer to be had, or later, or too few, is named without a sum
// where there is none.
func TestWhatElseBreaksAQuote(t *testing.T) {
	quotes, b := twoQuotes(t)
	for _, tt := range []struct {
		name      string
		swap      []string
		why       string
		by        int64
		noSum, no bool
	}{
		{"gone", []string{`"K-1401"`, `"K-1499"`}, "no longer in the list", 0, true, false},
		{"no price", []string{`"54.00"`, `"ask"`}, "the row gives no price; no price any more, before 54", 0, true, false},
		{"sold out", []string{`"54.00","1","3","2"`, `"54.00","1","0","2"`}, "stock 0, the job needs 1", 0, false, false},
		{"later", []string{`"54.00","1","3","2"`, `"54.00","1","3","20"`}, "days to arrival 2 → 20", 0, false, false},
		{"sooner", []string{`"54.00","1","3","2"`, `"54.00","1","3","1"`}, "", 0, false, true},
		{"fewer, enough", []string{`"54.00","1","3","2"`, `"54.00","1","1","2"`}, "", 0, false, true},
		{"cheaper", []string{`"54.00"`, `"50.00"`}, "price 54 → 50 (-4, -7.4 %)", -500, false, false}, // 50 · 1.25 = 62.50
		{"another part", []string{`6V6GT matched pair`, `6L6GC matched pair`}, "reads as another part: tube 6V6GT × 2 → tube 6L6GC × 2", 0, false, false},
	} {
		was, is, now := tubeLists(t, b, tt.swap...)
		broken := job.Breaks(quotes, catalog.Diff(was, is), now)
		if tt.no {
			if len(broken) != 0 {
				t.Errorf("%s: %+v, want none broken", tt.name, broken)
			}
			continue
		}
		if len(broken) != 2 {
			t.Errorf("%s: %d broken, want 2", tt.name, len(broken))
			continue
		}
		if q := broken[0]; strings.Join(q.Lines[0].Why, "; ") != tt.why || int64(q.By) != tt.by || q.NoSum != tt.noSum {
			t.Errorf("%s: %q by %d, no sum %v; want %q by %d, %v", tt.name, q.Lines[0].Why, q.By, q.NoSum, tt.why, tt.by, tt.noSum)
		}
	}
}
