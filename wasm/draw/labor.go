package draw

import (
	"math"
	"strconv"
)

const lineHigh = 40.0

func hours(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) + " h" }

// LaborSpread shows for each line the quick case, the usual one and the slow
// one, and what is expected of them; under them the sum with its doubt, once
// for lines that vary each for itself and once for lines that go wrong
// together.
func LaborSpread(s Spread) string {
	c := &canvas{w: width}
	c.name("Hours and how far they may be off", s.describe())
	top := 0.0
	for _, w := range s.Lines {
		top = math.Max(top, w.High)
	}
	a := axis{0, math.Max(top, 0.1), 3, width - 8}
	y := 2.0
	for _, w := range s.Lines {
		c.work(a, y, w)
		y += lineHigh
	}
	y = s.sum(c, y+4)
	return c.svg("labor-spread", y)
}

func (s Spread) describe() string {
	say := "expected " + hours(s.Expected, 1) + ", give or take " + hours(s.Independent, 2) +
		", or " + hours(s.Linked, 2) + " if all lines go wrong together"
	for _, e := range s.Enough {
		say += "; enough in " + strconv.Itoa(e.Of10) + " of 10 cases: " + hours(e.Hours, 1)
	}
	for _, w := range s.Lines {
		say += "; " + w.Say + " " + hours(w.Low, 1) + " to " + hours(w.High, 1)
	}
	return say
}

// work is one line: a whisker from low to high, a stroke at the usual case, a
// block as long as what is expected.
func (c *canvas) work(a axis, y float64, w Work) {
	figure := hours(w.Expected(), 2)
	c.text(ink, fromLeft, 0, y+14, cut(w.Say, width-spanOf(figure)-10))
	c.text(bold, fromRight, width, y+14, figure)
	mid := y + 26
	c.rect(wash, a.left, mid-4, a.at(w.Expected())-a.left, 8)
	c.whisker(inkLine, a.at(w.Low), a.at(w.High), mid, 7)
	c.rect(paper, a.at(w.Mode)-2.5, mid-7, 5, 14)
	c.rect(solid, a.at(w.Mode)-1.2, mid-8, 2.5, 16)
	c.line(hair, 0, y+lineHigh-2, width, y+lineHigh-2)
}

func (c *canvas) whisker(p brush, from, to, y, half float64) {
	c.line(p, from, y, to, y)
	c.line(p, from, y-half, from, y+half)
	c.line(p, to, y-half, to, y+half)
}

func (s Spread) sum(c *canvas, y float64) float64 {
	c.line(inkLine, 0, y-5, width, y-5)
	c.text(bold, fromLeft, 0, y+14, "together")
	c.text(bold, fromRight, width, y+14, hours(s.Expected, 1))
	far := math.Max(math.Max(s.Linked, s.Independent), 0.05)
	a := axis{s.Expected - far*1.1, s.Expected + far*1.1, 190, width - 6}
	y = s.doubt(c, a, y+22, "each for itself", s.Independent)
	y = s.doubt(c, a, y, "all together", s.Linked)
	x := a.at(s.Expected)
	c.line(thick, x, y-2*rowHigh-6, x, y-2)
	return s.enough(c, y+4)
}

// enough draws the hours that are enough in some of ten cases, from nothing.
func (s Spread) enough(c *canvas, y float64) float64 {
	if len(s.Enough) == 0 {
		return y
	}
	c.line(inkLine, 0, y+2, width, y+2)
	y += 8
	a := axis{0, math.Max(s.Enough[len(s.Enough)-1].Hours, 0.1), 112, width - 62}
	for _, e := range s.Enough {
		c.text(soft, fromLeft, 0, y+14, "in "+strconv.Itoa(e.Of10)+" of 10")
		c.text(bold, fromRight, width, y+14, hours(e.Hours, 1))
		c.rect(solid, a.left, y+4, a.at(e.Hours)-a.left, 10)
		y += rowHigh + 4
	}
	return y + 2
}

func (s Spread) doubt(c *canvas, a axis, y float64, say string, half float64) float64 {
	c.text(soft, fromLeft, 0, y+14, say)
	c.text(ink, fromRight, 182, y+14, "±"+strconv.FormatFloat(half, 'f', 2, 64))
	c.whisker(inkLine, a.at(s.Expected-half), a.at(s.Expected+half), y+9, 6)
	return y + rowHigh + 4
}
