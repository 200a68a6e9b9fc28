package view

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/job"
	"lugworth/core/sorted"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

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
