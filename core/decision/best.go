package decision

import (
	"errors"
	"fmt"
	"slices"
)

// A Best is the choice worth most inside the ceiling and the date.
type Best struct {
	Found    bool // a choice fits both limits
	Standing      // the choice; where none fits, the cheapest there is
	RunnerUp *Standing
	Say      string // what a little more would buy, or why nothing fits

	// Proven: every other choice was weighed, or a bound shows that it is no
	// better. Where it is not, no choice is worth more than AtMost.
	Proven   bool
	AtMost   int
	Settled  bool     // what a little more would buy was searched to the end
	Unpriced []string // why some choices could not be priced; they are left out
}

// MostWork is how much work Model.Best does before it answers with a ceiling
// in place of a proof: some seconds of it.
const MostWork = 15_000_000

// Best finds the choice of greatest value inside ceiling and date, answers
// given standing and musts fixed, and proves it. Ties go to the lower total,
// then to the earlier IDs. The runner-up is the next of those that fit.
//
// It looks at every choice or bounds it: value-first, depth first, with the
// exact least total of the choices behind each node by the model's Floor (the
// multiple-choice knapsack that leaves shared charges out), so that it needs
// no limit on the undecided. The owner's price comes from the plan lines'
// offers alone, never from the order: how many suppliers there are does not
// enter.
//
// Errors: those of Check, answers that exclude each other, needs that no
// choice meets, a model of which no choice can be priced.
func (m Model) Best() (Best, error) {
	s, err := NewSeek(m)
	if err != nil {
		return Best{}, err
	}
	for s.Step() {
	}
	return s.Best(), s.Err()
}

// A Seek is a search for the best choice in steps of a few milliseconds.
type Seek struct {
	b     *board
	most  int // work
	work  int // of the hunts that are over
	hunt  *hunt
	stage stage
	best  Best
	more  beyond
	err   error
}

// A stage is what is being sought.
type stage uint8

const (
	seekBest stage = iota
	seekDearer
	seekLater
	seekCheapest
	seekInTime
	seekSoonest
	seekDone
)

// beyond is what the words of a Best are made of.
type beyond struct {
	dearer, later, inTime, soonest *Standing
}

// stepWork is the work of one step: a few milliseconds in the page.
const stepWork = 1500

// NewSeek begins a search. The errors are those of [Model.Best], as far as
// they show before the search.
func NewSeek(m Model) (*Seek, error) {
	b, err := newBoard(m)
	if err != nil {
		return nil, err
	}
	return &Seek{b: b, most: MostWork}, nil
}

// Step goes on and reports whether there is more to do.
func (s *Seek) Step() bool {
	switch {
	case s.stage == seekDone:
		return false
	case s.hunt == nil && s.b.date():
		s.work += workDate
		return true
	case s.hunt == nil:
		s.hunt = newHunt(s.b, worthMost())
	}
	s.hunt.step(stepWork)
	switch {
	case s.hunt.over():
		s.next()
	case s.work+s.hunt.work > s.most:
		s.stop()
	}
	return s.stage != seekDone
}

// Looked is the work done so far, in nodes.
func (s *Seek) Looked() int {
	if s.hunt == nil {
		return s.work
	}
	return s.work + s.hunt.work
}

// Over reports whether the search is over.
func (s *Seek) Over() bool { return s.stage == seekDone }

// Err is why there is no answer, once the search is over.
func (s *Seek) Err() error { return s.err }

// Best is the answer so far: proven once Step has nothing more to do, or with
// a ceiling on the value until then. With nothing found yet it is empty.
func (s *Seek) Best() Best {
	b := s.best
	if s.stage == seekBest && s.hunt != nil {
		s.take(&b)
		b.AtMost = s.hunt.most()
	}
	return b
}

// take puts what the first hunt has kept into the answer.
func (s *Seek) take(b *Best) {
	if kept := s.hunt.kept; len(kept) > 0 {
		b.Found, b.Standing, b.AtMost = true, kept[0], kept[0].Value
		if len(kept) > 1 {
			b.RunnerUp = &kept[1]
		}
	}
}

// next closes one hunt and begins the one that follows from it.
func (s *Seek) next() {
	s.work += s.hunt.work
	for _, w := range s.hunt.unread {
		if !slices.Contains(s.best.Unpriced, w) {
			s.best.Unpriced = append(s.best.Unpriced, w)
		}
	}
	var found *Standing
	if len(s.hunt.kept) > 0 {
		found = &s.hunt.kept[0]
	}
	switch s.stage {
	case seekBest:
		s.best.Proven = true
		s.take(&s.best)
		if s.best.Found {
			s.begin(seekDearer, dearerThan(s.best.Value))
		} else {
			s.begin(seekCheapest, cheapestOf(false))
		}
	case seekDearer:
		s.more.dearer = found
		s.begin(seekLater, laterThan(s.best.Value))
	case seekLater:
		s.more.later = found
		s.end()
	case seekCheapest:
		s.cheapest(found)
	case seekInTime:
		s.more.inTime = found
		if found != nil {
			s.end()
		} else {
			s.begin(seekSoonest, soonestOf())
		}
	case seekSoonest:
		s.more.soonest = found
		s.end()
	}
}

func (s *Seek) begin(next stage, g goal) {
	s.stage = next
	s.hunt = newHunt(s.b, g)
}

// cheapest goes on from what the cheapest choice tells where none fits.
func (s *Seek) cheapest(found *Standing) {
	switch {
	case found == nil:
		s.stage, s.hunt = seekDone, nil
		s.err = s.none()
	case !found.FitsCeiling:
		s.best.Standing = *found
		s.end()
	default:
		s.best.Standing = *found
		s.begin(seekInTime, cheapestOf(true))
	}
}

// none says why there is no choice at all.
func (s *Seek) none() error {
	if len(s.best.Unpriced) > 0 {
		return errors.New("best choice: none can be priced: " + s.best.Unpriced[0])
	}
	if s.b.m.Refused != nil {
		return errors.New("best choice: every choice left lacks work that an accepted option needs, or is refused")
	}
	return errors.New("best choice: every choice left lacks work that an accepted option needs")
}

// end puts the answer into words.
func (s *Seek) end() {
	s.stage, s.hunt, s.best.Settled = seekDone, nil, true
	s.say()
}

// stop ends a search that has taken too long, with what is known.
func (s *Seek) stop() {
	if s.stage == seekBest && s.hunt != nil {
		s.take(&s.best)
		s.best.AtMost = s.hunt.most()
	}
	s.stage, s.hunt = seekDone, nil
	s.say()
}

// Stop ends the search: what is found stays, what is not proven is not.
func (s *Seek) Stop() {
	if s.stage != seekDone {
		s.work = s.Looked()
		s.stop()
	}
}

func (s *Seek) say() {
	m := s.b.m
	if !s.best.Proven {
		s.best.Say = "not proven: the search was ended"
		if s.best.Found {
			s.best.Say += fmt.Sprintf("; no choice is worth more than %d", s.best.AtMost)
		}
		return
	}
	switch {
	case s.best.Found:
		s.best.Say = m.sayMore(s.best.Standing, s.more.dearer, s.more.later)
	case s.best.Accept != nil || s.best.Settled:
		s.best.Say = m.nothingFits(s.best.Standing, s.more.inTime, s.more.soonest)
	}
}
