package job

import "lugworth/core/decision"

// Ledger is the quick pricer alone, for tests that hold it against bills.
func (r *Result) Ledger() (decision.Pricer, bool) {
	l, ok := newLedger(r)
	if !ok || l.byBill {
		return nil, false
	}
	return func(accept []string) (decision.Price, error) {
		p, ok := l.sum(accept)
		if !ok {
			return p, errNotSummed
		}
		return p, nil
	}, true
}

type constError string

func (e constError) Error() string { return string(e) }

const errNotSummed = constError("left to the bill")

// Shares reports whether two Results rest on one ground.
func (r *Result) Shares(o *Result) bool { return r.ground == o.ground }

// States counts the states of the amp that were solved.
func (r *Result) States() int {
	n := 0
	for _, w := range r.worlds.byKey {
		if w.standing != nil {
			n++
		}
	}
	return n
}
