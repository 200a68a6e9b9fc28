package job

import (
	"fmt"

	"lugworth/core/labor"
	"lugworth/core/money"
)

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
