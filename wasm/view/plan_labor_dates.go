package view

import (
	"lugworth/core/job"
	"lugworth/wasm/app"
	"lugworth/wasm/draw"
	"lugworth/wasm/keyed"
	"lugworth/wasm/part"
)

// mostHolds is how many waits are drawn one by one; the rest is one.
const mostHolds = 4

// readyDay is one day out of ten cases.
type readyDay struct {
	of, day int
	date    string
}

func readyDays(d *job.Dates) []readyDay {
	return []readyDay{{5, d.P50, d.Date50}, {8, d.P80, d.Date80}, {9, d.P90, d.Date90}}
}

// readyRow is when the choice in force is ready and what that hangs on, or
// what must be stated first.
func readyRow(m app.Model) keyed.Node {
	r := m.Open.Result
	d := r.DatesOf(r.Accepted())
	q := part.Question("When is it ready, and what does that hang on?", "Waits run beside each other; the bench does one thing at a time, in the hours it has for one job.")
	if !d.Ok() {
		return keyed.Row("section", "labor-dates", q, keyed.El("div", keyed.Class("card"), keyed.El("h2", keyed.Text("No date can be said yet")),
			keyed.El("p", keyed.Text("What is not stated is not assumed. It still takes:")),
			keyed.El("ul", keyed.Map(d.Missing, func(s string) keyed.Item { return keyed.El("li", keyed.Text(capital(s))) })),
			part.Note("Until then the date goes by the longest stated lead alone, "+count(d.LongestLead, "day")+"; bench time is not counted in it."),
			part.Presses(part.Press("main", "To the shop sheet", "labor-sheet", ""))))
	}
	return keyed.Row("section", "labor-dates", q, keyed.El("div", keyed.Class("stack-wide labor-leaf"),
		keyed.El("div", keyed.Class("card"),
			part.Facts(keyed.Map(readyDays(d), func(x readyDay) keyed.Item {
				say := "ready in " + itoa(x.of) + " of 10 cases by"
				key := "ready-" + itoa(x.of)
				return part.Fact(capital(say), part.Why(m.Screen.Whys.Put(key, r.WhyReady(d, say, x.day, x.date)), x.date), keyed.Text(" day "+itoa(x.day)), calibrationMark(d.Calibrated))
			})),
			keyed.Map(d.Hangs(), func(s string) keyed.Item { return keyed.El("p", keyed.Text(s)) }),
			keyed.Map(d.Notes, func(s string) keyed.Item { return part.Note(capital(s) + ".") }),
			part.Note(capital(d.Method)+". Set-ups are counted behind the last task, the latest they can be; today counts as gone.")),
		part.Picture(draw.ReadyChances(chancesOf(r, d)))))
}

// chancesOf is the picture of a date: the longest holds, the rest as one, and
// the bench last.
func chancesOf(r *job.Result, d *job.Dates) draw.Chances {
	var c draw.Chances
	if n, ok := wholeDays(r.Job.Bounds.Days); ok {
		c.Needed, c.HasNeeded = n, true
	}
	others := draw.Hold{Say: "other waits"}
	for i, w := range d.Waits {
		switch {
		case w.Say == job.OwnersAnswer: // it comes before all others
			c.Holds = append([]draw.Hold{{Say: w.Say, Days: w.Days, Share: w.Share}}, c.Holds...)
			continue
		case i < mostHolds && w.Share >= 0.005:
			c.Holds = append(c.Holds, draw.Hold{Say: w.Say, Days: w.Days, Share: w.Share})
			continue
		}
		others.Days, others.Share = others.Days+w.Days, max(others.Share, w.Share)
	}
	if others.Days > 0.05 {
		c.Holds = append(c.Holds, others)
	}
	c.Holds = append(c.Holds, draw.Hold{Say: d.Bench.Say, Days: d.Bench.Days, Share: d.Bench.Share})
	for _, x := range readyDays(d) {
		c.Ready = append(c.Ready, draw.Ready{Of10: x.of, Day: x.day, Date: x.date})
	}
	return c
}
