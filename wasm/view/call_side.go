package view

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/job"
	"lugworth/core/sorted"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// fewUndecided is how many open options are weighed without being asked: the
// choices are at most 512, and drawing does not wait for them to be felt.
const fewUndecided = 9

// bestFound is the best choice for one state of the facts: yes and no do not
// change it.
type bestFound struct {
	key  string
	best decision.Best
	err  string
}

var lastBest bestFound

// bestOf weighs all choices, or reports that it must be asked for.
func bestOf(m app.Model) (b *bestFound, asked bool) {
	key := m.FactsKey()
	if lastBest.key == key && key != "" {
		return &lastBest, true
	}
	model, err := m.Open.Result.Model()
	if err == nil && model.Undecided() > fewUndecided && m.Screen.Best != key {
		return nil, false
	}
	lastBest = bestFound{key: key}
	best, err := m.Open.Result.Best()
	lastBest.best = best
	if err != nil {
		lastBest.err = err.Error()
	}
	return &lastBest, true
}

func bestRow(m app.Model) keyed.Node {
	head := keyed.El("h2", keyed.Text("Most worth it inside ceiling and date"))
	b, asked := bestOf(m)
	if !asked {
		return keyed.Row("section", "call-best", keyed.Class("card stack"), head,
			part.Note("Every choice is priced whole, which takes a moment."), part.Press("main", "Weigh every choice", "best", ""))
	}
	if b.err != "" {
		return keyed.Row("section", "call-best", keyed.Class("card stack"), head, keyed.El("p", keyed.Class("call-best-say"), keyed.Text(b.err)))
	}
	r, s := m.Open.Result, b.best.Standing
	have := slices.Clone(r.Accepted())
	slices.Sort(have)
	want := slices.Sorted(slices.Values(s.Accept))
	taken := slices.Equal(have, want)
	return keyed.Row("section", "call-best", keyed.Class("card stack"), head,
		keyed.El("p", keyed.Class("lead"), keyed.El("b", keyed.Class("amount"), keyed.Text(r.Policy.Currency.Format(s.Total))), keyed.El("span", keyed.Text(" "+r.Policy.Currency.Code+", day "+itoa(s.ReadyDays)))),
		keyed.El("p", keyed.Class("call-best-ids"), keyed.Text(strings.Join(s.Accept, "  "))),
		keyed.If(!b.best.Found, keyed.El("p", keyed.Class("over"), keyed.Text("Nothing fits both; this is the cheapest there is."))),
		keyed.El("p", keyed.Class("call-best-say"), keyed.Text(sentence(b.best.Say))),
		keyed.If(m.Open.Job.Bounds.Ceiling == "" && m.Open.Job.Bounds.Days == "", part.Note("Neither a ceiling nor a date is agreed; they are set on the bench.")),
		keyed.If(r.Job.Bounds.Ceiling != "" && !weighed(r), part.Note("No finding has a weight: among what fits, only the musts are worth more than nothing.")),
		keyed.If(taken, part.Note("This is the choice in force.")),
		keyed.If(!taken, part.Press("main", "Take this choice", "take-best", "")))
}

// sentence is words with a capital and a full stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return capital(s) + "."
}

// capital writes the first letter large. It leaves all but plain letters
// alone: a large µ would read as mega.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func weighed(r *job.Result) bool {
	for _, f := range r.Job.Findings {
		if f.Value != "" {
			return true
		}
	}
	return slices.ContainsFunc(r.Options, func(o job.OptionResult) bool { return o.Option.Value > 0 })
}

// datesRow is what the ready day waits for, the longest first.
func datesRow(m app.Model) keyed.Node {
	d := waits(m.Open.Result)
	if len(d.Waits) == 0 {
		return keyed.Row("section", "call-date", keyed.Class("card"), keyed.El("h2", keyed.Text("What it waits for")), part.Note("Nothing has to come from outside."))
	}
	return keyed.Row("section", "call-date", keyed.Class("card"), keyed.El("h2", keyed.Text("What it waits for")), part.Picture(draw.DateLine(d)),
		part.Note("Days from the order; bench time is not counted."))
}

// mostWaits is how many waits are drawn one by one.
const mostWaits = 3

// waits lists what must arrive for the choice in force, one line for each
// part, the longest and the unknown first.
func waits(r *job.Result) draw.Dates {
	var d draw.Dates
	if n, ok := wholeDays(r.Job.Bounds.Days); ok {
		d.Needed, d.HasNeeded = n, true
	}
	if r.Force < 0 {
		return d
	}
	seen := map[string]bool{}
	add := func(say string, days int) {
		if !seen[say] && days != 0 {
			seen[say] = true
			d.Waits = append(d.Waits, draw.Wait{Say: say, Days: days})
		}
	}
	for _, l := range r.Sets[r.Force].Lines {
		if l.Chosen != nil {
			add(l.Chosen.Offer.Text, l.Chosen.Offer.LeadDays)
		}
	}
	for _, o := range r.Options {
		for _, x := range o.Option.Other {
			if o.Accepted {
				add(x.Say, x.Days)
			}
		}
	}
	sorted.By(d.Waits, func(a, b draw.Wait) int { return cmp.Compare(longest(b), longest(a)) })
	if len(d.Waits) > mostWaits {
		d.Waits = d.Waits[:mostWaits]
	}
	return d
}

// longest ranks a wait nobody stated before all others: it may be any.
func longest(w draw.Wait) int {
	if w.Days < 0 {
		return 1 << 30
	}
	return w.Days
}

func wholeDays(s string) (n int, ok bool) {
	for _, c := range s {
		if c < '0' || c > '9' || len(s) > 5 {
			return 0, false
		}
		n = 10*n + int(c-'0')
	}
	return n, s != ""
}
