package amp

import (
	"fmt"
	"math"
	"strings"

	"lugworth/core/unit"
)

// Plausible returns a question about a reading that looks mistyped, "" if
// nothing about it is odd. It only asks; the reading stands as it is.
//
// The mains is held against the last one. The amount is held against the
// latest reading of the same quantity at the same place in the same loading,
// carried to the new mains in proportion, or for a plate or screen, where the
// place is new, against another tube of the same chart, or else the highest
// volts of it, by powers of ten only. Asked about: a factor of ten, a hundred or a thousand to within 15 %,
// a changed sign, a difference of more than a quarter.
//
// Source: common practice, no source; the bounds are our own.
func Plausible(previous []Reading, r Reading) string {
	if q := plausibleMains(previous, r); q != "" {
		return q
	}
	if r.Amount == 0 {
		return ""
	}
	if p, ok := latest(previous, r, samePlace); ok {
		return against(p, r, true)
	}
	if p, ok := latest(previous, r, sameElectrode); ok {
		return against(p, r, false)
	}
	if p, ok := highest(previous, r); ok {
		return against(p, r, false)
	}
	return ""
}

// highest returns the highest volts read in the same loading, which the first
// plate or screen of a chart may be held against: none is a tenth of them.
func highest(previous []Reading, r Reading) (top Reading, ok bool) {
	if r.Quantity != Volts || !sameElectrode(r, r) {
		return Reading{}, false
	}
	for _, p := range previous {
		if p.Quantity == Volts && p.Amount > top.Amount && sameLoading(p, r) {
			top, ok = p, true
		}
	}
	return top, ok
}

func plausibleMains(previous []Reading, r Reading) string {
	for i := len(previous) - 1; i >= 0 && r.Mains > 0; i-- {
		last := previous[i].Mains
		if last <= 0 {
			continue
		}
		if power := powerOfTen(float64(r.Mains / last)); power != 0 {
			return fmt.Sprintf("mains %s, and %s at the reading before: is the decimal point in its place?", r.Mains, last)
		}
		return ""
	}
	return ""
}

// latest returns the latest earlier reading that may be held against r.
func latest(previous []Reading, r Reading, same func(a, b Reading) bool) (Reading, bool) {
	for i := len(previous) - 1; i >= 0; i-- {
		p := previous[i]
		if p.Amount != 0 && p.Quantity == r.Quantity && sameLoading(p, r) && same(p, r) {
			return p, true
		}
	}
	return Reading{}, false
}

func samePlace(a, b Reading) bool { return a.At == b.At }

// sameElectrode is true of plates, and of screens, which in one amp lie
// within less than a factor of ten of each other.
func sameElectrode(a, b Reading) bool {
	_, x, _ := strings.Cut(a.At, ":")
	_, y, _ := strings.Cut(b.At, ":")
	return x == y && (x == "plate" || x == "screen")
}

// loading are the states that change what a place reads. Lifted couplers do
// so only by what they leak, which is little beside the rest: a comparison
// says so and goes on.
var loading = []string{NoLoad, Highest, TubesOut, Standby, Off, LimiterIn}

func sameLoading(a, b Reading) bool {
	for _, s := range loading {
		if a.Has(s) != b.Has(s) {
			return false
		}
	}
	return true
}

func against(p, r Reading, place bool) string {
	expected := p.Amount * scale(p, r)
	ratio := r.Amount / expected
	read := unit.Quantity{Amount: r.Amount, Unit: r.Unit}
	before := unit.Quantity{Amount: p.Amount, Unit: p.Unit}
	where := p.At
	if place {
		where = "there"
	}
	power := powerOfTen(math.Abs(ratio))
	switch {
	case power != 0:
		meant := unit.Quantity{Amount: r.Amount / math.Pow(10, float64(power)), Unit: r.Unit}
		return fmt.Sprintf("%s at %s, and %s was read %s: is it %s?", read, r.At, before, where, meant)
	case !place:
		return ""
	case ratio < 0:
		return fmt.Sprintf("%s at %s, and %s was read there: is the sign right?", read, r.At, before)
	case ratio > 1.25 || ratio < 0.75:
		return fmt.Sprintf("%s at %s, where about %s would be expected from the %s read before: is it right?",
			read, r.At, unit.Quantity{Amount: expected, Unit: r.Unit}, before)
	}
	return ""
}

// powerOfTen returns n where ratio is within 15 % of 10 to the n, n between
// -3 and 3, and 0 where it is not.
func powerOfTen(ratio float64) int {
	if !(ratio > 0) {
		return 0
	}
	n := int(math.Round(math.Log10(ratio)))
	if n < -3 || n > 3 || math.Abs(ratio/math.Pow(10, float64(n))-1) > 0.15 {
		return 0
	}
	return n
}

// scale is how much a powered reading grows from the mains of p to that of r.
func scale(p, r Reading) float64 {
	if p.Mains <= 0 || r.Mains <= 0 || p.Quantity == Ohms {
		return 1
	}
	return float64(r.Mains) / float64(p.Mains)
}
