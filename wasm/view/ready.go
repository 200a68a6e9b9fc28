package view

import (
	"lugworth/core/job"
	"lugworth/core/shop"
	"lugworth/core/why"
)

var readyRule = &why.Rule{Name: "ready day", Says: "The longest wait among the parts and the work sent out, from the day of the order; bench time is not counted.",
	Formula: "longest lead", Source: "common practice, no source"}

// waitDays is a wait in words.
type waitDays int

func (d waitDays) String() string { return leadSays(int(d)) }

// readyWhy is what the ready day rests on: each part that is bought and each
// work sent out, with where its wait is stated.
func readyWhy(r *job.Result, s job.SetResult) *why.Node {
	var from []*why.Node
	seen := map[string]bool{}
	add := func(say string, days int, where string) {
		if !seen[say] {
			seen[say] = true
			from = append(from, why.Given(say, waitDays(days), where))
		}
	}
	for _, l := range s.Lines {
		if l.Chosen != nil {
			o := l.Chosen.Offer
			add(o.Text, o.LeadDays, o.File+":"+itoa(o.Line))
		}
	}
	for _, o := range r.Options {
		for _, x := range o.Option.Other {
			if o.Accepted {
				add(x.Say, x.Days, "option "+o.Option.ID)
			}
		}
	}
	days := waitDays(s.ReadyDays)
	if s.ReadyDays == 0 && len(s.Bill.NoLead) > 0 {
		days = -1
	}
	return why.Found(readyRule, "from the order to the last arrival", days, from...)
}

// readySays is the day, left open to the later side where a lead is not
// stated. A shop that tests dates by chance is told that this one is the last
// part's: its ready day stands on Plan, Hours.
func readySays(r *job.Result, s job.SetResult) string {
	what := "ready day "
	if r.Books.Sheet.DateTest == shop.P80 {
		what = "last part day "
	}
	switch {
	case len(s.Bill.NoLead) == 0:
		return what + itoa(s.ReadyDays)
	case s.ReadyDays == 0:
		return what + "not known"
	}
	return what + itoa(s.ReadyDays) + " or later"
}
