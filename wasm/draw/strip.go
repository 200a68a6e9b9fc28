package draw

import (
	"math"
	"sort"
	"strings"

	"lugworth/core/unit"
)

const (
	barHigh  = 22.0
	stripEnd = width - 6
	rowHigh  = 18.0
)

// MarginStrip shows one figure against its limit on one bar: solid as far as
// it surely reaches, hatched as far as it may reach, with the limit, the
// wanted rating and what was found as upright lines with their numbers.
//
// The bar starts at zero where that leaves the margin readable; otherwise its
// left edge is torn and the first value is printed.
func MarginStrip(s Strip) string {
	c := &canvas{w: width}
	c.name(s.title(), s.describe())
	above, below := s.above(), s.below()
	a := s.axis()
	top := 4 + float64(len(above))*rowHigh + 8
	c.callouts(a, above, top, -1)
	bottom := c.callouts(a, below, top+barHigh, 1)
	bottom = c.tornFrom(a, s.Unit, below, top+barHigh, bottom)
	s.bar(c, a, top)
	return c.svg("strip strip-"+s.Kind.Slug(), bottom+6)
}

func (s Strip) known() bool { return s.Worst != 0 || s.Expected != 0 }

func (s Strip) title() string {
	if s.Subject == "" {
		return s.Kind.Word()
	}
	return s.Subject + ": " + s.Kind.Word()
}

// describe says the whole picture in one sentence for those who listen.
func (s Strip) describe() string {
	var parts []string
	for _, f := range append(s.below(), s.above()...) {
		parts = append(parts, f.say)
	}
	if len(parts) == 0 {
		return "no figures yet"
	}
	return strings.Join(parts, ", ")
}

// A callout is an upright line with its number.
type callout struct {
	v    float64
	say  string
	pen  brush
	line brush
}

// amount has one figure more for a heater's few volts.
func (s Strip) amount(v float64) string {
	if s.Unit == unit.Volt && s.Limit < 10 && s.Limit > 0 {
		return unit.FormatAmount(v, s.Unit, 2)
	}
	return unit.FormatAmount(v, s.Unit, -1)
}

func (s Strip) above() []callout {
	var all []callout
	add := func(v float64, say string, pen, line brush) {
		if v != 0 {
			all = append(all, callout{v, say, pen, line})
		}
	}
	add(s.Floor, "least "+unit.Short(s.Floor, s.Unit), bold, inkLine)
	add(s.Limit, "limit "+unit.Short(s.Limit, s.Unit), bold, inkLine)
	add(s.Wanted, "wanted "+s.amount(s.Wanted), soft, dashed)
	return sorted(all)
}

func (s Strip) below() []callout {
	if !s.known() {
		return nil
	}
	worst, line := bold, inkLine
	if s.Kind.Over() {
		worst, line = overBold, overLine
	}
	all := []callout{{s.Worst, "worst " + s.amount(s.Worst), worst, line}}
	if s.Expected != 0 && s.amount(s.Expected) != s.amount(s.Worst) {
		all = append(all, callout{s.Expected, "expected " + s.amount(s.Expected), soft, hair})
	}
	if s.Inherited != 0 && s.Kind == OverWorsened && s.amount(s.Inherited) != s.amount(s.Worst) {
		all = append(all, callout{s.Inherited, "as found " + s.amount(s.Inherited), soft, hair})
	}
	return sorted(all)
}

func sorted(all []callout) []callout {
	sort.SliceStable(all, func(i, j int) bool { return all[i].v < all[j].v })
	return all
}

// axis starts at zero unless the figures lie so close together that the
// margin between them would be lost.
func (s Strip) axis() axis {
	low, high := math.Inf(1), 0.0
	for _, v := range []float64{s.Low, s.Expected, s.Worst, s.Wanted, s.Limit, s.Floor, s.Inherited} {
		if v > 0 {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if high == 0 {
		return axis{0, 1, 0, stripEnd}
	}
	room := math.Max(high-low, high*0.04)
	from := roundDown(math.Max(0, high-3.2*room))
	if from < high*0.35 {
		from = 0
	}
	return axis{from, high + (high-from)*0.06, 0, stripEnd}
}

// roundDown leaves two figures.
func roundDown(v float64) float64 {
	if v <= 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Floor(v/step+1e-9) * step
}

// callouts draws lines and numbers away from the bar's edge at y, upward where
// way is -1, and returns how far they reach.
func (c *canvas) callouts(a axis, all []callout, y, way float64) float64 {
	ordered, rightward := arrange(a, all)
	reach := y + 5*way
	for i, f := range ordered {
		row := y + way*(8+float64(i)*rowHigh)
		base := row
		if way > 0 {
			base += size - 1
		}
		x := a.at(f.v)
		c.line(f.line, x, y, x, row+way*(size-2))
		if rightward || x < spanOf(f.say)+5 {
			c.text(f.pen, fromLeft, x+5, base, f.say)
		} else {
			c.text(f.pen, fromRight, x-5, base, f.say)
		}
		reach = row + way*size
	}
	return reach
}

// arrange orders callouts from the bar outward so that no line crosses another's
// words: words stand left of their lines and the leftmost is nearest, or, where
// there is no room for that, right of them and the rightmost is nearest.
func arrange(a axis, all []callout) (ordered []callout, rightward bool) {
	left, right := true, true
	for _, f := range all {
		x, span := a.at(f.v), spanOf(f.say)+5
		left = left && x >= span
		right = right && x+span <= width
	}
	if left || !right {
		return all, false
	}
	ordered = append(ordered, all...)
	sort.SliceStable(ordered, func(i, j int) bool { return ordered[i].v > ordered[j].v })
	return ordered, true
}

// tornFrom prints where a torn bar starts, on the first line below it with
// room for that.
func (c *canvas) tornFrom(a axis, u unit.Unit, below []callout, y, bottom float64) float64 {
	if a.from == 0 {
		return bottom
	}
	say := "bar from " + unit.Short(a.from, u)
	ordered, rightward := arrange(a, below)
	row := len(below)
	for i, f := range ordered {
		if !rightward && a.at(f.v)-spanOf(f.say) > spanOf(say)+10 {
			row = i
			break
		}
	}
	base := y + 8 + float64(row)*rowHigh + size - 1
	c.text(soft, fromLeft, 0, base, say)
	return math.Max(bottom, base)
}
