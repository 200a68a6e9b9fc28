package job_test

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/quote"
	"lugworth/core/report"
)

// asked is a result with its choice frozen, as it is when a page is saved.
func asked(t *testing.T, r *job.Result, number string) job.FrozenRecord {
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
	if dir := os.Getenv("LUGWORTH_SHOTS"); dir != "" {
		os.WriteFile(dir+"/owner-"+name+".html", o.HTML(), 0o644)
	}
	return r, f, o
}

// Every total the page carries is what a whole bill of that choice comes to.
func TestOwnerPageTotals(t *testing.T) {
	for _, name := range []string{"drover", "tern"} {
		r, f, o := ownerOf(t, name)
		sizes := 1
		for _, a := range f.Asked {
			sizes *= (len(a.Ways) + 1) << len(a.Beside)
		}
		t.Logf("%s: %d questions, %d choices, table %d bytes, known %d bytes, page %d bytes", name, len(f.Asked), sizes, len(o.Table), len(o.Known), len(o.HTML()))
		if o.Table == "" {
			t.Fatalf("%s: no table", name)
		}
		had := 0
		for at, word := range strings.Split(o.Table, " ") {
			var accept []string
			rest := at
			for _, a := range f.Asked {
				one := rest % (len(a.Ways) + 1)
				rest /= len(a.Ways) + 1
				if one > 0 {
					accept = append(accept, a.Ways[one-1])
				}
				for i, id := range a.Beside {
					if rest>>i&1 == 1 {
						accept = append(accept, id)
					}
				}
				rest >>= len(a.Beside)
			}
			if word == "-" {
				continue
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
		t.Logf("%d to be had", had)
	}
}

var _ = regexp.MustCompile
var _ = slices.Sort[[]int]

func BenchmarkOwnerPage(b *testing.B) {
	for b.Loop() {
		j, books := opened(b, "drover")
		r := job.Derive(j, books, "2026-03-02")
		_ = r
	}
}
