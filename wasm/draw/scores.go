package draw

import (
	"math"
	"strconv"
)

// Scores are orders by how much of them is like what was there: the more of
// that is asked for, the more the order may cost.
type Scores struct {
	Points []Score // falling Score
	Format func(int64) string
}

// Score is the cheapest order found that is at least so original.
type Score struct {
	Name   string // of its line in the list beside the picture
	Score  int
	Cost   int64
	Proven bool
	Shown  bool
}

const scoreHigh = 28.0

// ScoreStair shows the orders as a stair: a ruled line for each degree of
// originality, the most at the top, a dot at the cost, and the steps between.
// The order looked at is the square; one whose cost is not proven is hollow.
func ScoreStair(s Scores) string {
	c := &canvas{w: width}
	c.name("What the order costs by how original it is", s.describe())
	a, y := s.axis(), rowHigh+4
	if len(s.Points) > 0 {
		c.text(soft, fromLeft, 0, 14, "points")
		c.text(soft, fromRight, width, 14, "cost")
	}
	for i, p := range s.Points {
		mid := y + scoreHigh/2
		c.line(hair, 0, y+scoreHigh, width, y+scoreHigh)
		if i > 0 {
			c.stair(a, s.Points[i-1].Cost, p.Cost, mid)
		}
		y += scoreHigh
	}
	y = rowHigh + 4
	for _, p := range s.Points {
		c.step(a, y+scoreHigh/2, p, s.Format(p.Cost))
		y += scoreHigh
	}
	return c.svg("score-stair", y+2)
}

func (s Scores) describe() string {
	say := ""
	for i, p := range s.Points {
		if i > 0 {
			say += "; "
		}
		say += p.Name + ": " + strconv.Itoa(p.Score) + " points, " + s.Format(p.Cost)
		if !p.Proven {
			say += " or less"
		}
		if p.Shown {
			say += ", shown"
		}
	}
	return say
}

func (s Scores) axis() axis {
	low, high, room := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range s.Points {
		low, high = math.Min(low, float64(p.Cost)), math.Max(high, float64(p.Cost))
		room = math.Max(room, spanOf(s.Format(p.Cost)))
	}
	return axis{low, high, 70, width - room - 14}
}

// stair leads from the dot of the row above down and over to this one.
func (c *canvas) stair(a axis, above, here int64, mid float64) {
	x, to := a.at(float64(above)), a.at(float64(here))
	c.path(inkLine, "M"+num(x)+" "+num(mid-scoreHigh)+"V"+num(mid)+"H"+num(to))
}

func (c *canvas) step(a axis, mid float64, p Score, cost string) {
	x, pen := a.at(float64(p.Cost)), ink
	if p.Shown {
		pen = bold
	}
	c.text(pen, fromLeft, 0, mid+5, p.Name+"  "+strconv.Itoa(p.Score))
	c.text(pen, fromRight, width, mid+5, cost)
	switch {
	case p.Shown:
		c.rect(solid, x-7, mid-7, 14, 14)
	case p.Proven:
		c.dot(solid, x, mid, 5)
	default:
		c.dot(paper, x, mid, 5)
		c.dot(inkLine, x, mid, 5)
	}
}
