package job_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/core/report"
)

// asked is a result with its choice frozen, as it is when a page is saved.
func asked(t testing.TB, r *job.Result, number string) job.FrozenRecord {
	t.Helper()
	s := r.Sets[r.Force]
	text, err := quote.Freeze(r.Promise(s, "2026-03-02"), quote.Stamp{Number: number, Date: "2026-03-02", Rule: fmt.Sprint(job.RuleVersion), Set: s.Name, Accept: s.Accept}).JSON()
	if err != nil {
		t.Fatal(err)
	}
	f := job.FrozenRecord{ID: number, Set: s.Name, Estimate: string(text), Asked: r.Asked()}
	r.Job.Frozen = append(r.Job.Frozen, f)
	return f
}

func ownerOf(t *testing.T, name string) (*job.Result, job.FrozenRecord, report.Owner) {
	t.Helper()
	j, books := opened(t, name)
	r := job.Derive(j, books, "2026-03-02")
	f := asked(t, r, j.Number+"-1")
	o, err := r.OwnerPage(f)
	if err != nil {
		t.Fatal(err)
	}
	return r, f, o
}

// Every total the page carries is what a whole bill of that choice comes to.
func TestOwnerPageTotals(t *testing.T) {
	for _, name := range []string{"drover", "tern"} {
		r, f, o := ownerOf(t, name)
		if o.Table == "" {
			t.Fatalf("%s: no table", name)
		}
		had := 0
		for at, word := range strings.Split(o.Table, " ") {
			if word == "-" {
				continue
			}
			var accept []string
			rest := at
			for _, a := range f.Asked {
				n := (len(a.Ways) + 1) << len(a.Beside)
				accept = append(accept, tickedWays(a, rest%n)...)
				rest /= n
			}
			had++
			m, _ := r.Model()
			ordered, err := m.Order(accept)
			if err != nil {
				t.Fatal(err)
			}
			b, err := r.Bill(ordered)
			if err != nil {
				t.Fatalf("%v: %v", accept, err)
			}
			if got, _ := strconv.ParseInt(word, 36, 64); got != int64(b.Total) {
				t.Errorf("%s %v: %d, the bill says %d", name, accept, got, b.Total)
			}
		}
		if had < 500 {
			t.Errorf("%s: only %d totals", name, had)
		}
	}
}

// Of a job with too many choices for a table the page knows the estimate's own
// total and those a tick away, each by a whole bill, and no other.
func TestOwnerPageOfTooManyChoices(t *testing.T) {
	r := job.Derive(largeJob(t), largeBooks(), "2026-03-02")
	f := asked(t, r, "L-1")
	o, err := r.OwnerPage(f)
	if err != nil {
		t.Fatal(err)
	}
	known := strings.Split(o.Known, " ")
	if o.Table != "" || len(known) < 100 {
		t.Fatalf("table of %d bytes, %d known", len(o.Table), len(known))
	}
	m, err := r.Model()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for n, k := range known {
		ks, word, _ := strings.Cut(k, ":")
		if word == "-" || n%7 != 0 && ks != o.Start {
			continue
		}
		var accept []string
		for i, x := range strings.Split(ks, ".") {
			k, _ := strconv.Atoi(x)
			accept = append(accept, tickedWays(f.Asked[i], k)...)
		}
		ordered, err := m.Order(accept)
		if err != nil {
			t.Fatal(err)
		}
		b, err := r.Bill(ordered)
		if err != nil {
			t.Fatal(err)
		}
		seen++
		if got, _ := strconv.ParseInt(word, 36, 64); got != int64(b.Total) {
			t.Errorf("%s: %d, the bill says %d", ks, got, b.Total)
		}
	}
	if seen < 10 {
		t.Errorf("%d totals held against bills", seen)
	}
}

// tickedWays reads the number of a choice, written apart from the program's way:
// ways one after the other, then one bit for each that may stand beside.
func tickedWays(a job.Asked, k int) (accept []string) {
	if one := k % (len(a.Ways) + 1); one > 0 {
		accept = append(accept, a.Ways[one-1])
	}
	for i, id := range a.Beside {
		if k/(len(a.Ways)+1)>>i&1 == 1 {
			accept = append(accept, id)
		}
	}
	return accept
}

// What the owner reads holds no price the shop pays, no supplier and no number
// of a part, says what a no means, and never promises.
func TestOwnerPageIsForTheOwner(t *testing.T) {
	for _, name := range []string{"drover", "tern"} {
		r, f, o := ownerOf(t, name)
		page := string(o.HTML())
		page = page[strings.Index(page, "<body"):strings.Index(page, "<script>")]
		for _, res := range r.Options {
			for _, l := range append(slices.Clone(res.Lines), res.Alone...) {
				if l.Chosen == nil {
					continue
				}
				if n := l.Chosen.Offer.Number; len(n) > 3 && strings.Contains(page, n) {
					t.Errorf("%s: the page holds the number %s", name, n)
				}
			}
		}
		for _, terms := range r.Books.Terms {
			list := terms.List
			if len(list) > 1 && strings.Contains(page, ">"+list+"<") {
				t.Errorf("%s: the page names the supplier %s", name, list)
			}
		}
		for _, want := range []string{"What is done, and what is left?", "not released for use", "I think about it", o.Date, "holds", "Stored charge", r.Job.Owner.Name} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the page lacks %q", name, want)
			}
		}
		for _, never := range []string{"guarante", "complies", "markup", "cost price"} {
			if strings.Contains(strings.ToLower(page), never) {
				t.Errorf("%s: the page says %q", name, never)
			}
		}
		if len(o.Questions) != len(f.Asked) || !slices.IsSortedFunc(o.Questions, func(a, b report.Question) int {
			return strings.Index("must should could", a.Pile) - strings.Index("must should could", b.Pile)
		}) {
			t.Errorf("%s: %d questions of %d, not by pile", name, len(o.Questions), len(f.Asked))
		}
		for _, q := range o.Questions {
			if q.No == "" || q.Pile == "must" && !strings.Contains(q.No, "for use") {
				t.Errorf("%s %s: a no means %q", name, q.ID, q.No)
			}
			for _, w := range q.Ways {
				if w.Change == "" || w.Change != "in the estimate" && !strings.Contains(w.Change, "at most") && !strings.Contains(w.Change, "ask the shop") {
					t.Errorf("%s %s: %q", name, w.ID, w.Change)
				}
			}
		}
	}
}

// A code reads back as it was ticked, of the right estimate, and of no other.
func TestTicksReadBack(t *testing.T) {
	r, f, _ := ownerOf(t, "tern")
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		ticks := make([]int, len(f.Asked))
		for i, a := range f.Asked {
			ticks[i] = rnd.IntN((len(a.Ways)+1)<<len(a.Beside) + 1)
		}
		code, err := f.Code(ticks)
		if err != nil {
			t.Fatal(err)
		}
		got, err := r.Job.ReadTicks(code)
		if err != nil || got.Later || got.Frozen.ID != f.ID || len(got.Answers) != len(f.Asked) {
			t.Fatalf("%s: %+v %v", code, got, err)
		}
		for i, a := range got.Answers {
			var want []string
			if ticks[i] > 1 {
				want = tickedWays(f.Asked[i], ticks[i]-1)
			}
			if a.Finding != f.Asked[i].Finding || a.No != (ticks[i] == 1) || !slices.Equal(a.Accept, want) {
				t.Errorf("%s: %+v, ticked %d of %+v", code, a, ticks[i], f.Asked[i])
			}
		}
	}
	code, _ := f.Code(make([]int, len(f.Asked)))
	asked(t, r, f.ID+"-later")
	if got, err := r.Job.ReadTicks(code); err != nil || !got.Later || got.Frozen.ID != f.ID {
		t.Errorf("after a later one: %+v %v", got, err)
	}
	other, of, _ := ownerOf(t, "drover")
	if _, err := other.Job.ReadTicks(code); err == nil || !strings.Contains(err.Error(), "of no estimate of this job") {
		t.Errorf("of another job: %v", err)
	}
	of.Asked = of.Asked[:len(of.Asked)-1]
	if _, err := other.OwnerPage(of); err == nil || !strings.Contains(err.Error(), "freeze it anew") {
		t.Errorf("of other questions: %v", err)
	}
	other.Job.Frozen = nil
	if _, err := other.Job.ReadTicks(code); err == nil || !strings.Contains(err.Error(), "no page was saved") {
		t.Errorf("without a page: %v", err)
	}
}

// BenchmarkOwnerPage times the page of a job of 9,216 choices, each priced.
func BenchmarkOwnerPage(b *testing.B) {
	j, books := opened(b, "drover")
	r := job.Derive(j, books, "2026-03-02")
	f := asked(b, r, "1")
	size := 0
	for b.Loop() {
		o, err := r.OwnerPage(f)
		if err != nil {
			b.Fatal(err)
		}
		size = len(o.HTML())
	}
	took := b.Elapsed().Seconds() * 1e3 / float64(b.N)
	fmt.Printf("figure | owner's page of 9,216 choices, %s | %.0f ms | no target | told | %d bytes\n", runtime.GOOS, took, size)
}
