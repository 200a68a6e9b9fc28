// Package finding holds what was seen or measured on the amp, whether it was
// observed or inferred, what follows from it, and which find causes which.
//
//	100 kΩ ±10 %, read 112 kΩ, meter ±2 % → cannot say; meter ±1 % → out
//	+3.0 V on 220 kΩ from 300 V           → 13.6 µA through 21.8 MΩ: must
//	999-5723                              → source 999, 1957, week 23
package finding

import (
	"lugworth/core/shop"
	"lugworth/core/unit"
	"lugworth/core/why"
)

// Basis says whether a thing was seen or concluded.
type Basis string

const (
	Observed Basis = "observed"
	Inferred Basis = "inferred"
)

// A Finding is one thing found on the bench, as a record's body holds it.
type Finding struct {
	ID        string    `json:"id,omitempty"`
	Place     string    `json:"place,omitempty"`
	Positions Words     `json:"positions,omitempty"`
	Seen      Text      `json:"seen,omitempty"`
	Measured  Text      `json:"measured,omitempty"`
	Limit     Text      `json:"limit,omitempty"`
	Basis     Basis     `json:"basis,omitempty"`
	Pile      shop.Pile `json:"pile,omitempty"`
	Urgency   Text      `json:"urgency,omitempty"`
	Cause     string    `json:"cause,omitempty"` // the finding that causes this one
	No        Text      `json:"no,omitempty"`    // what follows if the owner says no
	Value     Text      `json:"value,omitempty"` // the technician's weight, a whole number
	Weight    Text      `json:"weight,omitempty"`
	Photos    Words     `json:"photos,omitempty"`
	Drift     *Drift    `json:"drift,omitempty"`
	Leak      Leaks     `json:"leak,omitempty"`
	Earlier   Text      `json:"earlier,omitempty"` // earlier work found
	Hazard    Text      `json:"hazard,omitempty"`
	Code      Text      `json:"code,omitempty"` // date code on the part
}

// Text is a text that a record may also hold as true or false.
type Text string

// Words is a list of texts that a record may also hold as one text.
type Words []string

// Drift is a marked value and what it reads now.
type Drift struct {
	Marked       string `json:"marked,omitempty"`
	Tolerance    string `json:"tolerance,omitempty"`
	MeterPercent string `json:"meter_percent,omitempty"`
	Reads        []Read `json:"reads,omitempty"`
}

// Read is one value read, and where.
type Read struct {
	At    string `json:"at,omitempty"`
	Value string `json:"value,omitempty"`
}

// Leak is the shift a leaking coupling capacitor makes on a grid.
type Leak struct {
	At       string `json:"at,omitempty"`
	Shift    string `json:"shift,omitempty"`
	GridLeak string `json:"grid_leak,omitempty"`
	Source   string `json:"source,omitempty"`
	Bias     string `json:"bias,omitempty"` // volts the grid should stand at, "" = 0
}

// Leaks is one leak or several.
type Leaks []Leak

// Facts is what the figures of a finding rest on beside the finding itself.
type Facts struct {
	Meter      float64 // the shop's stated meter error, as a fraction
	MeterKnown bool
	About      string // when the amp was made, as the job says: "about 1957"
}

// A Result is a finding with its figures worked out.
type Result struct {
	Finding  Finding
	Drifts   []DriftVerdict
	Leaks    []LeakFigure
	Problems []unit.Problem
}

// Work works out the figures of a finding.
func Work(f Finding, facts Facts) Result { return Result{Finding: f} }

// DriftWord is how a value stands against its tolerance; the zero value says
// nothing is known.
type DriftWord string

const (
	CannotSay DriftWord = ""
	In        DriftWord = "in"
	Out       DriftWord = "out"
)

// A DriftVerdict is one value judged against its marking.
type DriftVerdict struct {
	At     string
	Word   DriftWord
	Points float64 // percentage points beyond the tolerance, 0 if not out
	Reason string
	Node   *why.Node
}

// A LeakFigure is what a grid shift says of the capacitor that makes it.
type LeakFigure struct {
	At         string
	Current    unit.Current
	Resistance unit.Resistance
	Pile       shop.Pile
	Effect     string
	Node       *why.Node
}

// A Closed finding needs no work of its own: By is the accepted finding that
// cures it.
type Closed struct{ Finding, By string }

// Close returns the findings that close because the finding that causes them
// is accepted.
func Close(all []Finding, accepted func(id string) bool) ([]Closed, []unit.Problem) {
	return nil, nil
}
