package draw

import (
	"math"
	"strconv"
	"strings"

	"lugworth/core/unit"
)

// Curves is the plate of a tube: what it may bear, and where it stands.
type Curves struct {
	Subject string  // "V3 6V6GT"
	Watts   float64 // the plate may bear, 0 if not known
	Volts   float64 // plate to cathode it may bear, 0 if not known
	Lines   []GridLine
	Points  []Idle
}

// GridLine is the plate current at one grid voltage.
type GridLine struct {
	Grid float64
	At   []Spot // plate volts rising
}

// Spot is one place in the picture.
type Spot struct{ Volts, Amps float64 }

// Idle is where a tube stands at one mains. The ends are those of its band.
type Idle struct {
	Say       string // "127 V mains"
	Volts     float64
	Amps      float64
	Low, High float64 // amps
	Kind      Kind
}

const (
	plotLeft, plotRight = 34.0, width - 8
	plotTop, plotEnd    = 24.0, 238.0
)

// PlateCurves draws plate current over plate volts: the watts the plate may
// bear as one heavy curve, the volts as an upright line, the current at some
// grid volts as thin curves, and the operating point at each mains as a
// numbered mark of its own shape. Every point is told again in words below.
func PlateCurves(v Curves) string {
	c := &canvas{w: width}
	c.name(v.title(), v.describe())
	x, y := v.axes()
	c.frame(x, y)
	c.gridLines(v.Lines, x, y)
	c.bounds(v, x, y)
	for _, p := range v.Points {
		c.dot(paper, x.at(p.Volts), y.up(p.Amps), 7.5)
	}
	for i, p := range v.Points {
		c.idle(i, p, x, y)
	}
	row := plotEnd + 60
	for i, p := range v.Points {
		c.spotMark(i, 8, row-5, p.Kind)
		pen := ink
		if p.Kind.Over() {
			pen = overBold
		}
		c.text(pen, fromLeft, 22, row, p.words())
		row += wordHigh + 2
	}
	return c.svg("plate-curves", row-4)
}

func (v Curves) title() string { return "Plate curves, " + v.Subject }

func (p Idle) words() string {
	return p.Say + ": " + unit.FormatAmount(p.Volts, unit.Volt, 0) + ", " + unit.FormatAmount(p.Amps, unit.Ampere, 1) + ", " + unit.FormatAmount(p.Volts*p.Amps, unit.Watt, 1)
}

func (v Curves) describe() string {
	say := "the limit of the plate is not known"
	if v.Watts > 0 {
		say = "the plate may bear " + unit.Short(v.Watts, unit.Watt)
	}
	if v.Volts > 0 {
		say += " and " + unit.Short(v.Volts, unit.Volt)
	}
	for _, p := range v.Points {
		say += "; " + p.words()
		if p.High > p.Low {
			say += ", between " + unit.FormatInterval(unit.Interval{Low: p.Low, Expected: p.Amps, High: p.High}, unit.Ampere, 1)
		}
		say += ", " + p.Kind.Word()
	}
	return say
}

// axes leave room over all points; grid lines may leave the picture. The volts
// begin at about half of the least point's, so that points at neighboring
// mains stand apart.
func (v Curves) axes() (x, y axis) {
	volts, amps, from := v.Volts, 0.0, math.Inf(1)
	for _, p := range v.Points {
		volts, amps = math.Max(volts, p.Volts), math.Max(amps, math.Max(p.Amps, p.High))
		from = math.Min(from, p.Volts)
	}
	volts = math.Max(volts*1.15, 50)
	amps = math.Max(amps*1.9, 2*v.Watts/volts)
	if amps <= 0 || math.IsNaN(amps) || math.IsInf(amps, 0) {
		amps = 0.1
	}
	if math.IsNaN(volts) || math.IsInf(volts, 0) {
		volts = 500
	}
	if from = 50 * math.Floor(from*0.011); !(from > 0 && from < volts) {
		from = 0
	}
	return axis{from, volts, plotLeft, plotRight}, axis{0, amps, plotTop, plotEnd}
}

// up is the height of a current: the axis counts from the top.
func (a axis) up(v float64) float64 { return a.left + a.right - a.at(v) }

func (c *canvas) frame(x, y axis) {
	c.line(inkLine, plotLeft, plotTop-8, plotLeft, plotEnd)
	c.line(inkLine, plotLeft, plotEnd, plotRight, plotEnd)
	c.text(soft, fromLeft, 0, 13, "mA")
	c.text(soft, fromRight, plotRight, plotEnd+34, "plate to cathode, V")
	for _, v := range ticks(x.from, x.to) {
		c.text(soft, centered, math.Min(x.at(v), plotRight-14), plotEnd+17, strconv.FormatFloat(v, 'f', -1, 64))
		c.line(hair, x.at(v), plotEnd-4, x.at(v), plotEnd)
	}
	for _, v := range ticks(0, y.to*1000) {
		if v > 0 {
			c.text(soft, fromRight, plotLeft-5, y.up(v/1000)+5, strconv.FormatFloat(v, 'f', -1, 64))
		}
		c.line(hair, plotLeft, y.up(v/1000), plotLeft+4, y.up(v/1000))
	}
}

// ticks are some round figures between two ends.
func ticks(from, to float64) []float64 {
	step := roundDown((to - from) / 4)
	p := math.Pow(10, math.Floor(math.Log10(step)))
	for _, m := range []float64{5, 2, 1} {
		if step >= m*p {
			step = m * p
			break
		}
	}
	var out []float64
	for v := step * math.Ceil(from/step); v <= to && len(out) < 12; v += step {
		out = append(out, math.Round(v/step)*step)
	}
	return out
}

// trace is a path through spots, left off where it leaves the top.
func trace(spots []Spot, x, y axis) string {
	d, pen := "", "M"
	for _, s := range spots {
		if s.Amps > y.to || s.Volts > x.to || s.Volts < x.from || s.Amps < 0 {
			pen = "M"
			continue
		}
		d += pen + num(x.at(s.Volts)) + " " + num(y.up(s.Amps))
		pen = "L"
	}
	return d
}

func (c *canvas) gridLines(lines []GridLine, x, y axis) {
	for _, l := range lines {
		c.path(hair, trace(l.At, x, y))
		c.gridName(l, x, y)
	}
}

// gridName stands at the last spot of a line that is in the picture; a line
// that is nowhere in it has no name.
func (c *canvas) gridName(l GridLine, x, y axis) {
	for i := len(l.At) - 1; i >= 0; i-- {
		s := l.At[i]
		if s.Amps <= y.to && s.Volts <= x.to && s.Volts >= x.from {
			say := strings.Replace(unit.Short(l.Grid, unit.Volt), "-", "−", 1)
			c.text(soft, fromRight, math.Max(x.at(s.Volts), spanOf(say)+plotLeft), math.Max(y.up(s.Amps)-4, plotTop+14), say)
			return
		}
	}
}

func (c *canvas) bounds(v Curves, x, y axis) {
	if v.Watts > 0 {
		var spots []Spot
		for i := 1; i <= 80; i++ {
			u := x.from + (x.to-x.from)*float64(i)/80
			spots = append(spots, Spot{u, v.Watts / u})
		}
		c.path(thick, trace(spots, x, y))
		at := math.Max(v.Watts/y.to, x.from)
		c.text(bold, fromLeft, math.Min(x.at(at)+6, plotRight-90), plotTop-10, unit.Short(v.Watts, unit.Watt))
	}
	if v.Volts > 0 {
		c.line(dashed, x.at(v.Volts), plotTop-6, x.at(v.Volts), plotEnd)
		c.text(bold, fromRight, math.Min(x.at(v.Volts)+4, plotRight), plotTop-10, unit.Short(v.Volts, unit.Volt))
	}
}

// idle is one operating point with its band.
func (c *canvas) idle(i int, p Idle, x, y axis) {
	at, up := x.at(p.Volts), y.up(p.Amps)
	if p.High > p.Low {
		pen := inkLine
		if p.Kind.Over() {
			pen = overLine
		}
		c.line(pen, at, y.up(p.Low), at, y.up(p.High))
		c.line(pen, at-4, y.up(p.Low), at+4, y.up(p.Low))
		c.line(pen, at-4, y.up(p.High), at+4, y.up(p.High))
	}
	c.spotMark(i, at, up, p.Kind)
}

// spotMark is the shape of the i-th point: disk, square, wedge, ring.
func (c *canvas) spotMark(i int, x, y float64, k Kind) {
	pen, edge := solid, inkLine
	if k.Over() {
		pen, edge = over, overLine
	}
	switch i % 4 {
	case 0:
		c.dot(pen, x, y, 5.5)
	case 1:
		c.rect(pen, x-5, y-5, 10, 10)
	case 2:
		c.path(pen, "M"+num(x-6)+" "+num(y+5)+"H"+num(x+6)+"L"+num(x)+" "+num(y-6)+"Z")
	default:
		c.shape("circle", edge, "cx", num(x), "cy", num(y), "r", "5")
	}
}
