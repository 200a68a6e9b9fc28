package proof

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lugworth/core/amp"
	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A Reason is one figure as the program explains it: what it is, by which
// rule, from what. Low and High are alike but for a figure with two ends.
type Reason struct {
	Rule      string // "" for a fact
	What      string
	Where     string // where a fact stands
	Low, High float64
	Number    bool // whether it is a number at all
	Unit      unit.Unit
	From      []*Reason
}

// A Judged is one judgment with what it rests on, ready to be certified.
type Judged struct {
	Set, Option, Part           string
	Subject, Scenario           string
	Quantity                    limit.Quantity
	Mains                       unit.Voltage
	Low, High                   float64
	HasFigure                   bool
	Unit                        unit.Unit
	Limit                       *limit.Limit
	Reserve                     float64 // fraction, 0 where none applies
	Wanted                      float64
	Without                     float64 // upper end without the choice
	Cause                       string
	Tap                         string // in use
	Missing, Ended, Doubt, Kind string
	Tier                        int
	Bears                       *Reason
	Solved                      *Step // in place of Bears: SolvedBand
}

// A Writer collects the verdicts of one job.
type Writer struct {
	Amp        *amp.Amp
	Meter      float64 // the shop's stated meter error for readings without one
	MeterKnown bool

	cert     Certificate
	readings map[string]*amp.Reading
	problems []error
}

// NewWriter starts the certificate of a job on an amp; c holds its head.
func NewWriter(c Certificate, a *amp.Amp, meter float64, known bool) *Writer {
	c.Format, c.Tap, c.Verdicts = Format, a.Tap, []Verdict{}
	w := &Writer{Amp: a, Meter: meter, MeterKnown: known, cert: c, readings: map[string]*amp.Reading{}}
	for i := range a.Readings {
		w.readings[a.Readings[i].ID] = &a.Readings[i]
	}
	return w
}

// Add certifies one judgment. One whose chain cannot be put into the rules of
// a certificate is a problem, which Seal returns.
func (w *Writer) Add(j Judged) {
	v := Verdict{
		Set: j.Set, Option: j.Option, Part: j.Part, Fitted: j.Part != "", Subject: j.Subject, Quantity: string(j.Quantity), Scenario: j.Scenario,
		Mains: volts(j.Mains), Unit: j.Unit.String(), Kind: j.Kind, Missing: j.Missing, Ended: j.Ended, Doubt: j.Doubt,
	}
	if j.Reserve > 0 {
		v.Reserve = Fact(100 * j.Reserve)
	}
	if j.Limit != nil {
		v.Limit = certified(j.Limit)
	}
	if j.Scenario == AtNominal {
		v.Tap = j.Tap
	}
	if j.HasFigure {
		if err := w.figure(&v, &j); err != nil {
			w.problems = append(w.problems, fmt.Errorf("%s: %w", v.said(), err))
			return
		}
	}
	w.cert.Verdicts = append(w.cert.Verdicts, v)
}

// figure adds the chain and the ends.
func (w *Writer) figure(v *Verdict, j *Judged) error {
	c := chain{w: w, tap: j.Tap, j: j}
	s, err := c.whole()
	if err != nil {
		return err
	}
	if s.Rule == "" {
		s.Error = ""
	}
	if j.Quantity == limit.FirstCapacitor && j.High > j.Low*(1+touch) {
		s = sideBySide(s, j)
	}
	if j.Solved != nil { // what stands in the file is all there is of it
		j.Low, j.High = written(j.Low), written(j.High)
		j.Wanted = j.High * (1 + j.Reserve)
	}
	v.Tier, v.Bears, v.Low, v.High = j.Tier, &s, Figure(j.Low), Figure(j.High)
	if c.tapped {
		v.Tap = j.Tap
	}
	if j.Cause != "" {
		v.Cause, v.Without = j.Cause, Figure(j.Without)
	}
	if v.Reserve != "" {
		v.Wanted = Figure(j.Wanted)
	}
	if l := j.Limit; l != nil && l.HasHigh {
		v.MarginHigh = percent((l.High - j.High) / l.High)
	}
	if l := j.Limit; l != nil && l.HasLow {
		v.MarginLow = percent((j.Low - l.Low) / l.Low)
	}
	return nil
}

// written is a figure as the file has it.
func written(v float64) float64 {
	w, err := strconv.ParseFloat(Figure(v), 64)
	if err != nil {
		return v
	}
	return w
}

// Seal returns the file.
//
// Errors: every verdict that could not be certified, and why.
func (w *Writer) Seal() ([]byte, error) {
	if err := errors.Join(w.problems...); err != nil {
		return nil, err
	}
	return Seal(w.cert)
}

func certified(l *limit.Limit) *Limit {
	out := &Limit{Of: l.Subject, System: l.System.String(), Source: l.Source, Mark: l.Mark.String()}
	if l.HasLow {
		out.Low = Fact(l.Low)
	}
	if l.HasHigh {
		out.High = Fact(l.High)
	}
	return out
}

func volts(v unit.Voltage) string {
	if v == 0 {
		return ""
	}
	return Fact(float64(v))
}

// figures is how many figures a worked-out number is stated to.
const figures = 10

// Figure writes a worked-out number: plain decimals, ten figures.
func Figure(v float64) string { return decimals(v, figures) }

func decimals(v float64, figures int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'f', figures, 64)
	}
	return strconv.FormatFloat(v, 'f', max(0, figures-1-int(math.Floor(math.Log10(math.Abs(v))))), 64)
}

// Fact writes a number as it was typed. What reading it in other units left
// behind its twelfth figure is no part of it.
func Fact(v float64) string {
	if s := decimals(v, 12); strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		if r, err := strconv.ParseFloat(s, 64); err == nil && math.Abs(r-v) <= 1e-14*math.Abs(v) {
			return s
		}
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// percent writes a fraction in hundredths, to seven decimals.
func percent(f float64) string { return strconv.FormatFloat(100*f, 'f', 7, 64) }
