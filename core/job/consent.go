package job

import (
	"cmp"
	"slices"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/money"
	"lugworth/core/quote"
	"lugworth/core/record"
)

// Authority is what the owner's latest consent covers of the choice in force.
func (r *Result) Authority() decision.Authority {
	total := money.Amount(0)
	if r.Force >= 0 {
		total = r.Sets[r.Force].Bill.Total
	}
	a := decision.Authorize(r.Job.Consents, r.accepted(), total, r.Policy.Currency)
	if a.Given && a.Unclear == "" {
		a.Unclear = r.unpriced()
	}
	return a
}

// unpriced says that the choice in force has no total to hold against what
// was agreed; "" where it has one.
func (r *Result) unpriced() string {
	if r.Force >= 0 && r.Sets[r.Force].Err != "" {
		return "the choice in force cannot be priced"
	}
	return ""
}

// unasked says why a part of an option may not be ordered yet; "" where it
// may, and where no consent is on record at all: then nobody has begun to
// record them, which the page says.
func (r *Result) unasked(option string) string {
	n := len(r.Job.Consents)
	if n == 0 {
		return ""
	}
	last := r.Job.Consents[n-1]
	if !slices.Contains(last.Accept, option) {
		return "the owner has not agreed to it: ask, and record the answer"
	}
	_, unclear := last.Bound(r.Policy.Currency)
	if why := cmp.Or(unclear, r.unpriced()); why != "" {
		return why + ": ask the owner again, and record the answer"
	}
	return ""
}

// A Step is one line by which what was agreed differs from what is in force.
type Step struct {
	Say      string
	Was, Is  money.Amount
	New, Out bool
}

// Since compares the frozen estimate that the latest consent is of with the
// choice in force: line by line what came, went or changed, and the totals.
// ok is false without a consent that names a frozen estimate of this job, or
// where either cannot be priced.
func (r *Result) Since() (steps []Step, was, is money.Amount, ok bool) {
	n := len(r.Job.Consents)
	if n == 0 || r.Force < 0 || r.Sets[r.Force].Err != "" {
		return nil, 0, 0, false
	}
	old, ok := r.Job.frozenOf(r.Job.Consents[n-1])
	if !ok || old.Currency != r.Policy.Currency {
		return nil, 0, 0, false
	}
	now := r.Spoken(r.Sets[r.Force].Bill)
	return stepsOf(old.Lines, now.Lines), old.Total, now.Total, true
}

// frozenOf is the bill of the frozen estimate that a consent is of. Where two
// devices apart gave one number to two estimates, it is the one of the same
// total and options, and none where neither is.
func (j *Job) frozenOf(c decision.Consent) (quote.Bill, bool) {
	var named []quote.Bill
	for _, f := range j.Frozen {
		name, _, _ := strings.Cut(f.ID, record.Apart)
		if name != c.Estimate && f.ID != c.Estimate {
			continue
		}
		z, b, err := f.Reopen()
		if err != nil {
			continue
		}
		if b.Currency.Format(b.Total) == c.Total && slices.Equal(z.Accept, c.Accept) {
			return b, true
		}
		named = append(named, b)
	}
	if len(named) != 1 {
		return quote.Bill{}, false
	}
	return named[0], true
}

// stepsOf pairs lines that are of one thing.
func stepsOf(old, now []quote.Line) []Step {
	key := func(l quote.Line) string {
		return string(l.Class) + "\x00" + l.ID + "\x00" + l.Option + "\x00" + l.List
	}
	used := make([]bool, len(now))
	var out []Step
	for _, o := range old {
		at := slices.IndexFunc(now, func(n quote.Line) bool { return key(n) == key(o) })
		for at >= 0 && used[at] {
			next := slices.IndexFunc(now[at+1:], func(n quote.Line) bool { return key(n) == key(o) })
			if next < 0 {
				at = -1
				break
			}
			at += 1 + next
		}
		if at < 0 {
			out = append(out, Step{Say: o.Say, Was: o.Amount, Out: true})
			continue
		}
		used[at] = true
		if now[at].Amount != o.Amount {
			say := o.Say
			if now[at].Say != say {
				say += "; now: " + now[at].Say
			}
			out = append(out, Step{Say: say, Was: o.Amount, Is: now[at].Amount})
		}
	}
	for i, n := range now {
		if !used[i] {
			out = append(out, Step{Say: n.Say, Is: n.Amount, New: true})
		}
	}
	return out
}
