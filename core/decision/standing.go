package decision

import (
	"slices"

	"lugworth/core/money"
)

// A Standing is one choice priced and held against the limits.
type Standing struct {
	Accept []string
	Price
	Value       int
	Left        money.Amount // ceiling − total; negative = over. 0 where no ceiling is set
	FitsCeiling bool         // true where no ceiling is set
	FitsDate    bool         // true where no date is set; false while a lead is not stated
	Simulated   bool         // ReadyDays is by Model.Ready, not the longest lead
	Lacks       []string     // "T5 needs T4": work accepted without what it rests on
}

// Fits reports whether both limits are kept and nothing is lacking.
func (s Standing) Fits() bool { return s.FitsCeiling && s.FitsDate && len(s.Lacks) == 0 }

// Stand prices a choice and holds it against the limits. A part whose lead
// nobody stated cannot be promised for a date, so with a date set such a
// choice does not fit; NoLead names the parts.
func (m Model) Stand(accept []string) (Standing, error) {
	ordered, err := m.Order(accept)
	if err != nil {
		return Standing{}, err
	}
	return m.stand(ordered)
}

func (m Model) stand(ordered []string) (Standing, error) {
	s, err := m.held(choice{ordered, m.value(ordered)})
	s.Lacks = lacking(m.needy(), ordered)
	return s, err
}

// A choice is a list of accepted options, not yet priced.
type choice struct {
	accept []string
	value  int
}

// dated judges the date of a choice by the model's own test, where it can
// tell. That may be so though a lead is not stated: the part lies on the shelf.
func (m Model) dated(s *Standing) {
	if m.Ready == nil {
		return
	}
	days, ok := m.Ready(s.Accept)
	if !ok {
		return
	}
	s.ReadyDays, s.Simulated = days, true
	if m.Limits.HasDays {
		s.FitsDate = days <= m.Limits.Days
	}
}

// held prices a choice that lacks nothing and holds it against the limits.
func (m Model) held(c choice) (Standing, error) {
	p, err := m.Price(c.accept)
	if err != nil {
		return Standing{}, err
	}
	s := Standing{Accept: c.accept, Price: p, Value: c.value, FitsCeiling: true, FitsDate: true}
	if m.Limits.HasCeiling {
		s.Left = m.Limits.Ceiling - p.Total
		s.FitsCeiling = s.Left >= 0
	}
	if m.Limits.HasDays {
		s.FitsDate = p.ReadyDays <= m.Limits.Days && len(p.NoLead) == 0
	}
	return s, nil
}

// A Delta is what turning one option over would change, from the present
// choice. Deltas do not add up: two of them may share a set-up or a pack.
type Delta struct {
	Option   string
	Accepted bool     // it is in the present choice; the delta is that of leaving it out
	Swaps    []string // options that leave because this one excludes them
	Total    money.Amount
	Hours    float64
	Days     int
	After    Standing // the choice as it would then stand
}

// Turn returns the change of one option, from the present choice.
func (m Model) Turn(present []string, option string) (Delta, error) {
	now, err := m.Stand(present)
	if err != nil {
		return Delta{}, err
	}
	return m.turn(now, option)
}

// TurnFrom is Turn from a choice that already stands, for who asks for one
// option after the other.
func (m Model) TurnFrom(now Standing, option string) (Delta, error) { return m.turn(now, option) }

// Deltas returns the change of every option, in the order of the model, each
// from the present choice.
func (m Model) Deltas(present []string) ([]Delta, error) {
	now, err := m.Stand(present)
	if err != nil {
		return nil, err
	}
	var all []Delta
	for _, d := range m.Decisions {
		for _, o := range d.Options {
			delta, err := m.turn(now, o.ID)
			if err != nil {
				return nil, err
			}
			all = append(all, delta)
		}
	}
	return all, nil
}

func (m Model) turn(now Standing, option string) (Delta, error) {
	delta := Delta{Option: option, Accepted: slices.Contains(now.Accept, option)}
	next := slices.Clone(now.Accept)
	if delta.Accepted {
		next = slices.DeleteFunc(next, func(id string) bool { return id == option })
	} else {
		delta.Swaps = m.rivals(now.Accept, option)
		next = slices.DeleteFunc(next, func(id string) bool { return slices.Contains(delta.Swaps, id) })
		next = append(next, option)
	}
	after, err := m.Stand(next)
	if err != nil {
		return Delta{}, err
	}
	delta.After = after
	delta.Total = after.Total - now.Total
	delta.Hours = after.Hours - now.Hours
	delta.Days = after.ReadyDays - now.ReadyDays
	return delta, nil
}

// rivals returns the accepted options that exclude option.
func (m Model) rivals(accept []string, option string) []string {
	var out []string
	for _, d := range m.Decisions {
		at := slices.IndexFunc(d.Options, func(o Option) bool { return o.ID == option })
		if at < 0 || d.Options[at].Both {
			continue
		}
		for _, o := range d.Options {
			if o.ID != option && !o.Both && slices.Contains(accept, o.ID) {
				out = append(out, o.ID)
			}
		}
	}
	return out
}
