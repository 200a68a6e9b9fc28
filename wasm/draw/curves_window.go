package draw

import (
	"math"

	"lugworth/core/unit"
)

// Window is between which currents something may be set to, and what a meter
// shows there.
type Window struct {
	Subject   string // "V3 6V6GT at 117 V mains"
	Low, High float64
	Now       unit.Interval // as it draws now, 0 if not known
	Limit     float64       // where the rating itself lies, 0 if not known
	Unit      unit.Unit     // of the above
	Dial      string        // what the second scale shows: "across R20"
	DialLow   float64       // what the meter shows at Low
	DialHigh  float64
	DialUnit  unit.Unit
}

// Inside reports whether what is drawn now lies in the window, ends and all.
func (w Window) Inside() bool { return w.Now.Low >= w.Low && w.Now.High <= w.High }

func (w Window) known() bool {
	return w.High > 0 && w.High >= w.Low && !math.IsInf(w.High, 0) && !math.IsNaN(w.Low)
}

// WindowStrip shows a window of currents on one bar: the part that may be
// dialed stands solid between two heavy stops, each with its current below it
// and under that the reading of the meter; what is drawn now is a hanging mark
// with its band.
func WindowStrip(w Window) string {
	c := &canvas{w: width}
	c.name(w.title(), w.describe())
	if !w.known() {
		c.path(dotted, "M1 12H"+num(stripEnd)+"V31H1Z")
		c.text(soft, fromLeft, 10, 27, "not enough data")
		return c.svg("window-strip", 40)
	}
	a := w.axis()
	y := 10.0
	if w.Now.Expected > 0 {
		w.now(c, a, 14)
		y = 36
	}
	low, high := a.at(w.Low), a.at(w.High)
	c.line(hair, a.left, y+barHigh, a.right, y+barHigh)
	if w.Low < w.High {
		c.rect(solid, low, y, high-low, barHigh)
		c.rect(solid, low-3, y-5, 3, barHigh+10)
	} else {
		c.hatch(solid, a.left, y, high-a.left, barHigh) // how far below it is a matter of sound
	}
	c.rect(solid, high, y-5, 3, barHigh+10)
	if w.Now.Expected > 0 {
		w.hang(c, a, y)
	}
	end := y + barHigh + 24
	least, most := ends(w.Low, w.High, w.Unit)
	c.stops(low, high, end, least, most, bold)
	if w.DialUnit != unit.None {
		end += rowHigh
		least, most = ends(w.DialLow, w.DialHigh, w.DialUnit)
		c.stops(low, high, end, least, most, ink)
		end += rowHigh
		if least == "" {
			c.text(soft, fromLeft, math.Max(0, high-spanOf(most)), end, w.Dial)
			return c.svg("window-strip", end+8)
		}
		x := math.Max(spanOf(w.Dial)/2, math.Min((low+high)/2, stripEnd-spanOf(w.Dial)/2))
		c.text(soft, centered, x, end, w.Dial)
	}
	return c.svg("window-strip", end+8)
}

func (w Window) title() string { return w.Subject + ": what may be dialed" }

func (w Window) amount(v float64) string { return unit.FormatAmount(v, w.Unit, 1) }

// ends are a current or a reading at both ends, rounded into the window.
func ends(low, high float64, u unit.Unit) (string, string) {
	if low >= high {
		return "", "at most " + unit.FormatDown(high, u, MeterFigures(high, u))
	}
	return unit.FormatUp(low, u, MeterFigures(low, u)), unit.FormatDown(high, u, MeterFigures(high, u))
}

func both(low, high string) string {
	if low == "" {
		return high
	}
	return "between " + low + " and " + high
}

// MeterFigures is how many decimals a bench meter shows of an amount.
func MeterFigures(v float64, u unit.Unit) int {
	if u == unit.Volt && math.Abs(v) >= 0.1995 && math.Abs(v) < 20 {
		return 2
	}
	return 1
}

func (w Window) describe() string {
	if !w.known() {
		return "not enough data"
	}
	low, high := ends(w.Low, w.High, w.Unit)
	say := both(low, high)
	if w.DialUnit != unit.None {
		low, high = ends(w.DialLow, w.DialHigh, w.DialUnit)
		say += ", which a meter " + w.Dial + " shows as " + both(low, high)
	}
	if w.Now.Expected > 0 {
		say += "; now " + w.amount(w.Now.Expected) + ", " + w.stands()
	}
	return say
}

// stands says how what is drawn now lies to the window.
func (w Window) stands() string {
	switch {
	case w.Low < w.High && w.Inside():
		return "inside"
	case w.Now.Low > w.High:
		return "above it"
	case w.Now.High < w.Low:
		return "below it"
	}
	return "partly outside"
}

func (w Window) axis() axis {
	low, high := w.Low, w.High
	if w.Now.Expected > 0 {
		low, high = math.Min(low, w.Now.Low), math.Max(high, w.Now.High)
	}
	room := math.Max(high-low, high*0.05)
	return axis{math.Max(0, low-room*0.45), high + room*0.45, 3, stripEnd}
}

// stops writes the figures of both ends outward from the window, or one left
// and one right where the window is narrow.
func (c *canvas) stops(low, high, y float64, left, right string, pen brush) {
	if left == "" {
		c.text(pen, fromLeft, math.Max(0, high-spanOf(right)), y, right)
		return
	}
	mid := (low + high) / 2
	x := math.Max(math.Min(low+2, mid-6), spanOf(left))
	c.text(pen, fromRight, math.Min(x, stripEnd-spanOf(right)-12), y, left)
	x = math.Min(math.Max(high-2, mid+6), stripEnd-spanOf(right))
	c.text(pen, fromLeft, math.Max(x, spanOf(left)+12), y, right)
}

// now writes what is drawn now over its place.
func (w Window) now(c *canvas, a axis, y float64) {
	say := "now " + w.amount(w.Now.Expected) + ", " + w.stands()
	pen := soft
	if w.Now.Low > w.High {
		pen = overBold
	}
	x := a.at(w.Now.Expected)
	if x+spanOf(say)/2 > stripEnd {
		c.text(pen, fromRight, stripEnd, y, say)
		return
	}
	if x < spanOf(say)/2 {
		c.text(pen, fromLeft, 0, y, say)
		return
	}
	c.text(pen, centered, x, y, say)
}

// hang draws the mark of what is drawn now and its band.
func (w Window) hang(c *canvas, a axis, y float64) {
	x := a.at(w.Now.Expected)
	c.line(inkLine, x, 18, x, y-8)
	c.rect(paper, x-2.5, y+2, 5, barHigh-4)
	c.rect(solid, x-1, y, 2, barHigh)
	c.path(solid, "M"+num(x-6)+" "+num(y-10)+"H"+num(x+6)+"L"+num(x)+" "+num(y-1)+"Z")
	if w.Now.High > w.Now.Low {
		mid := y + barHigh/2
		c.rect(paper, a.at(w.Now.Low), mid-2.5, a.at(w.Now.High)-a.at(w.Now.Low), 5)
		c.whisker(inkLine, a.at(w.Now.Low), a.at(w.Now.High), mid, 5)
	}
}
