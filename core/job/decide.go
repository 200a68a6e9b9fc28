package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lugworth/core/decision"
	"lugworth/core/finding"
	"lugworth/core/plan"
	"lugworth/core/shop"
	"lugworth/core/unit"
)

// Model is the owner's decisions as a model that can be priced. It is made
// once: the facts of a Result do not change.
//
// Errors: a ceiling or a number of days that cannot be read.
func (r *Result) Model() (decision.Model, error) {
	if r.model.Price == nil {
		r.model, r.modelErr = r.makeModel()
	}
	if r.modelErr != nil && r.stops == nil && !r.modelSaid {
		r.modelSaid = true
		r.problem(KindBounds, r.modelErr)
	}
	m := r.model
	m.Refused, m.Ahead = r.refusedChoice, r.aheadOfJudging
	if r.Simulated() {
		m.Ready = r.ReadyP80
	}
	return m, r.modelErr
}

func (r *Result) makeModel() (decision.Model, error) {
	price, floor := r.pricer()
	m := decision.Model{Currency: r.Policy.Currency, Price: price}
	if floor != nil {
		m.Floor = floor.under
	}
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
		if o := &r.Job.Options[i]; o.Chance == 0 { // an "if found" item is nobody's to decide yet
			of[o.Finding] = append(of[o.Finding], o)
		}
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
		d.Options = append(d.Options, decision.Option{ID: o.ID, Say: o.Say, Value: v, Both: o.Both, Needs: o.Needs, Consequence: o.Consequence, Touch: touchOf(o)})
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
	if i, ok := r.worlds.at[option]; !ok || r.Job.Options[i].Chance > 0 {
		return have
	}
	return r.worlds.with(have, option)
}
