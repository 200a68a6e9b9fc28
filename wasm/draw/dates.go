package draw

import (
	"math"
	"strconv"
)

func days(n int) string {
	switch {
	case n < 0:
		return "not stated"
	case n == 1:
		return "1 day"
	}
	return strconv.Itoa(n) + " days"
}

// ready is the longest stated wait; open is true where one is not stated.
func (d Dates) ready() (longest int, open bool) {
	for _, w := range d.Waits {
		longest = max(longest, w.Days)
		open = open || w.Days < 0
	}
	return longest, open
}

func (d Dates) standing() (say string, late bool) {
	ready, open := d.ready()
	say = "ready day " + strconv.Itoa(ready)
	if open {
		say = "ready day " + strconv.Itoa(ready) + " or later"
	}
	if !d.HasNeeded {
		return say, false
	}
	if ready > d.Needed {
		return say + ", late by " + days(ready-d.Needed), true
	}
	if open {
		return say + ", not proven", false
	}
	return say + ", " + days(d.Needed-ready) + " in hand", false
}

func (d Dates) describe() string {
	say, _ := d.standing()
	if d.HasNeeded {
		say += ", needed by day " + strconv.Itoa(d.Needed)
	}
	for _, w := range d.Waits {
		say += "; " + w.Say + " " + days(w.Days)
	}
	return say
}

// DateLine shows from the day of the order what the ready day waits for, the
// day it is needed by, and what is late. A wait nobody stated is dotted and
// open at its end.
func DateLine(d Dates) string {
	c := &canvas{w: width}
	c.name("When it will be ready, and what it waits for", d.describe())
	ready, _ := d.ready()
	a := axis{0, float64(max(ready, d.Needed, 1)) * 1.04, 3, width - 6}
	y := 4.0
	if d.HasNeeded {
		y = 26
	}
	top := y
	for _, w := range d.Waits {
		d.wait(c, a, y, w)
		y += lineHigh
	}
	if d.HasNeeded {
		d.neededLine(c, a, top, y)
	}
	say, late := d.standing()
	pen := bold
	if late {
		pen = overBold
	}
	c.line(inkLine, 0, y, width, y)
	c.text(pen, fromRight, width, y+19, say)
	return c.svg("date-line", y+26)
}

func (d Dates) wait(c *canvas, a axis, y float64, w Wait) {
	c.text(ink, fromLeft, 0, y+14, cut(w.Say, width-spanOf(days(w.Days))-10))
	c.text(ink, fromRight, width, y+14, days(w.Days))
	bar := y + 21
	if w.Days < 0 {
		c.path(dotted, "M"+num(a.right)+" "+num(bar)+"H"+num(a.left)+"V"+num(bar+10)+"H"+num(a.right))
		return
	}
	end, stop := a.at(float64(w.Days)), a.at(float64(w.Days))
	if d.HasNeeded && w.Days > d.Needed {
		stop = a.at(float64(d.Needed))
	}
	c.rect(solid, a.left, bar, math.Max(stop-a.left, 2), 10)
	c.rect(over, stop, bar, end-stop, 10)
}

// neededLine runs beside the words, in the rows of the bars only.
func (d Dates) neededLine(c *canvas, a axis, top, bottom float64) {
	x := a.at(float64(d.Needed))
	say := "needed by day " + strconv.Itoa(d.Needed)
	if x > spanOf(say) {
		c.text(bold, fromRight, x-6, 15, say)
	} else {
		c.text(bold, fromLeft, x+6, 15, say)
	}
	c.line(thick, x, 3, x, 20)
	for y := top; y < bottom; y += lineHigh {
		c.rect(paper, x-3, y+19, 6, 14)
		c.line(thick, x, y+19, x, y+33)
	}
}
