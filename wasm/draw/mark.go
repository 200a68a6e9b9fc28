package draw

import "sync"

// Mark is the miniature of a margin strip that stands before a verdict's word:
// 48 by 20, readable in gray and at arm's length.
func Mark(k Kind) string {
	if all := marks(); int(k) < len(all) {
		return all[k]
	}
	return mark(k)
}

// marks are all there are, drawn once: a page has hundreds, of six kinds.
var marks = sync.OnceValue(func() (all [len(slugs)]string) {
	for k := range all {
		all[k] = mark(Kind(k))
	}
	return all
})

func mark(k Kind) string {
	c := &canvas{w: 48}
	c.name(k.Word(), "")
	c.miniature(k, 0, 0)
	return c.svg("mark mark-"+k.Slug(), 20)
}

const (
	markLimit = 35.0 // where the limit stands in a mark
	markTop   = 5.0
	markHigh  = 10.0
)

func (c *canvas) miniature(k Kind, x, y float64) {
	switch k {
	case Within:
		c.rect(solid, x+1, y+markTop, 24, markHigh)
		c.markLimit(x, y)
	case BelowReserve:
		c.path(solid, notched(x+1, y+markTop, 31, markHigh, 7))
		c.markLimit(x, y)
	case NotProven:
		c.rect(solid, x+1, y+markTop, 15, markHigh)
		c.line(inkLine, x+16, y+markTop+0.75, x+46, y+markTop+0.75)
		c.line(inkLine, x+16, y+markTop+markHigh-0.75, x+46, y+markTop+markHigh-0.75)
		c.markLimit(x, y)
	case OverInherited:
		c.rect(over, x+1, y+markTop, 45, markHigh)
		c.broken(x+28, y+10, 10, 5.8, over)
	case OverWorsened:
		c.rect(over, x+1, y+markTop, 34, markHigh)
		c.broken(x+24, y+10, 10, 5.8, over)
		c.rect(over, x+37, y+1, 10, 18)
	default:
		c.path(dotted, "M"+num(x+2)+" "+num(y+markTop+1)+"H"+num(x+45)+"V"+num(y+markTop+markHigh-1)+"H"+num(x+2)+"Z")
	}
}

func (c *canvas) markLimit(x, y float64) { c.rect(solid, x+markLimit, y+1, 2.5, 18) }

// notched is a block with a bite in its upper edge, near its end.
func notched(x, y, w, h, bite float64) string {
	end := x + w
	return "M" + num(x) + " " + num(y) + "H" + num(end-bite-bite) + "L" + num(end-bite-bite/2) + " " + num(y+h*0.7) +
		"L" + num(end-bite) + " " + num(y) + "H" + num(end) + "V" + num(y+h) + "H" + num(x) + "Z"
}

// broken is a limit that something has gone through: what is left of it
// stands above and below, and a crack in the paper's color between.
func (c *canvas) broken(x, y, reach, half float64, p brush) {
	c.path(paper, "M"+num(x-1.2)+" "+num(y-half)+"L"+num(x+2.2)+" "+num(y-half/3)+"L"+num(x-1.2)+" "+num(y+half/3)+"L"+num(x+2.2)+" "+num(y+half)+
		"H"+num(x+4.4)+"L"+num(x+1)+" "+num(y+half/3)+"L"+num(x+4.4)+" "+num(y-half/3)+"L"+num(x+1)+" "+num(y-half)+"Z")
	c.rect(p, x-1.2, y-reach+0.5, 2.5, reach-half+0.5)
	c.rect(p, x+1.8, y+half-1, 2.5, reach-half+0.5)
}
