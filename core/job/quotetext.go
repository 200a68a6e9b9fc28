package job

import (
	"strconv"
	"strings"

	"lugworth/core/money"
	"lugworth/core/quote"
)

// QuoteText writes what the choices cost as lines to be read by eye: every
// line of every bill, its totals, the best choice, what turning each option
// over would change, and what is bought.
func (r *Result) QuoteText() string {
	p := page{}
	p.line(joinWords(r.Job.Title, r.Job.Number, "in "+r.Policy.Currency.Code, r.boundWords()))
	for _, s := range r.Sets {
		p.section(s.Name + ": " + strings.Join(s.Accept, " "))
		if s.Err != "" {
			p.table([][]string{{"cannot be priced", s.Err}})
			continue
		}
		p.table(r.billLines(s.Bill))
		p.table(r.setLines(s))
	}
	if a := r.Agreement(); a != "" {
		p.section("agreement")
		p.table([][]string{{a}})
	}
	p.section("best choice")
	p.table(r.bestLines())
	p.section("what turning one option over changes, from " + r.Job.Pick)
	p.table(r.deltaLines())
	p.section("ways of one finding")
	p.table(r.insightLines())
	p.section("orders, for " + r.Job.Pick)
	p.table(r.orderLines())
	return p.String()
}

func (r *Result) boundWords() string {
	b := r.Job.Bounds
	var words []string
	if b.Ceiling != "" {
		words = append(words, "ceiling "+b.Ceiling)
	}
	if b.Days != "" {
		words = append(words, "needed in "+b.Days+" days")
	}
	if len(words) == 0 {
		return "no ceiling, no date"
	}
	return strings.Join(words, ", ")
}

func (r *Result) billLines(b quote.Bill) [][]string {
	var out [][]string
	for _, l := range b.Lines {
		count, each := "", ""
		switch l.Class {
		case quote.Labor:
			count = fixed(float64(l.Hours), 2) + " h"
		case quote.Parts:
			count, each = strconv.Itoa(l.Pieces)+" x", r.Policy.Currency.Format(l.Each)
		}
		out = append(out, []string{string(l.Class), l.ID, count, right(each, 6), right(r.Policy.Currency.Format(l.Amount), 7), l.Say})
	}
	return out
}

// right sets a figure flush right.
func right(s string, width int) string { return strings.Repeat(" ", max(0, width-len(s))) + s }

func (r *Result) setLines(s SetResult) [][]string {
	b, m := s.Bill, r.Policy.Currency.Format
	out := [][]string{
		{"hours", fixed(float64(b.Hours), 2) + ", spread ±" + fixed(float64(b.Independent), 2) + " independent, ±" + fixed(float64(b.Linked), 2) + " linked"},
		{"sums", "labor " + m(b.Labor) + " + parts " + m(b.Parts) + " + other " + m(b.Other) + " + fee " + m(b.Fee) + " + tax " + m(b.Tax)},
		{"total", m(b.Total)},
	}
	if b.Allowance != 0 {
		out = append(out, []string{"with allowance", m(b.WithAllowance)})
	}
	ready := "day " + strconv.Itoa(s.ReadyDays)
	if len(b.NoLead) > 0 {
		ready += ", no lead stated for " + strings.Join(b.NoLead, ", ")
	}
	return append(out, []string{"ready", ready}, []string{"ceiling", r.ceilingWords(s)}, []string{"date", fitWords(r.Job.Bounds.Days != "", s.FitsDate)})
}

func (r *Result) ceilingWords(s SetResult) string {
	has := r.Job.Bounds.Ceiling != ""
	w := fitWords(has, s.FitsCeiling)
	switch {
	case has && s.Left < 0:
		w += ", over by " + r.Policy.Currency.Format(-s.Left)
	case has:
		w += ", " + r.Policy.Currency.Format(s.Left) + " left"
	}
	return w
}

func fitWords(set, fits bool) string {
	switch {
	case !set:
		return "none set"
	case fits:
		return "kept"
	}
	return "missed"
}

func (r *Result) bestLines() [][]string {
	b, err := r.Best()
	if err != nil {
		return [][]string{{"cannot be told", err.Error()}}
	}
	m := r.Policy.Currency.Format
	out := [][]string{{"best", strings.Join(b.Accept, " "), m(b.Total), "value " + strconv.Itoa(b.Value)}}
	if b.RunnerUp != nil {
		out = append(out, []string{"runner-up", strings.Join(b.RunnerUp.Accept, " "), m(b.RunnerUp.Total), "value " + strconv.Itoa(b.RunnerUp.Value)})
	}
	if b.Say != "" {
		out = append(out, []string{"say", b.Say})
	}
	return out
}

func (r *Result) deltaLines() [][]string {
	ds, err := r.Deltas()
	if err != nil {
		return [][]string{{"cannot be told", err.Error()}}
	}
	var out [][]string
	for _, d := range ds {
		verb := "take"
		if d.Accepted {
			verb = "leave"
		}
		swaps := ""
		if len(d.Swaps) > 0 {
			swaps = "in place of " + strings.Join(d.Swaps, ", ")
		}
		out = append(out, []string{verb, d.Option, right(r.signedMoney(d.Total), 8), "to " + r.Policy.Currency.Format(d.After.Total), "day " + strconv.Itoa(d.After.ReadyDays), swaps})
	}
	return out
}

// signedMoney prints a difference of money with its sign.
func (r *Result) signedMoney(a money.Amount) string {
	if a > 0 {
		return "+" + r.Policy.Currency.Format(a)
	}
	return r.Policy.Currency.Format(a)
}

func (r *Result) insightLines() [][]string {
	var out [][]string
	for _, i := range r.Insights() {
		out = append(out, []string{i.Finding, i.Say(r.Policy.Currency)})
	}
	return out
}

func (r *Result) orderLines() [][]string {
	var out [][]string
	for _, b := range r.Buy.Baskets {
		for _, l := range b.Lines {
			out = append(out, []string{b.Supplier, l.Number, strconv.Itoa(l.Packs) + " x " + strconv.Itoa(l.Pack), right(b.Currency.Format(l.Amount), 7), b.Currency.Code, strings.Join(l.Notes, "; ")})
		}
		out = append(out, []string{b.Supplier, "goods", "", right(b.Currency.Format(b.Goods), 7), b.Currency.Code, strings.Join(b.Notes, "; ")})
	}
	for _, h := range r.Buy.Held {
		out = append(out, []string{"held", h.Need.Option, h.Need.List + " " + h.Need.Number, "", "", h.Reason})
	}
	return out
}
