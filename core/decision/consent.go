package decision

import (
	"fmt"
	"slices"
	"strings"

	"lugworth/core/money"
)

// A Consent is what the owner said, as a record's body holds it. Only a later
// one supersedes it: none is ever changed.
type Consent struct {
	ID         string   `json:"id,omitempty"`
	At         string   `json:"at,omitempty"`       // date and time
	Who        string   `json:"who,omitempty"`      // the person who agreed
	Channel    string   `json:"channel,omitempty"`  // at the shop, by phone, in writing
	Called     string   `json:"called,omitempty"`   // the number called
	Received   string   `json:"received,omitempty"` // the person who heard it
	Estimate   string   `json:"estimate,omitempty"` // number of the frozen estimate it was said of
	Choice     string   `json:"choice,omitempty"`   // name of the choice
	Accept     []string `json:"accept,omitempty"`   // options, yes
	Declined   []string `json:"declined,omitempty"` // findings, no
	Open       []string `json:"open,omitempty"`     // findings to think about
	Total      string   `json:"total,omitempty"`
	Ceiling    string   `json:"ceiling,omitempty"` // nothing beyond it without asking
	Currency   string   `json:"currency,omitempty"`
	Added      string   `json:"added,omitempty"` // against the consent before: "+64.00"
	Conditions string   `json:"conditions,omitempty"`
	ReadBack   string   `json:"readback,omitempty"` // "yes": it was read back and confirmed
	Apart      string   `json:"-"`                  // the name it shares with another answer: neither knew of the other
}

// Channels are the ways an owner agrees.
var Channels = []string{"at the shop", "by phone", "in writing"}

// Lacks names what a consent wants before it is recorded: who agreed, how,
// who heard it, the number called where it was by phone, that it was read
// back, and something that was said.
//
// Source: the fields that California asks of an oral authorization by an
// electronic service dealer's customer (16 CCR 2721, second-hand); common
// practice elsewhere. Check with your local authority.
func (c Consent) Lacks() []string {
	var out []string
	want := func(bad bool, say string) {
		if bad {
			out = append(out, say)
		}
	}
	blank := func(s string) bool { return strings.TrimSpace(s) == "" }
	want(blank(c.Who), "who agreed")
	want(!slices.Contains(Channels, c.Channel), "how it was said")
	want(c.Channel == "by phone" && blank(c.Called), "the number called")
	want(blank(c.Received), "who heard it")
	want(len(c.Accept)+len(c.Declined)+len(c.Open) == 0, "what was said of any finding")
	want(c.ReadBack != "yes" && c.Channel != "in writing", "that it was read back and confirmed")
	return out
}

// Words say a consent in sentences, for a paper.
func (c Consent) Words() string {
	say := join(", ", minute(c.At), c.Channel)
	if c.Called != "" && c.Channel == "by phone" {
		say += " on " + c.Called
	}
	say += ": " + orUnsaid(c.Who) + " agreed"
	if c.Received != "" {
		say += ", heard by " + c.Received
	}
	if c.Estimate != "" {
		say += ", of estimate " + c.Estimate
	}
	say += "."
	for _, x := range []struct{ what, ids string }{{"Yes to", strings.Join(c.Accept, ", ")}, {"No to", strings.Join(c.Declined, ", ")}, {"To think about", strings.Join(c.Open, ", ")}} {
		if x.ids != "" {
			say += " " + x.what + ": " + x.ids + "."
		}
	}
	if c.Total != "" {
		say += " Total " + join(" ", c.Total, c.Currency)
		if c.Added != "" {
			say += " (" + c.Added + " against what was agreed before)"
		}
		say += "."
	}
	if c.Ceiling != "" {
		say += " At most " + join(" ", c.Ceiling, c.Currency) + " without asking again."
	}
	if c.Conditions != "" {
		say += " Conditions: " + c.Conditions + "."
	}
	if c.ReadBack == "yes" {
		say += " Read back and confirmed."
	}
	return strings.ReplaceAll(say, "..", ".")
}

// minute is the date and the minute of an ISO time.
func minute(at string) string {
	if len(at) < 16 || at[10] != 'T' {
		return at
	}
	return at[:10] + " " + at[11:16]
}

func orUnsaid(s string) string {
	if strings.TrimSpace(s) == "" {
		return "a person not named"
	}
	return s
}

func join(sep string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return strings.TrimSpace(p) == "" }), sep)
}

// An Authority is what the latest consent covers of a choice.
type Authority struct {
	Given   bool // there is a consent
	Consent Consent
	Added   []string     // options of the choice that were not agreed to
	Dropped []string     // options agreed to that the choice leaves out
	Most    money.Amount // agreed: the ceiling, else the total
	Over    money.Amount // the choice's total beyond Most; 0 = inside
	Unclear string       // why the consent's sums cannot be read
}

// Covers reports whether the whole choice is agreed to.
func (a Authority) Covers() bool {
	return a.Given && len(a.Added) == 0 && a.Over <= 0 && a.Unclear == ""
}

// May reports whether one option may be worked on or ordered for.
func (a Authority) May(option string) bool {
	return a.Given && a.Unclear == "" && !slices.Contains(a.Added, option)
}

// Authorize holds a choice and its total against the latest of the consents,
// given oldest first. Without a consent nothing is agreed to.
func Authorize(consents []Consent, accept []string, total money.Amount, c money.Currency) Authority {
	if len(consents) == 0 {
		return Authority{Added: slices.Clone(accept)}
	}
	last := consents[len(consents)-1]
	a := Authority{Given: true, Consent: last}
	for _, id := range accept {
		if !slices.Contains(last.Accept, id) {
			a.Added = append(a.Added, id)
		}
	}
	for _, id := range last.Accept {
		if !slices.Contains(accept, id) {
			a.Dropped = append(a.Dropped, id)
		}
	}
	if a.Most, a.Unclear = last.Bound(c); a.Unclear == "" {
		a.Over = max(0, total-a.Most)
	}
	return a
}

// Bound is the sum a consent holds to: its ceiling, else its total. unclear
// says why it holds to none.
func (c Consent) Bound(in money.Currency) (most money.Amount, unclear string) {
	sum := c.Ceiling
	if strings.TrimSpace(sum) == "" {
		sum = c.Total
	}
	most, err := in.Read(sum)
	switch {
	case c.Apart != "":
		return 0, "two answers were recorded on devices apart, neither knowing of the other"
	case strings.TrimSpace(sum) == "":
		return 0, "no sum was agreed"
	case c.Currency != "" && c.Currency != in.Code:
		return 0, "the sum agreed is in " + c.Currency
	case err != nil:
		return 0, "the sum agreed, " + sum + ", cannot be read"
	}
	return most, ""
}

// Say puts an authority into one sentence.
func (a Authority) Say(c money.Currency) string {
	switch {
	case !a.Given:
		return "Nothing is agreed yet: nothing may be ordered or done."
	case a.Unclear != "":
		return "Ask again before anything is ordered: " + a.Unclear + "."
	case len(a.Added) > 0 && a.Over > 0:
		return fmt.Sprintf("Not agreed: %s, and the total is %s beyond the agreed %s. Ask before it is ordered or done.", strings.Join(a.Added, ", "), c.Format(a.Over), c.Format(a.Most))
	case a.Over > 0:
		return fmt.Sprintf("The total is %s beyond the agreed %s. Ask before it is charged.", c.Format(a.Over), c.Format(a.Most))
	case len(a.Added) > 0:
		return "Not agreed yet: " + strings.Join(a.Added, ", ") + ". Ask before it is ordered or done."
	}
	return "All of it is agreed, " + c.Format(a.Most) + " at most."
}
