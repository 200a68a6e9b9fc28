// Package labor turns accepted tasks into hours and money.
//
//	0.5 / 0.7 / 1.5 h at 80.00               -> 0.8 h, 64.00
//	two tasks that need the chassis out      -> the chassis comes out once
//	five lines with a deviation of 1/6 h each -> ±0.37 h apart, ±0.83 h linked
//
// Each task carries three estimates: low, most likely, high. The expected
// hours are te = (low + 4·mode + high)/6 and the deviation is
// sd = (high − low)/6: the usual three-point formulas (common practice in
// estimating, no source; the shape of the curve is an assumption).
//
// Money is exact: rate · (low + 4·mode + high)/6 is rounded once for each
// line, and totals add rounded lines. Floats serve hours and spreads only.
package labor

import (
	"lugworth/core/money"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Three are the hours of one task: the least, the most likely, the most.
type Three struct {
	Low, Mode, High money.Decimal
}

// A Task is one piece of bench work. Several options may name the same task
// (one coupling capacitor job, two looks of capacitor); it is then done once.
type Task struct {
	ID      string
	Finding string // the finding it answers
	Say     string
	Three   Three
	SetUps  []string // IDs of the set-ups it needs; a state among them is one it is done in
	In      []string // states in which it can be done, any of them; Closed is one
	After   []string // tasks that must be done before it, where they are done at all
	Where   string   // where the hours stand: "tasks.csv:4", a record's ID
}

// A SetUp is work that several tasks share, such as taking the chassis out and
// putting it back. It is done once if any accepted task needs it.
//
// A set-up with From is a state of access: Three are the hours to get there
// from the state before and back again. It is done as often as the tasks'
// order asks for, see [Route].
type SetUp struct {
	ID    string
	Say   string
	Three Three
	From  string // the state it is reached from, Closed for the first; "" = no state
	Where string
}

// Closed is the state of an amp nobody has opened.
const Closed = "closed"

// A Rate is what an hour costs and how a line is rounded.
type Rate struct {
	Hour     money.Decimal // in major units of Currency
	Currency money.Currency
	Rounding money.Rounding
	Where    string // "shop.csv:3"
}

// A Line is one task or one counted set-up, as the estimate prints it.
type Line struct {
	ID      string
	Finding string // "" for a set-up
	Say     string
	SetUp   bool
	Times   int      // of a state: how often it is opened; Three are the hours of all times
	For     []string // a set-up: the accepted tasks that need it, in their order
	Three   Three
	Where   string       // where the hours stand
	Hours   unit.Hours   // te
	Spread  unit.Hours   // sd
	Amount  money.Amount // te × rate, rounded once
	Why     *why.Node
}

// An Estimate is the labor of one choice.
type Estimate struct {
	Lines       []Line // counted set-ups first, then tasks, each in the order given
	Hours       unit.Hours
	Independent unit.Hours // √Σsd²: as if every task went its own way
	Linked      unit.Hours // Σsd: as if one rusty amp slowed all of them; the truth lies between
	Amount      money.Amount
	Again       string // why a state is opened more than once, "" where none is
	Why         *why.Node
}
