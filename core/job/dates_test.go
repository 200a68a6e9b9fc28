package job_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/order"
)

// openCase opens a sample job with further rows of shop.csv.
func openCase(t testing.TB, name, rows string) *job.Case {
	t.Helper()
	data, err := os.ReadFile(jobs + name + ".txtar")
	if err != nil {
		t.Fatal(err)
	}
	c, err := job.OpenCase(name, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range c.Books {
		if strings.HasSuffix(f.Name, "shop.csv") {
			c.Books[i].Data = append(slices.Clone(f.Data), rows...)
		}
	}
	return c
}

// dated derives a sample job with further rows of shop.csv.
func dated(t testing.TB, name, rows string) *job.Result {
	t.Helper()
	return changed(t, name, rows, "")
}

const stated = "bench_hours,2,own\nopen_days,mon-fri,own\nholidays,none,own\nanswer_days,0/1/4,own\ncarriage_days,1/2/4,own\n"

// Without a word on the shop's hours there is no date, and what is missing is
// named.
func TestNoDateWithoutTheShopsHours(t *testing.T) {
	r := dated(t, "tern", "")
	days, ok := r.ReadyP80(r.Accepted())
	d := r.DatesOf(r.Accepted())
	if ok || days != 0 || d.Ok() || len(d.Missing) < 2 || !strings.Contains(strings.Join(d.Missing, "; "), "bench_hours in shop.csv") {
		t.Errorf("%d %v %+v", days, ok, d)
	}
	for _, key := range []string{"bench_hours", "open_days", "answer_days", "carriage_days"} {
		var rows []string
		for _, row := range strings.SplitAfter(stated, "\n") {
			if !strings.HasPrefix(row, key) {
				rows = append(rows, row)
			}
		}
		d := dated(t, "tern", strings.Join(rows, "")).DatesOf([]string{"T1", "T4"})
		if d.Ok() || len(d.Missing) != 1 || !strings.Contains(d.Missing[0], key) {
			t.Errorf("without %s: %+v", key, d.Missing)
		}
	}
}

func TestDatesOf(t *testing.T) {
	r := dated(t, "tern", stated)
	for _, s := range r.Sets {
		d := r.DatesOf(s.Accept)
		if !d.Ok() || d.P50 > d.P80 || d.P80 > d.P90 || d.P80 < d.LongestLead || len(d.Waits) == 0 {
			t.Errorf("%s: %+v", s.Name, d)
		}
	}
}

// The result lists hours and days by chances where the shop states its hours,
// and what is missing where it states too little; elsewhere nothing.
func TestReadyInTheResult(t *testing.T) {
	if o := dated(t, "tern", "").Output(); len(o.Ready) != 0 {
		t.Errorf("%+v", o.Ready)
	}
	o := dated(t, "tern", stated).Output()
	if len(o.Ready) != len(o.Sets) || o.Ready[0].Days == nil || o.Ready[0].Dates.P80 <= "2026-03-09" || len(o.Ready[0].Waits) < 2 {
		t.Errorf("%+v", o.Ready)
	}
	if o := dated(t, "tern", "bench_hours,2,own\n").Output(); len(o.Ready) == 0 || o.Ready[0].Days != nil || len(o.Ready[0].Missing) == 0 || o.Ready[0].Hours == nil {
		t.Errorf("%+v", o.Ready)
	}
}

// What the order buys in place of the plan decides when parts are there, and
// what lies on the shelf is there already.
func TestDatesFollowTheOrder(t *testing.T) {
	j, b := marten(t)
	for _, row := range strings.Split(strings.TrimSpace(stated), "\n") {
		f := strings.Split(row, ",")
		b.Sheet = b.Sheet.Set(f[0], f[1], f[2])
	}
	at := func(j *job.Job) string {
		d := job.Derive(j, b, "2026-03-09").DatesOf([]string{"T2b"})
		if !d.Ok() {
			t.Fatal(d.Missing)
		}
		var says []string
		for _, w := range d.Waits {
			says = append(says, w.Say)
		}
		slices.Sort(says)
		return strings.Join(says, "; ")
	}
	plan := at(j)
	swap := at(bought(t, j, `{"swaps":[{"option":"T2b","part":"0","list":"M","number":"M-20"}]}`))
	if !strings.Contains(plan, "parts from N, lead ") || !strings.Contains(swap, "parts from M, lead ") {
		t.Errorf("planned: %s; swapped: %s", plan, swap)
	}
	w := job.Derive(j, b, "2026-03-09")
	for _, l := range w.Sets[w.Force].Lines {
		if l.Option == "T2b" {
			b.Stock = append(b.Stock, order.Holding{List: l.Chosen.Offer.List, Number: l.Chosen.Offer.Number, Pieces: l.Qty})
		}
	}
	if shelf := at(j); shelf != job.OwnersAnswer {
		t.Errorf("from the shelf it waits for %s", shelf)
	}
}

// The dates of a whole job, the same natively and in the page. Written by
// this test once; a change of it is a change of every date that was given.
func TestDatesGolden(t *testing.T) {
	want := map[string]string{
		"everything":         "9 10 11 0.9550 0.8795 0.0440",
		"without T8":         "9 10 11 0.9560 0.8795 0.0440",
		"without T8 new can": "39 42 43 1.0000 0.8795 0.0000 0.0000",
		"musts T5 T9":        "9 10 11 0.9560 0.8795 0.0440",
		"musts only":         "9 10 10 0.9910 0.8795 0.0090",
	}
	r := dated(t, "tern", stated)
	for _, s := range r.Sets {
		d := r.DatesOf(s.Accept)
		got := fmt.Sprint(d.P50, d.P80, d.P90)
		for _, w := range d.Waits {
			got += fmt.Sprintf(" %.4f", w.Share)
		}
		if got != want[s.Name] {
			t.Errorf("%q: %q, was %q", s.Name, got, want[s.Name])
		}
	}
}

// Waits and work beyond ten years are no date, and take no time to refuse.
func TestNoDateBeyondThisLife(t *testing.T) {
	for name, record := range map[string]string{
		"sent out":  `{"kind":"option","body":{"id":"T5","other":[{"say":"x","price":"1","days":"99999999"}]}}`,
		"the bench": `{"kind":"option","body":{"id":"T5","low":"1","mode":"2","high":"99999999"}}`,
	} {
		if d := changed(t, "tern", stated, "", record).DatesOf([]string{"T5"}); d.Ok() || !strings.Contains(fmt.Sprint(d.Missing), "ten years") {
			t.Errorf("%s: %+v", name, d)
		}
	}
}
