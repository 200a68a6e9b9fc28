package draw

import (
	"math"
	"slices"
)

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
