package rating

import (
	"math"
	"strings"
	"testing"

	"lugworth/core/intake"
	"lugworth/core/limit"
	"lugworth/core/stress"
	"lugworth/core/unit"
)

// bears is a stress of a place nobody touched.
func bears(low, high float64) stress.Stress {
	return stress.Stress{Subject: "V3", Quantity: limit.PlateWatts, Unit: unit.Watt, Scenario: stress.Top, Mains: 127,
		Interval: unit.Interval{Low: low, Expected: (low + high) / 2, High: high}, Inherited: high}
}

// moved is a stress that a choice raised.
func moved(low, high, inherited float64) stress.Stress {
	s := bears(low, high)
	s.Inherited, s.Cause = inherited, "T6r"
	return s
}

func doubted(s stress.Stress) stress.Stress {
	s.Doubt = "an average"
	return s
}

// upTo is a limit from the user's own sheet.
func upTo(v float64) *limit.Limit {
	return &limit.Limit{Subject: "6V6GT", Quantity: limit.PlateWatts, High: v, HasHigh: true, Unit: unit.Watt, Source: "own sheet", Mark: limit.User}
}

func marked(l *limit.Limit, m limit.Mark) *limit.Limit {
	l.Mark = m
	return l
}

func between(low, high float64) *limit.Limit {
	l := upTo(high)
	l.Low, l.HasLow = low, true
	return l
}

func TestJudge(t *testing.T) {
	tests := []struct {
		name   string
		s      stress.Stress
		l      *limit.Limit
		want   Verdict
		margin float64 // fraction, to 1e-9; NaN none
		reason string
	}{
		// By hand: (12 − 9)/12 = 25 %.
		{"inside", bears(8, 9), upTo(12), Within, 0.25, "inside by 25.0 %"},
		{"equal is within", bears(11, 12), upTo(12), Within, 0, "inside by 0.0 %"},
		{"equal but for the float", bears(11, 12*(1+1e-12)), upTo(12), Within, 0, ""},
		{"a hair over", bears(11, 12.001), upTo(12), NotProven, -0.001 / 12, "lies between"},
		// By hand: (12 − 12.4)/12 = −3.3 %.
		{"the limit lies between", bears(11.9, 12.4), upTo(12), NotProven, -0.4 / 12, "11.9 W to 12.4 W: the limit of 12.0 W lies between"},
		{"low end at the limit", bears(12, 13), upTo(12), NotProven, -1.0 / 12, ""},
		{"over as found", bears(12.1, 12.6), upTo(12), OverInherited, -0.05, "over: 12.6 W > 12.0 W, by 5.0 %, inherited"},
		{"over by the choice", moved(12.1, 12.6, 11), upTo(12), OverWorsened, -0.05, "by the choice of T6r"},
		{"further over by the choice", moved(12.1, 12.6, 12.3), upTo(12), OverWorsened, -0.05, "over as found: 12.3 W > 12.0 W, by 2.5 %, inherited; with T6r up to 0.30 W more"},
		{"over, and the choice lowered it", moved(12.1, 12.6, 13), upTo(12), OverInherited, -0.05, "inherited"},
		{"no limit", bears(8, 9), nil, NotEnoughData, math.NaN(), "no limit of plate watts is known"},
		{"a limit without a number", bears(8, 9), &limit.Limit{Mark: limit.User}, NotEnoughData, math.NaN(), "no limit"},
		{"no figure", stress.Stress{Quantity: limit.PlateWatts, Missing: "not read"}, upTo(12), NotEnoughData, math.NaN(), "not read"},
		{"in doubt", doubted(bears(8, 9)), upTo(12), NotProven, 0.25, "an average"},
		{"in doubt and over: over", doubted(bears(13, 14)), upTo(12), OverInherited, -2.0 / 12, ""},
		{"from memory, inside", bears(8, 9), marked(upTo(12), limit.Memory), NotProven, 0.25, "from memory"},
		{"from memory, over", bears(13, 14), marked(upTo(12), limit.Memory), OverInherited, -2.0 / 12, ""},
		{"second-hand", bears(8, 9), marked(upTo(12), limit.SecondHand), Within, 0.25, ""},

		// Two sides: 6.3 V ±10 % is 5.67 … 6.93; written in watts here.
		// By hand: (6.93 − 6.78)/6.93 = 2.16 %.
		{"two sides, upper nearer", bears(6.78, 6.78), between(5.67, 6.93), Within, 0.15 / 6.93, ""},
		// By hand: (5.76 − 5.67)/5.67 = 1.59 %.
		{"two sides, lower nearer", bears(5.76, 5.76), between(5.67, 6.93), Within, 0.09 / 5.67, ""},
		{"two sides, under", bears(5.5, 5.6), between(5.67, 6.93), OverInherited, (5.5 - 5.67) / 5.67, "under: 5.5 W < 5.7 W"},
		{"two sides, over", bears(7, 7.2), between(5.67, 6.93), OverInherited, (6.93 - 7.2) / 6.93, "over: 7.2 W"},
		{"two sides, about the lower", bears(5.6, 5.8), between(5.67, 6.93), NotProven, (5.6 - 5.67) / 5.67, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := Judge(tt.s, tt.l)
			if j.Kind != tt.want {
				t.Errorf("kind %s, want %s", j.Kind, tt.want)
			}
			m, ok := j.Margin()
			if ok == math.IsNaN(tt.margin) || ok && math.Abs(m-tt.margin) > 1e-9 {
				t.Errorf("margin %g %v, want %g", m, ok, tt.margin)
			}
			if !strings.Contains(j.Reason(), tt.reason) {
				t.Errorf("reason %q, want in it %q", j.Reason(), tt.reason)
			}
		})
	}
}

// A part that would be fitted: over is the choice's doing, and the shop wants
// its reserve.
func TestJudgePart(t *testing.T) {
	tests := []struct {
		name    string
		worst   float64
		rated   float64
		reserve float64
		want    Verdict
		wanted  float64
	}{
		// By hand: 445.2 × 1.05 = 467.46.
		{"500 V", 445.2, 500, 0.05, Within, 467.46},
		{"475 V", 445.2, 475, 0.05, Within, 467.46},
		{"450 V: inside by 1.1 %, under the wanted", 445.2, 450, 0.05, BelowReserve, 467.46},
		{"400 V", 445.2, 400, 0.05, OverWorsened, 467.46},
		{"just the wanted rating", 400, 420, 0.05, Within, 420},
		{"just the rating", 400, 400, 0.05, BelowReserve, 420},
		{"no reserve asked", 400, 400, 0, Within, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := bears(tt.worst, tt.worst)
			j := JudgePart(s, upTo(tt.rated), tt.reserve)
			if j.Kind != tt.want || math.Abs(j.Wanted-tt.wanted) > 0.001 {
				t.Errorf("%s, wanted %g; want %s, %g", j.Kind, j.Wanted, tt.want, tt.wanted)
			}
			found := JudgeFound(s, upTo(tt.rated), tt.reserve)
			want := tt.want
			if want == OverWorsened {
				want = OverInherited // nobody chose it
			}
			if found.Kind != want {
				t.Errorf("as found %s, want %s", found.Kind, want)
			}
		})
	}
}

// A limit from memory, or a doubt, is never better than not proven, reserve
// or none.
func TestNothingDoubtfulPasses(t *testing.T) {
	for _, worst := range []float64{1, 300, 470, 500} {
		for _, reserve := range []float64{0, 0.05} {
			for _, j := range []Judgment{
				JudgePart(bears(worst, worst), marked(upTo(500), limit.Memory), reserve),
				JudgePart(doubted(bears(worst, worst)), upTo(500), reserve),
				JudgeFound(bears(worst, worst), marked(upTo(500), limit.Memory), reserve),
			} {
				if j.Kind == Within || j.Kind == BelowReserve {
					t.Errorf("%g of 500: %s", worst, j.Kind)
				}
			}
		}
	}
}

// No less than the place was made with: good for watts, never proof for volts.
func TestAsMade(t *testing.T) {
	s := stress.Stress{Subject: "R5", Quantity: limit.Watts, Unit: unit.Watt, Missing: "no rule"}
	tests := []struct {
		name         string
		made, fitted float64
		proven       bool
		want         Verdict
	}{
		{"1 W where 1 W was", 1, 1, true, Within},
		{"2 W where 1 W was", 1, 2, true, Within},
		{"half a watt where 1 W was", 1, 0.5, true, OverWorsened},
		{"as many volts", 25, 25, false, NotProven},
		{"more volts", 25, 50, false, NotProven},
		{"fewer volts", 25, 16, false, OverWorsened},
	}
	for _, tt := range tests {
		if j := AsMade(s, tt.made, tt.fitted, tt.proven, "K x"); j.Kind != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, j.Kind, tt.want)
		}
	}
}

// Design-center limits are judged at nominal mains; the five cases.
func TestAt(t *testing.T) {
	center, absolute := limit.DesignCenter, limit.AbsoluteMaximum
	tests := []struct {
		name     string
		sys      limit.System
		m        intake.Mains
		tap      string
		want     unit.Voltage
		scenario string
		ok       bool
	}{
		{"the marked supply", center, intake.Mains{Measured: 115, Low: 110, High: 124, Marked: 117}, "", 117, stress.Nominal, true},
		{"measured above it", center, intake.Mains{Measured: 121, Low: 110, High: 124, Marked: 117}, "", 121, stress.Nominal, true},
		// By hand: 1.1 × 117 = 128.7.
		{"a range just 10 % above", center, intake.Mains{Measured: 117, Low: 110, High: 128.7, Marked: 117}, "", 117, stress.Nominal, true},
		{"a range more than 10 % above", center, intake.Mains{Measured: 117, Low: 110, High: 129, Marked: 117}, "", 129, stress.Top, true},
		{"no marked supply", center, intake.Mains{Measured: 117, Low: 110, High: 124}, "", 124, stress.Top, true},
		{"nothing measured", center, intake.Mains{Low: 110, High: 124, Marked: 117}, "", 124, stress.Top, true},
		{"no range", center, intake.Mains{Measured: 117, Marked: 117}, "", 0, "", false},
		{"the tap in use is the marked supply", center, intake.Mains{Measured: 231, Low: 225, High: 250, Marked: 117}, "240", 240, stress.Nominal, true},
		{"absolute maximum", absolute, intake.Mains{Measured: 117, Low: 110, High: 124, Marked: 117}, "", 124, stress.Top, true},
		{"design maximum", limit.DesignMaximum, intake.Mains{Measured: 117, Low: 110, High: 124, Marked: 117}, "", 124, stress.Top, true},
		{"no system stated", limit.Unstated, intake.Mains{Measured: 117, Low: 110, High: 124, Marked: 117}, "", 124, stress.Top, true},
		{"absolute maximum, no range", absolute, intake.Mains{Measured: 117}, "", 0, "", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			v, scenario, ok := At(tt.sys, tt.m, tt.tap)
			if math.Abs(float64(v-tt.want)) > 1e-9 || scenario != tt.scenario || ok != tt.ok {
				t.Errorf("At = %v %q %v, want %v %q %v", v, scenario, ok, tt.want, tt.scenario, tt.ok)
			}
		})
	}
}

// The zero verdict claims nothing, and the order runs from worst to best.
func TestVerdicts(t *testing.T) {
	var zero Verdict
	if zero != NotEnoughData {
		t.Error("the zero verdict is not the one without data")
	}
	order := []Verdict{OverWorsened, OverInherited, NotEnoughData, NotProven, BelowReserve, Within}
	for i := range order {
		for k := range order {
			if Less(order[i], order[k]) != (i < k) {
				t.Errorf("Less(%s, %s) = %v", order[i], order[k], !(i < k))
			}
		}
	}
	slugs := map[Verdict]string{NotEnoughData: "not-enough-data", NotProven: "not-proven", OverWorsened: "over-worsened",
		OverInherited: "over-inherited", BelowReserve: "below-reserve", Within: "within"}
	for v, want := range slugs {
		if v.Slug() != want {
			t.Errorf("%s: slug %q, want %q", v, v.Slug(), want)
		}
	}
}

// A heater: how far off the middle, in two decimals.
func TestOff(t *testing.T) {
	s := bears(7.245, 7.245)
	s.Unit, s.Quantity = unit.Volt, limit.HeaterVolts
	l := between(5.67, 6.93)
	l.Unit = unit.Volt
	j := Judge(s, l)
	// By hand: 7.245/6.30 − 1 = 15.0 %.
	if off, ok := j.Off(); !ok || math.Abs(off-0.15) > 1e-9 {
		t.Errorf("off by %g, want 0.15", off)
	}
	if want := "over: 7.25 V > 6.93 V, by 4.5 %, +15.0 % from the middle 6.30 V, inherited"; j.Reason() != want {
		t.Errorf("reason %q, want %q", j.Reason(), want)
	}
	if _, ok := Judge(bears(8, 9), upTo(12)).Off(); ok {
		t.Error("a limit of one side has a middle")
	}
}

// A figure or a limit that is no number proves nothing: no comparison with it
// is ever true.
func TestNoNumberProvesNothing(t *testing.T) {
	nan := math.NaN()
	at := func(low, high float64) stress.Stress {
		return stress.Stress{Subject: "C1", Quantity: limit.DCVolts, Interval: unit.Interval{Low: low, Expected: low, High: high}, Unit: unit.Volt}
	}
	of := func(high float64) *limit.Limit {
		return &limit.Limit{Quantity: limit.DCVolts, High: high, HasHigh: true, Unit: unit.Volt, Mark: limit.Seen}
	}
	for _, tt := range []struct {
		name string
		s    stress.Stress
		l    *limit.Limit
		want Verdict
	}{
		{"a figure", at(nan, nan), of(500), NotProven},
		{"an end without bound", at(400, math.Inf(1)), of(500), NotProven},
		{"ends turned round", at(450, 400), of(500), NotProven},
		{"a limit", at(400, 400), of(nan), NotEnoughData},
		{"a limit without bound", at(400, 400), of(math.Inf(1)), NotEnoughData},
		{"numbers", at(400, 400), of(500), Within},
	} {
		if got := Judge(tt.s, tt.l).Kind; got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}
