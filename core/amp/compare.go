package amp

import (
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Meter is the shop's stated meter error, for readings without one.
type Meter struct {
	Error float64 // fraction of the reading
	Known bool
}

// Agreement says whether two readings can be of the same unchanged amp.
type Agreement string

const (
	CannotCompare Agreement = ""
	Consistent    Agreement = "consistent"
	Differs       Agreement = "differs"
)

// A Comparison is one place read twice, the first reading carried to the
// mains of the second.
type Comparison struct {
	First, Second Reading
	Expected      unit.Interval // what the second should read
	Agreement     Agreement
	Percent       float64 // second against expected, in percent
	Reason        string
	Node          *why.Node
}

// Compare carries a to the mains of b and says whether b agrees.
func Compare(a, b Reading, m Meter) Comparison { return Comparison{} }

// CompareCharts compares each reading of a with those of b at the same place.
func CompareCharts(a, b []Reading, m Meter) []Comparison { return nil }
