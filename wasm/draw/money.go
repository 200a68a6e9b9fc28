package draw

import "math"

// Segment is one step of a bill.
type segment struct {
	say    string
	amount int64
}

// steps are the parts of the bill in the order they are printed on it.
func (b Build) steps() []segment {
	var out []segment
	for _, s := range []segment{{"bench fee", b.Fee}, {"labor", b.Labor}, {"parts", b.Parts}, {"other", b.Other}, {"tax", b.Tax}} {
		if s.amount != 0 {
			out = append(out, s)
		}
	}
	return out
}

func (b Build) over() bool { return b.HasCeiling && b.Total() > b.Ceiling }

// standing is "17.63 left", "over by 6.37", or "" without a ceiling.
func (b Build) standing() string {
	switch {
	case !b.HasCeiling:
		return ""
	case b.over():
		return "over by " + b.Format(b.Total()-b.Ceiling)
	}
	return b.Format(b.Ceiling-b.Total()) + " left"
}

func (b Build) describe() string {
	s := ""
	for _, step := range b.steps() {
		s += step.say + " " + b.Format(step.amount) + ", "
	}
	s += "total " + b.Format(b.Total())
	if b.HasCeiling {
		s += ", ceiling " + b.Format(b.Ceiling) + ", " + b.standing()
	}
	if b.Allowance != 0 {
		s += ", allowance for finds " + b.Format(b.Allowance) + " apart"
	}
	return s
}

const (
	moneyLeft  = 88.0
	moneyRight = width - 78
	stepHigh   = 26.0
)

func (b Build) axis(left, right float64) axis {
	top := max(b.Total()+max(b.Allowance, 0), b.Ceiling, 1)
	return axis{0, float64(top), left, right}
}

// MoneyBuild shows a bill step by step, each beginning where the one before
// ended, up to the ceiling, with what is left or over. The allowance for finds
// is dashed: it is not in the total.
func MoneyBuild(b Build) string {
	c := &canvas{w: width}
	c.name("The bill as it builds up", b.describe())
	a := b.axis(moneyLeft, moneyRight)
	y := 6.0
	if b.HasCeiling {
		y = 28
	}
	top, sum := y, int64(0)
	for _, s := range b.steps() {
		c.moneyRow(y, s.say, b.Format(s.amount), soft)
		b.stepBar(c, a, y, sum, sum+s.amount)
		sum += s.amount
		y += stepHigh
	}
	y = b.totalRow(c, a, y)
	if b.HasCeiling {
		b.ceilingLine(c, a, top, y)
		pen := bold
		if b.over() {
			pen = overBold
		}
		y += 20
		c.text(pen, fromRight, width, y-4, b.standing())
	}
	if b.Allowance != 0 {
		y += 4
		c.moneyRow(y, "for finds", "+ "+b.Format(b.Allowance), soft)
		x := a.at(float64(b.Total()))
		c.shape("rect", dashed, "x", num(x), "y", num(y+5), "width", num(a.at(float64(b.Total()+b.Allowance))-x), "height", "14")
		y += stepHigh
	}
	return c.svg("money-build", y+4)
}

func (c *canvas) moneyRow(y float64, say, figure string, pen brush) {
	c.text(pen, fromLeft, 0, y+17, say)
	c.text(ink, fromRight, width, y+17, figure)
	c.line(hair, 0, y+stepHigh-1, width, y+stepHigh-1)
}

func (b Build) stepBar(c *canvas, a axis, y float64, from, to int64) {
	x1, x2 := a.at(float64(min(from, to))), a.at(float64(max(from, to)))
	b.block(c, a, y+5, x1, math.Max(x2, x1+1.5), 14)
	c.line(hair, a.at(float64(to)), y+19, a.at(float64(to)), y+stepHigh+5)
}

// block is ink as far as the ceiling and the signal color beyond it.
func (b Build) block(c *canvas, a axis, y, x1, x2, h float64) {
	stop := x2
	if b.over() {
		stop = math.Min(x2, math.Max(x1, a.at(float64(b.Ceiling))))
	}
	c.rect(solid, x1, y, stop-x1, h)
	c.rect(over, stop, y, x2-stop, h)
}

// totalRow closes the sum as a ledger does: one rule above, two below.
func (b Build) totalRow(c *canvas, a axis, y float64) float64 {
	c.text(bold, fromLeft, 0, y+20, "total")
	c.text(bold, fromRight, width, y+20, b.Format(b.Total()))
	b.block(c, a, y+5, a.left, a.at(float64(b.Total())), 20)
	c.line(inkLine, 0, y-1, width, y-1)
	c.line(inkLine, moneyRight+4, y+29, width, y+29)
	c.line(inkLine, moneyRight+4, y+32, width, y+32)
	return y + 34
}

func (b Build) ceilingLine(c *canvas, a axis, top, bottom float64) {
	x := a.at(float64(b.Ceiling))
	say := "ceiling " + b.Format(b.Ceiling)
	c.text(bold, fromRight, math.Max(x-5, spanOf(say)), 15, say)
	if b.over() {
		c.line(thick, x, 4, x, bottom-32)
		c.broken(x, bottom-19, 13, 11, solid)
		return
	}
	c.line(thick, x, 4, x, bottom-4)
}

const lineWidth = 240.0

// MoneyLine is MoneyBuild on one line for the foot of the page: 240 by 30, the
// numbers stand beside it.
func MoneyLine(b Build) string {
	c := &canvas{w: lineWidth}
	c.name("Total against ceiling", b.describe())
	a := b.axis(1, lineWidth-6)
	c.line(hair, 0, 24, lineWidth, 24)
	sum := int64(0)
	for i, s := range b.steps() {
		x1, x2 := a.at(float64(sum)), a.at(float64(sum+s.amount))
		if i > 0 {
			x1 += 1.5
		}
		b.block(c, a, 8, x1, math.Max(x2, x1), 16)
		sum += s.amount
	}
	if b.Allowance > 0 {
		x := a.at(float64(sum))
		c.rect(dashed, x+1, 9, a.at(float64(sum+b.Allowance))-x-1, 14)
	}
	switch x := a.at(float64(b.Ceiling)); {
	case !b.HasCeiling:
	case b.over():
		c.broken(x, 16, 15, 8.8, solid)
	default:
		c.rect(solid, x-1.5, 1, 3, 28)
	}
	return c.svg("money-line", 30)
}
