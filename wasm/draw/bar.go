package draw

import (
	"math"
	"sort"
)

// bar draws the bar of a strip with its upper edge at y.
func (s Strip) bar(c *canvas, a axis, y float64) {
	c.line(hair, a.left, y+barHigh, a.right, y+barHigh)
	if !s.known() || s.Kind == NotEnoughData {
		s.unknown(c, a, y)
		return
	}
	reach := s.reach()
	cuts := s.cuts(a.from, reach)
	for i := 0; i+1 < len(cuts); i++ {
		s.piece(c, a, y, cuts[i], cuts[i+1])
	}
	s.end(c, a, y, reach)
	if a.from > 0 {
		c.torn(y)
	}
	s.limits(c, a, y)
}

// reach is the highest value the bar goes to.
func (s Strip) reach() float64 { return math.Max(s.Worst, math.Max(s.Expected, s.Low)) }

func (s Strip) unknown(c *canvas, a axis, y float64) {
	end := a.right
	if s.Limit > 0 {
		end = a.at(s.Limit) - 10
	}
	c.path(dotted, "M1 "+num(y+1)+"H"+num(end)+"V"+num(y+barHigh-2)+"H1Z")
	c.text(soft, fromLeft, 10, y+barHigh/2+5, "not enough data")
	s.limits(c, a, y)
}

// cuts are the values at which the bar changes its look.
func (s Strip) cuts(from, reach float64) []float64 {
	cuts := []float64{from, reach}
	for _, v := range []float64{s.Low, s.Limit, s.added()} {
		if v > from && v < reach {
			cuts = append(cuts, v)
		}
	}
	sort.Float64s(cuts)
	return cuts
}

// added is where the block begins that a choice has put on top; 0: no choice.
func (s Strip) added() float64 {
	if s.Kind != OverWorsened {
		return 0
	}
	if s.Inherited > 0 {
		return s.Inherited
	}
	return s.Limit
}

func (s Strip) piece(c *canvas, a axis, y, from, to float64) {
	x, end := a.at(from), a.at(to)
	pen, h := solid, barHigh
	if s.Kind.Over() && s.Limit > 0 && from >= s.Limit {
		pen = over
	}
	if added := s.added(); added > 0 && from >= added {
		x, y, h = x+3, y-5, h+10
		end = math.Max(end, x+4) // even a small step is seen
	}
	switch {
	case from < s.Low || s.Low == 0:
		c.rect(pen, x, y, end-x, h)
	default:
		c.hatch(pen, x, y, end-x, h)
	}
}

// end closes the bar, or leaves it open where nothing is proven; a bar inside
// the limit and below the reserve has a notch there.
func (s Strip) end(c *canvas, a axis, y, reach float64) {
	x, low := a.at(reach), a.at(math.Max(s.Low, a.from))
	pen := inkLine
	if s.Kind.Over() {
		pen = overLine
	}
	switch {
	case s.Kind == NotProven:
		out := math.Min(x+18, a.right)
		c.line(inkLine, low, y+0.75, out, y+0.75)
		c.line(inkLine, low, y+barHigh-0.75, out, y+barHigh-0.75)
	case s.Kind == BelowReserve:
		notch := x
		if low-a.left > 36 {
			notch = low // in the solid part, where it shows
		}
		c.path(paper, "M"+num(notch-23)+" "+num(y-0.5)+"L"+num(notch-14)+" "+num(y+barHigh*0.72)+"L"+num(notch-5)+" "+num(y-0.5)+"Z")
		fallthrough
	default:
		c.line(pen, x-0.75, y, x-0.75, y+barHigh)
	}
}

// torn gives the bar a torn left edge: it does not start at zero.
func (c *canvas) torn(y float64) {
	d := "M-1 " + num(y-1) + "H3"
	for i, x := 0, 8.0; i < 4; i++ {
		d += "L" + num(x) + " " + num(y+barHigh*(float64(i)+0.5)/4) + "L3 " + num(y+barHigh*(float64(i)+1)/4)
	}
	c.path(paper, d+"V"+num(y+barHigh+0.4)+"H-1Z")
}

func (s Strip) limits(c *canvas, a axis, y float64) {
	if s.Wanted > 0 {
		x := a.at(s.Wanted)
		c.line(dashed, x, y-8, x, y+barHigh)
	}
	if s.Floor > 0 {
		c.rect(solid, a.at(s.Floor)-1.5, y-7, 3, barHigh+14)
		c.rect(paper, a.at(s.Floor)+1.5, y, 1.5, barHigh)
	}
	if s.Limit == 0 {
		return
	}
	x := a.at(s.Limit)
	if s.Kind.Over() && s.Worst > s.Limit {
		c.broken(x, y+barHigh/2, barHigh/2+8, barHigh/2+0.8, solid)
		return
	}
	c.rect(paper, x-3, y, 6, barHigh)
	c.rect(solid, x-1.5, y-7, 3, barHigh+14)
}
