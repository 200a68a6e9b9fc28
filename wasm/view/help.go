package view

import (
	"strconv"

	"lugworth/core/rating"
	"lugworth/wasm/draw"
)

func itoa(n int) string { return strconv.Itoa(n) }

// kind is the picture of a verdict.
func kind(v rating.Verdict) draw.Kind {
	switch v {
	case rating.Within:
		return draw.Within
	case rating.BelowReserve:
		return draw.BelowReserve
	case rating.NotProven:
		return draw.NotProven
	case rating.OverInherited:
		return draw.OverInherited
	case rating.OverWorsened:
		return draw.OverWorsened
	}
	return draw.NotEnoughData
}

// strip is the margin picture of a judgment.
func strip(j rating.Judgment) string {
	s := draw.Strip{Unit: j.Unit, Kind: kind(j.Kind)}
	if j.HasFigure {
		s.Low, s.Expected, s.Worst = j.Low, j.Expected, j.Worst
	}
	if j.HasLimit {
		s.Limit = j.Bound
	}
	s.Wanted = j.Wanted
	return draw.MarginStrip(s)
}
