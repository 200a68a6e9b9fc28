package draw

import (
	"html"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A brush is how a shape is painted: a class for the page's style sheet, and
// attributes for a file that stands alone.
type brush struct{ class, attrs string }

// The pigments of a picture that stands alone, on paper of the same tint as
// the page's by day.
const (
	inkTint   = "#26211a"
	softTint  = "#4c4336"
	overTint  = "#8c1a12"
	paperTint = "#f4ecdb"
)

var (
	solid    = brush{"pic-solid", `fill="` + inkTint + `"`} // areas
	ink      = brush{"pic-ink", `fill="` + inkTint + `"`}   // words
	wash     = brush{"pic-wash", `fill="` + softTint + `"`} // areas that only lead the eye
	soft     = brush{"pic-soft", `fill="` + softTint + `"`}
	over     = brush{"pic-over", `fill="` + overTint + `"`}
	paper    = brush{"pic-paper", `fill="` + paperTint + `"`}
	inkLine  = stroke("pic-line", inkTint, "1.5", "")
	thick    = stroke("pic-line", inkTint, "3", "")
	hair     = stroke("pic-hair", softTint, "1", "")
	dashed   = stroke("pic-line", inkTint, "1.5", "5 3")
	dotted   = stroke("pic-line", inkTint, "2", "0.1 4.5")
	overLine = stroke("pic-over-line", overTint, "1.5", "")
	bold     = brush{"pic-ink pic-bold", `fill="` + inkTint + `" font-weight="700"`}
	overBold = brush{"pic-over pic-bold", `fill="` + overTint + `" font-weight="700"`}
)

func stroke(class, tint, width, dash string) brush {
	attrs := `fill="none" stroke="` + tint + `" stroke-width="` + width + `"`
	if dash != "" {
		attrs += ` stroke-dasharray="` + dash + `" stroke-linecap="round"`
	}
	return brush{class, attrs}
}

// canvas writes one picture. Lengths are in the picture's own units, one of
// which is a CSS pixel on the narrowest phone.
type canvas struct {
	b       strings.Builder
	w       float64
	mention string // title and description
}

const (
	width = 320.0 // of all pictures but the marks
	size  = 14.0  // of all words in them
	wide  = 0.58  // of a letter, by its size
)

func (c *canvas) name(title, desc string) {
	c.mention = "<title>" + html.EscapeString(title) + "</title>"
	if desc != "" {
		c.mention += "<desc>" + html.EscapeString(desc) + "</desc>"
	}
}

// svg is the finished picture, h high.
func (c *canvas) svg(class string, h float64) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" class="picture ` + class + `" role="img" viewBox="0 0 ` +
		num(c.w) + " " + num(h) + `" font-family="system-ui, sans-serif" font-size="` + num(size) + `">` +
		c.mention + c.b.String() + `</svg>`
}

func (c *canvas) shape(tag string, p brush, attrs ...string) {
	c.b.WriteString("<" + tag + ` class="` + p.class + `" ` + p.attrs)
	for i := 0; i+1 < len(attrs); i += 2 {
		c.b.WriteString(" " + attrs[i] + `="` + attrs[i+1] + `"`)
	}
	c.b.WriteString("/>")
}

func (c *canvas) rect(p brush, x, y, w, h float64) {
	if w > 0 {
		c.shape("rect", p, "x", num(x), "y", num(y), "width", num(w), "height", num(h))
	}
}

func (c *canvas) line(p brush, x1, y1, x2, y2 float64) {
	c.shape("line", p, "x1", num(x1), "y1", num(y1), "x2", num(x2), "y2", num(y2))
}

func (c *canvas) dot(p brush, x, y, r float64) {
	c.shape("circle", p, "cx", num(x), "cy", num(y), "r", num(r))
}

func (c *canvas) path(p brush, d string) { c.shape("path", p, "d", d) }

// hatch fills a block with upright strokes: a figure that may or may not be
// reached.
func (c *canvas) hatch(p brush, x, y, w, h float64) {
	for at := x + 1; at < x+w; at += 4 {
		c.rect(p, at, y, math.Min(1.5, x+w-at), h)
	}
}

// Anchors of words.
const (
	fromLeft  = "start"
	fromRight = "end"
	centered  = "middle"
)

func (c *canvas) text(p brush, anchor string, x, y float64, say string) {
	c.b.WriteString(`<text class="` + p.class + `" ` + p.attrs + ` x="` + num(x) + `" y="` + num(y) + `" text-anchor="` + anchor + `">` +
		html.EscapeString(say) + `</text>`)
}

// num prints a length with one decimal at most; what is not a number becomes 0
// so that a picture is never broken markup.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
}

// spanOf is the room words need. Fonts differ: this is a wide one's.
func spanOf(say string) float64 { return float64(utf8.RuneCountInString(say)) * size * wide }

// cut shortens words to the room there is.
func cut(say string, room float64) string {
	fit := int(room / (size * wide))
	if utf8.RuneCountInString(say) <= fit || fit < 2 {
		return say
	}
	return string([]rune(say)[:fit-1]) + "…"
}

// axis places amounts between two ends of a picture.
type axis struct{ from, to, left, right float64 }

func (a axis) at(v float64) float64 {
	if a.to <= a.from {
		return a.left
	}
	x := a.left + (v-a.from)/(a.to-a.from)*(a.right-a.left)
	return math.Max(a.left, math.Min(a.right, x))
}
