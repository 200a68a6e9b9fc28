package job

import (
	"fmt"
	"slices"

	"lugworth/core/labor"
	"lugworth/core/plan"
	"lugworth/core/shop"
)

// A scheduler turns a choice into a network of steps.
type scheduler struct {
	r     *Result
	d     *Dates
	steps []labor.Step
	spans []labor.Span
	group map[string]int // parcels by supplier and lead
	step  map[string]int // the bench step of a task
	end   map[string]int // the step that ends a task
	start []int          // what everything waits for
	shelf map[string]int // pieces left on the shelf
}

func (s *scheduler) miss(say string) {
	if !slices.Contains(s.d.Missing, say) {
		s.d.Missing = append(s.d.Missing, say)
	}
}

// calendar is the shop's; what is not stated is told, never assumed.
func (s *scheduler) calendar() *labor.Calendar {
	sheet := &s.r.Books.Sheet
	for _, k := range []struct{ key, say string }{
		{"bench_hours", "bench hours a day for one job"},
		{"open_days", "the days the shop is open"},
	} {
		if !sheet.Has(k.key) {
			s.miss(k.say + " (" + k.key + " in shop.csv)")
		}
	}
	if len(s.d.Missing) > 0 {
		return nil
	}
	if !sheet.Has("holidays") {
		s.d.Notes = append(s.d.Notes, "no holidays are stated, so none are counted (holidays in shop.csv; none says there are none)")
	}
	s.d.BenchHoursADay = sheet.BenchHours.Float()
	c, err := labor.NewCalendar(s.r.today(), s.d.BenchHoursADay, sheet.OpenDays, sheet.Holidays)
	if err != nil {
		s.miss(err.Error())
	}
	return c
}

// today is the day of the Result without its time.
func (r *Result) today() string { return r.Now[:min(len(r.Now), len("2006-01-02"))] }

func (s *scheduler) add(x labor.Step, span labor.Span) int {
	s.steps, s.spans = append(s.steps, x), append(s.spans, span)
	return len(s.steps) - 1
}

func (s *scheduler) build(accept []string) {
	s.answer(accept)
	var chosen []*plan.Option
	var ends []int
	for _, id := range accept {
		o := &s.r.Job.Options[s.r.worlds.at[id]]
		chosen, ends = append(chosen, o), append(ends, s.option(o, accept))
	}
	s.order(chosen)
	s.setUps(accept, ends)
}

// answer is the wait for the owner, which all else waits for, unless the
// owner agreed to all of the choice already.
func (s *scheduler) answer(accept []string) {
	for _, agreed := range s.r.Job.Agreed {
		if !slices.ContainsFunc(accept, func(id string) bool { return !slices.Contains(agreed, id) }) {
			return
		}
	}
	sheet := &s.r.Books.Sheet
	if !sheet.Has("answer_days") {
		s.miss("the days until the owner answers (answer_days in shop.csv)")
		return
	}
	s.d.CountsAnswer = true
	s.start = []int{s.wait(OwnersAnswer, sheet.AnswerDays, 0, nil)}
}

// wait adds a wait of some days, after a lead that is fixed.
func (s *scheduler) wait(say string, w shop.Wait, lead int, after []int) int {
	if lead > 0 {
		after = []int{s.add(labor.Step{Name: say, After: after}, fixedDays(lead))}
	}
	return s.add(labor.Step{Name: say, Working: w.Working, After: after}, labor.Span{
		Low: float64(w.Low), Mode: float64(w.Mode), High: float64(w.High), Days: true, Seed: say})
}

func fixedDays(n int) labor.Span {
	return labor.Span{Low: float64(n), Mode: float64(n), High: float64(n), Days: true}
}

// option adds an option's parcels, what it sends out, its bench work, and
// what must dry behind it. It returns the step that ends it. A task two
// options share is done once.
func (s *scheduler) option(o *plan.Option, accept []string) int {
	after := slices.Clone(s.start)
	for _, a := range s.arrivals(o, accept) {
		after = append(after, s.parcel(a)...)
	}
	for _, x := range o.Other {
		if !s.stated(x.Days, "the days for "+x.Say+", "+o.ID) {
			continue
		}
		after = append(after, s.add(labor.Step{Name: x.Say + ", sent out", After: s.start}, fixedDays(x.Days)))
		s.d.LongestLead = max(s.d.LongestLead, x.Days)
	}
	slices.Sort(after)
	after = slices.Compact(after)
	if at, shared := s.step[o.Task]; shared {
		s.steps[at].After = append(s.steps[at].After, after...)
		return s.end[o.Task]
	}
	h := labor.Span{Low: o.Low.Float(), Mode: o.Mode.Float(), High: o.High.Float(), Seed: "task " + o.Task, Class: s.r.classOf(o)}
	if _, done := s.r.Job.finished(o.ID); done {
		h.Low, h.Mode, h.High, after = 0, 0, 0, nil
	}
	at := s.add(labor.Step{Name: o.ID + " " + o.Say, Bench: true, After: after}, h)
	end := at
	if o.Wait > 0 {
		m := float64(o.Wait) / 60
		end = s.add(labor.Step{Name: "after " + o.ID + ": drying or settling", After: []int{at}}, labor.Span{Low: m, Mode: m, High: m})
	}
	s.step[o.Task], s.end[o.Task] = at, end
	return end
}

// farthest is the longest wait and the longest work that is played through:
// ten years, in days.
const farthest = 3650

// stated reports whether a wait is known and of this life.
func (s *scheduler) stated(days int, what string) bool {
	switch {
	case days < 0:
		s.miss(what)
		return false
	case days > farthest:
		s.miss(what + " in less than ten years")
		return false
	}
	return true
}

// parcel adds the parcel some parts come in, once for each supplier and lead.
func (s *scheduler) parcel(a arrival) []int {
	if a.shelf || !s.stated(a.lead, "the lead of "+a.part) {
		return nil
	}
	s.d.LongestLead = max(s.d.LongestLead, a.lead)
	key := fmt.Sprint(a.list, "\x00", a.lead)
	if at, ok := s.group[key]; ok {
		return []int{at}
	}
	sheet := &s.r.Books.Sheet
	if !sheet.Has("carriage_days") {
		s.miss("the days on the road (carriage_days in shop.csv)")
		return nil
	}
	at := s.wait("parts from "+a.list+", lead "+dayWords(a.lead), sheet.CarriageDays, a.lead, s.start)
	s.group[key] = at
	return []int{at}
}

func dayWords(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprint(n, " days")
}

// order makes tasks wait for those named before them, where these are
// chosen.
func (s *scheduler) order(chosen []*plan.Option) {
	for _, o := range chosen {
		for _, b := range chosen {
			if b.Task != o.Task && (slices.Contains(o.After, b.ID) || slices.Contains(o.After, b.Task)) {
				at := s.step[o.Task]
				s.steps[at].After = append(s.steps[at].After, s.end[b.Task])
			}
		}
	}
}

// setUps puts what the tasks share behind all of them.
func (s *scheduler) setUps(accept []string, after []int) {
	e, err := s.r.LaborOf(accept...)
	if err != nil {
		s.miss("hours that can be reckoned with: " + err.Error())
		return
	}
	if float64(e.Hours) > farthest*s.r.Books.Sheet.BenchHours.Float() && s.r.Books.Sheet.Has("bench_hours") {
		s.miss("work that the bench can do in less than ten years")
	}
	for _, l := range e.Lines {
		if l.SetUp {
			s.add(labor.Step{Name: l.ID + " " + l.Say, Bench: true, After: after}, labor.Span{
				Low: l.Three.Low.Float(), Mode: l.Three.Mode.Float(), High: l.Three.High.Float(), Seed: "set-up " + l.ID, SetUp: true})
		}
	}
}
