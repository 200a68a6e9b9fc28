// Package draw makes the pictures of the page and of the papers as SVG text.
//
//	draw.Mark(draw.BelowReserve)                              the miniature beside a word
//	draw.MarginStrip(draw.Strip{Worst: 445.2, Limit: 500, ...}) one figure against its limit
//	draw.MoneyBuild(draw.Build{Labor: 35200, ...})            the bill, step by step, up to the ceiling
//
// Every picture scales, names itself with a title and a description, carries
// its numbers as text, and can be read in gray: shape says what color says.
// Colors are presentation attributes for a file that stands alone; the page's
// style sheet sets them anew by class. There is no style attribute in any.
package draw

import "lugworth/core/unit"

// Strip is one figure held against its limit. Amounts are in SI base units;
// zero means that there is none, except for Low and Expected.
type Strip struct {
	Subject   string // what is judged: "reservoir, first section"
	Low       float64
	Expected  float64
	Worst     float64 // the end that decides
	Wanted    float64 // the least rating the shop's reserve asks for
	Limit     float64 // the greatest value allowed
	Floor     float64 // the least value allowed
	Inherited float64 // OverWorsened: the value as found, before the choice
	Unit      unit.Unit
	Kind      Kind
}

// Build is a bill in whole minor units.
type Build struct {
	Labor, Parts, Other, Fee, Tax int64
	Allowance                     int64 // for finds; outside the total
	Ceiling                       int64
	HasCeiling                    bool
	Format                        func(int64) string // "471.57"
}

// Total is the sum of all but the allowance.
func (b Build) Total() int64 { return b.Labor + b.Parts + b.Other + b.Fee + b.Tax }

// Spread is labor with its doubt, in hours.
type Spread struct {
	Lines       []Work
	Expected    float64 // of all lines together
	Independent float64 // ± where each line varies for itself
	Linked      float64 // ± where all lines go wrong together
	Enough      []Enough
}

// Enough are hours that are enough in so many of ten cases.
type Enough struct {
	Of10  int
	Hours float64
}

// Work is one line of labor: three points and what is expected of them.
type Work struct {
	Say             string
	Low, Mode, High float64
}

// Expected is (low + 4 · mode + high) ÷ 6 hours.
func (w Work) Expected() float64 { return (w.Low + 4*w.Mode + w.High) / 6 }

// Dates is what the ready day waits for, in days from the order.
type Dates struct {
	Waits     []Wait
	Needed    int // the owner needs it by this day
	HasNeeded bool
}

// Chances is when a job is ready, and what makes up its days on average.
type Chances struct {
	Holds     []Hold
	Ready     []Ready
	Needed    int // the owner needs it by this day
	HasNeeded bool
}

// Hold is what holds the date up.
type Hold struct {
	Say   string
	Days  float64 // on average over all cases
	Share float64 // of the cases in which it does
}

// Ready is the day by which so many of ten cases are ready.
type Ready struct {
	Of10 int
	Day  int
	Date string
}

// Wait is one thing that must arrive.
type Wait struct {
	Say  string
	Days int // -1: not stated
}
