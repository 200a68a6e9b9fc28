package draw

import (
	"math"
	"strings"
)

// Stage is one piece of the circuit: a tube with the nodes of its electrodes,
// a supply with its nodes one after another, or nodes that belong to neither.
type Stage struct {
	Subject string // "V3 6V6GT"
	Tube    bool   // nodes with a Pin stand on that electrode of one tube
	Chain   bool   // each node is reached from the one above it, through its Link
	Nodes   []NodeBox
}

// NodeBox is one node with its volts and the parts that lead away from it.
type NodeBox struct {
	Pin                   string // electrode: "plate"
	Link                  string // in a chain: the parts that lead here: "R1 10k"
	Name                  string
	Read, Expected, Worst string // volts as printed; "" where there are none
	Wrong                 string // what is wrong with it: "floating"; drawn dotted
	Plain                 bool   // no volts are asked for: the chassis
	Parts                 []Lead
}

// Lead is one part that leads from a node to another place.
type Lead struct {
	Say   string // "R20 250 Ω"
	To    string // where it ends; "" is the chassis, and nothing for a Remark
	Shape Shape
}

// Shape is how a part is drawn.
type Shape uint8

// Shapes: a box for what resists, two plates for what holds charge, a full bar
// for what is wound, an underlined name for all else, and words alone for a
// remark, such as another tube on the same node.
const (
	Other Shape = iota
	Resists
	Holds
	Wound
	Remark
)

const (
	stageWide = 440.0
	pinRight  = 66.0 // right edge of the tube
	plateX    = 84.0
	plateWide = 144.0
	busX      = plateX + plateWide + 10
	leadX     = busX + 10
	leadWide  = 122.0
	endX      = leadX + leadWide + 6
	leadHigh  = 28.0
	wordHigh  = 17.0
)

// NodePicture draws one piece of a circuit: each node a plate with its name
// and its volts (read, expected, worst), and beside it the parts that stand on
// it, each with the place it leads to. Nodes are told apart by words and
// lines, never by color.
func NodePicture(s Stage) string {
	c := &canvas{w: stageWide}
	c.name(s.Subject, s.describe())
	y := 4.0
	pins := make([]float64, len(s.Nodes))
	for i, n := range s.Nodes {
		if s.Chain {
			from := y
			if i > 0 {
				from = pins[i-1]
			}
			y = c.link(n.Link, y, from)
		}
		pins[i] = y + 13
		c.nodeBox(n, y)
		y += n.high() + 12
	}
	if s.Tube {
		c.tube(s.Nodes, pins)
	}
	if s.Chain {
		c.rail(pins)
	}
	return c.svg("node-picture", math.Max(y-6, 30))
}

// rail joins the nodes of a chain.
func (c *canvas) rail(pins []float64) {
	for _, y := range pins {
		c.line(thick, pinRight/2, y, plateX, y)
	}
}

// link draws what leads to a node of a chain, down from the pin of the node
// before it, and returns where the node begins.
func (c *canvas) link(say string, y, from float64) float64 {
	x := pinRight / 2
	if say == "" {
		c.line(thick, x, from, x, y+14.5)
		return y
	}
	c.line(thick, x, from, x, y)
	say = cut(say, stageWide-20)
	c.shape("rect", inkLine, "x", "1", "y", num(y), "width", num(math.Max(spanOf(say)+16, pinRight)), "height", "24")
	c.text(ink, fromLeft, 9, y+17, say)
	c.line(thick, x, y+24, x, y+46.5)
	return y + 32
}

// tube draws the tube that the nodes stand on, with the names of its
// electrodes.
func (c *canvas) tube(nodes []NodeBox, pins []float64) {
	top, end := math.Inf(1), 0.0
	for i, n := range nodes {
		if n.Pin != "" {
			c.text(ink, fromRight, pinRight-4, pins[i]+5, n.Pin)
			top, end = math.Min(top, pins[i]-13), pins[i]+13
		}
	}
	if end > 0 {
		c.shape("rect", inkLine, "x", "1", "y", num(top), "width", num(pinRight-1), "height", num(end-top))
	}
}

// words are the lines inside a node's plate, under its name.
func (n NodeBox) words() []string {
	if n.Plain {
		return nil
	}
	var out []string
	for _, w := range [][2]string{{"read", n.Read}, {"expected", n.Expected}, {"worst", n.Worst}} {
		if w[1] != "" {
			out = append(out, w[0]+" "+w[1])
		}
	}
	if len(out) == 0 && n.Wrong == "" {
		return []string{"not read"}
	}
	if n.Wrong != "" {
		out = append(out, n.Wrong)
	}
	return out
}

func (n NodeBox) plateHigh() float64 { return 26 + float64(len(n.words()))*wordHigh }

func (n NodeBox) high() float64 {
	return math.Max(n.plateHigh(), float64(len(n.Parts))*leadHigh)
}

// nodeBox draws one node with its parts, and the wire to its electrode.
func (c *canvas) nodeBox(n NodeBox, y float64) {
	if n.Pin != "" {
		c.line(thick, pinRight, y+13, plateX, y+13)
	}
	pen := inkLine
	if n.Wrong != "" {
		pen = dotted
	}
	c.shape("rect", pen, "x", num(plateX), "y", num(y), "width", num(plateWide), "height", num(n.plateHigh()))
	c.text(bold, fromLeft, plateX+8, y+18, cut(n.Name, plateWide-28))
	for i, w := range n.words() {
		c.text(soft, fromLeft, plateX+8, y+36+float64(i)*wordHigh, cut(w, plateWide-12))
	}
	c.leads(n.Parts, y)
}

// leads draws the parts of a node under each other, joined by one upright
// line.
func (c *canvas) leads(parts []Lead, y float64) {
	if len(parts) == 0 {
		return
	}
	c.line(inkLine, plateX+plateWide, y+13, busX, y+13)
	c.line(inkLine, busX, y+13, busX, y+13+float64(len(parts)-1)*leadHigh)
	for i, l := range parts {
		mid := y + 13 + float64(i)*leadHigh
		c.line(inkLine, busX, mid, leadX, mid)
		c.lead(l, mid)
		if l.Shape != Remark {
			c.leadEnd(l.To, mid)
		}
	}
}

func (c *canvas) lead(l Lead, mid float64) {
	x, top := leadX, mid-11
	switch l.Shape {
	case Resists:
		c.shape("rect", inkLine, "x", num(x), "y", num(top), "width", num(leadWide), "height", "22")
	case Holds:
		c.rect(solid, x, top, 3, 22)
		c.rect(solid, x+leadWide-3, top, 3, 22)
	case Wound:
		c.rect(solid, x, top+18, leadWide, 4)
		c.line(inkLine, x, mid, x, top+22)
		c.line(inkLine, x+leadWide, mid, x+leadWide, top+22)
	case Remark:
		c.text(soft, fromLeft, x+2, mid+5, cut(l.Say, stageWide-x-12))
		return
	default:
		c.line(hair, x, top+20, x+leadWide, top+20)
		c.line(inkLine, x, mid, x, top+20)
		c.line(inkLine, x+leadWide, mid, x+leadWide, top+20)
	}
	c.text(ink, centered, x+leadWide/2, mid+5, cut(l.Say, leadWide-16))
}

// leadEnd is where a part leads: the name of a place, or the chassis as a
// heavy upright stroke with its number.
func (c *canvas) leadEnd(to string, mid float64) {
	if to != "" {
		c.text(bold, fromLeft, endX, mid+5, cut(to, stageWide-endX-8))
		return
	}
	c.line(inkLine, endX-6, mid, endX+8, mid)
	c.rect(solid, endX+8, mid-10, 5, 20)
	c.text(soft, fromLeft, endX+19, mid+5, "0")
}

func (l Lead) describe() string {
	switch {
	case l.Shape == Remark:
		return l.Say
	case l.To == "":
		return l.Say + " to the chassis"
	}
	return l.Say + " to " + l.To
}

// describe says the whole piece in sentences for those who listen.
func (s Stage) describe() string {
	var out []string
	for _, n := range s.Nodes {
		say := n.Name
		if n.Pin != "" {
			say = n.Pin + " on " + say
		}
		if n.Link != "" {
			say += ", through " + n.Link
		}
		if !n.Plain {
			say += ": " + strings.Join(n.words(), ", ")
		}
		for _, l := range n.Parts {
			say += "; " + l.describe()
		}
		out = append(out, say)
	}
	return strings.Join(out, ". ")
}
