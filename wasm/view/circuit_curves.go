package view

import (
	"math"

	"lugworth/core/tube"
	"lugworth/wasm/draw"
)

// gridLines are the plate currents of a tube at five grid voltages around the
// one it idles at, its screen held where it stands, up to some plate volts.
func gridLines(l tube.Law, s tube.Specimen, screen, grid, top float64) []draw.GridLine {
	step := niceStep(math.Abs(grid) / 4)
	middle := math.Round(grid/step) * step
	var out []draw.GridLine
	for i := 2; i >= -2; i-- {
		g := middle + float64(i)*step
		if g > 0 {
			continue
		}
		line := draw.GridLine{Grid: g}
		for k := range 25 {
			u := top * float64(k) / 24
			c, _ := l.At(u, screen, g, s)
			line.At = append(line.At, draw.Spot{Volts: u, Amps: c.Plate})
		}
		out = append(out, line)
	}
	return out
}

// niceStep is the next round figure below a size: 1, 2, 5, 10 volts; half a
// volt at least.
func niceStep(v float64) float64 {
	for _, s := range []float64{10, 5, 2, 1} {
		if v >= s {
			return s
		}
	}
	return 0.5
}
