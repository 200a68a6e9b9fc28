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

const (
	tagHigh   = 40.0
	tagString = 20.0
	tagCut    = 7.0
	tagGap    = 4.0
	tierGap   = 8.0
	stringGap = 12.0 // between tags where strings pass
)

// A tag is the words of one order and the room they take.
type tag struct {
	point      Parcel
	top, under string
	x, y, w    float64
	through    float64 // where its string passes between tags above, 0 for none
}

func (p Parcels) tagOf(point Parcel) tag {
	t := tag{point: point, top: point.Name, under: p.Format(point.Cost)}
	if point != p.Planned {
		t.top += "  " + day(point.Days)
	}
	t.w = math.Max(spanOf(t.top), spanOf(t.under)) + 14
	return t
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

// string leads from a dot to the hole of its tag, straight or between the tags
// above it.
func (c *canvas) string(a axis, line float64, t tag) {
	x, hole := a.at(float64(t.point.Cost)), t.x+t.w/2
	if t.through == 0 {
		c.line(hair, x, line, hole, t.y+5)
		return
	}
	c.path(hair, "M"+num(x)+" "+num(line)+"L"+num(t.through)+" "+num(line+tagString-4)+"V"+num(t.y-tierGap)+"L"+num(hole)+" "+num(t.y+5))
}

// hang gives tags their places: as near under their dots as there is room, in
// as many tiers as they need. It returns how many that are.
func hang(a axis, tags []tag) (tiers int) {
	room := 0.0
	for _, t := range tags {
		room += t.w + tagGap
	}
	tiers = max(1, int(math.Ceil(room/(width+tagGap))))
	for tier := range tiers {
		var row []*tag
		for i := tier; i < len(tags); i += tiers {
			t := &tags[i]
			t.y = float64(tier) * (tagHigh + tierGap)
			t.x = a.at(float64(t.point.Cost)) - t.w/2
			if above := &tags[i-tier]; tier > 0 {
				t.through = above.x + above.w + stringGap*float64(tier)/float64(tiers)
				t.x = t.through - t.w/2
			}
			row = append(row, t)
		}
		if tier == 0 && tiers > 1 {
			spread(row, stringGap, width-stringGap)
			continue
		}
		spread(row, tagGap, width)
	}
	return tiers
}

// spread moves the tags of one tier apart, and back from the right edge.
func spread(row []*tag, gap, right float64) {
	end := 0.0
	for _, t := range row {
		t.x = math.Max(t.x, end)
		end = t.x + t.w + gap
	}
	end = right
	for _, t := range slices.Backward(row) {
		t.x = math.Max(0, math.Min(t.x, end-t.w))
		end = t.x - gap
	}
}

// tag draws one: its upper corners cut off and a hole between them, but for
// the order as planned.
func (c *canvas) tag(t tag, planned bool) {
	edge, words, figure := inkLine, bold, ink
	if !t.point.Proven && !planned {
		edge = dashed
	}
	d := "M" + num(t.x+tagCut) + " " + num(t.y) + "H" + num(t.x+t.w-tagCut) + "L" + num(t.x+t.w) + " " + num(t.y+tagCut) +
		"V" + num(t.y+tagHigh) + "H" + num(t.x) + "V" + num(t.y+tagCut) + "Z"
	if planned {
		d = "M" + num(t.x) + " " + num(t.y) + "H" + num(t.x+t.w) + "V" + num(t.y+tagHigh) + "H" + num(t.x) + "Z"
	}
	c.path(paper, d)
	if t.point.Shown {
		c.path(solid, d)
		words, figure = paperBold, paper
	}
	c.path(edge, d)
	mid := t.x + t.w/2
	if !planned { // the hole
		c.dot(paper, mid, t.y+5, 2.2)
		c.dot(hair, mid, t.y+5, 2.2)
	}
	c.text(words, centered, mid, t.y+20, t.top)
	c.text(figure, centered, mid, t.y+35, t.under)
}

var paperBold = brush{"pic-paper pic-bold", `fill="` + paperTint + `" font-weight="700"`}
