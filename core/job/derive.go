package job

import (
	"fmt"
	"slices"

	"lugworth/core/catalog"
	"lugworth/core/finding"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/shop"
	"lugworth/core/tube"
	"lugworth/core/unit"
)

// A Result is everything the facts and the books give.
type Result struct {
	Job      *Job
	Books    *Books
	Now      string
	Policy   quote.Policy
	Problems []unit.Problem

	Findings []FindingResult
	Found    []rating.Judgment // the amp as found
	Standing []rating.Judgment // under the set in force
	Options  []OptionResult    // as Job.Options
	Sets     []SetResult       // as Job.Sets
	Force    int               // index of the set in force, −1 none
	Buy      order.Buy         // of the set in force
	Checks   []Check
	Closed   []finding.Closed
	Circuit  *Circuit              // the amp's own circuit; never nil
	Dates    []finding.CodeReading // date codes, as the amp's record lists them
	Code     string                // of the record chain, for print; set by whoever holds the file

	*ground
	ordering    *Ordering
	orderingErr error
	modelSaid   bool // that the bounds cannot be read is among Problems
}

// A FindingResult is one finding with its figures.
type FindingResult struct {
	finding.Result
	Options []int // indexes into Job.Options
}

// An OptionResult is one option weighed: as found with nothing else done, and
// under the set in force.
type OptionResult struct {
	Option   *plan.Option
	Accepted bool
	Alone    []plan.Line // on the amp as found, with this option alone
	Lines    []plan.Line // with the set in force and this option
	Apart    Change      // what it does to the amp as found, alone
	Beside   Change      // what it does to the amp beside the set in force
	Refused  string      // why it may not be put to the owner
	Problems []string
}

// A Change is what an option does to figures of the amp, besides the parts it
// fits. It is empty for an option that leaves the circuit alone.
type Change struct {
	plan.Effect
	After []rating.Judgment // the whole standing with the option
	Least []LeastOhms
}

// A LeastOhms is the least resistance of a fitted resistor for which a
// verdict holds. Show it rounded up, as Up does.
type LeastOhms struct {
	Subject  string
	Quantity limit.Quantity
	Ohms     float64
	Factor   unit.Interval // ends of the factor on current of the part as marked
}

// A SetResult is one named choice, priced and judged.
type SetResult struct {
	Set
	Bill        quote.Bill
	Standing    []rating.Judgment
	Lines       []plan.Line
	ReadyDays   int
	FitsCeiling bool
	FitsDate    bool
	Left        money.Amount
	Err         string
}

// Derive works the whole chain: facts and books in, everything else out. It
// is pure: the same job, books and now give the same Result.
func Derive(j *Job, b *Books, now string) *Result { return derive(newGround(j, b, nil), j, b, now) }

// derive works out what a choice decides, on a ground that is laid.
func derive(g *ground, j *Job, b *Books, now string) *Result {
	r := &Result{ground: g, Job: j, Books: b, Now: now, Force: -1, Policy: g.policy,
		Findings: slices.Clip(g.findings), Found: slices.Clip(g.found), Checks: slices.Clip(g.checks), Dates: slices.Clip(g.dates), Circuit: g.circuit}
	for _, ps := range [][]unit.Problem{j.Problems, b.Problems, g.untold, g.opened, j.checkSets(), g.worked, g.dated} {
		r.Problems = append(r.Problems, ps...)
	}
	r.price()
	r.weighOptions()
	r.buy()
	return r
}

// reserveOf is the shop's reserve as a fraction; not stated is not zero.
func reserveOf(s shop.Sheet) float64 {
	if !s.Has("reserve") {
		return rating.NoReserve
	}
	return s.Reserve.Float() / 100
}

// oneByOne looks each tube type up once.
func oneByOne(s tube.Set) func(string) (tube.Card, bool) {
	type found struct {
		card tube.Card
		ok   bool
	}
	seen := map[string]found{}
	return func(t string) (tube.Card, bool) {
		f, ok := seen[t]
		if !ok {
			f.card, f.ok = s.Find(t)
			seen[t] = f
		}
		return f.card, f.ok
	}
}

func (r *Result) problem(where string, err error) {
	r.Problems = note(r.Problems, where, err)
}

// trialsOf reads the parts the technician asks about without a list, and how
// they are made where they are made of several pieces.
func trialsOf(j *Job) (map[string][]*catalog.Offer, map[*catalog.Offer]plan.Joint, []unit.Problem) {
	out, joints := map[string][]*catalog.Offer{}, map[*catalog.Offer]plan.Joint{}
	var problems []unit.Problem
	for _, t := range j.Trials {
		joint, several, err := plan.ReadJoint(t.Text)
		one := t
		if several {
			one.Text = joint.Piece
		}
		var o *catalog.Offer
		if err == nil {
			o, err = trialOffer(one)
		}
		if err != nil {
			problems = note(problems, "trial "+t.ID, err)
			continue
		}
		if several {
			joints[o], o.Text = joint, t.Text
		}
		k := plan.TrialKey(t.Option, t.Part)
		out[k] = append(out[k], o)
	}
	return out, joints, problems
}

// trialOffer reads a trial as a row of a list would be read: no price, no
// supplier.
func trialOffer(t Trial) (*catalog.Offer, error) {
	data := row([]string{"Number", "Description", "Price"}, []string{t.ID, t.Text, ""})
	l, err := catalog.ReadList("trial", "trial "+t.ID, data, catalog.Terms{}, nil)
	if err != nil {
		return nil, err
	}
	if len(l.Offers) != 1 {
		return nil, fmt.Errorf("%q cannot be read as a part: %v", t.Text, l.Aside)
	}
	return &l.Offers[0], nil
}

func (r *Result) price() {
	for i, s := range r.Job.Sets {
		res := r.set(s)
		r.Sets = append(r.Sets, res)
		if s.Name == r.Job.Pick {
			r.Force = i
		}
	}
	accepted := r.accepted()
	closed, problems := finding.Close(r.Job.Findings, func(id string) bool { return r.findingDone(id, accepted) })
	r.Closed = closed
	r.Problems = append(r.Problems, problems...)
}

// accepted returns the options of the set in force.
func (r *Result) accepted() []string {
	if r.Force < 0 {
		return nil
	}
	return r.Job.Sets[r.Force].Accept
}

func (r *Result) findingDone(id string, accepted []string) bool {
	for _, o := range r.Job.Options {
		if o.Finding == id && slices.Contains(accepted, o.ID) {
			return true
		}
	}
	return false
}

// set prices and judges one named choice.
func (r *Result) set(s Set) SetResult {
	res := SetResult{Set: s}
	m, err := r.Model()
	if err != nil {
		res.Err = err.Error()
		return res
	}
	ordered, err := m.Order(s.Accept)
	if err != nil {
		res.Err = err.Error()
		return res
	}
	w := r.worlds.under(ordered)
	for _, id := range ordered {
		res.Lines = append(res.Lines, r.worlds.linesOf(id, w)...)
	}
	res.Standing = r.standing(w)
	res.Bill, err = r.Bill(ordered)
	if err != nil {
		res.Err = err.Error()
		return res
	}
	stand, err := m.Stand(ordered)
	if err != nil {
		res.Err = err.Error()
		return res
	}
	res.ReadyDays, res.FitsCeiling, res.FitsDate, res.Left = stand.ReadyDays, stand.FitsCeiling, stand.FitsDate, stand.Left
	return res
}
