package draw

// stage is one step on the way from a finding to an order, with an example.
type stage struct{ say, example, second string }

var stages = []stage{
	{"finding", "the can leaks", "4 mA at 300 V"},
	{"need", "20 µF that bears", "445.2 V"},
	{"verdict", "500 V part", "within"},
	{"plan", "three pieces", "1.1 h of work"},
	{"decision", "the owner: yes", "17.63 left"},
	{"order", "one basket", "2 parcels"},
}

const (
	flowWide = 564.0
	cardWide = 156.0
	cardHigh = 92.0
	flowGap  = 36.0
)

// Flow shows how a finding becomes an order. It stands alone in a file: it has
// its own paper. The figures are those of an invented job.
//
//go:generate go test -run TestFlowFile -update
func Flow() string {
	c := &canvas{w: flowWide}
	c.name("From a finding to an order", "finding, need, verdict, plan, decision, order: each follows from the one before; a changed reading changes all after it")
	high := 2*cardHigh + 94
	c.rect(paper, 0, 0, flowWide, high)
	for i, s := range stages {
		x, y := place(i)
		c.stage(s, x, y)
		if i+1 < len(stages) {
			c.arrow(i, x, y)
		}
	}
	c.text(soft, centered, flowWide/2, high-14, "Change one reading and everything after it is planned anew.")
	return c.svg("flow", high)
}

// place goes to the right in the upper row and comes back in the lower.
func place(i int) (x, y float64) {
	if i < 3 {
		return 13 + float64(i)*(cardWide+flowGap), 14
	}
	return 13 + float64(5-i)*(cardWide+flowGap), 14 + cardHigh + 40
}

func (c *canvas) stage(s stage, x, y float64) {
	c.shape("rect", inkLine, "x", num(x+0.5), "y", num(y), "width", num(cardWide-3), "height", num(cardHigh))
	c.text(bold, fromLeft, x+12, y+23, s.say)
	c.line(hair, x+12, y+32, x+cardWide-14, y+32)
	c.text(ink, fromLeft, x+12, y+54, s.example)
	if s.say == "verdict" {
		c.miniature(Within, x+12, y+66)
		c.text(ink, fromLeft, x+68, y+81, s.second)
		return
	}
	c.text(ink, fromLeft, x+12, y+77, s.second)
}

func (c *canvas) arrow(i int, x, y float64) {
	mid := y + cardHigh/2
	switch {
	case i < 2:
		c.head(x+cardWide+2, mid, x+cardWide+flowGap-4, mid, "l-8 -5v10z")
	case i == 2:
		c.head(x+cardWide/2, y+cardHigh+4, x+cardWide/2, y+cardHigh+36, "l-5 -8h10z")
	default:
		c.head(x-4, mid, x-flowGap+2, mid, "l8 -5v10z")
	}
}

func (c *canvas) head(x1, y1, x2, y2 float64, tip string) {
	c.line(inkLine, x1, y1, x2, y2)
	c.path(solid, "M"+num(x2)+" "+num(y2)+tip)
}
