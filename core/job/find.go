package job

import (
	"lugworth/core/money"
	"lugworth/core/unit"
)

// A Find is work that may turn out to be needed: priced apart, in no total.
type Find struct {
	Option string
	Say    string
	Chance int          // percent
	More   money.Amount // what it adds to the present choice, if it is found
	Hours  unit.Hours   // expected hours it adds, if it is found
	Err    string       // why it has no price
}

// Finds are the "if found" items of the job, each priced beside a choice.
// They add up to nothing: two of them may share a set-up.
func (r *Result) Finds(accept []string) []Find {
	var out []Find
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		if o.Chance == 0 {
			continue
		}
		f := Find{Option: o.ID, Say: o.Say, Chance: o.Chance}
		if err := r.priceFind(&f, r.inOrder(accept)); err != nil {
			f.Err = err.Error()
		}
		out = append(out, f)
	}
	return out
}

func (r *Result) priceFind(f *Find, accept []string) error {
	bare, err := r.Bill(accept)
	if err != nil {
		return err
	}
	with, err := r.Bill(append(without(accept, f.Option), f.Option))
	if err != nil {
		return err
	}
	f.More, f.Hours = with.Total-bare.Total, with.Hours-bare.Hours
	return nil
}
