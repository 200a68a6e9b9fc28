package job

import (
	"fmt"
	"slices"

	"lugworth/core/order"
	"lugworth/core/unit"
)

// A Swap has one plan line bought from another offer than the one it names.
// The owner's price stays that of the plan line.
type Swap struct {
	Option string `json:"option"`
	Part   string `json:"part"` // index among the option's parts, "0" first
	List   string `json:"list"`
	Number string `json:"number"`
}

// A Spare is packs bought beyond what the work takes.
type Spare struct {
	List   string `json:"list"`
	Number string `json:"number"`
	Packs  string `json:"packs"`
}

// A BuyBody is what a record of kind buy says: how the order differs from the
// plan. An empty one is the order as planned.
type BuyBody struct {
	Swaps  []Swap  `json:"swaps"`
	Spares []Spare `json:"spares"`
}

// swap has the recorded swaps bought in place of what the lines name. One
// that no longer passes exactly as a fit would is left out and told of; one
// of an option that is not in force waits.
func (r *Result) swap(takes []taken) {
	for _, s := range r.Job.Buying.Swaps {
		t := find(takes, s)
		if t == nil && !r.hasPart(s) {
			r.notBought(s.List, s.Number, fmt.Sprintf("for option %s, part %s, as was chosen: the job has no such part", s.Option, s.Part))
		}
		if t == nil || t.need.Barred != "" {
			continue
		}
		o, why := t.line.Instead(s.List, s.Number)
		if why == "" && !r.lead(o.Offer) {
			why = "another row of that number counts"
		}
		if why != "" {
			r.notBought(s.List, s.Number, fmt.Sprintf("for option %s, part %s, as was chosen: %s", s.Option, s.Part, why))
			continue
		}
		t.instead(o.Offer)
	}
}

// laterThanPlanned tells of an order that arrives after the one of the plan:
// the day by the longest lead counts those of the plan lines.
func (r *Result) laterThanPlanned(takes []taken, got order.Buy) {
	if !slices.ContainsFunc(takes, func(t taken) bool { return t.moved() }) {
		return
	}
	takes, err := r.takes()
	if err != nil {
		return // told of when the order was made
	}
	planned, err := r.fill(takes, nil)
	if err != nil {
		return // as above
	}
	if say := leadOf(got).After(leadOf(planned)); say != "" {
		r.Problems = append(r.Problems, unit.Problem{File: "order", Code: unit.Unusable, Say: "the order as chosen " + say + ": the day by the longest lead counts the plan's"})
	}
}

// leadOf is the longest lead of baskets.
func leadOf(b order.Buy) Arrival {
	var out Arrival
	for _, k := range b.Baskets {
		for _, l := range k.Lines {
			out.with(l.LeadDays)
		}
	}
	return out
}

// An Arrival is the longest lead of an order, in days, as far as leads are
// stated.
type Arrival struct {
	Days     int
	Unstated int // parts whose row states no lead
}

func (a *Arrival) with(lead int) {
	if lead < 0 {
		a.Unstated++
		return
	}
	a.Days = max(a.Days, lead)
}

// After says by how much an order arrives after another, "" where it does
// not.
func (a Arrival) After(b Arrival) string {
	switch {
	case a.Days > b.Days:
		return fmt.Sprintf("arrives in %d days, as planned in %d", a.Days, b.Days)
	case a.Unstated > b.Unstated:
		return fmt.Sprintf("has %d leads that are not stated, as planned %d", a.Unstated, b.Unstated)
	}
	return ""
}

func (r *Result) notBought(list, number, why string) {
	r.Problems = append(r.Problems, unit.Problem{File: "order", Cell: list + " " + number, Code: unit.Unusable, Say: list + " " + number + " is not bought " + why})
}

// hasPart reports whether the job has the part a swap is for, accepted or not.
func (r *Result) hasPart(s Swap) bool {
	i, ok := r.worlds.at[s.Option]
	if !ok {
		return false
	}
	for k := range r.Job.Options[i].Parts {
		if fmt.Sprint(k) == s.Part || k == 0 && s.Part == "" {
			return true
		}
	}
	return false
}

// find returns the line a swap is for, nil where it is not in force.
func find(takes []taken, s Swap) *taken {
	part := s.Part
	if part == "" {
		part = "0"
	}
	for i := range takes {
		if takes[i].need.Option == s.Option && takes[i].part == part {
			return &takes[i]
		}
	}
	return nil
}

// extras are the recorded spares of parts that are bought; of others it is
// said that they are not.
func (r *Result) extras(takes []taken) []order.Extra {
	bought := map[string]bool{}
	for _, t := range takes {
		if t.from != nil && t.need.Barred == "" {
			bought[offerKey(t.need.List, t.need.Number)] = true
		}
	}
	var out []order.Extra
	for i, s := range r.Job.Buying.Spares {
		switch packs := r.Job.packsOf(i); {
		case packs < 1:
			r.notBought(s.List, s.Number, "as spares: how many packs is not stated")
		case bought[offerKey(s.List, s.Number)]:
			out = append(out, order.Extra{List: s.List, Number: s.Number, Packs: packs})
		default:
			r.notBought(s.List, s.Number, "as spares: no line of the order is bought from it")
		}
	}
	return out
}

// packsOf is how many packs a recorded spare is of; 0 where that is not
// stated or cannot be read.
func (j *Job) packsOf(spare int) int {
	if spare >= len(j.spares) {
		return 0
	}
	return j.spares[spare]
}
