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
)

// Basis says whether a thing was seen or concluded. The zero value is
// neither, and shows as not stated.
type Basis string

const (
	Observed Basis = "observed"
	Inferred Basis = "inferred"
)

// A Finding is one thing found on the bench, as a record's body holds it.
type Finding struct {
	ID        string    `json:"id,omitempty"`
	Place     Text      `json:"place,omitempty"`
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
	Match     *Pair     `json:"match,omitempty"`
	Earlier   Text      `json:"earlier,omitempty"` // earlier work found
	Hazard    Text      `json:"hazard,omitempty"`
	Code      Text      `json:"code,omitempty"` // date code on the part
}

// Drift is a marked value and what it reads now.
type Drift struct {
	Marked       Text   `json:"marked,omitempty"`    // "100k", or "100k 10%"
	Tolerance    Text   `json:"tolerance,omitempty"` // "10%", "-10/+50%"
	MeterPercent Text   `json:"meter_percent,omitempty"`
	Reads        []Read `json:"reads,omitempty"`
}

// Read is one value read, and where.
type Read struct {
	At    string `json:"at,omitempty"`
	Value Text   `json:"value,omitempty"`
}

// Leak is the shift a leaking coupling capacitor makes on a grid: the volts
// that come when the capacitor is connected and go when it is lifted.
type Leak struct {
	At       string `json:"at,omitempty"`
	Shift    Text   `json:"shift,omitempty"`
	GridLeak Text   `json:"grid_leak,omitempty"`
	Source   Text   `json:"source,omitempty"` // volts behind the capacitor
	Bias     Text   `json:"bias,omitempty"`   // volts the grid should stand at; left out = 0
}

// Pair is the idle currents of two tubes that should draw alike.
type Pair struct {
	Reads []Read `json:"reads,omitempty"`
}

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
	Match    *MatchFigure
	Date     *CodeReading
	Hazards  []Hazard
	Problems []unit.Problem // fields that could not be used
	Lacks    []string       // what a rough finding still wants, in words
}

// Pile returns the pile the figures themselves call for, "" for none: a
// leaking coupler is a must whatever was entered.
func (r Result) Pile() shop.Pile {
	for _, l := range r.Leaks {
		if l.Pile == shop.Must {
			return shop.Must
		}
	}
	return ""
}

// Work works out the figures of a finding. It changes nothing in it: the
// pile and the words are the technician's.
func Work(f Finding, facts Facts) Result {
	r := Result{Finding: f, Lacks: lacks(f)}
	n := &notes{id: f.ID}
	n.words(f)
	r.Drifts = drifts(f, facts, n)
	r.Leaks = leaks(f, n)
	r.Match = match(f, n)
	if f.Code != "" {
		d, err := ReadCode(string(f.Code))
		if err != nil {
			n.failed(err, "code", string(f.Code))
		} else {
			d = d.Against(facts.About)
			r.Date = &d
		}
	}
	r.Hazards = Hazards(string(f.Hazard)+" "+string(f.Seen)+" "+string(f.Place), oilYear(r.Date, string(f.Code)))
	r.Problems = n.problems
	return r
}

// notes collects the problems of one finding.
type notes struct {
	id       string
	problems []unit.Problem
}

func (n *notes) problem(field, text string, code unit.Code, hint string) {
	n.problems = append(n.problems, unit.Problem{File: "finding " + n.id, Column: field, Cell: text, Code: code, Hint: hint})
}

func (n *notes) failed(err error, field, text string) {
	if p, ok := unit.Located(err, "finding "+n.id, 0, field, text); ok {
		n.problems = append(n.problems, p)
	}
}

// words checks the fields that take a word of a list, and the weight.
func (n *notes) words(f Finding) {
	if f.Basis != "" && f.Basis != Observed && f.Basis != Inferred {
		n.problem("basis", string(f.Basis), unit.UnknownWord, "observed or inferred")
	}
	switch f.Pile {
	case "", shop.Must, shop.Should, shop.Could:
	default:
		n.problem("pile", string(f.Pile), unit.UnknownWord, "must, should or could")
	}
	if _, err := f.Worth(); err != nil {
		n.failed(err, "value", string(f.worthText()))
	}
}

// lacks names what a finding captured in haste still wants.
func lacks(f Finding) []string {
	var out []string
	for _, want := range []struct {
		has bool
		say string
	}{
		{f.Place != "" || len(f.Positions) > 0, "the place"},
		{f.Seen != "" || f.Measured != "", "what was seen or measured"},
		{f.Basis != "", "whether it was observed or inferred"},
		{f.Pile != "", "the pile: must, should or could"},
		{f.No != "", "what follows if the owner says no"},
	} {
		if !want.has {
			out = append(out, want.say)
		}
	}
	return out
}

// Worth returns the technician's weight for choosing among findings, 0 where
// none is given.
// Errors: a text that is not a whole number from 0 to 1000.
func (f Finding) Worth() (int, error) {
	t := string(f.worthText())
	if t == "" {
		return 0, nil
	}
	v := 0
	for _, c := range t {
		if c < '0' || c > '9' || len(t) > 4 {
			return 0, unit.Problem{Cell: t, Code: unit.NotANumber, Hint: "a whole number"}
		}
		v = v*10 + int(c-'0')
	}
	if v > 1000 {
		return 0, unit.Problem{Cell: t, Code: unit.OutOfRange}
	}
	return v, nil
}

func (f Finding) worthText() Text {
	if f.Value != "" {
		return f.Value
	}
	return f.Weight
}
