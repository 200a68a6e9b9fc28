package job_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/quote"
)

// agreed is scenario B with the choice in force frozen and agreed to.
func agreed(t *testing.T, ceiling string) (*job.Job, *job.Books) {
	t.Helper()
	j, books := opened(t, "tern")
	r := job.Derive(j, books, "2026-03-02")
	s := r.Sets[r.Force]
	text, err := quote.Freeze(r.Promise(s, "2026-03-02"), quote.Stamp{Number: "E1", Date: "2026-03-02", Rule: "2", Set: s.Name, Accept: s.Accept}).JSON()
	if err != nil {
		t.Fatal(err)
	}
	j.Frozen = append(j.Frozen, job.FrozenRecord{ID: "E1", Set: s.Name, Estimate: string(text)})
	j.Consents = append(j.Consents, decision.Consent{ID: "c1", Who: "Ilse Varnholt", Accept: s.Accept, Total: r.Policy.Currency.Format(s.Bill.Total), Ceiling: ceiling, Currency: r.Policy.Currency.Code, Estimate: "E1"})
	return j, books
}

// An option added after the yes is held back from the order, and the change
// order says what it comes to; what was agreed stays as it was.
func TestNothingIsOrderedUnasked(t *testing.T) {
	j, books := agreed(t, "450.00")
	r := job.Derive(j, books, "2026-03-02")
	if a := r.Authority(); !a.Covers() || len(r.Buy.Held) != 0 {
		t.Fatalf("as agreed: %+v, %d held", a, len(r.Buy.Held))
	}
	added := ""
	for _, o := range r.Options {
		if !o.Accepted && o.Refused == "" && len(o.Option.Parts) > 0 && len(o.Lines) > 0 {
			added = o.Option.ID
		}
	}
	j.Sets[r.Force].Accept = r.Turn(added)
	r = job.Derive(j, books, "2026-03-02")
	a := r.Authority()
	if a.Covers() || a.May(added) {
		t.Errorf("%s was never agreed to: %+v", added, a)
	}
	held := false
	for _, h := range r.Buy.Held {
		held = held || h.Need.Option == added && strings.Contains(h.Reason, "has not agreed")
	}
	if !held {
		t.Errorf("the parts of %s are ordered: %+v", added, r.Buy.Held)
	}
	steps, was, is, ok := r.Since()
	sum := money.Amount(0)
	for _, s := range steps {
		sum += s.Is - s.Was
	}
	if !ok || was != 43237 || sum != is-was || len(steps) == 0 {
		t.Errorf("%d steps of %d, totals %d to %d", len(steps), sum, was, is)
	}
	s, err := r.ChangeOrder()
	html := string(s.HTML())
	if err != nil || !strings.Contains(html, "432.37") || !strings.Contains(html, "Not agreed") || !strings.Contains(html, r.Policy.Currency.Format(is)) {
		t.Errorf("%v\n%s", err, html)
	}
}

// Whatever is turned over, the printed steps come to the difference of the
// totals.
func TestChangeOrderAddsUp(t *testing.T) {
	j, books := agreed(t, "")
	first := job.Derive(j, books, "2026-03-02")
	for _, o := range first.Options {
		j2 := *j
		j2.Sets = append([]job.Set(nil), j.Sets...)
		j2.Sets[first.Force].Accept = first.Turn(o.Option.ID)
		r := job.Derive(&j2, books, "2026-03-02")
		steps, was, is, ok := r.Since()
		if !ok {
			continue
		}
		sum := money.Amount(0)
		for _, s := range steps {
			sum += s.Is - s.Was
		}
		if sum != is-was {
			t.Errorf("%s: steps come to %d, totals differ by %d: %s", o.Option.ID, sum, is-was, fmt.Sprint(steps))
		}
	}
}

// Nothing of a choice that cannot be priced, or agreed in a sum that cannot be
// held against it, counts as agreed or is ordered.
func TestAnUnclearSumCoversNothing(t *testing.T) {
	for _, c := range []struct {
		say  string
		harm func(*job.Job)
	}{
		{"no sum", func(j *job.Job) { j.Consents[0].Total = "" }},
		{"another currency", func(j *job.Job) { j.Consents[0].Currency = "EUR" }},
		{"apart", func(j *job.Job) { j.Consents[0].Apart = "c1" }},
		{"a part nobody sells", func(j *job.Job) {
			o := &j.Options[0]
			for i := range j.Options {
				if len(j.Options[i].Parts) > 0 && slices.Contains(j.Consents[0].Accept, j.Options[i].ID) {
					o = &j.Options[i]
				}
			}
			o.Parts = slices.Clone(o.Parts)
			o.Parts[0].List, o.Parts[0].Number = "U", "none-such"
		}},
	} {
		j, books := agreed(t, "")
		j.Options = slices.Clone(j.Options)
		c.harm(j)
		r := job.Derive(j, books, "2026-03-02")
		if a := r.Authority(); a.Covers() || a.May(j.Consents[0].Accept[0]) || a.Unclear == "" {
			t.Errorf("%s: agreed: %+v", c.say, a)
		}
		if len(r.Buy.Baskets) != 0 || len(r.Buy.Stock) != 0 {
			t.Errorf("%s: %d baskets are filled", c.say, len(r.Buy.Baskets))
		}
	}
}

// A change order is held against the estimate the answer is of, also where
// two devices gave its number twice.
func TestChangeOrderOfNumbersGivenTwice(t *testing.T) {
	j, books := agreed(t, "")
	j.Frozen[0].ID = "E1~x"
	other := j.Frozen[0]
	other.ID = "E1"
	other.Estimate = strings.Replace(other.Estimate, "T1", "T0", 1) // of another choice
	if other.Estimate == j.Frozen[0].Estimate {
		t.Fatal("the estimate names no T1")
	}
	j.Frozen = append([]job.FrozenRecord{other}, j.Frozen...)
	r := job.Derive(j, books, "2026-03-02")
	if steps, was, is, ok := r.Since(); !ok || was != is || len(steps) != 0 {
		t.Errorf("%v: %d steps, %d to %d", ok, len(steps), was, is)
	}
}
