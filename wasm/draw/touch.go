package draw

import (
	"math"
	"strconv"
)

// Touches are the choices that touch least, side by side.
type Touches struct {
	Rows   []Touched
	Format func(int64) string
}

// Touched is how much one choice touches: counts from the worst down, and
// what it costs and when it is ready.
type Touched struct {
	Name   string // of its line in the list beside the picture: "a"
	Matter [3]int // used up, handed back, out of use in its place
	Look   [3]int // none, modern, close to as made
	Undo   [3]int // cannot be undone, leaves a mark, by solder or plug
	Cost   int64
	Day    int // −1: a lead is not stated
	Shown  bool
}

// TouchRows draws one row for each choice: a block for each thing touched, in
// three columns. A full block is the worst of its kind, a half full one the
// next, an empty one the least; so three empty blocks are less than one full.
func TouchRows(t Touches) string {
	c := &canvas{w: width}
	c.name("What each choice touches", t.describe())
	for i, say := range []string{"parts", "look", "undo"} {
		c.text(soft, fromLeft, touchLeft+float64(i)*touchWide, 12, say)
	}
	c.text(soft, fromRight, width, 12, "cost, day")
	y := 18.0
	for _, r := range t.Rows {
		y = t.row(c, r, y)
	}
	return c.svg("touch-rows", y+4)
}

const (
	touchLeft  = 18.0
	touchWide  = 70.0
	touchBlock = 8.0
	touchFit   = 6 // blocks in a line
)

func (t Touches) row(c *canvas, r Touched, y float64) float64 {
	c.line(hair, 0, y, width, y)
	brush := ink
	if r.Shown {
		brush = bold
	}
	c.text(brush, fromLeft, 0, y+18, r.Name)
	lines := 1
	for i, n := range [][3]int{r.Matter, r.Look, r.Undo} {
		lines = max(lines, c.blocks(touchLeft+float64(i)*touchWide, y+8, n))
	}
	c.text(brush, fromRight, width, y+18, t.Format(r.Cost))
	c.text(soft, fromRight, width, y+34, day(r.Day))
	return y + math.Max(40, float64(lines)*(touchBlock+3)+12)
}

// blocks draws counted blocks, the worst first, and returns the lines they
// take. Nothing at all is a dash.
func (c *canvas) blocks(x, y float64, n [3]int) int {
	at := 0
	for kind, count := range n {
		for range min(count, 99) {
			c.block(x+float64(at%touchFit)*(touchBlock+2), y+float64(at/touchFit)*(touchBlock+3), kind)
			at++
		}
	}
	if at == 0 {
		c.line(inkLine, x, y+touchBlock/2, x+touchBlock, y+touchBlock/2)
	}
	return (at + touchFit - 1) / touchFit
}

func (c *canvas) block(x, y float64, kind int) {
	switch kind {
	case 0:
		c.rect(solid, x, y, touchBlock, touchBlock)
		return
	case 1:
		c.rect(solid, x, y+touchBlock/2, touchBlock, touchBlock/2)
	}
	c.rect(inkLine, x+0.75, y+0.75, touchBlock-1.5, touchBlock-1.5)
}

func (t Touches) describe() string {
	say := ""
	for i, r := range t.Rows {
		if i > 0 {
			say += "; "
		}
		say += r.Name + ": parts " + counted(r.Matter, "used up", "handed back", "out of use in place") + ", look " + counted(r.Look, "", "modern", "close") +
			", undo " + counted(r.Undo, "never", "with a mark", "by solder") + ", " + t.Format(r.Cost) + ", " + day(r.Day)
	}
	return say
}

func counted(n [3]int, words ...string) string {
	say := ""
	for i, k := range n {
		if k == 0 {
			continue
		}
		if say != "" {
			say += " "
		}
		say += strconv.Itoa(k) + " " + words[i]
	}
	if say == "" {
		return "nothing"
	}
	return say
}
