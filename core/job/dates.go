package job

import (
	"fmt"
	"slices"

	"lugworth/core/labor"
)

// OwnersAnswer is the wait that comes before all others.
const OwnersAnswer = "the owner's answer"

// Dates are when a choice is ready: days from now, day 0 being today, and
// dates. Where something of it is not stated there is no such date, and
// Missing says what is not.
type Dates struct {
	P50, P80, P90            int
	Date50, Date80, Date90   string
	Method                   string
	Missing                  []string // what must be stated first; empty where there is a date
	Notes                    []string // what was taken as it stands: "no holidays are stated, so none are counted"
	Waits                    []Wait   // what the date hangs on, the longest hold first
	Bench                    Wait     // the bench work among it
	LongestLead              int      // the longest stated lead, as the date test without bench time takes it
	BenchHoursADay           float64
	CountsAnswer, Calibrated bool
}

// A Wait is something the ready date may wait for.
type Wait struct {
	Say       string
	Low, High int     // days it takes by itself; equal where it is stated
	Share     float64 // of the draws in which the date waits for it
	Days      float64 // days the date waits for it, on average over all draws
}

// Ok reports whether there is a date.
func (d *Dates) Ok() bool { return len(d.Missing) == 0 }

// ReadyP80 is the day, counted from now, by which a choice is ready in eight
// of ten draws. ok is false where the shop or the lists do not state what
// that takes; DatesOf says what is missing.
func (r *Result) ReadyP80(accept []string) (days int, ok bool) {
	d := r.DatesOf(accept)
	return d.P80, d.Ok()
}

// DatesOf plays a choice through, [labor.Draws] times: the owner's answer,
// parts on the road, what is sent out and what dries run beside each other,
// the one bench does one thing at a time in the hours the shop gives a job,
// whatever can begin first goes first, and of those the one with the longest
// chain behind it. Shared set-ups count once, behind the last task: the
// latest they can be.
//
// Draws are seeded by the job: the same choice of the same job on the same
// day has the same date.
func (r *Result) DatesOf(accept []string) *Dates {
	accept = r.inOrder(accept)
	key := fmt.Sprintf("%q %q %q %q %s", accept, r.Job.Done, r.Job.Buying, r.Job.Agreed, r.Now)
	if d, ok := r.ready[key]; ok {
		return d
	}
	if r.ready == nil || len(r.ready) >= mostDates {
		r.ready = map[string]*Dates{}
	}
	d := r.schedule(accept)
	r.ready[key] = d
	return d
}

// mostDates is how many choices keep their dates.
const mostDates = 4096

// inOrder puts a choice into the order of the job's options; options the job
// has not are left out.
func (r *Result) inOrder(accept []string) []string {
	var out []string
	for i := range r.Job.Options {
		if id := r.Job.Options[i].ID; slices.Contains(accept, id) {
			out = append(out, id)
		}
	}
	return out
}

func (r *Result) schedule(accept []string) *Dates {
	s := scheduler{r: r, d: &Dates{}, group: map[string]int{}, step: map[string]int{}, end: map[string]int{}, shelf: r.onShelf()}
	c := s.calendar()
	s.build(accept)
	d := s.d
	if len(d.Missing) > 0 {
		return d
	}
	n, err := labor.NewNetwork(s.steps, c)
	if err != nil {
		s.miss(err.Error())
		return d
	}
	got := r.sampler().Play(n, s.spans)
	d.P50, d.P80, d.P90 = got.P50, got.P80, got.P90
	d.Date50, d.Date80, d.Date90 = labor.Date(r.Now, d.P50), labor.Date(r.Now, d.P80), labor.Date(r.Now, d.P90)
	s.waits(got)
	d.Calibrated = r.fit().Calibrated()
	d.Method = fmt.Sprintf("played through %d times with seeded draws; %s", labor.Draws, r.calibrationSays())
	return d
}

// sampler draws the lengths of the job's steps, each once.
func (r *Result) sampler() *labor.Sampler {
	if r.draws == nil {
		r.draws = labor.NewSampler("job "+r.Job.Number, r.fit())
	}
	return r.draws
}
