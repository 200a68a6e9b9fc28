package circuit

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lugworth/core/limit"
	"lugworth/core/unit"
)

// A dialedTally counts stages set to the upper end of their window, and how
// far below the bound their figure then stands.
type dialedTally struct {
	set, over int
	room      []float64 // 1 − figure ÷ bound
	worst     float64
	say       string
}

// Random amps of other laws, read with a meter half a percent off, are set by
// what sets their bias until the true current at the bench is the window's
// upper end. At the mains its bound is judged at, the true watts must then be
// inside, of the plate and of the screen, in 98 of 100 cases as of any
// calibrated band. Method and count are our own.
func TestDialedStagesStayInside(t *testing.T) {
	tallies := map[limit.Quantity]*dialedTally{limit.PlateWatts: {}, limit.ScreenWatts: {}}
	for _, a := range benchAmps(t) {
		for seed := range often(1, 2, 60) {
			s := a.specimen(t, uint64(1000+seed))
			cal, err := Calibrate(s.net, Bench{Sheet: s.sheet, Readings: s.chart(true), Laws: fittedLaws, Alike: true, Meter: trialMeterError, Known: true})
			if err != nil {
				t.Errorf("%s: %v", s.name, err)
				continue
			}
			for _, q := range []limit.Quantity{limit.PlateWatts, limit.ScreenWatts} {
				for _, part := range []float64{0.85, 1.25} {
					s.dialTo(t, cal, tallies[q], q, part)
				}
			}
		}
	}
	for _, q := range []limit.Quantity{limit.PlateWatts, limit.ScreenWatts} {
		c := tallies[q]
		if c.set < 10 {
			t.Fatalf("%s: %d stages set", q, c.set)
		}
		slices.Sort(c.room)
		t.Logf("%s: %d stages set to the upper end, %d over; room in the middle case %.1f %%; furthest over %.2f %%: %s", q, c.set, c.over, 100*c.room[len(c.room)/2], 100*c.worst, c.say)
		if float64(c.over) > 0.02*float64(c.set) {
			t.Errorf("%s: %d of %d over", q, c.over, c.set)
		}
	}
}

// dialTo asks for the window of the first output tube under one bound, sets
// the true amp to it and looks.
func (s *specimenAmp) dialTo(t *testing.T, cal *Calibration, c *dialedTally, q limit.Quantity, part float64) {
	t.Helper()
	top := unit.Voltage(s.mains * 1.06)
	ref := outputsOf(s.sheet)[0]
	fig := Figure{ref, q}
	now, _ := s.truth.Figure(fig)
	bound := func(string) []Bound {
		return []Bound{{limit.Limit{Quantity: q, High: now * part, HasHigh: true, Unit: unit.Watt, Source: "test", Mark: limit.User}, top, "top"}}
	}
	w := cal.Windows(Ask{Mains: unit.Voltage(s.mains), Outputs: []string{ref}, Bounds: bound, Meter: trialMeterError, Known: true})[0]
	if w.Missing != "" {
		return // nothing on this sheet takes it there, and the window says so
	}
	knob, _ := cal.setBy(&cal.joints.parts[cal.joints.byRef[ref]])
	set, ok := s.turnTo(knob, ref, w.Current.High)
	if !ok {
		return // the true amp's knob does not reach
	}
	at, err := s.real.Solve(set, State{Mains: float64(top)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	is, _ := at.Figure(fig)
	c.set++
	c.room = append(c.room, 1-is/(now*part))
	if off := is/(now*part) - 1; off > 0 {
		c.over++
		if off > c.worst {
			c.worst, c.say = off, fmt.Sprintf("%s %s, %.0f %% of what it bore", s.name, ref, 100*part)
		}
	}
}

// turnTo sets the true amp's knob so that a tube draws so much at the bench.
func (s *specimenAmp) turnTo(knob int, ref string, amps float64) (Values, bool) {
	v := append(Values(nil), s.is...)
	draws := func(x float64) float64 {
		v[knob] = x
		sol, err := s.real.Solve(v, State{Mains: s.mains}, s.truth)
		if err != nil {
			return math.NaN()
		}
		p, _ := sol.Tube(ref)
		return p.Total
	}
	low, high := s.is[knob]/5, s.is[knob]*5
	if s.real.Knobs[knob].Property == Turn {
		low, high = 0.01, 0.99
	}
	rising := draws(high) > draws(low)
	for range 40 {
		mid := (low + high) / 2
		if (draws(mid) < amps) == rising {
			low = mid
		} else {
			high = mid
		}
	}
	return v, math.Abs(draws((low+high)/2)/amps-1) < 1e-3
}
