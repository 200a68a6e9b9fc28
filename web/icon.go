package web

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"strings"
)

// iconSize is the grid the icon is drawn on.
const iconSize = 512

// iconPart is one upright rectangle of the icon.
type iconPart struct {
	x, y, w, h int
	color      color.RGBA
}

var (
	paper = color.RGBA{0xf4, 0xec, 0xdb, 0xff}
	ink   = color.RGBA{0x26, 0x21, 0x1a, 0xff}
	over  = color.RGBA{0xa3, 0x26, 0x1a, 0xff}
)

// iconParts are a terminal lug in front of a strip that ends short of its
// limit. All lies within the middle four fifths, which a round mask leaves.
var iconParts = []iconPart{
	{0, 0, iconSize, iconSize, paper},
	{128, 96, 48, 320, ink},   // the post
	{96, 96, 112, 40, ink},    // its head
	{128, 368, 264, 48, ink},  // the foot
	{216, 208, 120, 72, ink},  // what it bears
	{376, 168, 24, 152, over}, // what it may bear
	{344, 232, 16, 24, ink},   // what is held back
}

func iconSVG() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d">`, iconSize, iconSize)
	for _, p := range iconParts {
		fmt.Fprintf(&b, `<rect x="%d" y="%d" width="%d" height="%d" fill="#%02x%02x%02x"/>`,
			p.x, p.y, p.w, p.h, p.color.R, p.color.G, p.color.B)
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

func iconPNG(size int) ([]byte, error) {
	img := image.NewPaletted(image.Rect(0, 0, size, size), color.Palette{paper, ink, over})
	at := func(v int) int { return v * size / iconSize }
	for _, p := range iconParts {
		r := image.Rect(at(p.x), at(p.y), at(p.x+p.w), at(p.y+p.h))
		draw.Draw(img, r, image.NewUniform(p.color), image.Point{}, draw.Src)
	}
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, img)
	return b.Bytes(), err
}
