package draw

import (
	"math"
	"strconv"
)

func (d Chances) describe() string {
	say := ""
	for _, r := range d.Ready {
		say += "ready in " + strconv.Itoa(r.Of10) + " of 10 cases by day " + strconv.Itoa(r.Day) + ", " + r.Date + "; "
	}
	for _, h := range d.Holds {
		say += h.Say + " holds it " + inDays(h.Days) + " on average, in " + part(h.Share) + " of cases; "
	}
	if d.HasNeeded {
		say += "needed by day " + strconv.Itoa(d.Needed)
	}
	return say
}

func inDays(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + " days" }

// part rounds a share to whole percent.
func part(share float64) string { return strconv.Itoa(int(math.Floor(100*share+0.5))) + " %" }

// ReadyChances shows what the ready day is made up of on average, one hold
// behind the other, and under it the days by which five, eight and nine of
// ten cases are ready; the day it is needed by runs through those.
func ReadyChances(d Chances) string {
	c := &canvas{w: width}
	c.name("When it will be ready, and what it hangs on", d.describe())
	far, sum := float64(d.Needed), 0.0
	for _, r := range d.Ready {
		far = math.Max(far, float64(r.Day))
	}
	for _, h := range d.Holds {
		sum += h.Days
	}
	a := axis{0, math.Max(math.Max(far, sum), 1) * 1.04, 3, width - 6}
	y, from := 2.0, 0.0
	for _, h := range d.Holds {
		figure := inDays(h.Days) + ", " + part(h.Share)
		c.text(ink, fromLeft, 0, y+14, cut(h.Say, width-spanOf(figure)-10))
		c.text(ink, fromRight, width, y+14, figure)
		c.line(hair, a.left, y+26, a.right, y+26)
		c.rect(solid, a.at(from), y+21, math.Max(a.at(from+h.Days)-a.at(from), 1.5), 10)
		from += h.Days
		y += lineHigh
	}
	c.line(inkLine, 0, y, width, y)
	return c.svg("ready-chances", d.days(c, a, y+6))
}

func (d Chances) days(c *canvas, a axis, y float64) float64 {
	for _, r := range d.Ready {
		say := "in " + strconv.Itoa(r.Of10) + " of 10 by day " + strconv.Itoa(r.Day)
		pen, fill := bold, solid
		if d.HasNeeded && r.Day > d.Needed {
			pen, fill = overBold, over
		}
		c.text(pen, fromLeft, 0, y+14, say)
		c.text(pen, fromRight, width, y+14, r.Date)
		end, stop := a.at(float64(r.Day)), a.at(float64(r.Day))
		if d.HasNeeded && r.Day > d.Needed {
			stop = a.at(float64(d.Needed))
		}
		c.rect(solid, a.left, y+21, math.Max(stop-a.left, 2), 8)
		c.rect(fill, stop, y+21, end-stop, 8)
		if d.HasNeeded {
			x := a.at(float64(d.Needed))
			c.rect(paper, x-3, y+18, 6, 14)
			c.line(thick, x, y+18, x, y+32)
		}
		y += lineHigh
	}
	if d.HasNeeded {
		c.text(soft, fromRight, width, y+12, "the thick stroke: needed by day "+strconv.Itoa(d.Needed))
		y += 18
	}
	return y
}
