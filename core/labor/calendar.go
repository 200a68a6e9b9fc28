package labor

import (
	"errors"
	"fmt"
	"time"
)

// Day is a day in the minutes in which schedules are reckoned.
const Day = 24 * 60

// A Calendar says when the bench is there for one job: so many minutes of
// every open day, taken from its beginning. Day 0 is the day of asking; it
// counts as gone.
type Calendar struct {
	Bench int // minutes a day
	open  [7]bool
	first int     // weekday of day 0, Monday 0
	shut  []bool  // holidays by day; later days have none
	next  []int32 // by day: the first open day from it on
}

// NewCalendar makes the calendar of a shop as seen from a day, "2026-03-09".
// holidays are dates of the same form; those gone by do not matter.
//
// Errors: no bench hours, no open day, a date that cannot be read.
func NewCalendar(today string, hours float64, open [7]bool, holidays []string) (*Calendar, error) {
	c := &Calendar{Bench: int(hours*60 + 0.5), open: open}
	if c.Bench < 1 || c.Bench > Day {
		return nil, fmt.Errorf("%g bench hours a day for a job", hours)
	}
	if open == [7]bool{} {
		return nil, errors.New("the bench is open on no day of the week")
	}
	from, err := time.Parse(time.DateOnly, today)
	if err != nil {
		return nil, fmt.Errorf("today %q is no date", today)
	}
	c.first = (int(from.Weekday()) + 6) % 7
	c.shut = []bool{true}
	for _, h := range holidays {
		at, err := time.Parse(time.DateOnly, h)
		if err != nil {
			return nil, fmt.Errorf("holiday %q is no date", h)
		}
		c.close(int(at.Sub(from).Hours() / 24))
	}
	c.lookAhead()
	return c, nil
}

// soonDays are the days whose next open day is kept: most schedules end
// within them.
const soonDays = 400

func (c *Calendar) lookAhead() {
	c.next = make([]int32, soonDays)
	for d := range c.next {
		c.next[d] = int32(c.search(d))
	}
}

// opens is the first open day from a day on.
func (c *Calendar) opens(day int) int {
	if day < len(c.next) {
		return int(c.next[day])
	}
	return c.search(day)
}

func (c *Calendar) search(day int) int {
	for !c.Open(day) {
		day++
	}
	return day
}

// farthest is as far ahead as holidays are looked at: ten years.
const farthest = 3653

func (c *Calendar) close(day int) {
	if day < 1 || day > farthest {
		return
	}
	for len(c.shut) <= day {
		c.shut = append(c.shut, false)
	}
	c.shut[day] = true
}

// Open reports whether the bench is open on a day from now.
func (c *Calendar) Open(day int) bool {
	return c.open[(c.first+day)%7] && (day >= len(c.shut) || !c.shut[day])
}

// work returns when so many minutes of bench work, begun at t at the
// earliest, begin and end. Without a calendar the bench never closes.
func (c *Calendar) work(t, minutes int) (start, end int) {
	if c == nil || minutes == 0 {
		return t, t + minutes
	}
	start = c.begin(t)
	for t = start; ; t = c.begin(t) {
		left := c.Bench - t%Day
		if minutes <= left {
			return start, t + minutes
		}
		minutes -= left
		t += left
	}
}

// begin is the first bench minute at or after t.
func (c *Calendar) begin(t int) int {
	if c == nil {
		return t
	}
	day := t / Day
	if t-day*Day >= c.Bench {
		day++
	}
	return max(t, c.opens(day)*Day)
}

// wait returns when a wait ends. One of working days ends at the beginning of
// an open day.
func (c *Calendar) wait(t, minutes int, working bool) int {
	if c == nil || !working || minutes < Day {
		return t + minutes
	}
	day := t / Day
	for range minutes / Day {
		day = c.opens(day + 1)
	}
	return day * Day
}

// Date is a day from now as a date.
func Date(today string, day int) string {
	from, err := time.Parse(time.DateOnly, today)
	if err != nil {
		return ""
	}
	return from.AddDate(0, 0, day).Format(time.DateOnly)
}
