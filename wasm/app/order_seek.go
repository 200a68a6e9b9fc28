package app

import (
	"cmp"
	"reflect"
	"slices"

	"lugworth/core/job"
	"lugworth/core/money"
	"lugworth/core/order"
)

// A Buying is what is looked at on Order: the limits asked for, the kind of
// choice that is drawn, the order of it that is looked at, and the part whose
// supplier is asked about.
type Buying struct {
	Limits   order.Limits
	Original bool   // cost is drawn against originality, not against parcels
	Point    string // as Point.Key, "" for none
	List     string // supplier of the basket line that is open, "" for none
	Number   string
}

// A Seek is the search for the cheapest order of the choice in force. It is
// made with a bound and a first order; what is left of it is done in steps,
// each short enough for a press to come in between.
type Seek struct {
	*job.Ordering
	Planned order.Answer // as the plan lines name it
	Force   order.Answer // the order in force
	Forced  []int        // by want: the pack of the order in force
	Limits  order.Limits

	exposed []job.Exposure
	noRate  error

	of      *job.Result
	search  *order.Search
	steps   int
	parcels front
	scores  front
	rivals  rivals
}

// A step is about a millisecond's work, three in the browser.
const (
	patient = 4000 // steps until a search is left with the bound it then has
	turn    = 4    // steps in one moment between two presses
)

// Seek returns the search for the job in hand. There is none, and perhaps a
// reason, where no choice is in force or its order cannot be counted.
func (m Model) Seek() (*Seek, error) {
	o := m.Open
	if o == nil || o.Result.Force < 0 {
		return nil, nil
	}
	if o.seek == nil || o.seek.of != o.Result {
		s, err := newSeek(o.Result, o.seek)
		if err != nil {
			return nil, err
		}
		o.seek = s
	}
	return o.seek, o.seek.ask(m.Screen.Buying)
}

// exposedTo is the move of a currency that is shown, in percent.
const exposedTo = 5

// Exposure is what the order in force comes to if a currency it is bought in
// moves by five percent.
func (m Model) Exposure() ([]job.Exposure, error) {
	s, err := m.Seek()
	if s == nil || err != nil {
		return nil, err
	}
	return s.exposed, s.noRate
}

// newSeek sets a search up. One of the same market goes on where it was: what
// is bought of the market changes nothing about it.
func newSeek(r *job.Result, was *Seek) (*Seek, error) {
	o, err := r.Ordering()
	if err != nil {
		return nil, err
	}
	s := &Seek{Ordering: o, of: r, Planned: o.Planned()}
	if was != nil && reflect.DeepEqual(was.Market, o.Market) {
		s.Limits, s.search, s.steps, s.parcels, s.scores = was.Limits, was.search, was.steps, was.parcels, was.scores
	}
	s.Forced = forced(r, o)
	s.Force = only(o.Market, s.Forced)
	s.exposed, s.noRate = r.Exposure(money.Whole(exposedTo))
	return s, nil
}

// forced finds the pack of each need in the order in force.
func forced(r *job.Result, o *job.Ordering) []int {
	packs := make([]int, len(o.Wants))
	for w := range packs {
		packs[w] = o.PlannedPack(w)
		line := o.Wants[w].Lines[0]
		at := slices.IndexFunc(r.Job.Buying.Swaps, func(s job.Swap) bool {
			return s.Option == line.Option && cmp.Or(s.Part, "0") == line.Part
		})
		if at < 0 {
			continue
		}
		swap := r.Job.Buying.Swaps[at]
		for _, f := range o.Market.Wants[w].Fits {
			if x := o.Offers[f.Pack]; x.Offer.List == swap.List && x.Offer.Number == swap.Number {
				packs[w] = f.Pack
				if x.Shelf {
					break // what lies there is used first
				}
			}
		}
	}
	return packs
}

// only is the order in which each need takes one given pack.
func only(m order.Market, packs []int) order.Answer {
	m.Wants = slices.Clone(m.Wants)
	m.Packs = slices.Clone(m.Packs)
	for w, p := range packs {
		m.Wants[w].Fits = slices.DeleteFunc(slices.Clone(m.Wants[w].Fits), func(f order.Fit) bool { return f.Pack != p })
		if len(m.Packs[p].Prices) > 0 && m.Packs[p].Prices[0].Price > 0 {
			m.Packs[p].Stock = -1 // ordered even where the supplier states too little
		}
	}
	s, err := order.NewSearch(m, order.Limits{})
	if err != nil {
		return order.Answer{Why: err.Error()}
	}
	for i := 0; !s.Step() && i < patient; i++ {
	}
	return s.Answer()
}

// ask has the search answer what is asked for on the page.
func (s *Seek) ask(b Buying) (err error) {
	switch {
	case s.search == nil:
		s.search, err = s.Search(b.Limits)
	case s.Limits != b.Limits:
		s.search, err = s.search.Again(b.Limits)
		s.rivals = rivals{}
	default:
		return s.open(b)
	}
	s.Limits, s.steps = b.Limits, 0
	if err != nil {
		return err
	}
	return s.open(b)
}

func (s *Seek) open(b Buying) error {
	if s.parcels.Front == nil {
		f, err := order.NewParcelFront(s.Market)
		if err != nil {
			return err
		}
		s.parcels.Front = f
	}
	if b.Original && s.scores.Front == nil {
		f, err := order.NewScoreFront(s.Market)
		if err != nil {
			return err
		}
		s.scores.Front = f
	}
	s.oppose(b.List, b.Number)
	return nil
}

// Best is the cheapest order under the limits asked for, as far as it is
// known.
func (s *Seek) Best() order.Answer { return s.search.Answer() }

// Looking reports whether the cheapest order is still being looked for.
func (s *Seek) Looking() bool { return !s.search.Proven() && s.steps < patient }

// work does a little of what is left.
func (s *Seek) work() {
	for i := 0; i < turn && s.step(); i++ {
	}
}

// step does the least there is to do of what is left, what is asked for
// first.
func (s *Seek) step() bool {
	if s.Looking() {
		s.steps++
		s.search.Step()
		return true
	}
	return s.rivals.step(s) || s.scores.step() || s.parcels.step()
}

// idle reports whether nothing is left to do.
func (s *Seek) idle() bool {
	return !s.Looking() && s.rivals.rests(s) && s.scores.rests() && s.parcels.rests()
}
