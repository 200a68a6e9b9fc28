package job

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/catalog"
	"lugworth/core/decision"
	"lugworth/core/finding"
	"lugworth/core/limit"
	"lugworth/core/money"
	"lugworth/core/order"
	"lugworth/core/plan"
	"lugworth/core/quote"
	"lugworth/core/rating"
	"lugworth/core/shop"
	"lugworth/core/stress"
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
	Dates    []finding.CodeReading // date codes, as the amp's record lists them
	Code     string                // of the record chain, for print; set by whoever holds the file

	stops  error // why nothing can be priced
	desk   *plan.Desk
	worlds *worlds
	labor  laborBook

	model    decision.Model
	modelErr error
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
func Derive(j *Job, b *Books, now string) *Result {
	r := &Result{Job: j, Books: b, Now: now, Force: -1}
	r.Problems = append(r.Problems, j.Problems...)
	r.Problems = append(r.Problems, b.Problems...)
	r.Problems = append(r.Problems, b.untold()...)
	r.open()
	r.judgeFound()
	r.work()
	r.dates()
	r.price()
	r.weighOptions()
	r.buy()
	return r
}

// open sets up the desk everything is weighed at.
func (r *Result) open() {
	j, b := r.Job, r.Books
	cards := oneByOne(b.Cards)
	in := stress.Input{Amp: &j.Amp, Mains: j.Mains, Cards: cards}
	in.Meter, in.MeterKnown = b.Sheet.MeterPercent.Float()/100, b.Sheet.Has("meter_percent")
	r.desk = &plan.Desk{
		Amp: &j.Amp, Mains: j.Mains, Cards: cards, Reserve: reserveOf(b.Sheet),
		Shelf: b.Shelf, Offer: b.Offer, Lost: b.Lost, Cost: b.Cost, Reasons: j.Reasons, Trials: r.trials(),
	}
	r.worlds = newWorlds(j, r.desk, stress.New(in))
	r.labor = newLaborBook(j)
	policy, err := quote.PolicyOf(b.Sheet, "shop sheet")
	r.Policy, r.stops = policy, errors.Join(b.stops(), err)
	if r.stops != nil {
		r.Problems = append(r.Problems, unit.Problem{Code: unit.Unusable, Say: r.stops.Error()})
	}
	r.checkOptions()
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
	if p, ok := unit.Located(err, where, 0, "", ""); ok {
		r.Problems = append(r.Problems, p)
	}
}

// trials reads the parts the technician asks about without a list.
func (r *Result) trials() map[string][]*catalog.Offer {
	out := map[string][]*catalog.Offer{}
	for _, t := range r.Job.Trials {
		o, err := trialOffer(t)
		if err != nil {
			r.problem("trial "+t.ID, err)
			continue
		}
		k := plan.TrialKey(t.Option, t.Part)
		out[k] = append(out[k], o)
	}
	return out
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

func (r *Result) judgeFound() {
	r.Found = r.desk.Standing(r.worlds.found, true)
	r.Checks = checks(r.worlds.found, &r.Job.Amp)
}

// work works out findings and what closes what.
func (r *Result) work() {
	facts := finding.Facts{Meter: r.Books.Sheet.MeterPercent.Float() / 100, MeterKnown: r.Books.Sheet.Has("meter_percent"), About: r.Job.Amp.About}
	for _, f := range r.Job.Findings {
		res := FindingResult{Result: finding.Work(f, facts)}
		for i := range r.Job.Options {
			if r.Job.Options[i].Finding == f.ID {
				res.Options = append(res.Options, i)
			}
		}
		r.Problems = append(r.Problems, res.Problems...)
		r.Findings = append(r.Findings, res)
	}
}

// dates reads the date codes stamped on parts and holds them against the
// year the amp is said to be of.
func (r *Result) dates() {
	for _, d := range r.Job.Amp.DateCodes {
		c, err := finding.ReadCode(d.Code)
		if err == nil {
			c, err = c.Against(r.Job.Amp.About).Settle(d.Year)
		}
		if err != nil {
			r.problem("date code on "+d.On, err)
		}
		c.On = d.On
		r.Dates = append(r.Dates, c)
	}
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

// weighOptions judges every option twice: on the amp as found with nothing
// else done, and beside the set in force.
func (r *Result) weighOptions() {
	force := r.accepted()
	w := r.worlds
	r.Standing = r.Found
	if r.Force >= 0 {
		r.Standing = r.Sets[r.Force].Standing
	}
	found, own := w.under(nil), w.under(force)
	r.Options = make([]OptionResult, len(r.Job.Options))
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		res := &r.Options[i]
		res.Option, res.Accepted = o, slices.Contains(force, o.ID)
		bare, alone := w.pair(nil, found, o.ID)
		res.Alone = w.linesOf(o.ID, alone)
		off, on := w.pair(force, own, o.ID)
		res.Lines = w.linesOf(o.ID, on)
		res.Apart = r.change(bare, alone)
		res.Beside = r.change(off, on)
		r.refuse(res)
	}
}

// change compares the amp without and with an option, other choices held.
func (r *Result) change(off, on *world) Change {
	if off == on {
		return Change{}
	}
	after := r.standing(on)
	return Change{Effect: plan.Compare(r.standing(off), after), After: after, Least: r.least(on, after)}
}

// standing judges a world once.
func (r *Result) standing(w *world) []rating.Judgment {
	if w.standing == nil {
		w.standing = r.desk.Standing(w.model, false)
	}
	return w.standing
}

// least finds the least resistance that keeps each dissipation verdict.
func (r *Result) least(w *world, after []rating.Judgment) []LeastOhms {
	var out []LeastOhms
	for _, j := range after {
		if j.Quantity != limit.PlateWatts || !j.HasLimit || j.Kind != rating.Within || j.Scenario != stress.Top {
			continue
		}
		t, ok := r.Job.Amp.Find(j.Subject)
		if !ok {
			continue
		}
		if ohms, ok := w.model.LeastOhms(t, j.Quantity, j.Mains, j.Limit.High); ok {
			f, _ := w.model.Factor(t)
			out = append(out, LeastOhms{Subject: j.Subject, Quantity: j.Quantity, Ohms: ohms, Factor: f})
		}
	}
	return out
}

// refuse says why an option may not be put to the owner, and what stands in
// the way of ordering it.
func (r *Result) refuse(res *OptionResult) {
	o := res.Option
	e := res.Beside.Effect
	if !e.Offered() {
		for _, j := range append(e.Breaks, e.Worsens...) {
			res.Refused = j.Subject + " " + string(j.Quantity) + ": " + j.Reason()
			break
		}
	}
	if e.NeedsReason() && r.Job.Reasons[o.ID] == "" {
		res.Problems = append(res.Problems, e.Says()+": needs a recorded reason")
	}
	if err := r.unclear(o); err != nil {
		res.Problems = append(res.Problems, err.Error())
	}
	for _, l := range res.Lines {
		if l.Problem != "" {
			res.Problems = append(res.Problems, l.Problem)
		}
	}
}

// Model is the owner's decisions as a model that can be priced. It is made
// once: the facts of a Result do not change.
//
// Errors: a ceiling or a number of days that cannot be read.
func (r *Result) Model() (decision.Model, error) {
	if r.model.Price == nil {
		r.model, r.modelErr = r.makeModel()
		if r.modelErr != nil && r.stops == nil {
			r.problem(KindBounds, r.modelErr)
		}
	}
	return r.model, r.modelErr
}

func (r *Result) makeModel() (decision.Model, error) {
	m := decision.Model{Currency: r.Policy.Currency, Price: r.pricer()}
	if r.stops != nil {
		return m, r.stops
	}
	if r.Job.Bounds.Ceiling != "" {
		c, err := r.Policy.Currency.Read(r.Job.Bounds.Ceiling)
		if err != nil {
			return m, bound("ceiling", r.Job.Bounds.Ceiling, err)
		}
		if c < 0 {
			return m, bound("ceiling", r.Job.Bounds.Ceiling, unit.Problem{Code: unit.Negative})
		}
		m.Limits.Ceiling, m.Limits.HasCeiling = c, true
	}
	if r.Job.Bounds.Days != "" {
		n, err := strconv.Atoi(strings.TrimSpace(r.Job.Bounds.Days))
		if err != nil || n < 0 {
			return m, bound("days", r.Job.Bounds.Days, fmt.Errorf("%q is not a whole number from 0", r.Job.Bounds.Days))
		}
		m.Limits.Days, m.Limits.HasDays = n, true
	}
	of := map[string][]*plan.Option{}
	for i := range r.Job.Options {
		o := &r.Job.Options[i]
		of[o.Finding] = append(of[o.Finding], o)
	}
	for _, f := range r.Job.Findings {
		if options := of[f.ID]; len(options) > 0 {
			m.Decisions = append(m.Decisions, decisionOf(f, options))
		}
	}
	return m, nil
}

func decisionOf(f finding.Finding, options []*plan.Option) decision.Decision {
	d := decision.Decision{Finding: f.ID, Say: string(f.Seen), Pile: f.Pile, Consequence: string(f.No)}
	if d.Pile == "" {
		d.Pile = shop.Must // a finding nobody sorted is not declinable
	}
	worth, _ := f.Worth() // a weight that cannot be read is told of with the finding
	for _, o := range options {
		v := o.Value
		if v == 0 {
			v = worth
		}
		d.Options = append(d.Options, decision.Option{ID: o.ID, Say: o.Say, Value: v, Both: o.Both, Needs: o.Needs, Consequence: o.Consequence})
	}
	return d
}

// Accepted returns the options of the set in force.
func (r *Result) Accepted() []string { return r.accepted() }

// Turn returns the set in force with one option turned over: taken, with
// those it excludes left out, or left out.
func (r *Result) Turn(option string) []string {
	have := r.accepted()
	if slices.Contains(have, option) {
		return without(have, option)
	}
	if _, ok := r.worlds.at[option]; !ok {
		return have
	}
	return r.worlds.with(have, option)
}
