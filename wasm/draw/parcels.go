package draw

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// Parcels are the orders that nothing betters in cost, parcels and day at
// once, and the order as planned beside them.
type Parcels struct {
	Points  []Parcel
	Planned Parcel // of no parcels: there is none
	Format  func(int64) string
}

// Parcel is one order: what it costs, in how many parcels it comes, and the
// day the last of them is there.
type Parcel struct {
	Name    string // of its line in the list beside the picture: "a"
	Parcels int
	Days    int // −1: a lead is not stated
	Cost    int64
	Proven  bool // no cheaper one comes as early in as few
	Shown   bool // the order that is looked at
}

// ParcelTags shows the orders as tags: one ruled line for each number of
// parcels, a dot on it at the cost, and hanging from the dot a tag with the
// day and the cost. The order looked at is the filled tag; one whose cost is
// not proven yet has a broken edge; the order as planned is a plain square.
func ParcelTags(p Parcels) string {
	c := &canvas{w: width}
	c.name("What the order costs by parcels and by the day it is all there", p.describe())
	y := 0.0
	a := p.axis()
	for _, row := range p.rows() {
		y = p.row(c, a, y, row)
	}
	if len(p.Points) > 0 {
		c.text(soft, fromLeft, 0, y+16, "← cheaper")
		c.text(soft, fromRight, width, y+16, "dearer →")
		y += rowHigh + 4
	}
	return c.svg("parcel-tags", y+2)
}

func parcels(n int) string {
	if n == 1 {
		return "1 parcel"
	}
	return strconv.Itoa(n) + " parcels"
}

func day(n int) string {
	if n < 0 {
		return "day not stated"
	}
	return "day " + strconv.Itoa(n)
}

// all are the points and the order as planned.
func (p Parcels) all() []Parcel {
	if p.Planned.Parcels == 0 {
		return p.Points
	}
	return append(slices.Clip(p.Points), p.Planned)
}

func (p Parcels) describe() string {
	say := ""
	for i, point := range p.all() {
		if i > 0 {
			say += "; "
		}
		say += point.Name + ": " + parcels(point.Parcels) + ", " + day(point.Days) + ", " + p.Format(point.Cost)
		if !point.Proven && i < len(p.Points) {
			say += " or less"
		}
		if point.Shown {
			say += ", shown"
		}
	}
	return say
}

func (p Parcels) axis() axis {
	low, high := math.Inf(1), math.Inf(-1)
	for _, point := range p.all() {
		low, high = math.Min(low, float64(point.Cost)), math.Max(high, float64(point.Cost))
	}
	return axis{low, high, 24, width - 24}
}

// rows are the orders by number of parcels, each row by cost.
func (p Parcels) rows() [][]Parcel {
	all := slices.Clone(p.all())
	slices.SortStableFunc(all, func(a, b Parcel) int {
		return cmp.Or(cmp.Compare(a.Parcels, b.Parcels), cmp.Compare(a.Cost, b.Cost))
	})
	var out [][]Parcel
	for _, point := range all {
		if last := len(out) - 1; last >= 0 && out[last][0].Parcels == point.Parcels {
			out[last] = append(out[last], point)
			continue
		}
		out = append(out, []Parcel{point})
	}
	return out
}

// row rules a line, dots it, and hangs the tags under it.
func (p Parcels) row(c *canvas, a axis, y float64, row []Parcel) float64 {
	line := y + 20
	c.text(bold, fromLeft, 0, y+14, parcels(row[0].Parcels))
	c.line(inkLine, 0, line, width, line)
	var tags []tag
	for _, point := range row {
		tags = append(tags, p.tagOf(point))
	}
	tiers := hang(a, tags)
	for i := range tags {
		tags[i].y += line + tagString
		c.string(a, line, tags[i])
	}
	for _, t := range tags {
		c.tag(t, t.point == p.Planned)
	}
	for _, t := range tags {
		c.dot(solid, a.at(float64(t.point.Cost)), line, 3.5)
	}
	return line + tagString + float64(tiers)*(tagHigh+tierGap) + 6
}
