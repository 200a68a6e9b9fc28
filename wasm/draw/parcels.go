package draw

import (
	"math"
	"strconv"
)

// OrderCost shows the least cost of the order by number of parcels, so that
// one sees what a parcel less is worth. The order in hand is the filled one.
func OrderCost(p Parcels) string {
	c := &canvas{w: width}
	c.name("What the order costs by number of parcels", p.describe())
	a, y := p.axis(), 2.0
	for _, point := range p.Points {
		p.row(c, a, y, point)
		y += stepHigh + 4
	}
	if a.from > 0 {
		c.text(soft, fromLeft, a.left, y+14, "from "+p.Format(int64(a.from)))
		y += rowHigh
	}
	return c.svg("order-cost", y+2)
}

func parcels(n int) string {
	if n == 1 {
		return "1 parcel"
	}
	return strconv.Itoa(n) + " parcels"
}

func (p Parcels) describe() string {
	say := "in hand: " + parcels(p.Chosen)
	for _, point := range p.Points {
		say += ", " + parcels(point.Parcels) + " " + p.Format(point.Cost)
	}
	return say
}

func (p Parcels) axis() axis {
	low, high := math.Inf(1), 1.0
	for _, point := range p.Points {
		low, high = math.Min(low, float64(point.Cost)), math.Max(high, float64(point.Cost))
	}
	from := roundDown(math.Max(0, high-3*math.Max(high-low, high*0.04)))
	if from < high*0.35 {
		from = 0
	}
	return axis{from, high, 92, width - 84}
}

func (p Parcels) row(c *canvas, a axis, y float64, point Parcel) {
	pen := soft
	if point.Parcels == p.Chosen {
		pen = bold
	}
	x, mid := a.at(float64(point.Cost)), y+14
	c.text(pen, fromLeft, 0, mid+5, parcels(point.Parcels))
	c.text(pen, fromRight, width, mid+5, p.Format(point.Cost))
	c.line(hair, a.left, mid, x, mid)
	if point.Parcels == p.Chosen {
		c.dot(solid, x, mid, 7)
	} else {
		c.dot(paper, x, mid, 6)
		c.dot(inkLine, x, mid, 6)
	}
	c.line(hair, 0, y+stepHigh+2, width, y+stepHigh+2)
}
