package job_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lugworth/core/job"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/record"
	"lugworth/core/stress"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

var wholeJobs = []string{"drover", "tern"}

// judged names a verdict without the scenario that decides it.
func judged(r job.Row) string {
	return fmt.Sprint(r.Set, "|", r.Option, "|", r.Part, "|", r.Subject, "|", r.Quantity)
}

// worst returns the least favorable kind of every judged quantity. What is
// shown at the owner's measured mains and at the mains of the chart is left
// out: those do not depend on the range.
func worst(r *job.Result) map[string]rating.Verdict {
	out := map[string]rating.Verdict{}
	for _, row := range r.Rows() {
		if row.Scenario == stress.Measured || row.Scenario == stress.Bench {
			continue
		}
		k := judged(row)
		if have, ok := out[k]; !ok || rating.Less(row.Kind, have) {
			out[k] = row.Kind
		}
	}
	return out
}

// A wider mains range never makes a verdict kinder.
func TestWiderRangeIsNeverKinder(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	harsher := 0
	for _, name := range wholeJobs {
		j, b := opened(t, name)
		was := j.Mains
		for _, sys := range []limit.System{limit.Unstated, limit.DesignCenter} {
			books := *b
			books.Cards = inSystem(b, sys)
			for range 25 {
				j.Mains = was
				j.Mains.Marked = was.Measured
				j.Mains.Low = was.Low * unit.Voltage(0.9+0.15*rng.Float64())
				j.Mains.High = j.Mains.Low * unit.Voltage(1.001+0.25*rng.Float64())
				j.Mains.Measured = j.Mains.Low + (j.Mains.High-j.Mains.Low)*unit.Voltage(rng.Float64())
				narrow := worst(job.Derive(j, &books, ""))
				m := j.Mains
				j.Mains.Low *= unit.Voltage(1 - 0.1*rng.Float64())
				j.Mains.High *= unit.Voltage(1 + 0.1*rng.Float64())
				for k, wide := range worst(job.Derive(j, &books, "")) {
					if rating.Less(wide, narrow[k]) {
						harsher++
					}
					if rating.Less(narrow[k], wide) {
						t.Fatalf("%s, %s: %s: %s over %v to %v, kinder: %s over %v to %v", name, sys, k, narrow[k], m.Low, m.High, wide, j.Mains.Low, j.Mains.High)
					}
				}
			}
		}
	}
	if harsher < 100 {
		t.Errorf("only %d verdicts become harsher: the ranges drawn are too tame", harsher)
	}
}

// inSystem is the cards with every limit in one rating system.
func inSystem(b *job.Books, sys limit.System) tube.Set {
	var cards []tube.Card
	for _, name := range []string{"6V6GT", "EL84", "5U4GB"} {
		c, ok := b.Cards.Find(name)
		if !ok {
			continue
		}
		c.Limits = slices.Clone(c.Limits)
		for i := range c.Limits {
			c.Limits[i].System = sys
		}
		cards = append(cards, c)
	}
	return b.Cards.With(cards)
}

// Taking a limit off a card never lets a figure pass that did not pass before.
func TestRemovingALimitIsNeverKinder(t *testing.T) {
	passes := func(v rating.Verdict) bool { return v == rating.Within || v == rating.BelowReserve }
	removed := 0
	for _, name := range wholeJobs {
		j, b := opened(t, name)
		before := worst(job.Derive(j, b, ""))
		for _, typ := range []string{"6V6GT", "EL84", "5U4GB"} {
			c, ok := b.Cards.Find(typ)
			if !ok {
				continue
			}
			for i := range c.Limits {
				without := c
				without.Limits = slices.Delete(slices.Clone(c.Limits), i, i+1)
				books := *b
				books.Cards = b.Cards.With([]tube.Card{without})
				removed++
				lost := false
				for k, after := range worst(job.Derive(j, &books, "")) {
					if passes(after) && !passes(before[k]) {
						t.Errorf("%s without %v: %s was %s, is %s", name, c.Limits[i], k, before[k], after)
					}
					lost = lost || before[k] != after
				}
				if !lost && strings.Contains(fmt.Sprint(before), string(c.Limits[i].Quantity)) && uses(j, typ) {
					t.Errorf("%s without %v: nothing changes", name, c.Limits[i])
				}
			}
		}
	}
	if removed < 8 {
		t.Errorf("%d limits taken away, want at least 8", removed)
	}
}

func uses(j *job.Job, typ string) bool {
	for _, p := range j.Amp.Positions {
		if p.Type == typ {
			return true
		}
	}
	return false
}

// Every total is the sum of its printed lines, for the sets and for choices
// drawn at random.
func TestTotalsAreSumsOfPrintedLines(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for _, name := range wholeJobs {
		r := derived(t, name)
		var bills []quote.Bill
		for _, s := range r.Sets {
			bills = append(bills, s.Bill)
		}
		for range 100 {
			b, err := r.Bill(choice(rng, r))
			if err != nil {
				t.Fatal(err)
			}
			bills = append(bills, b)
		}
		c := r.Policy.Currency
		for _, b := range bills {
			sum := map[quote.Class]money.Amount{}
			var all money.Amount
			for _, l := range b.Lines {
				printed, err := c.Read(c.Format(l.Amount))
				if err != nil {
					t.Fatal(err)
				}
				sum[l.Class] += printed
				all += printed
			}
			got := [...]money.Amount{b.Labor, b.Parts, b.Other, b.Fee, b.Tax, b.Total}
			want := [...]money.Amount{sum[quote.Labor], sum[quote.Parts], sum[quote.Other], sum[quote.Fee], sum[quote.Tax], all}
			if got != want {
				t.Errorf("%s: totals %v, lines come to %v", name, got, want)
			}
		}
	}
}

// choice draws at most one option of each finding.
func choice(rng *rand.Rand, r *job.Result) []string {
	var out []string
	for _, f := range r.Findings {
		if n := len(f.Options); n > 0 {
			if i := rng.IntN(n + 1); i < n {
				out = append(out, r.Job.Options[f.Options[i]].ID)
			}
		}
	}
	return out
}

// The quick pricer gives what the bill gives, to the minor unit, under every
// policy.
func TestLedgerIsTheBill(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 17))
	results := []*job.Result{derived(t, "drover"), derived(t, "tern"), job.Derive(largeJob(t), largeBooks(), "")}
	for _, r := range results {
		for n := range 60 {
			r.Policy = policy(rng, r.Policy.Currency)
			price, ok := r.Ledger()
			if !ok {
				t.Fatalf("%s: the ledger does not take the job", r.Job.Title)
			}
			accept := choice(rng, r)
			if n == 0 {
				accept = nil
			}
			got, err := price(accept)
			if err != nil {
				t.Fatal(err)
			}
			b, err := r.Bill(accept)
			if err != nil {
				t.Fatal(err)
			}
			if got.Total != b.Total || got.ReadyDays != b.ReadyDays || !slices.Equal(got.NoLead, b.NoLead) || math.Abs(got.Hours-float64(b.Hours)) > 1e-9 {
				t.Fatalf("%s %v:\n ledger %+v\n bill %d, day %d, %v, %g h", r.Job.Title, accept, got, b.Total, b.ReadyDays, b.NoLead, float64(b.Hours))
			}
		}
	}
}

// policy draws what a shop may charge.
func policy(rng *rand.Rand, c money.Currency) quote.Policy {
	decimal := func(hundredths int) money.Decimal {
		d, _ := money.ReadDecimal(fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100), money.Point)
		return d
	}
	p := quote.Policy{Currency: c, Fee: money.Amount(rng.IntN(12000)), FeeCredited: rng.IntN(2) == 0, SubMarkup: decimal(rng.IntN(3000)),
		Allowance: decimal(rng.IntN(2000)), Deposit: decimal(rng.IntN(5000)), Rounding: money.Rounding(rng.IntN(3))}
	p.Tax.Percent = decimal(rng.IntN(2500))
	for _, class := range []quote.Class{quote.Labor, quote.Parts, quote.Other, quote.Fee} {
		if rng.IntN(2) == 0 {
			p.Tax.On = append(p.Tax.On, class)
		}
	}
	p.Tax.HasShare, p.Tax.ShareOver, p.Tax.Outside = rng.IntN(2) == 0, decimal(rng.IntN(6000)), rng.IntN(2) == 0
	return p
}

// A job that only the bill can speak of is priced by the bill.
func TestLedgerLeavesOddJobsToTheBill(t *testing.T) {
	for name, spoil := range map[string]func(*job.Job){
		"hours that fall":              func(j *job.Job) { j.Options[0].Low = money.Whole(9) },
		"one task, two sorts of hours": func(j *job.Job) { j.Options[1].Task = j.Options[0].Task },
		"a set-up nobody defined":      func(j *job.Job) { j.Options[0].SetUps = []string{"S9"} },
		"a set-up defined twice":       func(j *job.Job) { j.SetUps[1].ID = j.SetUps[0].ID },
		"work sent out for a negative price": func(j *job.Job) {
			for i := range j.Options {
				for k := range j.Options[i].Other {
					j.Options[i].Other[k].Price, _ = money.ReadDecimal("-1", money.Point)
				}
			}
		},
	} {
		j, b := opened(t, "drover")
		spoil(j)
		if _, ok := job.Derive(j, b, "").Ledger(); ok {
			t.Errorf("%s: the ledger takes it", name)
		}
	}
}

// The same facts give the same result, to the byte, in text and on the way to
// the order.
func TestDeriveIsDeterministic(t *testing.T) {
	for _, name := range wholeJobs {
		var first []byte
		for i := range 5 {
			r := derived(t, name)
			data, err := r.JSON()
			if err != nil {
				t.Fatal(err)
			}
			page, err := r.EstimateHTML()
			if err != nil {
				t.Fatal(err)
			}
			data = append(append(data, page...), r.VerdictText()+r.QuoteText()...)
			if i == 0 {
				first = data
			} else if !bytes.Equal(first, data) {
				t.Fatalf("%s: run %d differs", name, i+1)
			}
		}
	}
}

// Deriving twice from one job and one set of books, as the page does at every
// toggle, gives the same as deriving afresh.
func TestDerivingAgainChangesNothing(t *testing.T) {
	for _, name := range wholeJobs {
		j, b := opened(t, name)
		toggled := *j
		toggled.Sets = slices.Clone(j.Sets)
		toggled.Sets[0].Accept = nil
		job.Derive(&toggled, b, "2026-01-05")
		again, err := job.Derive(j, b, "2026-01-05").JSON()
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := derived(t, name).JSON()
		if err != nil || !bytes.Equal(again, fresh) {
			t.Errorf("%s: the second derivation differs from a fresh one (%v)", name, err)
		}
	}
}

// Records that do not depend on each other may come in any order: the
// verdicts, the totals and the orders are the same.
func TestOrderOfRecordsDoesNotMatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 23))
	for _, name := range wholeJobs {
		want := gist(t, derived(t, name))
		for range 10 {
			var file struct {
				Format  int               `json:"format"`
				Records []json.RawMessage `json:"records"`
			}
			if err := json.Unmarshal(jobIn(t, jobs+name+".txtar"), &file); err != nil {
				t.Fatal(err)
			}
			rng.Shuffle(len(file.Records), func(a, b int) { file.Records[a], file.Records[b] = file.Records[b], file.Records[a] })
			data, err := json.Marshal(file)
			if err != nil {
				t.Fatal(err)
			}
			f, err := record.Read(data)
			if err != nil {
				t.Fatal(err)
			}
			plain, b := opened(t, name)
			j := job.Read(f)
			j.Add(plain.Amp.Positions, plain.Amp.Readings)
			if got := gist(t, job.Derive(j, b, "2026-01-05")); got != want {
				t.Fatalf("%s: shuffled records give another result", name)
			}
		}
	}
}

// gist is what must not depend on order: every verdict, set, date and line to
// be ordered, sorted.
func gist(t *testing.T, r *job.Result) string {
	t.Helper()
	var lines []string
	add := func(v any) {
		data, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, string(data))
	}
	o := r.Output()
	for _, v := range o.Verdicts {
		add(v)
	}
	for _, s := range o.Sets {
		slices.Sort(s.Accept)
		add(s)
	}
	for _, b := range o.Orders {
		add(b)
	}
	for _, p := range o.Problems {
		add(p)
	}
	add(o.Best.Total + " " + o.Best.Value + " " + o.Best.Say)
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// passing lists what passes: within, or within below the shop's reserve.
func passing(r *job.Result) map[string]bool {
	out := map[string]bool{}
	for _, row := range r.Rows() {
		if row.Kind == rating.Within || row.Kind == rating.BelowReserve {
			out[judged(row)+"|"+row.Scenario] = true
		}
	}
	return out
}

// A worse meter, or one whose error nobody states, never lets a figure pass
// that did not pass before.
func TestWorseMeterIsNeverKinder(t *testing.T) {
	for _, name := range wholeJobs {
		was := -1
		for _, meter := range []float64{0, 0.002, 0.01, 0.03, 0.1, 0.3, -1} {
			j, b := opened(t, name)
			b.Sheet = b.Sheet.Set("meter_percent", "", "")
			for i := range j.Amp.Readings {
				r := &j.Amp.Readings[i]
				r.Meter, r.Stated = meter, meter >= 0
			}
			before := passing(derived(t, name))
			after := passing(job.Derive(j, b, ""))
			for k := range after {
				if !before[k] {
					t.Errorf("%s, meter ±%g: %s passes, and not with an exact one", name, meter, k)
				}
			}
			if was >= 0 && len(after) > was {
				t.Errorf("%s, meter ±%g: %d pass, %d did with a better one", name, meter, len(after), was)
			}
			was = len(after)
		}
	}
}

// A greater reserve never lets a part pass whole that did not before.
func TestGreaterReserveIsNeverKinder(t *testing.T) {
	whole := func(r *job.Result) int {
		n := 0
		for _, row := range r.Rows() {
			if row.Kind == rating.Within {
				n++
			}
		}
		return n
	}
	for _, name := range wholeJobs {
		least, most := math.MaxInt, 0
		for _, reserve := range []string{"0", "1", "5", "12", "40", "90"} {
			j, b := opened(t, name)
			b.Sheet = b.Sheet.Set("reserve", reserve, "test")
			n := whole(job.Derive(j, b, ""))
			if n > least {
				t.Errorf("%s, reserve %s %%: %d within, %d with a smaller one", name, reserve, n, least)
			}
			least, most = min(least, n), max(most, n)
		}
		if least == most {
			t.Errorf("%s: no reserve changes anything", name)
		}
	}
}

// A job read on after a choice is the job read from the start.
func TestAfterIsFold(t *testing.T) {
	for _, name := range []string{"drover", "tern"} {
		data, err := os.ReadFile("../../testdata/jobs/" + name + ".txtar")
		if err != nil {
			t.Fatal(err)
		}
		c, err := job.OpenCase(name, data, nil)
		if err != nil {
			t.Fatal(err)
		}
		all := c.File.Records
		for cut := len(all) / 2; cut < len(all); cut++ {
			before := job.Fold(record.Fold(all[:cut], job.FoldKinds...), true)
			after := record.Fold(all[:cut+1], job.FoldKinds...)
			got, want := before.After(after, all[cut].Kind), job.Fold(after, true)
			got.State, want.State = record.State{}, record.State{}
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("%s, after record %s (%s):\n got %+v\nwant %+v", name, all[cut].ID, all[cut].Kind, got, want)
			}
		}
	}
}
