package job

import (
	"slices"

	"lugworth/core/decision"
	"lugworth/core/money"
	"lugworth/core/quote"
)

// Authority is what the owner's latest consent covers of the choice in force.
func (r *Result) Authority() decision.Authority {
	total := money.Amount(0)
	if r.Force >= 0 {
		total = r.Sets[r.Force].Bill.Total
	}
	return decision.Authorize(r.Job.Consents, r.accepted(), total, r.Policy.Currency)
}

// unasked says why a part of an option may not be ordered yet; "" where it
// may, and where no consent is on record at all: then nobody has begun to
// record them, which the page says.
func (r *Result) unasked(option string) string {
	if n := len(r.Job.Consents); n == 0 || slices.Contains(r.Job.Consents[n-1].Accept, option) {
		return ""
	}
	return "the owner has not agreed to it: ask, and record the answer"
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
	i := slices.IndexFunc(r.Job.Frozen, func(f FrozenRecord) bool { return f.ID == r.Job.Consents[n-1].Estimate })
	if i < 0 {
		return nil, 0, 0, false
	}
	_, old, err := r.Job.Frozen[i].Reopen()
	if err != nil {
		return nil, 0, 0, false
	}
	now := r.Spoken(r.Sets[r.Force].Bill)
	return stepsOf(old.Lines, now.Lines), old.Total, now.Total, true
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
