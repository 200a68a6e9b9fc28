package amp

import (
	"fmt"
	"math"
	"strconv"

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
	// CannotCompare: the two say nothing of each other, or the spread is not
	// known well enough. Reason says which.
	CannotCompare Agreement = ""
	// Consistent: the second lies in what the first leads to expect.
	Consistent Agreement = "consistent"
	// Differs: it lies outside, whatever the stated errors.
	Differs Agreement = "differs"
)

// A Comparison is one place read twice, the first reading carried to the
// mains of the second.
type Comparison struct {
	First, Second Reading
	Expected      unit.Interval // what the second should read if nothing has changed
	Agreement     Agreement
	Percent       float64 // second against expected, in percent
	Reason        string
	Node          *why.Node
}

// RuleCompare carries a reading to another mains.
var RuleCompare = &why.Rule{
	Name:    "chart at one mains",
	Says:    "Volts follow the mains, currents rise by between its first and its three-halves power; the spread is the stated error of both readings and half of each last figure.",
	Formula: "V2 = V1 · r, I2 = I1 · r … r^1.5, r = (mains2/tap2) / (mains1/tap1)",
	Source:  "first-order rule of our own; three-halves power law of a space-charge limited current",
	Mark:    "memory",
}

// Compare carries a to the mains and tap of b and says whether b agrees:
// 318 V at 117.0 leads to expect 337.0 V at 124.0, so 337 V there is
// consistent, not 6 % more.
//
// The spread is honest: the stated error of both readings, the shop's for
// those without one, and half of the last figure of each amount and mains.
// With no meter error known anywhere a reading inside the last-figure spread
// is still consistent (more error only widens it); one outside cannot be
// judged. An unregulated supply and a bias that follows it are assumed.
func Compare(a, b Reading, m Meter) Comparison {
	c := Comparison{First: a, Second: b}
	r, missing := carried(a, b)
	if missing != "" {
		c.Reason = missing
		return c
	}
	c.expect(r, m)
	c.judge(m)
	c.Node = why.Found(RuleCompare, "expected at the second mains", unit.Quantity{Amount: c.Expected.Expected, Unit: b.Unit},
		given("first reading", a), why.Given("mains ratio", why.Text(strconv.FormatFloat(r, 'f', 4, 64)), ""), given("second reading", b))
	return c
}

func given(label string, r Reading) *why.Node {
	return why.Given(label, unit.Quantity{Amount: r.Amount, Unit: r.Unit}, "reading "+r.ID)
}

// carried returns the mains ratio from a to b, or why there is none.
func carried(a, b Reading) (r float64, missing string) {
	switch {
	case a.At != b.At || a.Quantity != b.Quantity:
		return 0, "not the same place and quantity"
	case !sameLoading(a, b):
		return 0, "taken in different states"
	case a.Quantity == Ohms:
		return 1, ""
	case a.Mains <= 0 || b.Mains <= 0:
		return 0, "a reading has no mains beside it"
	case a.Tap == b.Tap:
		return float64(b.Mains) / float64(a.Mains), ""
	}
	ta, errA := unit.Read(a.Tap, unit.Volt)
	tb, errB := unit.Read(b.Tap, unit.Volt)
	if errA != nil || errB != nil || ta <= 0 || tb <= 0 {
		return 0, "taken on different taps, and one is not named as a voltage"
	}
	return (float64(b.Mains) / tb) / (float64(a.Mains) / ta), ""
}

// expect fills the expected reading and its spread.
func (c *Comparison) expect(r float64, m Meter) {
	a, b := c.First, c.Second
	low, high := a.Amount*r, a.Amount*r
	if a.Quantity == Current {
		high = a.Amount * math.Pow(r, 1.5)
	}
	mid := (low + high) / 2
	if low > high {
		low, high = high, low
	}
	spread := relative(a, m) + relative(b, m)
	if a.Quantity != Ohms { // a resistance does not follow the mains
		spread += lastFigure(float64(a.MainsStep), float64(a.Mains)) + lastFigure(float64(b.MainsStep), float64(b.Mains))
	}
	low -= math.Abs(low)*spread + a.Step/2*r + b.Step/2
	high += math.Abs(high)*spread + a.Step/2*r + b.Step/2
	c.Expected = unit.Interval{Low: low, Expected: mid, High: high}
	if mid != 0 {
		c.Percent = (b.Amount/mid - 1) * 100
	}
}

// relative is the stated error of a reading, 0 where nobody states one.
func relative(r Reading, m Meter) float64 {
	if r.Stated {
		return r.Meter
	}
	if m.Known {
		return m.Error
	}
	return 0
}

func lastFigure(step, amount float64) float64 {
	if amount == 0 {
		return 0
	}
	return step / 2 / amount
}

func (c *Comparison) judge(m Meter) {
	b := c.Second
	expected := unit.Quantity{Amount: c.Expected.Expected, Unit: b.Unit}
	known := m.Known || c.First.Stated && b.Stated
	// A hair beyond the edge is rounding of the machine, not of the meter.
	hair := 1e-9 * math.Abs(c.Expected.Expected)
	switch {
	case b.Amount >= c.Expected.Low-hair && b.Amount <= c.Expected.High+hair:
		c.Agreement = Consistent
		c.Reason = fmt.Sprintf("%s expected by ratio", expected)
	case !known:
		c.Reason = fmt.Sprintf("%s expected by ratio, but no meter error is stated: cannot say", expected)
	default:
		c.Agreement = Differs
		side := "above"
		if c.Percent < 0 {
			side = "below"
		}
		c.Reason = fmt.Sprintf("%s expected by ratio, and the reading is %.1f %% %s it", expected, math.Abs(c.Percent), side)
	}
	if c.First.Ohms > 0 && b.Ohms > 0 && c.First.Ohms != b.Ohms {
		c.Reason += "; meters of different input resistance"
	}
	if c.First.Has(Lifted) != b.Has(Lifted) {
		c.Reason += "; couplers lifted at one of the two"
	}
}

// CompareCharts compares the readings of one chart with those of another at
// the same place, in the order of the first: as found and final, or two
// mains. Readings without a partner are left out.
func CompareCharts(a, b []Reading, m Meter) []Comparison {
	var out []Comparison
	for _, x := range a {
		for _, y := range b {
			if x.At == y.At && x.Quantity == y.Quantity && sameLoading(x, y) {
				out = append(out, Compare(x, y, m))
			}
		}
	}
	return out
}
