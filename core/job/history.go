package job

import (
	"fmt"
	"math"
	"strconv"

	"lugworth/core/labor"
	"lugworth/core/money"
	"lugworth/core/unit"
)

// Least numbers of finished jobs. Below fewRatios nothing is said of the
// shop's own ratios; lastJobs are looked back on. Our own judgment.
const (
	fewRatios = 4
	lastJobs  = 20
)

// A History is what the shop's own finished jobs say, without any assumption
// on how they are spread.
type History struct {
	Jobs      int
	Ratios    []float64 // actual over estimated hours, job by job, the oldest first
	Low, High float64   // between which the next ratio lies with chance Holds
	Holds     float64
	HasRange  bool
	Score     labor.Score // of the last jobs, each judged by those before it
	Say       string
}

// History tells how the shop's finished jobs ran against their estimates. The
// range is that of order statistics: the next ratio lies between the j-th and
// the k-th of n with chance (k − j)/(n + 1), where the next job is like those
// before it.
func (r *Result) History() History {
	b := r.Books
	if b.history == nil {
		h := historyOf(b.Past)
		b.history = &h
	}
	return *b.history
}

func historyOf(past []labor.Past) History {
	h := History{Ratios: labor.Ratios(past)}
	h.Jobs = len(h.Ratios)
	if h.Jobs < fewRatios {
		h.Say = fmt.Sprintf("too few finished jobs to say anything by their own ratios: %d of at least %d", h.Jobs, fewRatios)
		return h
	}
	h.Score = labor.Replay(past, lastJobs)
	h.Low, h.High, h.Holds, h.HasRange = labor.Range(h.Ratios, 0.8)
	if !h.HasRange {
		s := labor.Widest(h.Ratios)
		h.Low, h.High, h.Holds = s.Low, s.High, s.Holds
	}
	h.Say = fmt.Sprintf("%d finished jobs: the next takes %s to %s of its estimate with chance %s (order statistics, nothing assumed)",
		h.Jobs, times(h.Low), times(h.High), percent(h.Holds))
	return h
}

func times(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) + " times" }

// percent rounds a chance to whole percent; what is not certain is never said
// to be.
func percent(p float64) string {
	n := int(math.Floor(100*p + 0.5))
	switch {
	case n == 100 && p < 1:
		return "over 99 %"
	case n == 0 && p > 0:
		return "under 1 %"
	}
	return strconv.Itoa(n) + " %"
}

// A CeilingChance is how probable it is that a choice stays under the owner's
// ceiling if the hours it takes were billed as they come: parts, fee and work
// sent out as they stand.
type CeilingChance struct {
	Hours      float64 // hours at which the ceiling is reached
	Chance     float64
	Says       string
	Method     string
	Own        string // the same by the shop's own ratios alone
	Missing    string // why there is none
	Calibrated bool
}

// CeilingHolds works out the chance from the distribution of the hours, see
// HoursOf, and beside it from the shop's own ratios alone.
func (r *Result) CeilingHolds(accept []string) CeilingChance {
	h, err := r.ceilingHours(accept)
	if err != nil {
		return CeilingChance{Missing: err.Error()}
	}
	e, err := r.LaborOf(accept...)
	if err != nil {
		return CeilingChance{Missing: err.Error()}
	}
	f := r.fit()
	c := CeilingChance{Hours: h, Calibrated: f.Calibrated()}
	if h >= 0 {
		c.Chance = r.moments(e).Chance(h)
	}
	c.Says = percent(c.Chance)
	c.Method = "hours at " + r.Policy.Currency.Code + " " + r.Books.Sheet.Rate.String() + " billed as they come, parts, fee and work sent out as they stand; three moments of the lines, " + r.calibrationSays()
	c.Own = r.ownChance(h, float64(e.Hours))
	return c
}

// ownChance is the chance by the shop's own ratios.
func (r *Result) ownChance(hours, expected float64) string {
	ratios := labor.Ratios(r.Books.Past)
	if len(ratios) < fewRatios {
		return fmt.Sprintf("too few finished jobs to say it by their own ratios: %d of at least %d", len(ratios), fewRatios)
	}
	if expected <= 0 {
		return "no work, no ratio"
	}
	low, high := labor.Held(ratios, hours/expected)
	return fmt.Sprintf("by the ratios of %d finished jobs alone between %s and %s", len(ratios), percent(low), percent(high))
}

// ceilingHours are the hours a choice may take under the ceiling, −1 where
// what is not labor is above it.
func (r *Result) ceilingHours(accept []string) (float64, error) {
	m, err := r.Model()
	if err != nil {
		return 0, err
	}
	if !m.Limits.HasCeiling {
		return 0, fmt.Errorf("no ceiling is set")
	}
	b, err := r.Bill(r.inOrder(accept))
	if err != nil {
		return 0, err
	}
	rate := r.Books.Sheet.Rate.Float()
	if rate <= 0 {
		return 0, fmt.Errorf("the rate an hour is 0")
	}
	holds := func(labor money.Amount) bool {
		t, err := r.Policy.Reckon(labor, b.Parts, b.Other)
		return err == nil && t <= m.Limits.Ceiling
	}
	if !holds(0) {
		return -1, nil
	}
	low, high := money.Amount(0), m.Limits.Ceiling+1
	for high-low > 1 {
		if mid := low + (high-low)/2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return money.Of(low, r.Policy.Currency).Float() / rate, nil
}

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
